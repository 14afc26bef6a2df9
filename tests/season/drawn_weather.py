"""Invented weather of a season, with forecasts whose chances come true as often as they say. No real place."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from rules.terms import Day

# Chance of a wet day after a wet and after a dry one, and the mean of a wet day. Invented; mid-latitude summers are alike.
WET_AFTER_WET, WET_AFTER_DRY, WET_MM = 0.42, 0.17, 9.0
AHEAD = 7
# How often the forecaster's hint of wet or dry is wrong, tomorrow and a week ahead.
WRONG_FIRST, WRONG_LAST = 0.10, 0.42


@dataclass(frozen=True)
class SeasonWeather:
    """What was observed each day, and the forecast issued each morning, that day first."""

    observed: tuple[Day, ...]
    forecasts: tuple[tuple[Day, ...], ...]


def season(seed: int, first: date, days: int) -> SeasonWeather:
    rng = np.random.default_rng((seed, 77))
    wetness = float(rng.choice([0.5, 1.0, 1.4]))
    whole = [_day(rng, first, count, rain) for count, rain in enumerate(_rain_mm(rng, days + AHEAD, wetness))]
    forecasts = tuple(_forecast(rng, whole[start : start + AHEAD], wetness) for start in range(days))
    return SeasonWeather(tuple(whole[:days]), forecasts)


def _rain_mm(rng: np.random.Generator, days: int, wetness: float) -> list[float]:
    rain: list[float] = []
    for _ in range(days):
        chance = (WET_AFTER_WET if rain and rain[-1] > 0 else WET_AFTER_DRY) * wetness
        rain.append(round(float(rng.exponential(WET_MM)), 1) if rng.random() < chance else 0.0)
    return rain


def _day(rng: np.random.Generator, first: date, count: int, rain_mm: float) -> Day:
    """ET0 swings between spring and midsummer, and a wet day is a dull one."""
    on = first + timedelta(days=count)
    height = np.sin(np.pi * (on.timetuple().tm_yday - 60) / 260)
    et0_mm = max((1.5 + 4.5 * height) * rng.lognormal(0, 0.2) * (0.6 if rain_mm > 0 else 1.0), 0.3)
    return Day(on=on, tmax_c=16 + 16 * height, tmin_c=4 + 14 * height, rain_mm=rain_mm, et0_mm=round(et0_mm, 2))


def _forecast(rng: np.random.Generator, coming: list[Day], wetness: float) -> tuple[Day, ...]:
    """By Bayes from a hint that is wrong more often the further ahead, so that the chances are honest."""
    usual = wetness * WET_AFTER_DRY / (1 - wetness * (WET_AFTER_WET - WET_AFTER_DRY))
    days = []
    for ahead, day in enumerate(coming):
        wrong = WRONG_FIRST + (WRONG_LAST - WRONG_FIRST) * ahead / (AHEAD - 1)
        wet = (day.rain_mm or 0.0) > 0
        hint = wet if rng.random() >= wrong else not wet
        says_wet, says_dry = (1 - wrong, wrong) if hint else (wrong, 1 - wrong)
        chance = usual * says_wet / (usual * says_wet + (1 - usual) * says_dry)
        amount = ((day.rain_mm or 0.0) if wet else WET_MM) ** 0.5 * WET_MM**0.5 * rng.lognormal(0, 0.3)
        et0_mm = (day.et0_mm or 0.0) * rng.lognormal(0, 0.12 + 0.01 * ahead)
        days.append(Day(on=day.on, rain_mm=round(amount, 1), pop=round(chance, 2), et0_mm=round(et0_mm, 2)))
    return tuple(days)
