"""One reading as evidence: which share of the available water it stands for, in each member, and how sure that is.

A reading is an interval of water left: a probe's number is a narrow one, a feel band a wide one, a probe at the end of its
range a half-open one ("at least this dry"). The estimate is drawn towards the nearest point of the interval.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np

from rules import spread
from rules.balance import Array
from rules.soil import water_content

_OPEN = 9.0
# Spreads of what an instrument at one spot says of the whole root zone, as shares of available water (priors).
PLACE_SD = 0.12
CURVE_SD_LN = 0.40
VOLUME_SD = 0.03
# What is left beside them: the instrument's own noise, a day of lag, the depth told.
NOISE_SD = {"tension": 0.10, "percent": 0.14, "feel": 0.13, "dial": 0.30, "rod": 0.25}


@dataclass(frozen=True)
class Soil:
    """The soil of the members: water at full and at empty, and the tension at full. (plots, members) [m3/m3, kPa]"""

    full: Array
    empty: Array
    full_kpa: Array


@dataclass(frozen=True)
class Evidence:
    """Water left in the interval `low` to `high`, (plots, members), with its standard deviation and depth. [0..1, cm]"""

    low: Array
    high: Array
    sd: float
    depth_cm: float | None


@cache
def _place() -> Array:
    return PLACE_SD * spread.normals("sensor place")


@cache
def _curve_factor() -> Array:
    return np.exp(CURVE_SD_LN * spread.normals("tension curve"))


def from_tension(kpa: float, soil: Soil, driest_kpa: float, wettest_kpa: float = 0.0) -> tuple[Array, Array]:
    """Water left by each member's own curve; beyond the instrument's ends only a bound. [0..1]"""
    seen_kpa = min(max(kpa, wettest_kpa, 0.1), driest_kpa)
    theta = water_content(seen_kpa / _curve_factor(), soil.full, soil.empty, soil.full_kpa)
    share = (theta - soil.empty) / (soil.full - soil.empty) - _place()
    low = np.full_like(share, -_OPEN) if kpa >= driest_kpa else share
    high = np.full_like(share, _OPEN) if kpa <= wettest_kpa else share
    return low, high


def from_percent(percent: float, soil: Soil, shown_at_full: float | None = None) -> tuple[Array, Array]:
    """Water left for a volumetric water content. [0..1]

    Args:
        shown_at_full: what this probe shows where the ground is full [m3/m3]; None: what the soil holds there.
    """
    full = soil.full if shown_at_full is None else shown_at_full
    below_full = full - percent / 100 + VOLUME_SD * spread.normals("probe calibration")
    share = 1 - below_full / (soil.full - soil.empty) - _place()
    return share, share


def from_band(low: float, high: float) -> tuple[Array, Array]:
    """Water left for a band, such as a feel: its middle half, since the edges of neighbouring bands blur. [0..1]"""
    quarter = (high - low) / 4
    return low + quarter - _place(), high - quarter - _place()
