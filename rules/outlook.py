"""The estimate carried through the forecast: when the limit is likely passed, with the rain to come taken as chances."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta

from rules.balance import Array
from rules.estimate import Belief, pass_day, stressed
from rules.season import NO_WATER, Scene, filled, weather_of
from rules.terms import Day

DAYS = 9
# The chance taken for a forecast amount that comes without one: no forecast of rain is worth more two days ahead (our judgement
# on published scores; the feeds give their own).
_CHANCE_UNTOLD = 0.6


@dataclass(frozen=True)
class Outlook:
    """Share of the members that suffer at the end of each day to come, today first. [0..1]"""

    days: tuple[date, ...]
    stressed: tuple[float, ...]

    def first_day(self, threshold: float) -> int | None:
        """Days from today until more than `threshold` of the members suffer; None within the look-ahead."""
        return next((ahead for ahead, share in enumerate(self.stressed) if share > threshold), None)


def outlook(scene: Scene, belief: Belief, days: tuple[Day, ...], water_mm: Array, fallen_mm: float) -> Outlook:
    """Carry the belief through the days to come without new watering.

    Args:
        days: `days_to_come`.
        water_mm: what was put on today after the last reading, rain that has fallen included. (plots, members)
        fallen_mm: rain of today that has fallen already: only what falls beyond it is still to come.
    """
    ends = evenings(scene, belief, days, water_mm, fallen_mm)
    shares = tuple(float(stressed(scene.root.zone, end)[0]) for end in ends)
    return Outlook(tuple(day.on for day in days), shares)


def evenings(
    scene: Scene, belief: Belief, days: tuple[Day, ...], water_mm: Array, fallen_mm: float
) -> Iterator[Belief]:
    """The belief at the end of each day to come; arguments as for `outlook`."""
    for ahead, day in enumerate(days):
        water, fallen = (water_mm, fallen_mm) if ahead == 0 else (NO_WATER, 0.0)
        belief = pass_day(scene.root.zone, belief, weather_of(scene, day, (), water, ahead, fallen))
        yield belief


def days_to_come(forecast: tuple[Day, ...], on: date) -> tuple[Day, ...]:
    """The days that are looked ahead to, today first and without gaps, their rain as chances."""
    return tuple(map(as_chance, filled(forecast, on, on + timedelta(days=DAYS))))


def as_chance(day: Day) -> Day:
    """A day to come: its rain is a chance, also where nobody said how good a one."""
    return day if day.pop is not None else replace(day, pop=_CHANCE_UNTOLD)


def expected_rain_mm(days: tuple[Day, ...]) -> float:
    """Rain expected on days to come, chance times amount. [mm]"""
    return sum((day.rain_mm or 0.0) * (day.pop or 0.0) for day in days)
