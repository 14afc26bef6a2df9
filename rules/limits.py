"""How dry a plant may get at a stage: the share of available water it may use, and the tension published for it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

import numpy as np

from rules.stages import Stage, stage_on
from rules.tables import Limit, Plant, Tables
from rules.terms import Plot

# Use of a day from which the low and up to which the high end of a tension band holds. [mm] TA72 names them days of
# high and low use without a figure; these lie as far on both sides of the 5 mm of FAO56's p (our judgement).
_HIGH_USE_MM, _LOW_USE_MM = 7.0, 3.0


# A plan that was told in these stages is one for ripening; any other ends before them.
_RIPENING = ("veraison", "harvest")


@dataclass(frozen=True)
class Allowed:
    """Share of the available water that may be used, and the row that says so. `planned`: it is a planned stress."""

    depletion: float
    planned: bool
    row: str

    @property
    def limit(self) -> float:
        """Water left below which the plant should not go. [0..1]"""
        return 1 - self.depletion


@dataclass(frozen=True)
class TensionLimit:
    """Tension at which to water today, its published band and row. [kPa] `settled`: seen in its source."""

    kpa: float
    low_kpa: float
    high_kpa: float
    planned: bool
    settled: bool
    row: str


def depletion_at_use(p: float, et_mm: float) -> float:
    """Depletion fraction at a day's crop evapotranspiration. [1]

    Args:
        p: fraction for 5 mm a day.
        et_mm: crop evapotranspiration of the day. [mm]
    Returns: 0.1 to 0.8.
    Source: FAO56 p. 162, footnote to T22: p + 0.04 (5 - ETc). Differs: no.
    """
    return min(max(p + 0.04 * (5 - et_mm), 0.1), 0.8)


def allowed_depletion(plant: Plant, stage: Stage, et_mm: float, plot: Plot, tables: Tables) -> Allowed:
    """How much of its available water the plant may use at this stage.

    A planned stress counts while the plot is held dry on purpose and the stage has such a limit; it ends with it.
    A limit of the stage is taken as printed; else the plant's `p`, brought to the day's use.
    """
    row = _limit("depletion", plant, stage, plot, tables)
    if row is not None and row.depletion is not None:
        return Allowed(row.depletion, row.stress, row.cite("depletion"))
    return Allowed(depletion_at_use(plant.p, et_mm), False, plant.cite("p"))


def agreed(plot: Plot, on: date) -> Allowed | None:
    """The limit agreed for this plot alone, while it lasts; it stands before every row."""
    if plot.own_limit is None or plot.own_from is None or plot.own_until is None:
        return None
    if not plot.own_from <= on <= plot.own_until:
        return None
    return Allowed(1 - plot.own_limit, False, f"plot:own_limit:{plot.own_limit:g} until {plot.own_until}")


def tension_limit_kpa(plant: Plant, stage: Stage, et_mm: float, plot: Plot, tables: Tables) -> TensionLimit | None:
    """Published tension at which to water this plant at this stage; None where none is published, or a plan overrules it."""
    row = _limit("tension", plant, stage, plot, tables)
    if row is None or row.low_kpa is None or row.high_kpa is None:
        return None
    if not row.stress and planned_stress(plant, stage, plot, tables):
        return None
    kpa = float(np.interp(et_mm, [_LOW_USE_MM, _HIGH_USE_MM], [row.high_kpa, row.low_kpa]))
    settled = row.evidence["low_kpa"].settled
    return TensionLimit(kpa, row.low_kpa, row.high_kpa, row.stress, settled, row.cite("low_kpa"))


def planned_stress(plant: Plant, stage: Stage, plot: Plot, tables: Tables) -> bool:
    """Whether the plant is held dry by plan at this stage."""
    row = _limit("depletion", plant, stage, plot, tables)
    return row is not None and row.stress


def wants_refill(plant: Plant, stage: Stage) -> bool:
    """Whether the whole root zone should be filled before winter: the weeks between harvest and leaf fall."""
    return stage.name == "post_harvest" and plant.habit == "deciduous"


def _limit(
    kind: Literal["tension", "depletion"], plant: Plant, stage: Stage, plot: Plot, tables: Tables
) -> Limit | None:
    """The row in use that fits best: planned stress, then the stage by name, then the soil by name."""
    soil = tables.soils[plot.soil].tension_group if plot.soil is not None and plot.soil in tables.soils else "medium"
    rows = tables.limits_in_use.get(plant.id) or tables.limits_in_use.get(plant.limits_like, ())
    fitting = [
        row
        for row in rows
        if row.kind == kind
        and row.stage in ("any", stage.name)
        and row.soil in ("", soil)
        and (not row.stress or _planned_for(row.stage, plant, plot, tables))
    ]
    return max(fitting, key=lambda row: (row.stress, row.stage != "any", row.soil != ""), default=None)


def _planned_for(stage: str, plant: Plant, plot: Plot, tables: Tables) -> bool:
    """Whether the plot is held dry on purpose at a stage: the published plan ends with veraison, one told later with harvest."""
    if not plot.stress:
        return False
    told_in = stage_on(plant, plot, plot.stress_on, tables).name if plot.stress_on else ""
    return (stage in _RIPENING) == (told_in in _RIPENING)
