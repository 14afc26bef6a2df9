"""What is not known exactly, as a fixed set of members: equally likely versions of a plot and of its weather.

The draws depend on a name or a date alone, never on the clock, the plot or the order of questions: the same inputs always
give the same answer, and a hundred thousand plots share the draws of a day. Each draw is stratified: its members are the
middles of equal slices, shuffled, so that 200 members carry a 30 % chance as 60 of them and a mean is kept exactly.
"""

from __future__ import annotations

import zlib
from functools import lru_cache
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

MEMBERS = 200

_SHARES = (np.arange(MEMBERS) + 0.5) / MEMBERS
_NORMALS = np.array([NormalDist().inv_cdf(float(share)) for share in _SHARES])

# Rain of one garden given the rain of the station or grid cell (a prior; see DEVELOPERS.md, "The estimate").
_LOCAL_RAIN_SD = 0.5
_MISSED_SHARE = 0.08
_UNSEEN_SHARE = 0.01
_UNSEEN_MEAN_MM = 5.0
# A forecast amount is less sure the further it lies ahead: sd of its logarithm.
_FORECAST_SD = 0.3
_FORECAST_SD_A_DAY = 0.05
# Forecast chances of rain are taken a little lower than stated: a garden is a point, the chance is for a region.
_CHANCE_KEPT = 0.92


def _shuffled(seed: int, values: Array, draw: int) -> Array:
    return np.random.default_rng((seed, draw)).permutation(values)


def _seed(name: str) -> int:
    return zlib.crc32(name.encode())


@lru_cache(maxsize=64)
def normals(name: str) -> Array:
    """Standard normal draws of a named constant. (1, members)"""
    return _shuffled(_seed(name), _NORMALS, 0)[np.newaxis]


@lru_cache(maxsize=64)
def shares(name: str) -> Array:
    """Uniform draws of a named constant. (1, members)"""
    return _shuffled(_seed(name), _SHARES, 0)[np.newaxis]


def lognormal(normal: Array, sd: float) -> Array:
    """Factor around 1 with its mean kept at 1."""
    return np.exp(sd * normal - 0.5 * sd * sd)


@lru_cache(maxsize=1000)
def _day_draws(ordinal: int) -> tuple[Array, Array, Array, Array]:
    rng = np.random.default_rng((ordinal, 1))
    luck = rng.permutation(_SHARES)[np.newaxis]
    amount = rng.permutation(_NORMALS)[np.newaxis]
    use = lognormal(rng.permutation(_NORMALS)[np.newaxis], 0.06)
    unseen = np.where(luck > 1 - _UNSEEN_SHARE, _UNSEEN_MEAN_MM, 0.0)
    local = np.where(luck < _MISSED_SHARE, 0.0, lognormal(amount, _LOCAL_RAIN_SD)) / (1 - _MISSED_SHARE)
    return luck, amount, local, np.stack([use, unseen])


def local_rain_mm(ordinal: int, rain_mm: Array) -> Array:
    """Rain in the gardens of the members, given the rain observed nearby. [mm]

    Args:
        ordinal: proleptic ordinal of the date.
        rain_mm: observed rain, (plots, 1).
    Returns: (plots, members). A shower that no station saw is added whatever fell, so that more rain is more everywhere.
    """
    _, _, local, (_, unseen) = _day_draws(ordinal)
    rain: Array = rain_mm * local + unseen
    return rain


def chance_rain_mm(ordinal: int, rain_mm: Array, chance: Array, days_ahead: int) -> Array:
    """Rain in the gardens of the members, given a forecast chance of an amount. [mm]

    Args:
        rain_mm: amount should it rain, (plots, 1).
        chance: stated chance of rain, (plots, 1). [0..1]
    Returns: (plots, members).
    """
    luck, amount, _, _ = _day_draws(ordinal)
    sd = _FORECAST_SD + _FORECAST_SD_A_DAY * days_ahead + _LOCAL_RAIN_SD
    return np.where(luck < chance * _CHANCE_KEPT, rain_mm * lognormal(amount, sd), 0.0)


def use_factor(ordinal: int) -> Array:
    """Plant use of one day against its mean: what weather and plants do beside the tables. (1, members)"""
    use: Array = _day_draws(ordinal)[3][0]
    return use
