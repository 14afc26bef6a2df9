"""What is known or taken of one plot on one day: its tables' rows, its members, and the arithmetic of its equipment."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from functools import lru_cache

from rules import delivery, plants
from rules.errors import UnknownName
from rules.evapotranspiration import reference_et_mm, usual_et_mm
from rules.limits import TensionLimit, agreed, allowed_depletion, tension_limit_kpa, wants_refill
from rules.rain import effective_rain_mm
from rules.readings import Readings
from rules.root_zone import RootZone, root_zone
from rules.season import Scene, some_mm
from rules.stages import DORMANT, Stage, stage_on
from rules.tables import Plant, Soil, Tables
from rules.terms import Advice, Day, Observation, Plot, Verdict, Watering
from rules.trees import Dose, new_tree_dose, old_tree_dose, settles_weeks

# Taken where nobody said: a loam, which is wrong by least; a garden plant of middling thirst; the middle of the United States.
_SOIL = "loam"
_PLANT = "vegetable"
_LATITUDE = 38.0
_POT_SOIL = "loam"
# A limit is set for use on a day of this much (FAO-56 gives p for 5 mm; so a limit stays the same through a stage).
_USE_MM = 5.0
# Turns that a person or a timer can be asked for in a day (our judgement).
_MOST_TURNS = 6
# Who stands there with the hose or carries the can comes back twice at most (our judgement).
_MOST_TURNS_BY_HAND = 3
# The refill before winter is for the last six weeks in leaf (our judgement).
_LAST_REFILL = timedelta(weeks=6)
# Believed depleted at the start of a record, as a share of what is allowed: half way to the limit, give or take.
_START = 0.5


@dataclass(frozen=True, eq=False)
class Profile:
    """One plot as the rules see it on one day.

    Args:
        limit: water left below which not to go. [0..1]
        assumed: what was taken without being told.
        asks: the one fact whose telling would help most, or None.
        rows: citations of the table rows used.
    """

    plot: Plot
    plant: str
    soil: str
    stage: str
    dormant: bool
    stress_plan: bool
    limit: float
    tension: TensionLimit | None
    efficiency: float
    rate: delivery.Rate | None
    store_mm_per_cm: float
    scene: Scene
    readings: Readings
    assumed: tuple[str, ...]
    asks: str | None
    rows: tuple[str, ...]
    tables: Tables
    on: date

    @property
    def root(self) -> RootZone:
        return self.scene.root

    @property
    def stress_kpa(self) -> float | None:
        """The published tension at which to water, where it sets a limit."""
        return _settled(self.tension)

    @property
    def pot(self) -> bool:
        return self.plot.container_litres is not None

    @property
    def woody(self) -> bool:
        """A tree, vine or shrub."""
        return self.tables.plants[self.plant].habit in ("evergreen", "deciduous")

    @property
    def drinks_in_winter(self) -> bool:
        """Evergreen, or planted within the year."""
        age = plants.age_years(self.plot, self.on)
        return self.tables.plants[self.plant].habit == "evergreen" or (self.woody and age is not None and age < 1)

    @property
    def refill(self) -> bool:
        """Whether these are the last weeks to fill the root zone before the plant goes to sleep."""
        plant = self.tables.plants[self.plant]
        now, soon = (stage_on(plant, self.plot, day, self.tables) for day in (self.on, self.on + _LAST_REFILL))
        return wants_refill(plant, now) and soon.phase == DORMANT

    @property
    def tree_dose(self) -> Dose | None:
        """Dose of a newly planted tree; None for any other plant."""
        plot = self.plot
        if plot.trunk_cm is None or plot.planted_on is None or self.pot:
            return None
        weeks = (self.on - plot.planted_on).days / 7
        if not 0 <= weeks <= settles_weeks(plot.trunk_cm, self.tables):
            return None
        return new_tree_dose(plot.trunk_cm, weeks, self.tables)

    @property
    def asked_litres_each(self) -> float:
        """The middle of a newly planted tree's dose; 0 for any other plant. [L]"""
        dose = self.tree_dose
        return 0.0 if dose is None else (dose.litres_low + dose.litres_high) / 2

    def tree_due(self, events: tuple[Observation, ...], on: date) -> date | None:
        """Next day on which a newly planted tree wants water; None for any other plant."""
        dose = self.tree_dose
        if dose is None:
            return None
        last = max((event.on for event in events if isinstance(event, Watering)), default=None)
        return on if last is None else last + timedelta(days=max(round(dose.every_days), 1))

    def capped(self, depth_mm: float) -> float:
        """The depth, or less where the well gives no more in a day. [mm]"""
        most = self.plot.most_litres_a_day
        litres = delivery.litres(depth_mm, self.plot, self.tables)
        return depth_mm if most is None or litres is None or litres <= most else depth_mm * most / litres

    def with_run(self, advice: Advice) -> Advice:
        """The advice with minutes, turns and litres for its depth."""
        if advice.depth_mm is None:
            return advice
        if self.tree_dose is not None:
            return replace(advice, depth_mm=None, litres_each=_rounded(self.asked_litres_each))
        most_minutes = self._most_minutes()
        depth_mm = advice.depth_mm
        if self.rate is not None and most_minutes is not None:
            # The ground takes no more in one day; the rest is for another.
            depth_mm = min(depth_mm, round(self.rate.mm_h * most_minutes / 60, 1))
        advice = replace(
            advice,
            depth_mm=depth_mm,
            litres=_rounded(delivery.litres(depth_mm, self.plot, self.tables)),
            litres_each=_rounded(delivery.litres_each(depth_mm, self.plot, self.tables)),
        )
        if self.rate is None:
            return advice if advice.litres_each else replace(advice, litres_each=self._old_tree_litres())
        minutes = min(delivery.run_minutes(depth_mm, self.rate.mm_h), most_minutes or math.inf)
        turns = delivery.cycles(self.plot, minutes, self.rate.mm_h, self.tables)
        return replace(
            advice,
            minutes=minutes,
            cycles=turns.count,
            cycle_minutes=turns.minutes if turns.count > 1 else None,
            rest_minutes=turns.rest_minutes if turns.count > 1 else None,
        )

    def asked_mm(self, need_mm: float) -> float:
        """What is asked for today of a need: no more than the well gives and the ground takes, in whole minutes. [mm]"""
        said = self.with_run(Advice(verdict=Verdict.WATER, depth_mm=self.capped(need_mm)))
        depth_mm = said.depth_mm or 0.0
        return depth_mm if self.rate is None or not said.minutes else min(depth_mm, self.rate.mm_h * said.minutes / 60)

    def _old_tree_litres(self) -> float | None:
        """A deep soak by the trunk, for a tree of which neither the rate nor the watered ground is known. [L]"""
        if self.plot.trunk_cm is None or not self.woody:
            return None
        dose = old_tree_dose(self.plot.trunk_cm, self.tables)
        return _rounded((dose.litres_low + dose.litres_high) / 2)

    def _most_minutes(self) -> float | None:
        """What can be run in a day in turns that don't run off; None where nothing runs off."""
        longest = delivery.longest_turn(self.plot, self.rate.mm_h, self.tables) if self.rate else None
        turns = _MOST_TURNS_BY_HAND if self.plot.method in ("hose", "can") else _MOST_TURNS
        return None if longest is None else float(turns * longest)


