"""How water gets to a plot: from a depth to minutes, turns and litres, and from a watering done back to a depth.

`net` is water that enters the soil; `gross` is what the equipment puts on, losses included. Unevenness is not judged
here. Formulas are arithmetic: one mm over one square metre is one litre, and depth is rate times time.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from rules.tables import Delivery, Tables
from rules.terms import Plot, Watering
from rules.units import litres_over

# Ground that one dripper wets, by the feel group of the soil (from memory of Keller and Karmeli 1975: circles of about
# 0.8, 1.0 and 1.2 m). [m2]
WETTED_M2 = {"coarse": 0.5, "moderately_coarse": 0.6, "medium": 0.8, "fine": 1.1}
# Ground that water poured at one plant wets, by the plant's category. Our judgement. [m2]
PLANT_M2 = {"vegetable": 0.3, "herb": 0.1, "berry": 0.5, "vine": 1.0, "ornamental": 1.0}
TREE_M2 = 3.0

# Beyond these a figure is asked back, not computed with. Our judgement: spray heads reach 51 mm/h, so more than 75 by
# sprinkler is a slip; a hose or a can in a small basin really is fast. [mm/h]
LEAST_RATE_MM_H = 0.2
MOST_RATE_MM_H = {"sprinkler": 75.0, "drip": 150.0, "soaker": 150.0, "hose": 2000.0, "can": 2000.0, "flood": 2000.0}
# Hand-moved sprinkler sets run 11 to 23 hours and drip sets of vines 32 hours and more. [h]
LONGEST_RUN_H = {"sprinkler": 24.0, "drip": 72.0, "soaker": 24.0, "hose": 24.0, "can": 4.0, "flood": 48.0}
# A basin of trees may be given 150 mm at once. [mm]
MOST_DEPTH_MM = 250.0

_DRIPPED = ("vine", "fruit_tree", "citrus", "nut", "berry")
_TREES = ("fruit_tree", "citrus", "nut")
_WOODY = (*_TREES, "vine", "berry", "ornamental")
# Water from these falls on all the ground and can outrun it; a dripper's puddle is meant to stand.
_SPREAD_OVER_GROUND = ("sprinkler", "hose")
_TIMES = 2.0  # our judgement: an assumed rate is right within this factor, and within the table's bounds
_BACK_FROM_RUNOFF = 0.9  # our judgement: stop a tenth before water was seen to run off


@dataclass(frozen=True)
class Rate:
    """What the equipment puts on over the watered ground. [mm/h]

    `source` is `measured`, `label`, `flow` (from a flow and an area that were told) or `assumed`; `row` cites the table
    row of an assumed one, `low_mm_h` and `high_mm_h` between which it lies.
    """

    mm_h: float
    source: str
    row: str | None = None
    low_mm_h: float | None = None
    high_mm_h: float | None = None

    @property
    def assumed(self) -> bool:
        return self.source == "assumed"


@dataclass(frozen=True)
class Cycles:
    """Turns of equal length with a rest after each. One turn has no rest. [minutes]"""

    count: int
    minutes: float
    rest_minutes: float


def way(plot: Plot, tables: Tables) -> str:
    """The plot's way of watering; where it is not known, what is usual for the plant: drip for vines and trees."""
    if plot.method is not None:
        return plot.method
    return "drip" if plot.emitters_each or _category(plot, tables) in _DRIPPED else "sprinkler"


def trait(plot: Plot, name: str, tables: Tables) -> Delivery:
    """The table row of the plot's way of watering, such as `efficiency` or `evenness`, to use and to cite."""
    return tables.delivery[f"{way(plot, tables)}.{name}"]


def rate_mm_h(plot: Plot, tables: Tables) -> Rate | None:
    """The best known rate: told; else from flow and area; else the usual one of the way of watering, but a can has none."""
    if plot.rate_mm_h is not None and believable_rate(plot.rate_mm_h, plot, tables):
        return Rate(plot.rate_mm_h, plot.rate_source or "label")
    by_flow = _rate_by_flow(plot, tables)
    if by_flow is not None and believable_rate(by_flow.mm_h, plot, tables):
        return by_flow
    if (plot.method is None and not plot.emitters_each) or poured(plot, tables):
        return None
    usual = trait(plot, "rate_mm_h", tables)
    low_mm_h = max(usual.low or 0.0, usual.value / _TIMES)
    high_mm_h = min(usual.high or math.inf, usual.value * _TIMES)
    return Rate(usual.value, "assumed", usual.cite("value"), low_mm_h, high_mm_h)


