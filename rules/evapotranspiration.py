"""One day's weather to reference evapotranspiration: the water a short, well-watered grass would use. [mm/day]

Equation numbers are those of FAO Irrigation and Drainage Paper 56 (Allen, Pereira, Raes, Smith 1998, "FAO-56").
Every equation takes single values or numpy arrays of one shape and gives back the same.
Units throughout: degrees C, kPa, MJ/m2/day, m/s at 2 m, radians for `latitude_rad`, day of the year 1 to 366.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import date
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from rules.terms import Day

Numbers = float | NDArray[np.float64]
"""A float, or a numpy array of floats."""

SOLAR_CONSTANT_MJ_M2_MIN = 0.0820  # FAO-56 Eq. 21
STEFAN_BOLTZMANN_MJ_M2_DAY_K4 = 4.903e-9  # FAO-56 Eq. 39
ALBEDO = 0.23  # FAO-56 Eq. 38, grass reference
MM_PER_MJ_M2 = 0.408  # FAO-56 Eq. 20, 1 / 2.45 MJ/kg

WIND_HEIGHT_M = 10.0  # where weather services measure the wind that they report
MOST_A_DAY_MM = 15.0  # our judgement: hot, dry, windy desert days come near 14 mm; more is a broken feed
COLDEST_C, HOTTEST_C = -60.0, 60.0  # air temperatures beyond these are a broken feed (the records are -89 and 57)


def air_pressure_kpa(elevation_m: Numbers) -> Numbers:
    """Usual air pressure at a height above the sea. [kPa] FAO-56 Eq. 7."""
    return 101.3 * ((293 - 0.0065 * elevation_m) / 293) ** 5.26


def psychrometric_constant(pressure_kpa: Numbers) -> Numbers:
    """[kPa/degree C] FAO-56 Eq. 8."""
    return 0.665e-3 * pressure_kpa


def saturation_vapour_pressure_kpa(temp_c: Numbers) -> Numbers:
    """Vapour pressure of saturated air; at the dewpoint it is the actual one (Eq. 14). [kPa] FAO-56 Eq. 11."""
    return 0.6108 * np.exp(17.27 * temp_c / (temp_c + 237.3))


def mean_saturation_vapour_pressure_kpa(tmax_c: Numbers, tmin_c: Numbers) -> Numbers:
    """Mean over a day; the pressure at the mean temperature would be too low. [kPa] FAO-56 Eq. 12."""
    return (saturation_vapour_pressure_kpa(tmax_c) + saturation_vapour_pressure_kpa(tmin_c)) / 2


def vapour_pressure_slope(temp_c: Numbers) -> Numbers:
    """Slope of the saturation curve. [kPa/degree C] FAO-56 Eq. 13."""
    return 4098 * saturation_vapour_pressure_kpa(temp_c) / (temp_c + 237.3) ** 2


def vapour_pressure_of_humidity_kpa(tmax_c: Numbers, tmin_c: Numbers, rh_max: Numbers, rh_min: Numbers) -> Numbers:
    """Actual vapour pressure from the day's highest and lowest relative humidity, in percent. [kPa] FAO-56 Eq. 17."""
    at_dawn = saturation_vapour_pressure_kpa(tmin_c) * rh_max / 100
    at_noon = saturation_vapour_pressure_kpa(tmax_c) * rh_min / 100
    return (at_dawn + at_noon) / 2


def declination_rad(day_of_year: Numbers) -> Numbers:
    """Solar declination. [rad] FAO-56 Eq. 24."""
    return 0.409 * np.sin(2 * math.pi * day_of_year / 365 - 1.39)


def sunset_angle_rad(latitude_rad: Numbers, day_of_year: Numbers) -> Numbers:
    """Hour angle of sunset; 0 in the polar night and pi under the midnight sun. [rad] FAO-56 Eq. 25."""
    cosine: Numbers = np.clip(-np.tan(latitude_rad) * np.tan(declination_rad(day_of_year)), -1, 1)
    return np.arccos(cosine)


