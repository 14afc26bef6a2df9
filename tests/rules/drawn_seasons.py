"""Drawn plots and seasons, from a seed alone: invented weather, readings, waterings and rain for laws to be held against."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from rules.terms import Advised, Day, Observation, Plot, Rain, Reading, Sign, Watering, Weather

SOILS = ("sand", "loamy_sand", "sandy_loam", "loam", "silt_loam", "sandy_clay_loam", "clay_loam", "clay")
PLANTS = ("tomato", "peach", "lawn_cool", "lettuce", "grape_table", "squash", "vegetable", None)
FEELS = ("dry", "slightly_moist", "moist", "wet", "free_water")


@dataclass(frozen=True)
class Season:
    plot: Plot
    observations: tuple[Observation, ...]
    weather: Weather
    on: date


def drawn(seed: int, days: int = 40) -> Season:
    """A season that ends in an open question on its last day."""
    rng = np.random.default_rng(seed)
    on = date(2031, 6, 5) + timedelta(days=int(rng.integers(0, 90)))
    past = tuple(_day(rng, on - timedelta(days=back)) for back in range(days, 0, -1))
    forecast = tuple(_day(rng, on + timedelta(days=ahead), forecast=True) for ahead in range(8))
    dates = [on - timedelta(days=back) for back in range(days, -1, -1)]
    quantity = str(rng.choice(["tension", "percent", "feel", "resistance"]))
    found = [event for day in dates for event in _events(rng, day, quantity)]
    found.append(_reading(rng, on, quantity))
    return Season(_plot(rng), tuple(found), Weather(past=past, forecast=forecast), on)


def _plot(rng: np.random.Generator) -> Plot:
    plant = PLANTS[rng.integers(len(PLANTS))]
    return Plot(
        name="A",
        soil=str(rng.choice(SOILS)),
        plant=plant,
        latitude=36.0,
        longitude=-100.0,
        planted_on=date(2031, 4, 20) if plant in ("tomato", "lettuce", "squash", "vegetable") else None,
        method=str(rng.choice(["sprinkler", "drip"])),
        rate_mm_h=float(rng.choice([4, 8, 15, 25])),
        rate_source="measured",
    )


def _day(rng: np.random.Generator, on: date, forecast: bool = False) -> Day:
    warm = float(rng.uniform(18, 38))
    wet = rng.random() < 0.25
    amount = round(float(rng.exponential(10)), 1) if wet or forecast else 0.0
    return Day(
        on=on,
        tmax_c=warm,
        tmin_c=warm - 12,
        rain_mm=amount,
        pop=round(float(rng.uniform(0, 1)), 2) if forecast else None,
        et0_mm=round(float(rng.uniform(2, 8)), 1),
    )


def _events(rng: np.random.Generator, on: date, quantity: str) -> list[Observation]:
    luck = rng.random()
    if luck < 0.12:
        return [_reading(rng, on, quantity)]
    if luck < 0.20:
        return [Watering(on=on, minutes=float(rng.integers(10, 90)))]
    if luck < 0.22:
        return [Watering(on=on)]
    if luck < 0.27:
        return [Rain(on=on, depth_mm=float(rng.integers(0, 25)))]
    if luck < 0.29:
        return [Rain(on=on)]
    if luck < 0.31:
        return [Advised(on=on, depth_mm=20.0)]
    return [Sign(on=on, sign=str(rng.choice(["wilting", "yellow", "cracked"])))] if luck < 0.33 else []


def _reading(rng: np.random.Generator, on: date, quantity: str) -> Reading:
    value: float | str = str(rng.choice(FEELS[:4]))
    if quantity == "tension":
        value = round(float(np.exp(rng.uniform(np.log(5), np.log(180)))), 1)
    elif quantity == "resistance":
        value = round(float(np.exp(rng.uniform(np.log(600), np.log(30000)))))
    elif quantity == "percent":
        value = round(float(rng.uniform(5, 40)), 1)
    return Reading(on=on, quantity=quantity, value=value, depth_cm=float(rng.choice([15, 20, 30, 45])))


def wetter(reading: Reading, share: float) -> Reading:
    """The same reading, wetter by a share of what it could be."""
    if isinstance(reading.value, str):
        at = FEELS.index(reading.value)
        return replace(reading, value=FEELS[min(at + 1 + int(share * 3), 4)])
    if reading.quantity == "percent":
        return replace(reading, value=reading.value + share * (60 - reading.value))
    lowest = 0.0 if reading.quantity == "tension" else 500.0
    return replace(reading, value=reading.value - share * (reading.value - lowest))