def poured(plot: Plot, tables: Tables) -> bool:
    """Whether water is brought to each plant and told in litres: by a can, or by a hose laid at a tree, vine or shrub."""
    by_hose = plot.method == "hose" and _category(plot, tables) in _WOODY
    return (plot.method == "can" or by_hose) and not plot.emitters_each and plot.rate_mm_h is None


def _rate_by_flow(plot: Plot, tables: Tables) -> Rate | None:
    if plot.flow_l_h is None and not plot.emitters_each:
        return None
    area_m2, wetted_m2 = watered_area_m2(plot, tables), _wetted_by_drippers_m2(plot, tables)
    if area_m2 is None:
        return None
    usual = tables.delivery["drip.flow_l_h"]
    flow_l_h = usual.value if plot.flow_l_h is None else plot.flow_l_h
    litres_h = flow_l_h * (plot.emitters_each or 1) * _plants(plot, tables)
    mm_h = litres_h / area_m2
    source = "flow" if plot.flow_l_h is not None and plot.area_m2 else "assumed"
    if plot.count is None and wetted_m2 and not believable_rate(mm_h, plot, tables):
        mm_h, source = (
            litres_h / wetted_m2,
            "assumed",
        )  # one plant's drippers under a whole block's area wet their own ground
    return Rate(mm_h, source, usual.cite("value")) if plot.flow_l_h is None else Rate(mm_h, source)


def _plants(plot: Plot, tables: Tables) -> float:
    """How many times over the told emitters stand: once a plant by drip, once in all by anything else."""
    return plot.count or 1 if way(plot, tables) == "drip" else 1


def watered_area_m2(plot: Plot, tables: Tables) -> float | None:
    """The ground that gets wet: told, or from the number of drippers and the soil; None when neither is known. [m2]"""
    return plot.area_m2 or _wetted_by_drippers_m2(plot, tables)


def _wetted_by_drippers_m2(plot: Plot, tables: Tables) -> float | None:
    if not plot.emitters_each or way(plot, tables) != "drip":
        return None
    soil = tables.soils.get(plot.soil or "")
    return plot.emitters_each * _plants(plot, tables) * WETTED_M2[soil.feel_group if soil else "medium"]


def _area_each_m2(plot: Plot, tables: Tables) -> float | None:
    """The ground that gets wet for one plant: its share of what is known, and no more than is usual while nobody counted. [m2]"""
    area_m2, category = watered_area_m2(plot, tables), _category(plot, tables)
    usual_m2 = TREE_M2 if category in _TREES else PLANT_M2.get(category)
    if area_m2 is None:
        return usual_m2
    if plot.count or not plot.area_m2:
        return area_m2 / (plot.count or 1)
    return min(area_m2, usual_m2) if usual_m2 else area_m2


def _category(plot: Plot, tables: Tables) -> str:
    plant = tables.plants.get(plot.plant or "")
    return plant.category if plant else ""


def believable_rate(rate_mm_h: float, plot: Plot, tables: Tables) -> bool:
    """Whether this equipment can put that on; if not, ask back. [mm/h]"""
    return LEAST_RATE_MM_H <= rate_mm_h <= MOST_RATE_MM_H[way(plot, tables)]


def doubtful_amount(watering: Watering, plot: Plot, tables: Tables) -> str | None:
    """The slot of a watering whose figure can't be true (ask back, don't count it), or None when all can."""
    if watering.depth_mm is not None:
        return None if 0 <= watering.depth_mm <= MOST_DEPTH_MM else "depth_mm"
    for slot in ("litres", "litres_each"):
        amount = getattr(watering, slot)
        if amount is not None:
            depth_mm = _poured_mm(watering, plot, tables) or 0.0
            return None if amount >= 0 and depth_mm <= MOST_DEPTH_MM else slot
    if watering.minutes is not None and not 0 <= watering.minutes <= 60 * LONGEST_RUN_H[way(plot, tables)]:
        return "minutes"
    return None


def watering_depth_mm(watering: Watering, plot: Plot, tables: Tables) -> float | None:
    """What a reported watering put into the soil, net. [mm] None when it can't be worked out or can't be true.

    The first amount given counts: depth, litres, litres a plant, minutes.
    """
    if doubtful_amount(watering, plot, tables) is not None:
        return None
    gross_mm = _gross_mm(watering, plot, tables)
    return None if gross_mm is None else gross_mm * trait(plot, "efficiency", tables).value


def _gross_mm(watering: Watering, plot: Plot, tables: Tables) -> float | None:
    if watering.depth_mm is not None:
        return watering.depth_mm
    if watering.litres is not None or watering.litres_each is not None:
        return _poured_mm(watering, plot, tables)
    rate = rate_mm_h(plot, tables)
    if watering.minutes is None or rate is None:
        return None
    return rate.mm_h * watering.minutes / 60


