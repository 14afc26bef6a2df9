"""Days of weather: which values can be true, which days are seen from which day, and two lists of days made one."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date
from typing import Any

from rules.terms import Day, Weather

# Lowest and highest value taken for true. Our judgement, wide of the world's records for a day (about -90 and 57 C,
# 1825 mm of rain); reference evapotranspiration passes 15 mm only in the hottest deserts.
BOUNDS: dict[str, tuple[float, float]] = {
    "tmax_c": (-90, 60),
    "tmin_c": (-90, 60),
    "rain_mm": (0, 2000),
    "pop": (0, 1),
    "et0_mm": (0, 20),
    "solar_mj_m2": (0, 50),
    "wind_m_s": (0, 60),
    "rh_max": (0, 100),
    "rh_min": (0, 100),
    "dewpoint_c": (-90, 40),
}

# In a forecast that was honest by construction, a named 10 mm or more brought over 2 mm on 88 % of first days and
# on 59 to 68 % of days five to seven ahead (own measurement on invented weather). The far end, as the day is not known.
CHANCE_OF_A_NAMED_AMOUNT = 0.6
CHANCE_OF_A_TRACE = 0.3  # our judgement: less than 1 mm is named about as often on dry days as on wet ones
LEAST_NAMED_MM = 1.0


def plausible(key: str, value: Any) -> float | None:
    """The value as a number, or None when it is no number or can't be true."""
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        return None
    low, high = BOUNDS[key]
    return float(value) if low <= value <= high else None


def chance_from_amount(rain_mm: float | None) -> float | None:
    """The chance to take for forecast rain that came without one. [share, 0 to 1] None when no amount is known."""
    if rain_mm is None:
        return None
    if rain_mm >= LEAST_NAMED_MM:
        return CHANCE_OF_A_NAMED_AMOUNT
    return CHANCE_OF_A_TRACE if rain_mm > 0 else 0.0


def as_seen(weather: Weather, on: date) -> Weather:
    """The same weather from the morning of `on`: what lies behind, what lies ahead, each oldest first.

    A day of the forecast that has gone by without its rain being observed stays in `past` with its chance: it was only
    ever forecast. Days observed on `on` or later are left out, as nobody could have known them.
    """
    observed = tuple(day for day in weather.past if day.on < on)
    gone_by = tuple(day for day in weather.forecast if day.on < on)
    ahead = tuple(day for day in weather.forecast if day.on >= on)
    return replace(weather, past=_filled(observed, gone_by), forecast=_filled(ahead, ()))


def filled(first: Weather, second: Weather) -> Weather:
    """`first`, with the days and the values that it doesn't know taken from `second`."""
    past, forecast = _filled(first.past, second.past), _filled(first.forecast, second.forecast)
    if (past, forecast) == (first.past, first.forecast):
        return first
    return Weather(
        past=past,
        forecast=forecast,
        source=_joined(first.source, second.source),
        attribution=_joined(first.attribution, second.attribution),
        as_of=first.as_of or second.as_of,
    )


def _filled(first: tuple[Day, ...], second: tuple[Day, ...]) -> tuple[Day, ...]:
    """The days of both, oldest first, one a date; of two in one list the later counts."""
    known = {day.on: day for day in first}
    both = {day.on: _filled_day(known[day.on], day) if day.on in known else day for day in second}
    return tuple(sorted((known | both).values(), key=lambda day: day.on))


def _filled_day(first: Day, second: Day) -> Day:
    """Value by value; but an amount of rain and its chance belong together."""
    if first.rain_mm is None and second.rain_mm is not None:
        first = replace(first, rain_mm=second.rain_mm, pop=second.pop)
    open_keys = [key for key in BOUNDS.keys() - {"rain_mm", "pop"} if getattr(first, key) is None]
    return replace(first, **{key: getattr(second, key) for key in open_keys})


def _joined(first: str | None, second: str | None) -> str | None:
    parts = dict.fromkeys(part for text in (first, second) if text for part in text.split("; "))
    return "; ".join(parts) or None
