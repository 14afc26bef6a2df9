"""Where on the sheet a day, a share and a depth lie. Lengths are in pixels."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from bot.graph.look import Look
from bot.graph.season import Graph, span_days
from bot.graph.sheet import Box

# Heights and widths in letters: the edge, the headline, a panel's heading, the bars of a strip, the dates, the scale.
_EDGE, _HEADLINE, _HEADING, _BARS, _DATES, _SCALE = 0.9, 4.9, 1.9, 2.6, 2.1, 3.4


@dataclass(frozen=True)
class Frame:
    """The panels of one picture: `plot` of the water left, and the strips `water` and `rain` below it."""

    look: Look
    first: date
    today: date
    days: int
    plot: Box
    water: Box
    rain: Box

    @property
    def edge(self) -> float:
        return _EDGE * self.look.letters

    @property
    def room(self) -> Box:
        """Where labels may stand."""
        edge = self.edge / 2
        return Box(edge, edge, self.look.width - edge, self.look.height - edge / 2)

    @property
    def plot_room(self) -> Box:
        """Where labels of the water left may stand."""
        return Box(self.plot.left, self.plot.top - self.edge, self.plot.right, self.plot.bottom + self.edge / 2)

    @property
    def day_width(self) -> float:
        return (self.plot.right - self.plot.left) / self.days

    def x(self, on: date, part: float = 0.0) -> float:
        """Where the morning of a day lies, or a later part of it."""
        return self.plot.left + ((on - self.first).days + part) * self.day_width

    def y(self, share: float) -> float:
        return self.plot.bottom - share * (self.plot.bottom - self.plot.top)

    @property
    def every_day(self) -> list[date]:
        return [self.first + timedelta(days=count) for count in range(self.days)]


def framed(shown: Graph, look: Look) -> Frame:
    """The panels for a look. A strip without bars is its heading alone; what the rest leaves over is the plot's."""
    em = look.letters
    left, right = (_EDGE + _SCALE) * em, look.width - _EDGE * em
    foot = look.height - _DATES * em
    rain = Box(left, foot - _bars(shown.any_rain) * em, right, foot)
    water_foot = rain.top - _HEADING * em
    water = Box(left, water_foot - _bars(shown.any_water) * em, right, water_foot)
    plot = Box(left, (_EDGE + _HEADLINE + _HEADING) * em, right, water.top - _HEADING * em - 0.4 * em)
    return Frame(look, shown.first, shown.today.on, span_days(shown), plot, water, rain)


def _bars(any_: bool) -> float:
    return _BARS if any_ else 0.3
