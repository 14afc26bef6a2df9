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
from rules.counted import doubtful_readings, in_order, past_days, shown_by_probes
from rules.estimate import Belief, stressed, water_left
from rules.given import day_given, observations_given, plot_given, weather_given
from rules.instruments import unusable
from rules.outlook import DAYS, Outlook, expected_rain_mm, outlook
from rules.profile import Profile, profile
from rules.season import filled, gauged_mm, happened, this_morning, with_water
from rules.tables import Tables, base
from rules.terms import Advice, Day, Observation, Plot, Reading, Reason, Sign, Verdict, Watering, Weather
from rules.verdict import LEAST_DEPTH_MM, WATER_ABOVE, Case, Finding, decide

# Rain to come makes the watering smaller by this share of what is expected in the next days: it is a chance, not a deposit.
_RAIN_CREDIT = 0.6
_RAIN_DAYS = 4
_SIGNS_DAYS = 3
# Where the plant is kept thirsty on purpose, a watering lifts it only this far above its limit.
_STRESS_LIFT = 0.25
# A winter watering goes six to eight inches deep (University of Nebraska-Lincoln Extension); half an inch does that.
_WINTER_MM = 12.7
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
    doubtful = doubtful_readings(about, given, on)
    events = in_order(given, doubtful, on)
    days = past_days(weather, events, on)
    scene = about.scene
    morning = this_morning(scene, days, tuple(event for event in events if event.on < on))
    todays = tuple(event for event in events if event.on == on)
    now, water_mm = happened(scene, morning, todays)
    ahead = filled(weather.forecast, on, on + timedelta(days=DAYS))
    fallen_mm = gauged_mm(todays, 0.0) or 0.0
    water_mm = water_mm + scene.entered_mm(np.full((1, 1), fallen_mm))
    look = outlook(scene, now, ahead, water_mm, fallen_mm)
    now = with_water(now, water_mm)
    case = _case(about, given, events, days, weather, on, morning, now, look, ahead)
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
    now: Belief,
    look: Outlook,
    ahead: tuple[Day, ...],
) -> Case:
    zone = about.scene.root.zone
    todays = [each for each in given if isinstance(each, Reading) and each.on == on and each.in_force]
    hand = next((each for each in reversed(todays) if each.quantity == "feel"), None)
    last = todays[-1] if todays else None
    signs = frozenset(each.sign for each in events if isinstance(each, Sign) and (on - each.on).days <= _SIGNS_DAYS)
    return Case(
        plot=about.plot,
        on=on,
        left=float(water_left(zone, now).mean()),
        limit=about.limit,
        late=float(stressed(zone, now)[0]),
        outlook=look,
        need_mm=_need_mm(about, now, ahead),
        doubt=None if hand else _doubt(about, todays, given, events, days, morning, on),
        reading_left=about.readings.share(last) if last else None,
        tension_kpa=max((float(each.value) for each in todays if each.quantity == "tension"), default=None),
        tension_limit_kpa=about.stress_kpa,
        hand_left=about.readings.share(hand) if hand else None,
        signs=signs,
        reported=bool(events),
        soil_told=any(isinstance(each, Reading) and (on - each.on).days <= _SIGNS_DAYS for each in events),
        dormant=about.dormant or (about.woody and _cold_weeks(weather)),
        drinks_in_winter=about.drinks_in_winter,
        dry_days=_dry_days(weather, events, on),
        pot=about.pot,
        tree_due=about.tree_due(events, on),
        stress_plan=about.stress_plan,
        today=ahead[0] if ahead else None,
    )


def _need_mm(about: Profile, now: Belief, ahead: tuple[Day, ...]) -> float:
    """Water to put on to reach the wanted level, losses of the way of watering included. [mm]"""
    zone = about.scene.root.zone
    lacking = np.maximum(now.depletion.total_mm, 0.0)
    if about.stress_plan:
        lacking = np.maximum(lacking - zone.store_mm * max(1 - about.limit - _STRESS_LIFT, 0.0), 0.0)
    net_mm = float(lacking.mean()) - _RAIN_CREDIT * expected_rain_mm(ahead[:_RAIN_DAYS])
    return max(net_mm, 0.0) / about.efficiency


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
    first = look.first_day(WATER_ABOVE)
    advice = Advice(
        verdict=finding.verdict,
        plot=about.plot.name,
        date=finding.look_on,
        water_left=round(case.left, 3),
        water_left_low=round(float(np.quantile(left, 0.1)), 3),
        water_left_high=round(float(np.quantile(left, 0.9)), 3),
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
        reasons=(_balance(about, case, now, ahead), Reason(rule=finding.rule, numbers=finding.numbers)),
    )
    if finding.verdict is not Verdict.WATER:
        return advice
    return _with_water(advice, about, case, now, ahead)


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
        "rate_mm_h": about.rate.mm_h if about.rate else None,
        "expected_rain_mm": round(expected_rain_mm(ahead[:_RAIN_DAYS]), 1),
        "reading_says": None if case.reading_left is None else round(case.reading_left, 2),
        "soil": about.soil,
        "plant": about.plant,
        "stage": about.stage,
    }
    return Reason(rule="balance", numbers={name: value for name, value in numbers.items() if value is not None})


def _with_water(advice: Advice, about: Profile, case: Case, now: Belief, ahead: tuple[Day, ...]) -> Advice:
    """The same advice with the amount, the run and the depth to check."""
    # Nobody said when it was last watered: then nothing is late.
    late = case.late if case.reported else 0.0
    urgency = "late" if late > 0.8 else "today" if late > WATER_ABOVE else "soon"
    if about.pot:
        return replace(advice, until_drains=True, urgency=urgency)
    least_mm = _WINTER_MM if case.dormant else LEAST_DEPTH_MM
    depth_mm = about.capped(max(case.need_mm, least_mm))
    zone = about.scene.root.zone
    share_empty = float(np.clip(now.depletion.total_mm / zone.store_mm, 0.05, 1).mean())
    reaches_cm = min(depth_mm * about.efficiency / (about.store_mm_per_cm * share_empty), about.scene.root.depth_cm)
    advice = replace(
        advice,
        depth_mm=round(depth_mm, 1),
        urgency=urgency,
        rain_counted_mm=round(_RAIN_CREDIT * expected_rain_mm(ahead[:_RAIN_DAYS]), 1),
        reaches_cm=round(reaches_cm),
        check_depth_cm=round(reaches_cm),
    )
    return about.with_run(advice)
