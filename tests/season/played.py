"""One season of one yard under one adviser, with people who are late, put on more or less, and don't always tell."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from advisers import Adviser
from drawn_weather import season
from true_yard import TrueYard

from rules import tables
from rules.profile import profile
from rules.terms import Plot, Reading, Watering

FIRST = date(2031, 5, 1)
DAYS = 120
# People water on the day (50 percent), the day after (35) or not at all; a quarter of the waterings is never reported.
TODAY, TOMORROW, SILENT = 0.50, 0.85, 0.25
COST_OF_THIRST = 5.0

Habit = Callable[[int], bool]
HABITS: dict[str, Habit] = {
    "twice a week": lambda day: day % 7 in (0, 3),
    "every ten days": lambda day: day % 10 == 0,
    "never": lambda day: False,
}


@dataclass(frozen=True)
class Outcome:
    """A season's water put on, and transpiration lost to thirst [mm]; the true water left of each morning [0..1]."""

    water_mm: float
    lost_mm: float
    waterings: int
    left: tuple[float, ...]

    @property
    def cost_mm(self) -> float:
        return self.water_mm + COST_OF_THIRST * self.lost_mm


def play(seed: int, habit: Habit, adviser: Callable[[Plot], Adviser]) -> Outcome:
    """The same seed gives every adviser the same yard, weather and person."""
    yard, person = TrueYard(seed), np.random.default_rng((seed, 9))
    weather, told = season(seed, FIRST, DAYS), adviser(yard.plot)
    due: dict[date, tuple[float, bool]] = {}
    water_mm = lost_mm = 0.0
    waterings, left = 0, []
    for day, seen in enumerate(weather.observed):
        on, luck = seen.on, person.random(3)
        left.append(yard.water_left)
        advised_mm = told.depth_mm(on, _reading(yard, on) if habit(day) else None, weather.forecasts[day])
        if advised_mm > 0 and luck[0] < TOMORROW and not any(when >= on for when in due):
            when = on if luck[0] < TODAY else on + timedelta(days=1)
            due[when] = advised_mm * (0.75 + 0.5 * luck[1]), luck[2] >= SILENT
        put_on_mm, reports = due.get(on, (0.0, False))
        if put_on_mm and reports:
            told.told(Watering(on=on, minutes=60 * put_on_mm / (yard.plot.rate_mm_h or 1)))
        handbook_mm = profile(yard.plot, on, tables.base()).scene.demand_mm(seen)
        spent = yard.spend(handbook_mm, seen.rain_mm or 0.0, put_on_mm)
        water_mm, lost_mm = water_mm + put_on_mm, lost_mm + spent.wanted_mm - spent.taken_mm
        waterings += put_on_mm > 0
        told.passed(seen)
    return Outcome(water_mm, lost_mm, waterings, tuple(left))


def _reading(yard: TrueYard, on: date) -> Reading:
    quantity, value, depth_cm = yard.read()
    return Reading(on=on, quantity=quantity, value=value, depth_cm=depth_cm)
