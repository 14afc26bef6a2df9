"""The root zone of one plot as members: what its soil holds, how the roots share it, and where the plant begins to suffer."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rules import spread
from rules.balance import Array, Zone
from rules.evidence import Soil as MemberSoil
from rules.soil import water_content
from rules.tables.kinds import Soil

# Spreads around the table's values (priors).
_FULL_SD = 0.02
_EMPTY_SD = 0.012
_LEAST_BETWEEN = 0.04
_ROOT_SD = 0.22
_ROOT_SHARE_SD = 0.07
USE_SD = 0.12
_STRESS_TENSION_SD = 0.35
# How far a published tension limit speaks beside the allowed depletion: the soil's curve is the less certain half.
_TENSION_WEIGHT = 0.3
# How sure a soil class is, by where it came from; its neighbours in the texture triangle share the rest.
_CLASS_SHARE = {"lab": 0.90, "felt": 0.75, "told": 0.70, "guess": 0.50, "assumed": 0.40}
_UPPER_CM = 30.0


@dataclass(frozen=True, eq=False)
class RootZone:
    """Members of one plot, (1, members), with the depths of the zone and of its upper layer. [cm]"""

    zone: Zone
    soil: MemberSoil
    depth_cm: float
    upper_cm: float


def root_zone(
    soils: list[Soil], source: str, depth_cm: float, allowed_depletion: float, stress_kpa: float | None
) -> RootZone:
    """Draw the members of one plot.

    Args:
        soils: the told class first, then the classes that touch it.
        source: where the class came from, a key of `_CLASS_SHARE`.
        stress_kpa: published tension at which to water, or None.
    """
    pick = _classes(len(soils), _CLASS_SHARE[source])
    full = _of(soils, "fc")[pick] + _FULL_SD * spread.normals("full")
    empty = _of(soils, "wp")[pick] + _EMPTY_SD * spread.normals("empty")
    empty = np.clip(empty, 0.01, None)
    full = np.maximum(full, empty + _LEAST_BETWEEN)
    soil = MemberSoil(full, empty, _of(soils, "psi_fc")[pick])

    upper_cm = min(_UPPER_CM, depth_cm / 2)
    store_mm = 10 * depth_cm * (full - empty) * spread.lognormal(spread.normals("root depth"), _ROOT_SD)
    upper_share = upper_cm / depth_cm
    zone = Zone(
        upper_mm=store_mm * upper_share,
        lower_mm=store_mm * (1 - upper_share),
        upper_roots=np.clip(_roots_above(upper_share) + _ROOT_SHARE_SD * spread.normals("root share"), 0.2, 0.95),
        stress_share=_stress_share(soil, allowed_depletion, stress_kpa),
        plant_factor=spread.lognormal(spread.normals("plant use"), USE_SD),
        drain_rate=0.3 + 0.5 * spread.shares("drainage"),
    )
    return RootZone(zone, soil, depth_cm, upper_cm)


def _of(soils: list[Soil], column: str) -> Array:
    return np.array([getattr(soil, column) for soil in soils])


def _classes(count: int, own_share: float) -> np.ndarray:
    """Which class each member has. (1, members)"""
    luck = spread.shares("texture")
    others = np.floor((luck - own_share) / (1 - own_share) * (count - 1)).astype(int) + 1
    return np.where((luck < own_share) | (count == 1), 0, np.clip(others, 1, max(count - 1, 1)))


def _roots_above(share: float) -> float:
    """Share of the roots above a share of their depth: 40, 30, 20 and 10 percent by quarters.

    Source: USDA-NRCS National Engineering Handbook 652, water extraction pattern; as commonly printed.
    """
    return float(np.interp(share, [0, 0.25, 0.5, 0.75, 1], [0, 0.4, 0.7, 0.9, 1]))


def _stress_share(soil: MemberSoil, allowed_depletion: float, stress_kpa: float | None) -> Array:
    if stress_kpa is None:
        return np.clip(allowed_depletion * spread.lognormal(spread.normals("stress"), 0.15), 0.05, 0.9)
    kpa = stress_kpa * np.exp(_STRESS_TENSION_SD * spread.normals("stress"))
    theta = water_content(kpa, soil.full, soil.empty, soil.full_kpa)
    used = np.clip((soil.full - theta) / (soil.full - soil.empty), 0.02, 0.95)
    return np.clip(_TENSION_WEIGHT * used + (1 - _TENSION_WEIGHT) * allowed_depletion, 0.05, 0.9)