def extraterrestrial_radiation(latitude_rad: Numbers, day_of_year: Numbers) -> Numbers:
    """Sunshine above the air. [MJ/m2/day] FAO-56 Eq. 21, distance to the sun by Eq. 23."""
    nearness = 1 + 0.033 * np.cos(2 * math.pi * day_of_year / 365)
    sunset, declination = sunset_angle_rad(latitude_rad, day_of_year), declination_rad(day_of_year)
    upright = sunset * np.sin(latitude_rad) * np.sin(declination)
    slanting = np.cos(latitude_rad) * np.cos(declination) * np.sin(sunset)
    sunshine: Numbers = 24 * 60 / math.pi * SOLAR_CONSTANT_MJ_M2_MIN * nearness * (upright + slanting)
    return sunshine


def daylight_hours(latitude_rad: Numbers, day_of_year: Numbers) -> Numbers:
    """From sunrise to sunset. [h] FAO-56 Eq. 34."""
    return 24 / math.pi * sunset_angle_rad(latitude_rad, day_of_year)


def clear_sky_radiation(extraterrestrial: Numbers, elevation_m: Numbers) -> Numbers:
    """Sunshine at the ground under a clear sky. [MJ/m2/day] FAO-56 Eq. 37."""
    return (0.75 + 2e-5 * elevation_m) * extraterrestrial


def net_shortwave_radiation(solar_mj_m2: Numbers) -> Numbers:
    """Sunshine that grass keeps. [MJ/m2/day] FAO-56 Eq. 38."""
    return (1 - ALBEDO) * solar_mj_m2


def net_longwave_radiation(
    tmax_c: Numbers, tmin_c: Numbers, vapour_kpa: Numbers, solar_mj_m2: Numbers, clear_sky: Numbers
) -> Numbers:
    """Warmth that the ground loses to the sky. [MJ/m2/day] FAO-56 Eq. 39.

    Differs: sunshine over clear sky is held within 0.3 to 1, as ASCE-EWRI (2005) Eq. 18 does.
    """
    black_body = STEFAN_BOLTZMANN_MJ_M2_DAY_K4 * ((tmax_c + 273.16) ** 4 + (tmin_c + 273.16) ** 4) / 2
    clearness = np.clip(solar_mj_m2 / np.maximum(clear_sky, 1e-9), 0.3, 1.0)
    return black_body * (0.34 - 0.14 * np.sqrt(vapour_kpa)) * (1.35 * clearness - 0.35)


def wind_at_2_m(wind_m_s: Numbers, height_m: Numbers) -> Numbers:
    """Wind brought down to 2 m over grass from where it was measured. [m/s] FAO-56 Eq. 47."""
    return wind_m_s * 4.87 / np.log(67.8 * height_m - 5.42)


def reference_et_penman_monteith(
    tmax_c: Numbers,
    tmin_c: Numbers,
    vapour_kpa: Numbers,
    net_radiation: Numbers,
    wind_2_m: Numbers,
    pressure_kpa: Numbers,
    soil_heat: Numbers = 0.0,
) -> Numbers:
    """[mm/day] FAO-56 Eq. 6. `net_radiation` and `soil_heat` in MJ/m2/day; over one day soil heat is nil (Eq. 42)."""
    mean_c = (tmax_c + tmin_c) / 2
    slope, gamma = vapour_pressure_slope(mean_c), psychrometric_constant(pressure_kpa)
    deficit_kpa = mean_saturation_vapour_pressure_kpa(tmax_c, tmin_c) - vapour_kpa
    by_radiation = 0.408 * slope * (net_radiation - soil_heat)
    by_wind = gamma * 900 / (mean_c + 273) * wind_2_m * deficit_kpa
    return (by_radiation + by_wind) / (slope + gamma * (1 + 0.34 * wind_2_m))


def reference_et_hargreaves(mean_c: Numbers, range_c: Numbers, extraterrestrial: Numbers) -> Numbers:
    """From the day's mean temperature and its range alone. [mm/day] FAO-56 Eq. 52. Low in wind, high in damp air."""
    return 0.0023 * (mean_c + 17.8) * np.sqrt(range_c) * MM_PER_MJ_M2 * extraterrestrial


@lru_cache(maxsize=4096)
def reference_et_mm(day: Day, latitude: float | None, elevation_m: float | None) -> float | None:
    """The best figure that one day's weather gives, or None. [mm/day]

    The feed's own figure; else Penman-Monteith where radiation, humidity and wind are known; else Hargreaves from the
    temperatures. A figure outside 0 to 15 mm is passed over. The day's wind counts as measured at 10 m; without a
    height the sea level is taken, which costs some 2 percent at 1000 m.
    """
    estimates = _estimates(day, latitude, elevation_m)
    return next((mm for mm in estimates if mm is not None and 0 <= mm <= MOST_A_DAY_MM), None)


