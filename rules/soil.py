"""Soils: what a texture holds, how tightly it holds it, and which texture it is.

The curve between water content and tension is a straight line in logarithms from field capacity to 1500 kPa. Measured
soils give up more water early: in AGVIC a sandy loam has lost 40 percent by 20 kPa, which this curve reaches near 47.
So a published tension limit of the plant speaks beside it, and the estimate believes the curve only within a factor.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rules.errors import OutOfRange, UnknownName
from rules.names import Names, names
from rules.tables import FeelStep, Soil, Tables

Array = NDArray[np.float64]

WILTING_KPA = 1500.0
# The wettest the curve goes: half of the available water above field capacity, as much surplus as the root zone keeps.
_WETTEST_SHARE = 1.5
FIRST_FEEL_NODE = "ball"


def available_water_mm_per_m(soil: Soil) -> float:
    """Water between field capacity and wilting point in a metre of soil. [mm/m]"""
    return 1000 * (soil.fc - soil.wp)


def _slope(fc: ArrayLike, wp: ArrayLike, psi_fc: ArrayLike) -> Array:
    ratio: Array = np.log(WILTING_KPA / np.asarray(psi_fc, dtype=float)) / np.log(np.asarray(fc) / np.asarray(wp))
    return ratio


def tension_kpa(theta: ArrayLike, fc: ArrayLike, wp: ArrayLike, psi_fc: ArrayLike) -> Array:
    """Soil water tension at a water content. [kPa]

    Args:
        theta: water content; beyond the ends of the curve the end is taken. [m3/m3]
        fc, wp: water content at field capacity and at 1500 kPa. [m3/m3]
        psi_fc: tension at field capacity. [kPa]
    Returns: the broadcast shape of the arguments; falls as theta rises.
    Source: SR06 Eq. 11 and 14 in form (psi = A theta^-B), with B from the soil's own field capacity convention.
    """
    fc, wp, psi_fc = (np.asarray(value, dtype=float) for value in (fc, wp, psi_fc))
    held = np.clip(theta, wp, wp + _WETTEST_SHARE * (fc - wp))
    tension: Array = psi_fc * np.exp(-_slope(fc, wp, psi_fc) * np.log(held / fc))
    return tension


def water_content(tension_kpa: ArrayLike, fc: ArrayLike, wp: ArrayLike, psi_fc: ArrayLike) -> Array:
    """Water content at a soil water tension: the inverse of `tension_kpa`. [m3/m3]"""
    fc, wp, psi_fc = (np.asarray(value, dtype=float) for value in (fc, wp, psi_fc))
    pull = np.minimum(np.maximum(tension_kpa, 1e-3), WILTING_KPA)
    theta = fc * np.exp(-np.log(pull / psi_fc) / _slope(fc, wp, psi_fc))
    held: Array = np.minimum(np.maximum(theta, wp), wp + _WETTEST_SHARE * (fc - wp))
    return held


@dataclass(frozen=True)
class Estimated:
    """Water contents of a soil known by its grains. [m3/m3]; conductivity at saturation in mm/h."""

    at_33_kpa: float
    at_1500_kpa: float
    at_saturation: float
    conductivity_mm_h: float

    def tension_kpa(self, theta: float) -> float:
        """Tension at a water content between those at 33 and 1500 kPa. [kPa] Source: SR06 Eq. 11, 14, 15."""
        return float(tension_kpa(theta, self.at_33_kpa, self.at_1500_kpa, 33.0))


def estimated_from_texture(sand_pct: float, clay_pct: float, organic_matter_pct: float = 2.5) -> Estimated:
    """Water contents and conductivity from grain sizes and organic matter.

    Args:
        sand_pct, clay_pct: percent by mass; clay up to 60, together up to 100.
        organic_matter_pct: percent by mass, up to 8; 2.5 as in the paper's table.
    Raises: OutOfRange.
    Source: SR06 Eq. 1-3, 5, 15, 16, 18. Differs: no. Not for sands wetter than 33 kPa.
    """
    _check(("clay", clay_pct, 60.0), ("sand", sand_pct, 100.0 - clay_pct), ("organic matter", organic_matter_pct, 8.0))
    s, c, om = sand_pct / 100, clay_pct / 100, organic_matter_pct
    dry = -0.024 * s + 0.487 * c + 0.006 * om + 0.005 * s * om - 0.013 * c * om + 0.068 * s * c + 0.031
    wp = dry + (0.14 * dry - 0.02)
    moist = -0.251 * s + 0.195 * c + 0.011 * om + 0.006 * s * om - 0.027 * c * om + 0.452 * s * c + 0.299
    fc = moist + (1.283 * moist**2 - 0.374 * moist - 0.015)
    drained = 0.278 * s + 0.034 * c + 0.022 * om - 0.018 * s * om - 0.027 * c * om - 0.584 * s * c + 0.078
    saturation = fc + drained + (0.636 * drained - 0.107) - 0.097 * s + 0.043
    slope = (math.log(1500) - math.log(33)) / (math.log(fc) - math.log(wp))
    return Estimated(fc, wp, saturation, 1930 * (saturation - fc) ** (3 - 1 / slope))


def _check(*parts: tuple[str, float, float]) -> None:
    for name, value, high in parts:
        if not 0 <= value <= high:
            raise OutOfRange(name, value, 0, high, "percent")


def texture_class(sand_pct: float, clay_pct: float) -> str:
    """USDA texture class id of a soil, such as `sandy_loam`.

    Args:
        sand_pct, clay_pct: percent by mass, together up to 100; the rest is silt.
    Raises: OutOfRange.
    Source: USDATEX, borders of the texture triangle.
    """
    _check(("clay", clay_pct, 100.0), ("sand", sand_pct, 100.0 - clay_pct))
    silt_pct = 100 - sand_pct - clay_pct
    if clay_pct >= 27 or (clay_pct >= 20 and silt_pct < 28 and sand_pct > 45):
        return _clayey(sand_pct, silt_pct, clay_pct)
    if silt_pct >= 50:
        return "silt" if silt_pct >= 80 and clay_pct < 12 else "silt_loam"
    if silt_pct + 1.5 * clay_pct < 15:
        return "sand"
    if silt_pct + 2 * clay_pct < 30:
        return "loamy_sand"
    return "loam" if clay_pct >= 7 and silt_pct >= 28 and sand_pct <= 52 else "sandy_loam"


def _clayey(sand_pct: float, silt_pct: float, clay_pct: float) -> str:
    if sand_pct > 45:
        return "sandy_clay" if clay_pct >= 35 else "sandy_clay_loam"
    if clay_pct >= 40:
        return "silty_clay" if silt_pct >= 40 else "clay"
    return "silty_clay_loam" if sand_pct <= 20 else "clay_loam"


def feel_step(node: str, answer: str, tables: Tables) -> FeelStep:
    """One step of finding a texture by hand: it names the next node, or the soil when it is found.

    Args:
        node: `FIRST_FEEL_NODE` to begin with.
        answer: as in texture_by_feel.csv: `yes`, `short`, `gritty`, ...
    Raises: UnknownName, with the answers that the node knows.
    Source: THIEN.
    """
    step = tables.texture_by_feel.get(f"{node}.{answer}")
    if step is None:
        raise UnknownName("answer", answer, feel_answers(node, tables))
    return step


def feel_answers(node: str, tables: Tables) -> tuple[str, ...]:
    """The answers that a node of the texture tree knows, in the order of the table."""
    return tuple(key.split(".")[1] for key in tables.texture_by_feel if key.split(".")[0] == node)


@lru_cache(maxsize=8)
def _names(tables: Tables, language: str) -> Names:
    called = {"en": lambda soil: (soil.name_en, *soil.names_en), "es": lambda soil: (soil.name_es, *soil.names_es)}
    return names((soil.id, (soil.id, *called[language](soil))) for soil in tables.soils.values())


def find(words: str, language: str, tables: Tables) -> str | None:
    """Texture class that a person's words for a soil mean, such as `gumbo` or `barro`; None when they mean none."""
    known = [_names(tables, each) for each in (language, "es" if language == "en" else "en")]
    found = next((ids for among in known if (ids := among.whole(words))), ())
    near = [hit for among in known for hit in among.nearest(words, 1)] if not found else []
    if near:
        return max(near, key=lambda hit: hit[1])[0]
    found = found or next((ids for among in known if (ids := among.within(words))), ())
    return found[0] if found else None
