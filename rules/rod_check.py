"""A rod pushed in the day after a watering: how deep the water went, against what was promised, and what the rate is worth."""

from __future__ import annotations

# A rod stops within this share of the true depth of the wet ground (our judgement: stones, roots, a strong arm).
_NEAR = (0.75, 1.33)
# A rate is trusted less at once, and more only a little: ground that was wet before lets a rod in as well.
_LEAST_FACTOR, _MOST_FACTOR = 0.5, 1.1


def learned_rate_mm_h(rate_mm_h: float, promised_cm: float, found_cm: float) -> float | None:
    """What the equipment seems to put on, half way from the trusted rate to what the rod says. [mm/h] None: as trusted.

    Args:
        promised_cm: how deep the watering should have gone; `found_cm` how far the rod went in.
    """
    share = found_cm / promised_cm
    if _NEAR[0] <= share <= _NEAR[1]:
        return None
    return rate_mm_h * min(max((1 + share) / 2, _LEAST_FACTOR), _MOST_FACTOR)
