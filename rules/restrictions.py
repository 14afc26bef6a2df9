"""Rules of the place on watering: which days and hours, pauses after rain, and who is let off. The office keeps them as dated rows.

A rule never makes a plant less thirsty: need and rule are told apart, and nobody is advised to break one.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from rules.tables import WEEKDAYS, Restriction, Tables
from rules.terms import Day, Plot

# Towns change their rules within a season: older than this, somebody should read the notice again.
FRESH_DAYS = 30


@dataclass(frozen=True)
class Rule:
    """The rule that binds one plot, and the day on which the pause after the last rain is over."""

    row: Restriction
    house: str | None
    resumes: date

    def allows(self, day: date) -> bool:
        """Whether water may be put on this day. An address that is not known gets only what suits odd and even ones."""
        houses = (self.house,) if self.house else ("odd", "even")
        return day >= self.resumes and all(_is_day_for(self.row, house, day) for house in houses)

    def stale(self, on: date) -> bool:
        """Whether nobody has read the notice for a month."""
        return (on - date.fromisoformat(self.row.read_on)).days > FRESH_DAYS


def binding(plot: Plot, on: date, weather: Iterable[Day], tables: Tables) -> Rule | None:
    """The rule that a plot has to keep on a day; None: there is none, or it is let off.

    Args:
        weather: days that are known; rain of those up to `on` can pause watering.
    """
    row = rule_of(plot, on, tables)
    if row is None or _let_off(row, plot, on):
        return None
    return Rule(row, plot.house, _resumes(row, on, weather))


def rule_of(plot: Plot, on: date, tables: Tables) -> Restriction | None:
    """The rule in force where the plot lies: its own place's before the whole county's, the one begun last first."""
    here = (plot.place or "").casefold()
    of_place = [row for row in _in_force(tables.restrictions, on) if row.place.casefold() == here and here]
    of_all = [row for row in _in_force(tables.restrictions, on) if row.place == "*"]
    return next(iter(sorted(of_place, key=_begun) or sorted(of_all, key=_begun)), None)


def _in_force(rows: Mapping[str, Restriction], on: date) -> list[Restriction]:
    day = on.isoformat()
    return [row for row in rows.values() if row.starts <= day and (not row.ends or day <= row.ends)]


def _begun(row: Restriction) -> tuple[int, str]:
    return (-date.fromisoformat(row.starts).toordinal(), row.id)


def _let_off(row: Restriction, plot: Plot, on: date) -> bool:
    new = plot.planted_on is not None and (on - plot.planted_on).days < (row.new_planting_days or 0)
    by_office = plot.let_off_until is not None and on <= plot.let_off_until
    return new or by_office or (plot.method or "") in row.exempt


def _resumes(row: Restriction, on: date, weather: Iterable[Day]) -> date:
    """The first day after the pause that the last rain began."""
    if row.rain_mm is None or row.rain_hours is None:
        return on
    # A day's rain may have ended at midnight: a pause of 48 h keeps the next two days dry.
    pause = timedelta(days=1 + -(-int(row.rain_hours) // 24))
    rained = [day.on for day in weather if day.on <= on and day.pop is None and (day.rain_mm or 0.0) >= row.rain_mm]
    return max([on, *(day + pause for day in rained)])


def _is_day_for(row: Restriction, house: str, day: date) -> bool:
    if row.by_date:
        # Two odd days in a row would let one side of the street water twice: the 31st and 29 February are nobody's.
        spare = day.day == 31 or (day.month, day.day) == (2, 29)
        return not spare and (day.day % 2 == 1) == (house == "odd")
    weekdays = row.weekdays_odd if house == "odd" else row.weekdays_even
    return WEEKDAYS[day.weekday()] in weekdays
