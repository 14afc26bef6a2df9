"""Weather for any place on earth from Open-Meteo's forecast service: open data, no key for non-commercial use.

Facts were read in the service's public repositories (open-meteo/open-meteo and open-meteo-website, August 2026).
Data: CC BY 4.0, to be named as in `ATTRIBUTION` with a link to open-meteo.com.
The days behind are short-range model values, not gauge readings: the best there is without a gauge.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from datetime import UTC, date, datetime, timedelta
from typing import Any

from bot.errors import FeedChanged
from bot.feeds.days import as_seen, chance_from_amount, plausible
from bot.feeds.feed import FORECAST, PAST
from bot.feeds.http import Http
from rules.terms import Day, Weather

NAME = "globe"
BASE_URL = "https://api.open-meteo.com"
ATTRIBUTION = "Weather data by Open-Meteo.com"
PAST_DAYS = 30
FORECAST_DAYS = 10

# Ten variables: a call's weight is variables/10 x days/14, so this one counts as about three of 10 000 a day.
# Day's value -> the service's variable.
VARIABLES = {
    "tmax_c": "temperature_2m_max",
    "tmin_c": "temperature_2m_min",
    "rain_mm": "precipitation_sum",
    "wet_h": "precipitation_hours",
    "hourly_chance": "precipitation_probability_max",
    "et0_mm": "et0_fao_evapotranspiration",
    "solar_mj_m2": "shortwave_radiation_sum",
    "wind_m_s": "wind_speed_10m_mean",
    "rh_max": "relative_humidity_2m_max",
    "rh_min": "relative_humidity_2m_min",
}
COPIED = ("tmax_c", "tmin_c", "rain_mm", "et0_mm", "solar_mj_m2", "wind_m_s", "rh_max", "rh_min")

# What each variable may be given in, and the factor to the unit of `Day`.
UNITS: dict[str, dict[str, float]] = {
    "tmax_c": {"°C": 1},
    "tmin_c": {"°C": 1},
    "rain_mm": {"mm": 1, "inch": 25.4},
    "wet_h": {"h": 1},
    "hourly_chance": {"%": 0.01},
    "et0_mm": {"mm": 1, "inch": 25.4},
    "solar_mj_m2": {"MJ/m²": 1},
    "wind_m_s": {"m/s": 1, "km/h": 1 / 3.6},
    "rh_max": {"%": 1},
    "rh_min": {"%": 1},
}


class GlobeService:
    """The service that stands behind every place."""

    name = NAME
    gives = frozenset({PAST, FORECAST})

    def __init__(self, http: Http, clock: Callable[[], datetime], base_url: str = BASE_URL) -> None:
        self._http, self._clock, self._base_url = http, clock, base_url

    def covers(self, latitude: float, longitude: float) -> bool:
        return True

    def fetch(self, latitude: float, longitude: float, on: date) -> Weather:
        """Ask for the days around today. Raises FeedDown, FeedChanged."""
        params = {
            "latitude": f"{latitude:g}",
            "longitude": f"{longitude:g}",
            "timezone": "auto",
            "past_days": str(PAST_DAYS),
            "forecast_days": str(FORECAST_DAYS),
            "wind_speed_unit": "ms",
            "daily": ",".join(VARIABLES.values()),
        }
        answer = self._http.json(self.name, f"{self._base_url}/v1/forecast", params)
        return read(answer, on, self._clock().astimezone(UTC))


def read(answer: Any, on: date, now: datetime) -> Weather:
    """Weather from the service's answer. Any value may be null. Raises FeedChanged on another shape or unit."""
    try:
        days = [_day(values, on) for values in _columns(answer["daily"], answer["daily_units"])]
        local = now + timedelta(seconds=answer["utc_offset_seconds"])
    except (KeyError, TypeError, ValueError, AttributeError) as error:
        raise FeedChanged(NAME, f"an answer of another shape ({type(error).__name__})") from error
    weather = Weather(
        past=tuple(day for day in days if day.on < on),
        forecast=tuple(day for day in days if day.on >= on),
        source=NAME,
        attribution=ATTRIBUTION,
        as_of=local.replace(tzinfo=None),
    )
    return as_seen(weather, on)


def day_chance(hourly_chance: float, wet_h: float) -> float:
    """The chance of rain on a day, from the largest chance of any of its hours. [share, 0 to 1]

    An hour's chance understates the day's, as the other hours bring chances too; but hours hang together, so 24 of
    them are nowhere near 24 chances. 1 - (1 - p)^k, with k growing from one hour's worth on a dry-looking day to two
    when the model has rain for half the day or more. The growth of k is our judgement; it errs towards less rain.

    Args:
        hourly_chance: the largest of the 24 hourly chances, 0 to 1.
        wet_h: hours with rain in the model's own run, 0 to 24.
    """
    chances = 1 + min(max(wet_h, 0.0), 12.0) / 12
    return 1 - math.pow(1 - hourly_chance, chances)


def _columns(daily: Mapping[str, Any], units: Mapping[str, str]) -> list[dict[str, Any]]:
    """One mapping a day, in our names and units; the columns that the answer leaves out are left out here too."""
    names = {name: variable for name, variable in VARIABLES.items() if variable in daily}
    factors = {name: _factor(name, units[variable]) for name, variable in names.items()}
    days: list[dict[str, Any]] = [{"on": date.fromisoformat(text)} for text in daily["time"]]
    for name, variable in names.items():
        for day, value in zip(days, daily[variable], strict=True):
            day[name] = None if value is None else value * factors[name]
    return days


def _factor(name: str, unit: str) -> float:
    if unit not in UNITS[name]:
        raise FeedChanged(NAME, f"an unknown unit {unit!r} of {name}")
    return UNITS[name][unit]


def _day(values: dict[str, Any], on: date) -> Day:
    numbers = {name: plausible(name, values.get(name)) for name in COPIED}
    ahead = values["on"] >= on
    return Day(
        on=values["on"],
        pop=_chance(values, numbers["rain_mm"]) if ahead else None,
        **numbers,
    )


def _chance(values: dict[str, Any], rain_mm: float | None) -> float | None:
    hourly_chance = plausible("pop", values.get("hourly_chance"))
    if hourly_chance is None:  # the service once left it out for weeks
        return chance_from_amount(rain_mm)
    return day_chance(hourly_chance, values.get("wet_h") or 0.0)
