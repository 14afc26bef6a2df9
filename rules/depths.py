"""Readings of one day at several depths, read together: where roots drink, and how far down the water got."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from rules.counted import beside
from rules.terms import Reading

# Depths differ when their shares of available water lie this far apart (our judgement: less is within one probe's noise).
_DIFFER = 0.15
# A probe is odd when its share lies this far from the one that counts (our judgement).
_ODD = 0.2
# Wet like just after a watering (our judgement). [0..1]
_WET = 0.95
# From this share of the root depth down a probe stands at the foot of the roots.
FOOT_SHARE = 0.75
# Up to here ground at the foot of the roots is filled without a discount (our judgement). [0..1]
_DRY = 0.65
_WET_DAYS = 21
_FOOT_DAYS = 7
# Depths are told in round figures.
_NEAR_CM = 5.0
# Seven roots in ten lie in the upper half (NRCS pattern, as in root_zone).
_MOST_ROOTS_SHARE = 0.5


@dataclass(frozen=True)
class Depths:
    """What depths say together, and the reading that decided it.

    `says`: `wet_below`, a dry top on wet ground, water less at a time and more often; `dry_below`, water longer;
    `past_roots`, the foot of the roots has stayed wet, so that the last watering went past them; `odd_probe`, one of several
    probes at one depth, of which the middle one counts; `hand_first`, a probe that a hand beside it contradicts and outweighs.
    """

    says: str
    reading: Reading


def together(
    todays: list[Reading],
    earlier: list[Reading],
    share: Callable[[Reading], float | None],
    root_depth_cm: float,
) -> tuple[Depths, ...]:
    """All that readings of several depths say; nothing where only one depth was read."""
    known = [(each.depth_cm, share(each), each) for each in todays if each.depth_cm is not None]
    placed = sorted(
        ((depth, left, each) for depth, left, each in known if left is not None), key=lambda found: found[0]
    )
    if not placed or placed[0][0] == placed[-1][0]:
        return ()
    (_, top_left, _), (deep_cm, deep_left, deepest) = placed[0], placed[-1]
    said = []
    if deep_left - top_left >= _DIFFER:
        said.append(Depths("wet_below", deepest))
    elif top_left - deep_left >= _DIFFER and deep_left < _DRY and deep_cm <= root_depth_cm + _NEAR_CM:
        said.append(Depths("dry_below", deepest))
    if deep_cm >= FOOT_SHARE * root_depth_cm and deep_left >= _WET and _stayed_wet(deepest, earlier, share):
        said.append(Depths("past_roots", deepest))
    return tuple(said)


def odd_ones(
    todays: list[Reading], counted: list[Reading], share: Callable[[Reading], float | None]
) -> tuple[Depths, ...]:
    """The readings of today that were outvoted: by the middle of their fellows, or by a hand beside them.

    Args:
        todays: all of today; `counted`: those that were used.
    """
    said = []
    for each in todays:
        left = None if each in counted or each.quantity == "feel" else share(each)
        hands = [hand for hand in counted if hand.quantity == "feel" and beside(each, hand)]
        fellows = [used for used in counted if used.quantity == each.quantity and used.depth_cm == each.depth_cm]
        against = share((hands or fellows)[-1]) if hands or fellows else None
        if left is not None and against is not None and abs(min(left, 1.0) - min(against, 1.0)) >= _ODD:
            said.append(Depths("hand_first" if hands else "odd_probe", each))
    return tuple(said[-1:])


def at_foot(
    readings: list[Reading], share: Callable[[Reading], float | None], root_depth_cm: float, on: date
) -> float | None:
    """What the last probe at the foot of the roots said of late. [0..1] None where none was read there."""
    since, foot_cm = on - timedelta(days=_FOOT_DAYS), FOOT_SHARE * root_depth_cm
    deep = [each for each in readings if each.on >= since and each.depth_cm is not None and each.depth_cm >= foot_cm]
    return share(deep[-1]) if deep else None


def _stayed_wet(deepest: Reading, earlier: list[Reading], share: Callable[[Reading], float | None]) -> bool:
    """Whether the last reading at that depth of a day before said wet too."""
    since = deepest.on - timedelta(days=_WET_DAYS)
    before = [each for each in earlier if each.depth_cm == deepest.depth_cm and since <= each.on < deepest.on]
    left = share(before[-1]) if before else None
    return left is not None and left >= _WET


def shallowest(todays: list[Reading], root_depth_cm: float) -> Reading | None:
    """Today's reading among most of the roots, when the soil was read deeper down too; else None."""
    placed = [(each.depth_cm, each) for each in reversed(todays) if each.depth_cm is not None]
    if len({depth for depth, _ in placed}) < 2:
        return None
    depth, first = min(placed, key=lambda found: found[0])
    return first if depth <= _MOST_ROOTS_SHARE * root_depth_cm else None


def lower_share(todays: list[Reading], share: Callable[[Reading], float | None], root_depth_cm: float) -> float:
    """How much of what the lower layer lacks is to be filled, by the deepest of several depths within the roots. [0..1]

    All of it where that reading is dry or there is none, nothing where it is wet. A wetter reading never gives more.
    """
    within = [each for each in todays if each.depth_cm is not None and each.depth_cm <= root_depth_cm + _NEAR_CM]
    depths_cm = {each.depth_cm for each in within}
    if len(depths_cm) < 2:
        return 1.0
    lefts = [share(each) for each in within if each.depth_cm == max(depths_cm)]  # type: ignore[type-var]
    left = lefts[-1]
    return 1.0 if left is None else float(np.clip((_WET - left) / (_WET - _DRY), 0.0, 1.0))
