"""Two who advise the same yard: `rules.advise`, and the daily checkbook of extension bulletins reset by each reading."""

from __future__ import annotations

from datetime import date
from typing import Protocol

from rules import advise, tables
from rules.profile import profile
from rules.rain import effective_rain_mm
from rules.soil import water_content
from rules.terms import Advised, Day, Observation, Plot, Reading, Verdict, Watering, Weather

FELT = {"dry": 0.125, "slightly_moist": 0.375, "moist": 0.625, "wet": 0.875, "free_water": 1.0}


class Adviser(Protocol):
    def depth_mm(self, on: date, reading: Reading | None, forecast: tuple[Day, ...]) -> float:
        """What to put on today, losses included; 0 for nothing."""

    def told(self, watering: Watering) -> None:
        """A watering that the person reports."""

    def passed(self, day: Day) -> None:
        """The weather of the day that is over."""


class Dropline:
    """`rules.advise`, asked every morning, its own advice kept on record. `ranges`: of water left, by morning."""

    def __init__(self, plot: Plot) -> None:
        self._plot = plot
        self._observations: list[Observation] = []
        self._past: list[Day] = []
        self.ranges: list[tuple[float, float]] = []

    def depth_mm(self, on: date, reading: Reading | None, forecast: tuple[Day, ...]) -> float:
        if reading is not None:
            self._observations.append(reading)
        advice = advise(self._plot, self._observations, Weather(past=tuple(self._past), forecast=forecast), on)
        self.ranges.append((advice.water_left_low or 0.0, advice.water_left_high or 0.0))
        if advice.verdict is not Verdict.WATER:
            return 0.0
        self._observations.append(Advised(on=on, depth_mm=advice.depth_mm or 0.0))
        return advice.depth_mm or 0.0

    def told(self, watering: Watering) -> None:
        self._observations.append(watering)

    def passed(self, day: Day) -> None:
        self._past.append(day)


class Checkbook:
    """Deficit in the told root zone: plus the plant's use, minus rain and waterings; a reading sets it anew.

    Waters back to full when tomorrow would pass the allowed depletion. It has the same tables as `Dropline`. A feel counts
    as the middle of its band (USDA-NRCS Program Aid 1619).
    """

    def __init__(self, plot: Plot) -> None:
        self._plot, self._lacking_mm = plot, 0.0

    def depth_mm(self, on: date, reading: Reading | None, forecast: tuple[Day, ...]) -> float:
        about = profile(self._plot, on, tables.base())
        store_mm = about.store_mm_per_cm * about.root.depth_cm
        if reading is not None:
            self._lacking_mm = (1 - min(max(self._left(reading), 0.0), 1.0)) * store_mm
        self._lacking_mm = min(self._lacking_mm, store_mm)
        gross_mm = self._lacking_mm / about.efficiency
        comes_near = self._lacking_mm + about.scene.demand_mm(forecast[0]) > (1 - about.limit) * store_mm
        return gross_mm if comes_near and gross_mm >= 5 else 0.0

    def _left(self, reading: Reading) -> float:
        if isinstance(reading.value, str):
            return FELT[reading.value]
        soil = tables.base().soils[self._plot.soil or ""]
        theta = reading.value / 100
        if reading.quantity == "tension":
            theta = float(water_content(reading.value, soil.fc, soil.wp, soil.psi_fc))
        return (theta - soil.wp) / (soil.fc - soil.wp)

    def told(self, watering: Watering) -> None:
        about = profile(self._plot, watering.on, tables.base())
        self._lacking_mm = max(self._lacking_mm - (about.scene.net_mm(watering) or 0.0), 0.0)

    def passed(self, day: Day) -> None:
        about = profile(self._plot, day.on, tables.base())
        entered_mm = float(effective_rain_mm(day.rain_mm or 0.0, self._plot.soil))
        self._lacking_mm = max(self._lacking_mm + about.scene.demand_mm(day) - entered_mm, 0.0)