def _poured_mm(watering: Watering, plot: Plot, tables: Tables) -> float | None:
    """Depth of a watering told in litres. [mm]"""
    if watering.litres is not None:
        area_m2 = watered_area_m2(plot, tables)
        return watering.litres / area_m2 if area_m2 else None
    each_m2 = _area_each_m2(plot, tables)
    return watering.litres_each / each_m2 if watering.litres_each is not None and each_m2 else None


def at_one_plant_mm(watering: Watering, plot: Plot, tables: Tables) -> float | None:
    """Net depth of a watering told in litres, were all of it poured at one plant; None where that is not known. [mm]"""
    each_m2 = _area_each_m2(plot, tables)
    if watering.litres is None or not each_m2:
        return None
    return watering.litres / each_m2 * trait(plot, "efficiency", tables).value


def gross_depth_mm(net_mm: float, plot: Plot, tables: Tables) -> float:
    """What to put on so that `net_mm` enters the soil. [mm]"""
    return net_mm / trait(plot, "efficiency", tables).value


def run_minutes(depth_mm: float, rate_mm_h: float) -> float:
    """Run time for a gross depth as a timer can be set: to 1 minute below 15, to 5 up to 4 hours, then half hours."""
    minutes = 60 * depth_mm / rate_mm_h
    step = 1 if minutes < 15 else 5 if minutes <= 240 else 30
    return float(max(step * math.floor(minutes / step + 0.5), step)) if depth_mm > 0 else 0.0


def cycles(plot: Plot, minutes: float, rate_mm_h: float, tables: Tables) -> Cycles:
    """A run parted so that no turn runs off; one turn where the soil can take it, or where nothing tells that it can't.

    Water seen to run off counts before the soil's table. The table's turn ends when surface storage is full:
    storage / (rate - intake). The rest is the time that the storage takes to soak in, within the table's bounds.
    """
    longest = longest_turn(plot, rate_mm_h, tables)
    if longest is None or minutes <= longest:
        return Cycles(1, minutes, 0.0)
    count = math.ceil(minutes / longest)
    rest = tables.delivery["cycle.rest_minutes"]
    soil = tables.soils.get(plot.soil or "")
    soaks = 60 * tables.delivery["cycle.surface_storage_mm"].value / soil.intake_mm_h if soil else rest.value
    least, most = rest.low or rest.value, rest.high or rest.value
    return Cycles(count, float(math.ceil(minutes / count)), float(min(max(5 * round(soaks / 5), least), most)))


def longest_turn(plot: Plot, rate_mm_h: float, tables: Tables) -> int | None:
    """Whole minutes before water runs off, or None when it does not."""
    soil = tables.soils.get(plot.soil or "")
    if plot.runoff_minutes:
        return max(math.floor(_BACK_FROM_RUNOFF * plot.runoff_minutes), 1)
    if soil is None or way(plot, tables) not in _SPREAD_OVER_GROUND or rate_mm_h <= soil.intake_mm_h:
        return None
    storage_mm = tables.delivery["cycle.surface_storage_mm"].value
    return max(math.floor(60 * storage_mm / (rate_mm_h - soil.intake_mm_h)), 1)


def litres(depth_mm: float, plot: Plot, tables: Tables) -> float | None:
    """The water of a gross depth in all; None where the watered ground is not known. [L]"""
    area_m2 = watered_area_m2(plot, tables)
    return None if area_m2 is None else litres_over(depth_mm, area_m2)


def litres_each(depth_mm: float, plot: Plot, tables: Tables) -> float | None:
    """The water of a gross depth for each plant; None where plants are not counted or the ground is not known. [L]

    What is poured at the plant: then the ground that is usual for its kind serves.
    """
    in_all, each_m2 = litres(depth_mm, plot, tables), _area_each_m2(plot, tables)
    if in_all is None and poured(plot, tables) and each_m2:
        return litres_over(depth_mm, each_m2)
    if in_all is None or plot.count:
        return in_all and in_all / (plot.count or 1)
    return in_all if plot.emitters_each and not plot.area_m2 else None


def reaches_cm(net_mm: float, layers: Sequence[tuple[float, float]]) -> float:
    """How deep water goes: each layer fills before the next gets any. [cm] At most the foot of the last layer.

    Args:
        layers: thickness and water missing of each layer, top first. [cm, mm]
    """
    depth_cm = 0.0
    for thickness_cm, missing_mm in layers:
        if net_mm < missing_mm:
            return depth_cm + thickness_cm * net_mm / missing_mm
        net_mm -= max(missing_mm, 0.0)
        depth_cm += thickness_cm
    return depth_cm
