"""The data of the picture: one plot's season and outlook, with the verdict it leads to. Shares 0 to 1, depths in mm."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

from rules.terms import Advice, DayAhead, Heard, History, PastDay, Trend, Verdict

# The trend is taken over this many days at most, and over days without water only.
_TREND_DAYS = 7
# Less of a change in a day says nothing.
_STILL = 0.005
# Less rain to come, or a smaller chance of it, is no help to anybody.
_RAIN_MM, _CHANCE = 1.0, 0.2


@dataclass(frozen=True, kw_only=True)
class Fall:
    """From the last high point to today: `from_share` on `since`."""

    since: date
    from_share: float


@dataclass(frozen=True, kw_only=True)
class Graph:
    """One plot over its season, ready to be drawn and told. The last of `days` is today.

    Args:
        look_on: the day to water or to look again; `passes_on`: first day on which the limit is likely passed.
    """

    plot: str
    days: tuple[PastDay, ...]
    readings: tuple[Heard, ...]
    ahead: tuple[DayAhead, ...]
    verdict: Verdict
    look_on: date | None
    passes_on: date | None
    trends: tuple[Trend, ...] = ()

    @property
    def today(self) -> PastDay:
        return self.days[-1]

    @property
    def first(self) -> date:
        return self.days[0].on

    @property
    def waterings(self) -> list[tuple[date, float | None]]:
        """Every watering with what it put on; None: some."""
        return [(day.on, mm) for day in self.days for mm in day.waterings]

    @property
    def water_mm(self) -> float:
        """What was put on in all, as far as it is known."""
        return sum(mm or 0.0 for _, mm in self.waterings)

    @property
    def rain_mm(self) -> float:
        return sum(day.rain_mm or 0.0 for day in self.days)

    @property
    def rain_ahead(self) -> list[DayAhead]:
        """Days to come on which rain worth a mark is not unlikely."""
        return [day for day in self.ahead if (day.rain_mm or 0) >= _RAIN_MM and (day.chance or 0) >= _CHANCE]

    @property
    def any_water(self) -> bool:
        """Whether there is a watering to draw, done or advised."""
        return any(day.waterings or day.advised_mm is not None for day in self.days)

    @property
    def any_rain(self) -> bool:
        """Whether there is rain to draw, fallen or to come."""
        return self.rain_mm > 0 or bool(self.rain_ahead)

    @property
    def unknown_days(self) -> int:
        """Days past of which no rain is known, wet or dry."""
        return sum(1 for day in self.days[:-1] if day.rain_mm is None)

    @property
    def depths_cm(self) -> list[float | None]:
        """The depths that were read at, shallow first; None: not said."""
        return sorted({heard.depth_cm for heard in self.readings}, key=lambda depth: depth or 0.0)

    @property
    def left_out(self) -> list[Heard]:
        """Readings that the estimate does without."""
        return [heard for heard in self.readings if not heard.counted]

    @property
    def passed(self) -> bool:
        """Whether less is left than the plant should go down to."""
        return self.today.left < self.today.limit

    @property
    def loss_a_day(self) -> float | None:
        """What a day without water has taken of late, on average; None when there was none, or hardly anything."""
        recent = list(pairwise(self.days[-_TREND_DAYS - 1 :]))
        falls = [before.left - after.dawn for before, after in recent if after.dawn < before.left]
        loss = sum(falls) / len(falls) if falls else 0.0
        return loss if loss > _STILL else None

    @property
    def fall(self) -> Fall | None:
        """The way down to today from where it began; None where it did not go down."""
        top = self.today
        for before, after in reversed(list(pairwise(self.days))):
            if after.left > before.left + _STILL:
                break
            top = before
        return Fall(since=top.on, from_share=top.left) if top.left > self.today.left + _STILL else None


def graph(plot: str, past: History, advice: Advice) -> Graph:
    """The picture's data from the season of a plot and the advice on its last day."""
    return Graph(
        plot=plot,
        days=past.days,
        readings=past.readings,
        ahead=past.ahead,
        verdict=advice.verdict,
        look_on=advice.date,
        passes_on=advice.stress_on,
        trends=past.trends,
    )


def span_days(shown: Graph) -> int:
    """Days from the first to the end of the outlook."""
    return (shown.ahead[-1].on + timedelta(days=1) - shown.first).days
