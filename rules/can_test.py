"""Measuring what equipment puts on: cans under a sprinkler, a water meter, a bucket or cup. The rest is arithmetic."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

# A 2007 study (J. Am. Water Resources Assoc.) found 2 to 8 cans enough for in-ground sprinklers within 25 percent.
ENOUGH_CANS = 6
# Our judgement beside the home target of 0.70 to 0.75 for the driest quarter (from memory of audit practice).
_EVEN_ENOUGH = 0.70
_TWICE = 2.0


@dataclass(frozen=True)
class CanTest:
    """What a can test tells. `evenness` is the mean of the driest quarter of the cans over the mean of all, 0 to 1."""

    rate_mm_h: float
    evenness: float
    uneven: bool
    enough: bool


def can_test(depths_mm: Sequence[float], minutes: float) -> CanTest | None:
    """Rate and evenness from the depths in straight-sided cans after a run; None where no water was caught.

    Args:
        depths_mm: one depth a can, in any order.
        minutes: how long the water ran.
    """
    if not depths_mm or minutes <= 0 or min(depths_mm) < 0 or sum(depths_mm) == 0:
        return None
    ordered = sorted(depths_mm)
    mean_mm = sum(ordered) / len(ordered)
    driest = ordered[: max(round(len(ordered) / 4), 1)]
    evenness = sum(driest) / len(driest) / mean_mm
    uneven = evenness < _EVEN_ENOUGH or ordered[-1] >= _TWICE * ordered[0]
    return CanTest(60 * mean_mm / minutes, evenness, uneven, len(ordered) >= ENOUGH_CANS)


def meter_rate_mm_h(litres: float, minutes: float, area_m2: float) -> float:
    """Rate from two readings of a water meter with nothing else running. [mm/h]"""
    return 60 * litres / minutes / area_m2


def flow_l_h(litres: float, seconds: float) -> float:
    """Flow from the time that a cup or a bucket takes to fill. [L/h]"""
    return 3600 * litres / seconds
