"""The words of the agronomy as frozen values: what goes into `rules.advise` and `rules.history`, and what comes out of them.

Units are in the names: mm of water over the watered ground, kPa, degrees C, cm of depth, litres, minutes.
Shares (`water_left`, `limit`, `pop`) run from 0 to 1. Dates and times are local to the plot.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, field
from datetime import date, datetime
from enum import StrEnum
from typing import Any


class Verdict(StrEnum):
    """WATER now; WAIT and look again on the date; CHECK the reading first, it can't be trusted."""

    WATER = "WATER"
    WAIT = "WAIT"
    CHECK = "CHECK"


@dataclass(frozen=True, kw_only=True)
class Plot:
    """One thing a person waters. `None` is "not known": the rules then take a stated, ordinary value.

    Args:
        soil: a USDA texture class id, such as `sandy_loam`.
        soil_source: `lab`, `felt` (texture by feel) or `guess`; it sets how sure the soil is.
        plant: a plant id of the plant table.
        root_depth_cm: the managed root depth when a person or the office has set it.
        rate_mm_h: what the equipment puts on over the watered ground.
        rate_source: `measured`, `label`, `learned` (mended by a rod pushed in after a watering) or `assumed`.
        method: `sprinkler`, `drip`, `soaker`, `hose`, `can` or `flood`.
        emitters_each, flow_l_h, count: emitters a plant, flow of one emitter (or of a hose), number of plants.
        area_m2: the watered ground of the whole plot (for drip: the wetted strip).
        stage, stage_on: the stage as seen by the person, and the day it was told.
        stress, stress_on: held dry on purpose, and the day it was told.
        place, house: the place as told, and whether the house number is `odd` or `even`: for watering rules.
        own_limit, own_from, own_until: water left below which this plot alone should not go [0..1], and the days for which that
            was agreed with the office; `let_off_until`: the last day on which no watering rule of the place binds it.
        water_days: weekdays on which watering is allowed, `mon` to `sun`; empty: any day.
        probe: `tension`, `resistance`, `percent` or `dial`; with its usual depth.
        probe_full: what the plot's probe shows where the ground is full, as found after soaks. [m3/m3]
        runoff_minutes: after how many minutes water was seen to run off.
    """

    name: str = ""
    soil: str | None = None
    soil_source: str | None = None
    plant: str | None = None
    latitude: float | None = None
    longitude: float | None = None
    elevation_m: float | None = None
    root_depth_cm: float | None = None
    rate_mm_h: float | None = None
    rate_source: str | None = None
    rate_on: date | None = None
    method: str | None = None
    emitters_each: float | None = None
    flow_l_h: float | None = None
    count: float | None = None
    area_m2: float | None = None
    container_litres: float | None = None
    trunk_cm: float | None = None
    planted_on: date | None = None
    stage: str | None = None
    stage_on: date | None = None
    stress: bool | None = None
    stress_on: date | None = None
    place: str | None = None
    house: str | None = None
    own_limit: float | None = None
    own_from: date | None = None
    own_until: date | None = None
    let_off_until: date | None = None
    water_days: tuple[str, ...] = ()
    most_litres_a_day: float | None = None
    probe: str | None = None
    probe_depth_cm: float | None = None
    probe_full: float | None = None
    runoff_minutes: float | None = None


@dataclass(frozen=True, kw_only=True)
class Reading:
    """What an instrument or a hand says. `value` is a number, or a feel band for `feel`.

    Quantities: `tension` kPa, `resistance` ohm, `percent` of the instrument, `dial` 0 to 10, `feel`, `rod` cm pushed in.
    `at` orders the events of one day; without it the order given counts.
    """

    on: date
    quantity: str
    value: float | str
    depth_cm: float | None = None
    soil_temp_c: float | None = None
    at: datetime | None = None
    in_force: bool = True


@dataclass(frozen=True, kw_only=True)
class Watering:
    """A watering done. The first amount that is given counts: depth, litres, litres a plant, minutes; none is "some"."""

    on: date
    minutes: float | None = None
    depth_mm: float | None = None
    litres: float | None = None
    litres_each: float | None = None
    at: datetime | None = None
    in_force: bool = True


@dataclass(frozen=True, kw_only=True)
class Rain:
    """Rain in the person's own gauge. `depth_mm` None is "it rained, amount unknown"; 0 is "no rain here"."""

    on: date
    depth_mm: float | None = None
    at: datetime | None = None
    in_force: bool = True


@dataclass(frozen=True, kw_only=True)
class Sign:
    """What the plant or ground shows: `wilting`, `yellow`, `leaf_drop`, `runoff`, `puddles`, `cracked`, `frozen`."""

    on: date
    sign: str
    at: datetime | None = None
    in_force: bool = True


@dataclass(frozen=True, kw_only=True)
class Advised:
    """A watering that was advised and not yet reported: some people do it and say nothing."""

    on: date
    depth_mm: float
    at: datetime | None = None
    in_force: bool = True


Observation = Reading | Watering | Rain | Sign | Advised


@dataclass(frozen=True, kw_only=True)
class Day:
    """One day of weather. `pop` None: observed. `pop` given: forecast, a chance of `rain_mm` should it rain.

    `et0_mm` is the feed's own reference evapotranspiration; the other values are used only where it is missing. Wind is at 10 m.
    """

    on: date
    tmax_c: float | None = None
    tmin_c: float | None = None
    rain_mm: float | None = None
    pop: float | None = None
    et0_mm: float | None = None
    solar_mj_m2: float | None = None
    wind_m_s: float | None = None
    rh_max: float | None = None
    rh_min: float | None = None
    dewpoint_c: float | None = None


