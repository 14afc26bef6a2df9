"""How much of a day's rain enters the soil. What the root zone can't hold drains from its store, not here."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

# Texas A&M AgriLife Extension's rule for effective rain gives nothing for the first tenth of an inch of a day.
CAUGHT_MM = 2.54

# TR-55 (USDA-NRCS 1986), table 2-2a, open space with good grass cover, groups A, B, C, D; the group of a texture is
# that of its appendix A (from memory). Silt is not listed there and goes with silt loam.
_GROUP_A, _GROUP_B, _GROUP_C, _GROUP_D = 39, 61, 74, 80
CURVE_NUMBERS = {
    "sand": _GROUP_A,
    "loamy_sand": _GROUP_A,
    "sandy_loam": _GROUP_A,
    "loam": _GROUP_B,
    "silt_loam": _GROUP_B,
    "silt": _GROUP_B,
    "sandy_clay_loam": _GROUP_C,
    "clay_loam": _GROUP_D,
    "silty_clay_loam": _GROUP_D,
    "sandy_clay": _GROUP_D,
    "silty_clay": _GROUP_D,
    "clay": _GROUP_D,
}

# The most rain in a day taken for true. Our judgement: the US record of a day is about 1260 mm, and 500 mm is told
# wrongly far oftener than it falls.
MOST_A_DAY_MM = 500.0


def believable_rain(depth_mm: float) -> bool:
    """Whether a person's rain of one day can be true; if not, ask back rather than count it."""
    return 0 <= depth_mm <= MOST_A_DAY_MM


def curve_number(soil: str | None) -> int:
    """Curve number of a USDA texture class; that of a loam where the soil is not known. [1]"""
    return CURVE_NUMBERS.get(soil or "", _GROUP_B)


def runoff_mm(rain_mm: ArrayLike, curve_number: float) -> Array:
    """Rain of one day that runs off. [mm] TR-55 eq. 2-3 and 2-4."""
    retention_mm = 25.4 * (1000 / curve_number - 10)
    beyond_mm = np.maximum(np.asarray(rain_mm) - 0.2 * retention_mm, 0)
    ran_off: Array = beyond_mm**2 / (beyond_mm + retention_mm)
    return ran_off


def effective_rain_mm(rain_mm: ArrayLike, soil: str | None) -> Array:
    """Rain of one day that enters the soil: without what leaves and mulch catch and what runs off. [mm]

    Continuous, and more rain never gives less. A whole day's rain goes in at once: two halves would each lose a tenth.

    Args:
        rain_mm: one day's rain, or an array of such days of any shape. [mm] 0 or more.
        soil: USDA texture class id, or None.
    """
    entered: Array = np.maximum(np.asarray(rain_mm) - CAUGHT_MM, 0) - runoff_mm(rain_mm, curve_number(soil))
    return entered
