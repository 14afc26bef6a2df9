"""Sunshine that reaches the ground, from how much of the sky is covered.

Source: Allen, Pereira, Raes, Smith 1998, FAO Irrigation and Drainage Paper 56, chapter 3.
"""

from __future__ import annotations

import math
from datetime import date

SOLAR_CONSTANT_MJ_M2_MIN = 0.0820


def radiation_above_mj_m2(latitude: float, on: date) -> float:
    """Radiation on level ground above the air, of one day. [MJ/m2] Eq. 21 to 25; `latitude` in degrees north.

    Where the sun does not rise or set, the hour angle stops at its end (cosine held to -1 and 1).
    """
    phi = math.radians(latitude)
    turn = 2 * math.pi * on.timetuple().tm_yday / 365
    nearness = 1 + 0.033 * math.cos(turn)
    declination = 0.409 * math.sin(turn - 1.39)
    sunset = math.acos(max(-1.0, min(1.0, -math.tan(phi) * math.tan(declination))))
    height = sunset * math.sin(phi) * math.sin(declination) + math.cos(phi) * math.cos(declination) * math.sin(sunset)
    return max(0.0, 24 * 60 / math.pi * SOLAR_CONSTANT_MJ_M2_MIN * nearness * height)


def radiation_below_cloud_mj_m2(latitude: float, on: date, covered: float) -> float:
    """Radiation at the ground, of one day. [MJ/m2] Eq. 35 with a_s = 0.25, b_s = 0.50.

    Args:
        covered: share of the sky that clouds cover in daylight, 0 to 1; the share of sunshine is taken as the rest.
    """
    return (0.25 + 0.50 * (1 - covered)) * radiation_above_mj_m2(latitude, on)