@dataclass(frozen=True, kw_only=True)
class Weather:
    """Days observed and days forecast as seen on one day, each oldest first. An empty forecast: none to be had."""

    past: tuple[Day, ...] = ()
    forecast: tuple[Day, ...] = ()
    source: str | None = None
    attribution: str | None = None
    as_of: datetime | None = None


@dataclass(frozen=True, kw_only=True)
class Reason:
    """One step of the trace: the rule that spoke, and the numbers it spoke of (SI, unit in the key)."""

    rule: str
    numbers: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class Advice:
    """A verdict with everything a person may ask about it.

    Args:
        depth_mm: what to put on now, losses of the way of watering included. WATER only; None for a pot.
        minutes: run time for that depth, rounded to what a timer can be set to; None where the rate is unknown.
        litres, litres_each: the same water in all and for each plant, where the area or the plants are known.
        cycles, cycle_minutes, rest_minutes: turns with rests when the soil can't take the rate; else one cycle.
        until_drains: a pot: water until it runs out of the holes; there is no depth.
        date: WATER: the day to water (today). WAIT, CHECK: the day to look again.
        water_left, water_left_low, water_left_high: the estimate and its 10 and 90 percent points, 0 to 1.
        limit: the water left below which this plant, at this stage, should not go.
        reaches_cm: how deep this watering will go; check_depth_cm: how far down to look the next day.
        stress_on: first day on which the limit is likely passed without watering; None within the look-ahead.
        rain_counted_mm: rain to come that made the depth smaller.
        urgency: `today`, `soon` or `late`, WATER only.
        doubt: CHECK only: `stuck`, `out_of_range`, `against_evidence`, `no_cause`, `frozen`, `settling`.
        doubtful: indices into the observations that were given, of readings left out of the estimate.
        asks: the one thing whose answer would help most, or None.
        reasons: the rules that spoke, in order; the last one decided.
        cautions: caution ids, most urgent first.
        assumed: what was taken without being told, such as `soil`, `rate`, `forecast`.
        rows: the table rows used, as `table:key:column=value (source)`.
    """

    verdict: Verdict
    plot: str = ""
    date: dt.date | None = None
    depth_mm: float | None = None
    minutes: float | None = None
    litres: float | None = None
    litres_each: float | None = None
    cycles: int = 1
    cycle_minutes: float | None = None
    rest_minutes: float | None = None
    until_drains: bool = False
    water_left: float | None = None
    water_left_low: float | None = None
    water_left_high: float | None = None
    limit: float | None = None
    reaches_cm: float | None = None
    check_depth_cm: float | None = None
    stress_on: dt.date | None = None
    rain_counted_mm: float = 0.0
    urgency: str | None = None
    doubt: str | None = None
    doubtful: tuple[int, ...] = ()
    asks: str | None = None
    reasons: tuple[Reason, ...] = ()
    cautions: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()
    rows: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class PastDay:
    """One day that was. Shares of the available water, 0 to 1; depths in mm.

    Args:
        dawn: left on average before anything was reported of the day.
        left, low, high: left on average once it was, and its 10 and 90 percent points: `water_left` of the advice.
        limit, upper: not to go below; too soon to water above.
        rain_mm: rain of the day, by the person's gauge before the weather service; None: not known.
        waterings: what each watering of the day put on, losses included; None: some.
        advised_mm: a watering that was advised and not reported: it counts as one that may have been done.
        demand_mm: what the plant would use with water at will, by the tables.
    """

    on: date
    dawn: float
    left: float
    low: float
    high: float
    limit: float
    upper: float
    rain_mm: float | None
    waterings: tuple[float | None, ...] = ()
    advised_mm: float | None = None
    demand_mm: float = 0.0


@dataclass(frozen=True, kw_only=True)
class DayAhead:
    """The end of one day to come without watering: what is left on average, and its 10 and 90 percent points. [0..1]

    `rain_mm` of the forecast, should it rain, and the `chance` that it does; None where there is no forecast.
    """

    on: date
    left: float
    low: float
    high: float
    rain_mm: float | None = None
    chance: float | None = None


@dataclass(frozen=True, kw_only=True)
class Heard:
    """One reading and the water left that it stands for by itself.

    Args:
        depth_cm: as told, else where the person's probe sits; None: not known.
        counted: False: it was left out of the estimate.
    """

    reading: Reading
    depth_cm: float | None
    left: float
    counted: bool


@dataclass(frozen=True, kw_only=True)
class Trend:
    """How one probe's readings go as the ground dries, by a straight line. Values in cb (`tension`) or % of volume (`percent`).

    Args:
        change_a_day: towards dry.
        reaches_on: day on which the line comes to `limit`; None: it is past it, or that is far off.
    """

    quantity: str
    depth_cm: float
    change_a_day: float
    limit: float
    reaches_on: date | None


@dataclass(frozen=True, kw_only=True)
class History:
    """A plot's season: the days up to today, which is the last, the readings, the days ahead from today on, and trends."""

    days: tuple[PastDay, ...]
    readings: tuple[Heard, ...]
    ahead: tuple[DayAhead, ...]
    trends: tuple[Trend, ...] = ()
