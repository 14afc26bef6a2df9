"""The season so far: observations and weather turned into the estimate of this morning.

The estimates of a plot's last whole week and of its last morning are remembered by everything that went into them. So a
question costs the days since, a late or retracted observation costs a replay, and the answer is that of a full replay in
every case.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import Any

import numpy as np

from rules import spread
from rules.balance import Array, Depletion
from rules.estimate import Belief, Today, beginning, pass_day, weigh
from rules.evidence import Evidence
from rules.rain import CAUGHT_MM
from rules.root_zone import RootZone
from rules.terms import Advised, Day, Observation, Rain, Reading, Watering

NO_WATER = np.zeros((1, 1))
# "It rained hard", without an amount (our judgement; held against the station when that says more).
_HARD_RAIN_MM = 15.0
# A watering without an amount: this share of what the plant may use, whatever the ground lacked, so that rain before it never
# makes it smaller.
_SOME_SHARE = 0.6
_DELIVERY_SD = 0.18
# Share of the advised waterings that are done though never reported (our prior, to be replaced by an office's own counts).
_DONE_SILENTLY = 0.2


@dataclass(frozen=True, eq=False)
class Scene:
    """All that stays the same while the days pass: the members, and how to price a day, a reading and a watering.

    `demand_mm` of a day of weather, `entered_mm` of a day's rain, `evidence` of a reading (None: can't be used), `net_mm` of a
    watering (None: not known).
    """

    root: RootZone
    start: float
    demand_mm: Callable[[Day], float]
    entered_mm: Callable[[Array], Array]
    evidence: Callable[[Reading], Evidence | None]
    net_mm: Callable[[Watering], float | None]


Events = tuple[Observation, ...]

# Beliefs by all that went into them: each plot's last whole week, the one asked for longest ago first; some 5 kB each (measured
# in tests/bench/bench_advice.py).
KNOWN: dict[tuple[Scene, tuple[Day, ...], Events], Belief] = {}
# The last morning of each plot, which is told from its like by what was reported of it first.
MORNINGS: dict[tuple[Scene, Events], tuple[tuple[Day, ...], Events, Belief]] = {}
_MOST_KNOWN = 8192
_TELL_APART = 3


def this_morning(scene: Scene, days: tuple[Day, ...], events: Events) -> Belief:
    """The estimate after `days`, oldest first without gaps, with the events of those days."""
    plot = (scene, events[:_TELL_APART])
    held = MORNINGS.pop(plot, None)
    if held is None or held[:2] != (days, events):
        whole = _weeks_end(days)
        week = _remembered(scene, days[:whole], _through(events, days[:whole]))
        held = (days, events, _carry(scene, week, days[whole:], events))
    MORNINGS[plot] = held
    _drop_oldest(MORNINGS)
    return held[2]


def _drop_oldest(held: dict[Any, Any]) -> None:
    if len(held) > _MOST_KNOWN:
        held.pop(next(iter(held)), None)


def _weeks_end(days: tuple[Day, ...]) -> int:
    """How many of the days lead up to a Sunday, the last three left out: they are still being corrected."""
    counts = range(len(days) - 3, 0, -1)
    return next((count for count in counts if days[count - 1].on.weekday() == 6), 0)


def _through(events: Events, days: tuple[Day, ...]) -> Events:
    return tuple(event for event in events if event.on <= days[-1].on) if days else ()


def _remembered(scene: Scene, days: tuple[Day, ...], events: Events) -> Belief:
    """The estimate after whole weeks: from memory, or from the week before in memory, or worked out from the start."""
    key = (scene, days, events)
    belief = KNOWN.pop(key, None)
    if belief is None:
        before, week = days[:-7], days[-7:]
        earlier = KNOWN.get((scene, before, _through(events, before)))
        if earlier is None:
            belief = _carry(scene, beginning(scene.root.zone, scene.start), days, events)
        else:
            belief = _carry(scene, earlier, week, events)
    KNOWN[key] = belief
    _drop_oldest(KNOWN)
    return belief


def _carry(scene: Scene, belief: Belief, days: tuple[Day, ...], events: Events) -> Belief:
    for day in days:
        todays = tuple(event for event in events if event.on == day.on)
        belief, water_mm = happened(scene, belief, todays)
        belief = pass_day(scene.root.zone, belief, weather_of(scene, day, todays, water_mm, 0))
    return belief


def happened(scene: Scene, belief: Belief, events: Events) -> tuple[Belief, Array]:
    """Take in the readings and waterings of one day in their order.

    Returns: the belief with the readings weighed, and the water put on after the last of them. [mm]
    """
    zone, root = scene.root.zone, scene.root
    pending_mm: Array = NO_WATER
    watered = any(isinstance(event, Watering) for event in events)
    for event in events:
        if isinstance(event, Reading):
            found = scene.evidence(event)
            if found is not None:
                belief = weigh(zone, with_water(belief, pending_mm), found, root.depth_cm, root.upper_cm)
                pending_mm = NO_WATER
        elif isinstance(event, Watering):
            pending_mm = pending_mm + _delivered_mm(scene, event)
        elif isinstance(event, Advised) and not watered:
            done = spread.shares("follows advice") < _DONE_SILENTLY
            pending_mm = pending_mm + np.where(done, event.depth_mm, 0.0)
    return belief, pending_mm


def with_water(belief: Belief, water_mm: Array) -> Belief:
    """The belief with water just put on, still to sink in."""
    upper = belief.depletion.upper_mm - water_mm
    return Belief(Depletion(upper, belief.depletion.lower_mm), belief.upper_sd, belief.lower_sd)


def _delivered_mm(scene: Scene, watering: Watering) -> Array:
    factor = spread.lognormal(spread.normals("delivery"), _DELIVERY_SD)
    net_mm = scene.net_mm(watering)
    return (some_mm(scene.root) if net_mm is None else net_mm) * factor


def some_mm(root: RootZone) -> float:
    """A watering of which nobody knows how much. [mm]"""
    return _SOME_SHARE * float((root.zone.stress_share * root.zone.store_mm).mean())


def weather_of(
    scene: Scene, day: Day, events: Events, water_mm: Array, days_ahead: int, fallen_mm: float = 0.0
) -> Today:
    """What the weather does to the members on one day; of its rain, `fallen_mm` is in the soil already."""
    demand_mm = scene.demand_mm(day) * spread.use_factor(day.on.toordinal())
    rain_mm = _rain_mm(day, events, days_ahead)
    if rain_mm is NO_WATER and not fallen_mm:
        return Today(demand_mm, NO_WATER, NO_WATER, water_mm)
    if fallen_mm:
        rain_mm = np.maximum(rain_mm, fallen_mm)
    wetted_mm = np.minimum(rain_mm, CAUGHT_MM)
    entered_mm = scene.entered_mm(rain_mm)
    if fallen_mm:
        entered_mm = entered_mm - scene.entered_mm(np.full((1, 1), fallen_mm))
    return Today(demand_mm, entered_mm, wetted_mm, water_mm)


def _rain_mm(day: Day, events: Events, days_ahead: int) -> Array:
    """Rain of one day in the members' gardens: by their own gauge, by the station, or by chance; or NO_WATER. [mm]"""
    station_mm = day.rain_mm or 0.0
    told_mm = gauged_mm(events, station_mm)
    if told_mm is not None:
        return np.full((1, 1), told_mm)
    if day.pop is not None and not station_mm:
        return NO_WATER
    ordinal, amount_mm = day.on.toordinal(), np.full((1, 1), station_mm)
    if day.pop is None:
        return spread.local_rain_mm(ordinal, amount_mm)
    return spread.chance_rain_mm(ordinal, amount_mm, np.full((1, 1), day.pop), days_ahead)


def gauged_mm(events: Events, station_mm: float) -> float | None:
    """Rain by the person's own gauge, of the events of one day; None where nobody read it. [mm]"""
    gauge = [event for event in events if isinstance(event, Rain)]
    told = [event.depth_mm for event in gauge if event.depth_mm is not None]
    if not gauge:
        return None
    return sum(told) if told else max(station_mm, _HARD_RAIN_MM)


def filled(days: tuple[Day, ...], first: date, last: date) -> tuple[Day, ...]:
    """Every day from `first` to `last`, an empty one where none is known."""
    known = {day.on: day for day in days}
    span = map(date.fromordinal, range(first.toordinal(), last.toordinal() + 1))
    return tuple(known.get(on) or Day(on=on) for on in span)