def _rounded(litres: float | None) -> float | None:
    return None if litres is None else round(litres, 1)


def profile(plot: Plot, on: date, tables: Tables) -> Profile:
    """Gather what the tables say.

    Raises: UnknownName, for a soil that no table has.
    """
    plant, soil = _plant(plot, tables), _soil(plot, tables)
    stage = stage_on(plant, plot, on, tables)
    own = agreed(plot, on)
    allowed = own or allowed_depletion(plant, stage, _USE_MM, plot, tables)
    tension = None if own else tension_limit_kpa(plant, stage, _USE_MM, plot, tables)
    rate = delivery.rate_mm_h(plot, tables)
    efficiency = delivery.trait(plot, "efficiency", tables)
    depth_cm = _root_depth_cm(plant, plot, on, stage)
    told = _plain(plot)
    scene, readings = _scene(told, plant, soil, depth_cm, allowed.depletion, _settled(tension), tables)
    return Profile(
        plot=plot,
        plant=plant.id,
        soil=soil.id,
        stage=stage.name,
        dormant=stage.phase == DORMANT,
        stress_plan=allowed.planned,
        limit=allowed.limit,
        tension=tension,
        efficiency=efficiency.value,
        rate=rate,
        store_mm_per_cm=10 * (soil.fc - soil.wp),
        scene=scene,
        readings=readings,
        assumed=_assumed(plot, rate, tables),
        asks=_asks(plot, rate),
        rows=_rows(plant, soil, stage, plot, on, allowed.row, tension, efficiency.cite("value"), rate),
        tables=tables,
        on=on,
    )


def limit_on(plot: Plot, on: date, tables: Tables) -> float:
    """Water left below which this plant should not go at its stage of that day. [0..1]"""
    plant = _plant(plot, tables)
    own = agreed(plot, on)
    return (own or allowed_depletion(plant, stage_on(plant, plot, on, tables), _USE_MM, plot, tables)).limit


def _plant(plot: Plot, tables: Tables) -> Plant:
    name = plot.plant or _PLANT
    return tables.plants.get(name) or tables.plants[plants.find(name, "en", tables).plant]


def _soil(plot: Plot, tables: Tables) -> Soil:
    name = (plot.soil or (_POT_SOIL if plot.container_litres else _SOIL)).replace(" ", "_")
    if name not in tables.soils:
        raise UnknownName("soil", name, tuple(tables.soils))
    return tables.soils[name]


def _root_depth_cm(plant: Plant, plot: Plot, on: date, stage: Stage) -> float:
    if plot.container_litres and plot.root_depth_cm is None:
        return plants.container_depth_cm(plot.container_litres)
    return plants.root_depth_cm(plant, plot, on, stage)