@lru_cache(maxsize=4096)
def usual_et_mm(on: date, latitude: float) -> float:
    """What the season usually asks, from the latitude alone, for when no weather is known. [mm/day]

    Hargreaves on a yearly wave of temperature with a daily range of 12 degrees. The wave (mean 27 - 0.72 (latitude -
    20), half its height 0.33 latitude, warmest on day 201) was fitted by eye to eight North American stations from 26
    to 55 N and stays within about 0.7 mm/day over a week inland. Our judgement: within 20 degrees of the equator the
    mean stays 27, and the south has the same wave half a year later.
    """
    day_of_year = on.timetuple().tm_yday
    from_equator = abs(latitude)
    warmest_day = 201 if latitude >= 0 else 201 - 365.25 / 2
    wave = math.cos(2 * math.pi * (day_of_year - warmest_day) / 365.25)
    mean_c = 27 - 0.72 * max(from_equator - 20, 0) + 0.33 * from_equator * wave
    usual = reference_et_hargreaves(mean_c, 12.0, extraterrestrial_radiation(math.radians(latitude), day_of_year))
    return max(float(usual), 0.0)


def _estimates(day: Day, latitude: float | None, elevation_m: float | None) -> Iterator[float | None]:
    """The ways to a figure, the best first; each is worked out only when asked for."""
    yield day.et0_mm
    yield _penman_monteith_mm(day, latitude, elevation_m)
    yield _hargreaves_mm(day, latitude)


def _temperatures(day: Day) -> tuple[float, float] | None:
    """The day's highest and lowest temperature where both can be true."""
    if day.tmax_c is None or day.tmin_c is None or not COLDEST_C <= day.tmin_c <= day.tmax_c <= HOTTEST_C:
        return None
    return day.tmax_c, day.tmin_c


def _vapour_kpa(day: Day, tmax_c: float, tmin_c: float) -> Numbers | None:
    """Actual vapour pressure, by dewpoint before humidity (FAO-56 Table 3)."""
    if day.dewpoint_c is not None:
        return saturation_vapour_pressure_kpa(day.dewpoint_c)
    if day.rh_max is not None and day.rh_min is not None:
        return vapour_pressure_of_humidity_kpa(tmax_c, tmin_c, day.rh_max, day.rh_min)
    return None


def _penman_monteith_mm(day: Day, latitude: float | None, elevation_m: float | None) -> float | None:
    temperatures = _temperatures(day)
    if temperatures is None or latitude is None or day.solar_mj_m2 is None or day.wind_m_s is None:
        return None
    tmax_c, tmin_c = temperatures
    vapour_kpa = _vapour_kpa(day, tmax_c, tmin_c)
    if vapour_kpa is None:
        return None
    height_m = elevation_m or 0.0
    extraterrestrial = extraterrestrial_radiation(math.radians(latitude), day.on.timetuple().tm_yday)
    clear_sky = clear_sky_radiation(extraterrestrial, height_m)
    net_radiation = net_shortwave_radiation(day.solar_mj_m2) - net_longwave_radiation(
        tmax_c, tmin_c, vapour_kpa, day.solar_mj_m2, clear_sky
    )
    wind_2_m = wind_at_2_m(day.wind_m_s, WIND_HEIGHT_M)
    pressure_kpa = air_pressure_kpa(height_m)
    et_mm = reference_et_penman_monteith(tmax_c, tmin_c, vapour_kpa, net_radiation, wind_2_m, pressure_kpa)
    return max(float(et_mm), 0.0)


def _hargreaves_mm(day: Day, latitude: float | None) -> float | None:
    temperatures = _temperatures(day)
    if temperatures is None or latitude is None:
        return None
    tmax_c, tmin_c = temperatures
    extraterrestrial = extraterrestrial_radiation(math.radians(latitude), day.on.timetuple().tm_yday)
    et_mm = reference_et_hargreaves((tmax_c + tmin_c) / 2, tmax_c - tmin_c, extraterrestrial)
    return max(float(et_mm), 0.0)
