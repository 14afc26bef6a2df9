"""The one door: what is known of a plot in, a verdict with everything that may be asked about it out.

`advise` is a pure function. It gathers what the tables say of the plot (`profile`), carries the season up to this morning
(`season`), looks ahead through the forecast (`outlook`), lets the rules decide (`verdict`), and works out the water (`delivery`).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import numpy as np

from rules import doubt
from rules.counted import doubtful_readings, in_order, middled, past_days, shown_by_probes, told_once
from rules.depths import Depths, at_foot, lower_share, odd_ones, shallowest, together
from rules.estimate import Belief, low_and_high, stressed, water_left
from rules.freeze import freeze_near
from rules.given import day_given, observations_given, plot_given, weather_given
from rules.instruments import rod_band, unusable
from rules.limits import agreed
from rules.outlook import Outlook, days_to_come, expected_rain_mm, outlook
from rules.profile import Profile, profile
from rules.refill import RAIN_DAYS, foot_need_mm, given_today, need_mm, watered
from rules.restrictions import binding
from rules.season import gauged_mm, happened, this_morning, with_water
from rules.tables import Tables, base
from rules.terms import Advice, Day, Observation, Plot, Rain, Reading, Reason, Sign, Verdict, Watering, Weather
from rules.verdict import LEAF_SIGNS, WATER_ABOVE, Case, Finding, decide

_SIGNS_DAYS = 3
_RAIN_COUNTS_MM = 5.0
_COLD_WEEKS_C = 12.0  # our judgement


def advise(
    plot: Plot | Mapping[str, Any],
    observations: Iterable[Observation | Mapping[str, Any]],
    weather: Weather | Mapping[str, Any] | None,
    on: date | str,
    *,
    tables: Tables | None = None,
) -> Advice:
    """Advice for one plot on one day.

    Args:
        plot: what is known of the plot; a mapping with the same names serves too.
        observations: all that was reported of the plot so far, in the order told; later days than `on` are passed over.
        weather: days past and days forecast as seen on `on`; None or empty where there is none.
        on: the local day.
        tables: other tables than those that come with dropline, such as an office's.
    Returns: the same advice for the same inputs, always.
    Raises: UnknownName, for a soil that no table has. A plant that none has is taken for the likest group, and `assumed` says so.
    """
    today = day_given(on)
    known = plot_given(plot)
    events = observations_given(observations, known.name)
    seen = weather_given(weather)
    return _advise(known, events, seen, today, tables or base())


def _advise(plot: Plot, given: tuple[Observation, ...], weather: Weather, on: date, rows: Tables) -> Advice:
    about = profile(plot, on, rows)
    doubtful = doubtful_readings(about, given, weather.past, on)
    events = in_order(given, doubtful, on)
    days = past_days(weather, events, on)
    scene = about.scene
    morning = this_morning(scene, days, tuple(event for event in events if event.on < on))
    todays = tuple(event for event in events if event.on == on)
    now, water_mm = happened(scene, morning, todays)
    ahead = days_to_come(weather.forecast, on)
    fallen_mm = gauged_mm(todays, 0.0) or 0.0
    water_mm = water_mm + scene.entered_mm(np.full((1, 1), fallen_mm))
    look = outlook(scene, now, ahead, water_mm, fallen_mm)
    read, now = now, with_water(now, water_mm)
    case = _case(about, given, events, days, weather, on, morning, read, now, look, ahead)
    finding = decide(case)
    return _worded(about, case, finding, weather, now, look, ahead, doubtful)


def _case(
    about: Profile,
    given: tuple[Observation, ...],
    events: tuple[Observation, ...],
    days: tuple[Day, ...],
    weather: Weather,
    on: date,
    morning: Belief,
    read: Belief,
    now: Belief,
    look: Outlook,
    ahead: tuple[Day, ...],
) -> Case:
    zone, todays = about.scene.root.zone, tuple(each for each in events if each.on == on)
    readings = _todays_readings(given, on)
    fill = lower_share(readings, about.readings.share, about.scene.root.depth_cm)
    foot = _foot_left(about, events, on)
    foot_mm = foot_need_mm(about, foot) if about.refill and foot is not None else 0.0
    case = Case(
        plot=about.plot,
        on=on,
        left=float(water_left(zone, now).mean()),
        limit=about.limit,
        late=float(stressed(zone, now)[0]),
        outlook=look,
        need_mm=max(need_mm(about, now, ahead, fill), foot_mm),
        refill=about.refill,
        lower_left=_lower_left(about, now, foot),
        signs=_signs(events, on),
        given_today=given_today(about, read, ahead, fill, todays),
        reported=bool(events),
        silent_days=_silent_days(events, on),
        dormant=about.dormant or (about.woody and _cold_weeks(weather)),
        drinks_in_winter=about.drinks_in_winter,
        dry_days=_dry_days(weather, events, on),
        pot=about.pot,
        tree_due=about.tree_due(events, on),
        stress_plan=about.stress_plan,
        freeze=freeze_near(about.tables.plants[about.plant], ahead),
        today=ahead[0] if ahead else None,
        restriction=binding(about.plot, on, weather.past, about.tables),
    )
    return _with_readings(case, about, readings, given, events, days, morning)


def _with_readings(
    case: Case,
    about: Profile,
    todays: list[Reading],
    given: tuple[Observation, ...],
    events: tuple[Observation, ...],
    days: tuple[Day, ...],
    morning: Belief,
) -> Case:
    """The case with what probes and hands say of the soil."""
    on, share = case.on, about.readings.share
    told = [each for each in given if isinstance(each, Reading) and each.on == on and each.in_force]
    counted = [each for each in events if isinstance(each, Reading) and each.on == on]
    hand = next((each for each in reversed(todays) if each.quantity == "feel"), None)
    last = todays[-1] if todays else None
    before = _readings_before(events, on)
    return replace(
        case,
        doubt=None if hand else _doubt(about, todays, given, events, days, morning, on),
        reading_left=share(last) if last else None,
        tension_kpa=max((float(each.value) for each in todays if each.quantity == "tension"), default=None),
        tension_limit_kpa=about.stress_kpa,
        hand_left=share(hand) if hand else None,
        yesterday_left=share(before[-1]) if before and (on - before[-1].on).days == 1 else None,
        rod=_rod(about, todays),
        soil_told=any(isinstance(each, Reading) and (on - each.on).days <= _SIGNS_DAYS for each in events),
        top_dry=_top_dry(about, todays),
        depths=together(todays, before, share, about.scene.root.depth_cm) + odd_ones(told, counted, share),
    )


def _signs(events: tuple[Observation, ...], on: date) -> frozenset[str]:
    """What plant and ground showed of late; a leaf tells nothing of water that was given or fell on a later day."""
    wet = (each.on for each in events if isinstance(each, Watering) or (isinstance(each, Rain) and each.depth_mm))
    watered_on = max(wet, default=date.min)
    return frozenset(
        each.sign
        for each in events
        if isinstance(each, Sign)
        and (on - each.on).days <= _SIGNS_DAYS
        and (each.sign not in LEAF_SIGNS or each.on >= watered_on)
    )


def _todays_readings(given: tuple[Observation, ...], on: date) -> list[Reading]:
    told = [each for each in given if isinstance(each, Reading) and each.on == on and each.in_force]
    return [each for each in told_once(middled(told)) if isinstance(each, Reading)]


def _doubt(
    about: Profile,
    todays: list[Reading],
    given: tuple[Observation, ...],
    events: tuple[Observation, ...],
    days: tuple[Day, ...],
    morning: Belief,
    on: date,
) -> str | None:
    """Why today's last reading can't be trusted, or None."""
    if not todays:
        return None
    reading = todays[-1]
    reason = unusable(reading, about.plot.probe, about.plot.elevation_m)
    if reason:
        return reason
    if doubt.in_frost(reading, days):
        return "frozen"
    if reading.quantity == "dial":
        return "unsure" if about.woody and _dial_alone(events) else None
    if reading.quantity == "rod":
        return None
    left = water_left(about.scene.root.zone, morning)
    if doubt.wet_without_water(reading, events, days, about.scene.demand_mm):
        return "no_cause"
    if not about.stress_plan and doubt.at_its_end(reading, float(left.mean())):
        return "out_of_range"
    earlier = [each for each in events if isinstance(each, Reading) and each is not reading]
    if doubt.stuck(shown_by_probes(given, on)):
        return "stuck"
    share = about.readings.share
    if doubt.confirmed(reading, earlier, share):
        return None
    if doubt.rose_without_cause(reading, earlier, share, events, days):
        return "no_cause"
    said, found = share(reading), about.readings.evidence(reading)
    if said is None or found is None:
        return None
    believed_sd = float(np.hypot(left.std(), morning.upper_sd[0, 0]))
    return "against_evidence" if doubt.against_evidence(said, found.sd, float(left.mean()), believed_sd) else None


def _lower_left(about: Profile, now: Belief, foot: float | None) -> float:
    """Left in the lower layer as believed, or by the last probe at its foot if that says less. [0..1]"""
    believed = float((1 - now.depletion.lower_mm / about.scene.root.zone.lower_mm).mean())
    return believed if foot is None else min(believed, foot)


def _foot_left(about: Profile, events: tuple[Observation, ...], on: date) -> float | None:
    """What the last probe at the foot of the roots said, if nothing was put on since. [0..1]"""
    watered = max((each.on for each in events if isinstance(each, Watering)), default=date.min)
    readings = [each for each in events if isinstance(each, Reading) and each.on >= watered]
    return at_foot(readings, about.readings.share, about.scene.root.depth_cm, on)


def _rod(about: Profile, todays: list[Reading]) -> str | None:
    last = todays[-1] if todays else None
    return rod_band(float(last.value), about.readings.category).name if last and last.quantity == "rod" else None


def _top_dry(about: Profile, todays: list[Reading]) -> bool:
    """Whether, of several depths read today, the one among most of the roots is past the limit."""
    top = shallowest(todays, about.scene.root.depth_cm)
    left = about.readings.share(top) if top else None
    if top is None or left is None:
        return False
    by_tension = top.quantity == "tension" and about.stress_kpa is not None and float(top.value) >= about.stress_kpa
    return by_tension or left < about.limit


def _readings_before(events: tuple[Observation, ...], on: date) -> list[Reading]:
    return [each for each in events if isinstance(each, Reading) and each.on < on]


def _silent_days(events: tuple[Observation, ...], on: date) -> int:
    """Days since a reading or a watering was last told; 0 for who never read anything: there the sum is all that is known."""
    if not any(isinstance(each, Reading) for each in events):
        return 0
    last = max((each.on for each in events if isinstance(each, Reading | Watering)), default=on)
    return (on - last).days


def _dial_alone(events: tuple[Observation, ...]) -> bool:
    """Whether nothing but a hand meter was ever reported: it tells a trend, and no tree is watered on it alone."""
    return all(isinstance(each, Reading) and each.quantity == "dial" for each in events)


def _cold_weeks(weather: Weather) -> bool:
    """Whether it has been so cold for two weeks that even evergreens rest."""
    warmth = [day.tmax_c for day in weather.past[-14:] if day.tmax_c is not None]
    return len(warmth) >= 7 and sum(warmth) / len(warmth) < _COLD_WEEKS_C


def _dry_days(weather: Weather, events: tuple[Observation, ...], on: date) -> int:
    """Days up to yesterday without rain worth counting and without a watering, as far as the weather is known."""
    watered = {each.on for each in events if isinstance(each, Watering)}
    count = 0
    for day in reversed(weather.past):
        if day.on != on - timedelta(days=count + 1) or (day.rain_mm or 0) >= _RAIN_COUNTS_MM or day.on in watered:
            break
        count += 1
    return count


def _worded(
    about: Profile,
    case: Case,
    finding: Finding,
    weather: Weather,
    now: Belief,
    look: Outlook,
    ahead: tuple[Day, ...],
    doubtful: tuple[int, ...],
) -> Advice:
    zone = about.scene.root.zone
    left = water_left(zone, now)
    low, high = low_and_high(left)
    first = look.first_day(WATER_ABOVE)
    depths = () if finding.verdict is Verdict.CHECK else tuple(map(_said, case.depths))
    advice = Advice(
        verdict=finding.verdict,
        plot=about.plot.name,
        date=finding.look_on,
        water_left=round(case.left, 3),
        water_left_low=round(low, 3),
        water_left_high=round(high, 3),
        limit=round(about.limit, 3),
        stress_on=None if first is None else look.days[first],
        doubt=(case.doubt or "unsure") if finding.verdict is Verdict.CHECK else None,
        doubtful=doubtful,
        asks=about.asks,
        cautions=finding.cautions,
        assumed=about.assumed
        + (() if case.reported else ("last_watering",))
        + (() if weather.forecast else ("forecast",)),
        rows=about.rows,
        reasons=(
            _balance(about, case, now, ahead),
            *depths,
            *_restricted(case),
            *_agreed(about),
            Reason(rule=finding.rule, numbers=finding.numbers),
        ),
    )
    if finding.verdict is not Verdict.WATER:
        return advice
    return watered(advice, about, case, now, ahead)


def _said(together: Depths) -> Reason:
    read = together.reading
    return Reason(
        rule=together.says, numbers={"quantity": read.quantity, "value": read.value, "read_cm": read.depth_cm}
    )


def _restricted(case: Case) -> tuple[Reason, ...]:
    """The watering rule that binds the plot, as far as it can be told in one line."""
    rule = case.restriction
    if rule is None:
        return ()
    told = {
        "place": rule.row.place,
        "hours": rule.row.hours,
        "row": rule.row.cite("read_on"),
        "stale": rule.stale(case.on),
    }
    return (Reason(rule="restriction", numbers=told),)


def _agreed(about: Profile) -> tuple[Reason, ...]:
    """The limit agreed for this plot alone, while it lasts."""
    own = agreed(about.plot, about.on)
    if own is None:
        return ()
    return (Reason(rule="agreed", numbers={"own_limit": own.limit, "own_until": about.plot.own_until}),)


def _balance(about: Profile, case: Case, now: Belief, ahead: tuple[Day, ...]) -> Reason:
    zone = about.scene.root.zone
    demand = [about.scene.demand_mm(day) for day in ahead[:3]]
    numbers: dict[str, Any] = {
        "root_depth_cm": about.scene.root.depth_cm,
        "store_mm": round(float(zone.store_mm.mean()), 1),
        "depleted_mm": round(float(np.maximum(now.depletion.total_mm, 0).mean()), 1),
        "water_left": round(case.left, 3),
        "limit": round(about.limit, 3),
        "demand_mm_day": round(sum(demand) / len(demand), 1),
        "efficiency": about.efficiency,
        "need_mm": None if case.dormant else round(case.need_mm, 1),
        "rate_mm_h": about.rate.mm_h if about.rate else None,
        "rate_low_mm_h": about.rate.low_mm_h if about.rate else None,
        "rate_high_mm_h": about.rate.high_mm_h if about.rate else None,
        "expected_rain_mm": round(expected_rain_mm(ahead[:RAIN_DAYS]), 1),
        "reading_says": None if case.reading_left is None else round(case.reading_left, 2),
        "soil": about.soil,
        "plant": about.plant,
        "stage": about.stage,
        "planned": about.stress_plan or None,
    }
    return Reason(rule="balance", numbers={name: value for name, value in numbers.items() if value is not None})