def _settled(tension: TensionLimit | None) -> float | None:
    """The published tension, if somebody saw it in its source: a limit from memory sets nothing."""
    return tension.kpa if tension is not None and tension.settled and not tension.planned else None


def _plain(plot: Plot) -> Plot:
    """The plot without its name: a name changes no estimate."""
    return replace(plot, name="")


@lru_cache(maxsize=2048)
def _scene(
    plot: Plot,
    plant: Plant,
    soil: Soil,
    depth_cm: float,
    allowed: float,
    stress_kpa: float | None,
    tables: Tables,
) -> tuple[Scene, Readings]:
    source = (plot.soil_source or "told") if plot.soil else "assumed"
    near = [soil, *(tables.soils[each] for each in soil.neighbours)]
    root = root_zone(near, source, depth_cm, allowed, stress_kpa)
    readings = Readings(root, plant.category, plot.soil, plot.probe, plot.probe_depth_cm, plot.probe_full, tables)
    demand = _Demand(plant, plot, tables)
    scene = Scene(
        root=root,
        start=_START * allowed,
        demand_mm=demand.mm,
        entered_mm=lambda rain_mm: effective_rain_mm(rain_mm, soil.id),
        evidence=readings.evidence,
        net_mm=lambda watering: _net_mm(watering, plot, root, tables),
    )
    return scene, readings


def _net_mm(watering: Watering, plot: Plot, root: RootZone, tables: Tables) -> float | None:
    """What a watering put into the soil; a pot is filled till it drains, unless an amount was told. [mm]

    None where that is not known: then it counts as some. Litres over nobody knows what are less than some only where they
    are so at one plant.
    """
    net_mm = delivery.watering_depth_mm(watering, plot, tables)
    if net_mm is None:
        most_mm = delivery.at_one_plant_mm(watering, plot, tables)
        net_mm = most_mm if most_mm is not None and most_mm < some_mm(root) else None
    told = (watering.depth_mm, watering.litres, watering.litres_each, watering.minutes)
    fills = plot.container_litres is not None and all(amount is None for amount in told)
    return float(root.zone.store_mm.mean()) if fills else net_mm


@dataclass(frozen=True)
class _Demand:
    """What the plant would use with water at will, day by day."""

    plant: Plant
    plot: Plot
    tables: Tables
    known: dict[date, float] = field(default_factory=dict)

    def coefficient(self, on: date) -> float:
        """The plant's coefficient of a day, worked out once."""
        if on not in self.known:
            stage = stage_on(self.plant, self.plot, on, self.tables)
            self.known[on] = plants.kc_on(self.plant, self.plot, on, stage, self.tables)
        return self.known[on]

    def mm(self, day: Day) -> float:
        """Reference evapotranspiration times the plant's coefficient of the day. [mm]"""
        latitude = self.plot.latitude
        reference = reference_et_mm(day, latitude, self.plot.elevation_m)
        if reference is None:
            reference = usual_et_mm(day.on, _LATITUDE if latitude is None else latitude)
        return reference * self.coefficient(day.on)


def _assumed(plot: Plot, rate: delivery.Rate | None, tables: Tables) -> tuple[str, ...]:
    taken = {
        "plant": plot.plant is None or not _has_plant(plot.plant, tables),
        "soil": plot.soil is None and plot.container_litres is None,
        "place": plot.latitude is None,
        _untold_of_rate(plot): rate is not None and rate.assumed,
    }
    return tuple(name for name, is_taken in taken.items() if is_taken)


def _untold_of_rate(plot: Plot) -> str:
    """What is missing of the rate: the flow where only drippers were told, else the ground that gets wet or the plants on it."""
    if plot.flow_l_h is not None:
        return "count" if plot.area_m2 and plot.emitters_each and not plot.count else "area"
    return "flow" if plot.emitters_each else "rate"


def _has_plant(name: str, tables: Tables) -> bool:
    return name in tables.plants or plants.find(name, "en", tables).how != "unknown"


def _asks(plot: Plot, rate: delivery.Rate | None) -> str | None:
    """The plant decides most, then how the water comes, then the soil, then the weather's place."""
    if plot.plant is None:
        return "plant"
    if plot.latitude is None:
        return "place"
    if plot.soil is None and plot.container_litres is None:
        return "soil"
    if plot.container_litres is None and plot.method != "can" and rate is None:
        return "method" if plot.method is None else "rate"
    return None


def _rows(
    plant: Plant,
    soil: Soil,
    stage: Stage,
    plot: Plot,
    on: date,
    allowed: str,
    tension: TensionLimit | None,
    efficiency: str,
    rate: delivery.Rate | None,
) -> tuple[str, ...]:
    cited = [soil.cite("fc"), soil.cite("wp"), plant.cite("kc_mid"), allowed, efficiency]
    if plot.root_depth_cm is None:
        cited.append(plant.cite(plants.root_column(plant, plot, on, stage)))
    if plot.probe_full is not None:
        cited.append(f"plot:probe_full:{plot.probe_full:g} (found after soaks)")
    if tension is not None:
        cited.append(tension.row)
    if rate is not None and rate.row:
        cited.append(rate.row)
    return tuple(cited)
