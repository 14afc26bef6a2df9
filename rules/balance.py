"""The root zone as two stores of water, one day at a time.

Every array has plots on its leading axis and members (equally likely versions of the plot) on the next: `(plots, members)`.
Depletion is mm below full; a negative depletion is a surplus that is still draining.

The step is monotone: more water anywhere at the start of a day never leaves less water anywhere at its end. The laws that
the verdict promises (more rain never means more watering) rest on this, so a change here must keep it.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

# Share of full supply below which dry roots are no longer stood in for by wet ones (a prior of ours that measured well).
_COMPENSATED = 0.85
# The most surplus that a layer can hold over full, as a share of its store: the air space of the soil.
_SURPLUS_SHARE = 0.5


@dataclass(frozen=True)
class Zone:
    """What stays the same of a plot, member by member.

    Args:
        upper_mm, lower_mm: water that each layer can lend to the roots. [mm]
        upper_roots: share of the roots in the upper layer. [0..1]
        stress_share: depleted share at which the plant begins to suffer. [0..1]
        plant_factor: this plant's use against the table's. [1]
        drain_rate: share of a surplus that leaves in a day. [1/day]
    """

    upper_mm: Array
    lower_mm: Array
    upper_roots: Array
    stress_share: Array
    plant_factor: Array
    drain_rate: Array

    @cached_property
    def store_mm(self) -> Array:
        return self.upper_mm + self.lower_mm

    @cached_property
    def bearable_mm(self) -> Array:
        """Depletion of the whole up to which the plant does not suffer. [mm]"""
        return self.stress_share * self.store_mm


@dataclass(frozen=True)
class Depletion:
    """How far each layer is below full. [mm]"""

    upper_mm: Array
    lower_mm: Array

    @property
    def total_mm(self) -> Array:
        return self.upper_mm + self.lower_mm


@dataclass(frozen=True)
class Flows:
    """Where the water of a day went. [mm]"""

    taken_mm: Array
    drained_mm: Array
    short_mm: Array


def _drain(depletion_mm: Array, store_mm: Array, drain_rate: Array) -> Array:
    """Surplus that leaves a layer within the day. [mm]"""
    surplus_mm = np.maximum(-depletion_mm, 0.0)
    return np.maximum(drain_rate * surplus_mm, surplus_mm - _SURPLUS_SHARE * store_mm)


def step(zone: Zone, start: Depletion, demand_mm: Array, gain_mm: Array) -> tuple[Depletion, Flows]:
    """Carry the root zone through one day: water in, plant use, then drainage.

    Water first, then drainage, then use is the order of FAO-56's worked table (Example 38); here use comes before drainage,
    since a surplus lasts some days and plants drink from it.

    Args:
        demand_mm: what the plant would use with water at will. [mm], broadcast to (plots, members)
        gain_mm: rain and watering that entered the soil. [mm], likewise
    """
    lower_roots = 1.0 - zone.upper_roots
    demand_mm = demand_mm * zone.plant_factor
    upper_mm = start.upper_mm - gain_mm

    # The ramp is never steeper than a day's use, which keeps the step monotone in thin sandy layers.
    easy = 1.0 - zone.stress_share
    upper_ramp_mm = np.maximum(zone.upper_mm * easy, demand_mm * zone.upper_roots / _COMPENSATED)
    lower_ramp_mm = np.maximum(zone.lower_mm * easy, demand_mm * lower_roots / _COMPENSATED)
    upper_supply = np.minimum(np.maximum((zone.upper_mm - upper_mm) / upper_ramp_mm, 0.0), 1.0)
    lower_supply = np.minimum(np.maximum((zone.lower_mm - start.lower_mm) / lower_ramp_mm, 0.0), 1.0)
    supply = zone.upper_roots * upper_supply + lower_roots * lower_supply
    helped = demand_mm / np.maximum(supply, _COMPENSATED)

    upper_taken_mm = helped * zone.upper_roots * upper_supply
    lower_taken_mm = helped * lower_roots * lower_supply
    upper_mm = upper_mm + upper_taken_mm
    percolated_mm = _drain(upper_mm, zone.upper_mm, zone.drain_rate)
    lower_mm = start.lower_mm + lower_taken_mm - percolated_mm
    drained_mm = _drain(lower_mm, zone.lower_mm, zone.drain_rate)

    taken_mm = upper_taken_mm + lower_taken_mm
    end = Depletion(upper_mm + percolated_mm, lower_mm + drained_mm)
    return end, Flows(taken_mm, drained_mm, demand_mm - taken_mm)
