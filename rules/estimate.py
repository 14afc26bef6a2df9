"""The estimate: what is believed of a plot's water, day by day, with its spread.

Each member is carried through the days by the balance and drawn towards every reading by a gain that depends only on how
long ago the last reading was and how good the instrument is, never on the values. So the estimate keeps two laws exactly: more
water never makes it drier, and a wetter reading never makes it drier. DEVELOPERS.md ("The estimate") tells what that costs.

Arrays have plots on the leading axis and members on the next. Lists over days are oldest first, without gaps.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rules import spread
from rules.balance import Array, Depletion, Zone, step
from rules.evidence import Evidence

# Without readings the error of the balance grows by this share of the store each day (a prior that measured well).
_DRIFT_A_DAY = 0.014
_START_SD = 0.35
_LARGEST_SD = 0.40
# How much less a reading says of a layer that lies one root depth away, as a standard deviation.
_FAR_SD = 0.35
# A reading counts as at most this many standard deviations from what is believed: one wild value costs little, two are believed.
_REACH_SD = 2.0


@dataclass(frozen=True)
class Today:
    """What happens to the plots on one day. (plots, 1) or (plots, members)

    Args:
        demand_mm: plant use with water at will.
        entered_mm: rain that entered the soil.
        wetted_mm: rain that only wets leaves and mulch, and spares the plant as much use.
        water_mm: watering that entered the soil.
    """

    demand_mm: Array
    entered_mm: Array
    wetted_mm: Array
    water_mm: Array


@dataclass(frozen=True)
class Belief:
    """The estimate at one moment: the members' depletion, and how sure each layer is (sd as a share). (plots, 1)"""

    depletion: Depletion
    upper_sd: Array
    lower_sd: Array


def beginning(zone: Zone, start: float) -> Belief:
    """The root zone before the first day.

    Args:
        start: depleted share believed on average; members spread around it by up to half as much again, and +-0.1.
    """
    share = start * (0.5 + spread.shares("start")) + 0.1 * (spread.shares("start surplus") - 0.5)
    sd = np.full((zone.upper_mm.shape[0], 1), _START_SD)
    return Belief(Depletion(share * zone.upper_mm, share * zone.lower_mm), sd, sd)


def pass_day(zone: Zone, belief: Belief, today: Today) -> Belief:
    """Carry the belief through one day."""
    use_mm = np.maximum(today.demand_mm - today.wetted_mm, 0.0)
    depletion, _ = step(zone, belief.depletion, use_mm, today.entered_mm + today.water_mm)
    return Belief(
        depletion,
        np.minimum(belief.upper_sd + _DRIFT_A_DAY, _LARGEST_SD),
        np.minimum(belief.lower_sd + _DRIFT_A_DAY, _LARGEST_SD),
    )


def weigh(zone: Zone, belief: Belief, evidence: Evidence, root_depth_cm: float, upper_cm: float) -> Belief:
    """Draw the belief towards one reading, each layer by how near the reading is to it."""
    depth_cm = evidence.depth_cm if evidence.depth_cm is not None else upper_cm / 2
    upper = _draw(
        belief.depletion.upper_mm, zone.upper_mm, belief.upper_sd, evidence, _far(depth_cm, 0, upper_cm, root_depth_cm)
    )
    lower = _draw(
        belief.depletion.lower_mm,
        zone.lower_mm,
        belief.lower_sd,
        evidence,
        _far(depth_cm, upper_cm, root_depth_cm, root_depth_cm),
    )
    return Belief(Depletion(upper[0], lower[0]), upper[1], lower[1])


def _far(depth_cm: float, top_cm: float, bottom_cm: float, root_depth_cm: float) -> float:
    """How far a reading lies from a layer, as a share of the root zone: 0 inside the layer's middle half."""
    middle, half = (top_cm + bottom_cm) / 2, (bottom_cm - top_cm) / 4
    return max(abs(depth_cm - middle) - half, 0.0) / root_depth_cm


def _draw(depletion_mm: Array, store_mm: Array, sd: Array, evidence: Evidence, far: float) -> tuple[Array, Array]:
    variance = sd * sd
    doubt = variance + evidence.sd**2 + (_FAR_SD * far) ** 2
    gain, reach = variance / doubt, _REACH_SD * np.sqrt(doubt)
    left = 1 - depletion_mm / store_mm
    nearest = np.minimum(np.maximum(left, evidence.low), evidence.high)
    drawn = left + gain * np.minimum(np.maximum(nearest - left, -reach), reach)
    # A reading can't know of more surplus than the soil holds.
    return (1 - np.minimum(drawn, np.maximum(left, 1.05))) * store_mm, sd * np.sqrt(1 - gain)


def water_left(zone: Zone, belief: Belief) -> NDArray[np.float64]:
    """Share of the available water left, by member; a surplus counts as full. [0..1] (plots, members)"""
    return 1 - np.minimum(np.maximum(belief.depletion.total_mm / zone.store_mm, 0.0), 1.0)


def stressed(zone: Zone, belief: Belief) -> Array:
    """Share of the members whose root zone is drier than the plant bears. (plots,)"""
    beyond = belief.depletion.total_mm > zone.bearable_mm
    result: Array = beyond.sum(axis=1) / beyond.shape[1]
    return result


def low_and_high(left: NDArray[np.float64]) -> tuple[float, float]:
    """The 10 and 90 percent points of one plot's members."""
    ordered = np.sort(left, axis=None)
    return _point(ordered, 0.1), _point(ordered, 0.9)


def _point(ordered: NDArray[np.float64], share: float) -> float:
    """The value below which this share lies, between two members in proportion."""
    below, part = divmod(share * (len(ordered) - 1), 1)
    low, high = ordered[int(below) : int(below) + 2]
    return float(low + (high - low) * part if part < 0.5 else high - (high - low) * (1 - part))
