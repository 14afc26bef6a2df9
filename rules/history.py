"""The second door: what was left in the ground on each day of the season, and what will be, for whoever draws it.

It is the estimate that `rules.advise` speaks of: both replay the same days, so that the last day of a history is the advice's own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import date
from typing import Any

import numpy as np

from rules import delivery
from rules.balance import Array
from rules.counted import doubtful_readings, in_order, past_days
from rules.estimate import Belief, beginning, low_and_high, pass_day, water_left
from rules.given import day_given, observations_given, plot_given, weather_given
from rules.outlook import days_to_come, evenings
from rules.profile import Profile, limit_on, profile
from rules.season import Events, gauged_mm, happened, weather_of, with_water
from rules.tables import Tables, base
from rules.terms import Advised, Day, DayAhead, Heard, History, Observation, PastDay, Plot, Reading, Watering, Weather
from rules.trend import limit_reading, trends
from rules.verdict import too_soon_above


def history(
    plot: Plot | Mapping[str, Any],
    observations: Iterable[Observation | Mapping[str, Any]],
    weather: Weather | Mapping[str, Any] | None,
    on: date | str,
    *,
    tables: Tables | None = None,
) -> History:
    """The season of one plot up to a day, and the outlook from there.

    Args: as for `rules.advise`.
    Raises: UnknownName, for a soil that no table has.
    """
    today, known, rows = day_given(on), plot_given(plot), tables or base()
    given, seen = observations_given(observations, known.name), weather_given(weather)
    about = profile(known, today, rows)
    doubtful = doubtful_readings(about, given, seen.past, today)
    events = in_order(given, doubtful, today)
    past = past_days(seen, events, today)
    dawn, days = _replayed(about, past, events)
    last, ahead = _today(about, dawn, events, days_to_come(seen.forecast, today))
    readings = tuple(_heard(about, given, doubtful, past[0].on if past else today, today))
    told = (*days, last)
    return History(days=told, readings=readings, ahead=ahead, trends=trends(readings, told, _limit_at(about)))


def _limit_at(about: Profile) -> Callable[[str], float]:
    """What a probe of the plot shows at today's limit, by quantity."""
    ground, full = about.tables.soils[about.soil], about.readings.shown_at_full
    return lambda quantity: limit_reading(quantity, about.limit, ground, full)


def _replayed(about: Profile, days: tuple[Day, ...], events: Events) -> tuple[Belief, list[PastDay]]:
    """The belief after the days, this morning's, and each of them as it was."""
    scene, told = about.scene, []
    belief = beginning(scene.root.zone, scene.start)
    for day in days:
        todays = tuple(event for event in events if event.on == day.on)
        seen, water_mm = happened(scene, belief, todays)
        told.append(_past_day(about, day, todays, belief, with_water(seen, water_mm + _entered_mm(about, todays))))
        belief = pass_day(scene.root.zone, seen, weather_of(scene, day, todays, water_mm, 0))
    return belief, told


def _today(
    about: Profile, dawn: Belief, events: Events, ahead: tuple[Day, ...]
) -> tuple[PastDay, tuple[DayAhead, ...]]:
    """Today so far, and how it goes on from here."""
    scene, on = about.scene, ahead[0].on
    todays = tuple(event for event in events if event.on == on)
    seen, water_mm = happened(scene, dawn, todays)
    water_mm = water_mm + _entered_mm(about, todays)
    ends = evenings(scene, seen, ahead, water_mm, gauged_mm(todays, 0.0) or 0.0)
    told = tuple(_day_ahead(about, day, end) for day, end in zip(ahead, ends, strict=True))
    return _past_day(about, Day(on=on), todays, dawn, with_water(seen, water_mm)), told


def _entered_mm(about: Profile, todays: Events) -> Array:
    """Rain of the day in the person's gauge, as far as the ground took it."""
    return about.scene.entered_mm(np.full((1, 1), gauged_mm(todays, 0.0) or 0.0))


def _past_day(about: Profile, day: Day, todays: Events, dawn: Belief, now: Belief) -> PastDay:
    zone = about.scene.root.zone
    left, limit = water_left(zone, now), limit_on(about.plot, day.on, about.tables)
    low, high = low_and_high(left)
    gauged = gauged_mm(todays, day.rain_mm or 0.0)
    return PastDay(
        on=day.on,
        dawn=float(water_left(zone, dawn).mean()),
        left=float(left.mean()),
        low=low,
        high=high,
        limit=limit,
        upper=too_soon_above(limit),
        rain_mm=day.rain_mm if gauged is None else gauged,
        waterings=tuple(_put_on_mm(about, event) for event in todays if isinstance(event, Watering)),
        advised_mm=next((event.depth_mm for event in todays if isinstance(event, Advised)), None),
        demand_mm=about.scene.demand_mm(day),
    )


def _put_on_mm(about: Profile, watering: Watering) -> float | None:
    net_mm = about.scene.net_mm(watering)
    return None if net_mm is None else delivery.gross_depth_mm(net_mm, about.plot, about.tables)


def _day_ahead(about: Profile, day: Day, end: Belief) -> DayAhead:
    left = water_left(about.scene.root.zone, end)
    low, high = low_and_high(left)
    chance = None if day.rain_mm is None else day.pop
    return DayAhead(on=day.on, left=float(left.mean()), low=low, high=high, rain_mm=day.rain_mm, chance=chance)


def _heard(
    about: Profile, given: tuple[Observation, ...], doubtful: tuple[int, ...], first: date, last: date
) -> Iterator[Heard]:
    """The readings of the season that say anything of the water left, by day."""
    for index, each in sorted(enumerate(given), key=lambda known: known[1].on):
        if not isinstance(each, Reading) or not each.in_force or not first <= each.on <= last:
            continue
        left = about.readings.share(each)
        if left is not None:
            depth_cm = each.depth_cm if each.depth_cm is not None else about.readings.usual_depth_cm
            left = min(max(left, 0.0), 1.0)
            yield Heard(reading=each, depth_cm=depth_cm, left=left, counted=index not in doubtful)
