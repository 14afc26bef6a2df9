"""The water of a watering: how much the root zone lacks, what to put on for it, and how deep that will go."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from rules.delivery import gross_depth_mm, reaches_cm
from rules.depths import FOOT_SHARE
from rules.estimate import Belief
from rules.outlook import expected_rain_mm
from rules.profile import Profile
from rules.terms import Advice, Day, Observation, Reading, Watering
from rules.verdict import LATE_ABOVE, LEAST_DEPTH_MM, WATER_ABOVE, Case

# Rain to come makes the watering smaller by this share of what is expected in the next days: it is a chance, not a deposit.
_RAIN_CREDIT = 0.3
RAIN_DAYS = 4
# Where the plant is kept thirsty on purpose, a watering lifts it only this far above its limit.
_STRESS_LIFT = 0.25
# A winter watering goes six to eight inches deep (University of Nebraska-Lincoln Extension); half an inch does that.
_WINTER_MM = 12.7
# Amounts are rounded when they are said: so much of one is the whole of it (our judgement).
_ROUNDED = 0.95


def rain_counted_mm(ahead: tuple[Day, ...]) -> float:
    """Rain to come that is counted on, of the days from today on. [mm]"""
    return _RAIN_CREDIT * expected_rain_mm(ahead[:RAIN_DAYS])


def need_mm(about: Profile, now: Belief, ahead: tuple[Day, ...], lower_share: float) -> float:
    """Water to put on to reach the wanted level, losses of the way of watering included. [mm]

    Args:
        lower_share: how much of what the lower layer lacks is to be filled. [0..1]
    """
    zone, upper_mm, lower_mm = about.scene.root.zone, now.depletion.upper_mm, now.depletion.lower_mm
    # A surplus below does not rise into the layer above.
    lacking = np.minimum(upper_mm + lower_share * np.maximum(lower_mm, 0.0), now.depletion.total_mm)
    lacking = np.maximum(lacking, 0.0)
    if about.stress_plan:
        lacking = np.maximum(lacking - zone.store_mm * max(1 - about.limit - _STRESS_LIFT, 0.0), 0.0)
    return gross_depth_mm(max(float(lacking.mean()) - rain_counted_mm(ahead), 0.0), about.plot, about.tables)


def foot_need_mm(about: Profile, left: float) -> float:
    """Water for the foot of the roots, by a probe that stands there, losses included. [mm]

    Args:
        left: what the probe says is left. [0..1]
    """
    lacking_mm = (1 - FOOT_SHARE) * float(about.scene.root.zone.store_mm.mean()) * max(1 - left, 0.0)
    return gross_depth_mm(lacking_mm, about.plot, about.tables)


def watered(advice: Advice, about: Profile, case: Case, now: Belief, ahead: tuple[Day, ...]) -> Advice:
    """The same advice with the amount, the run and the depth to check."""
    # Nobody said when it was last watered: then nothing is late.
    late = case.late if case.reported else 0.0
    urgency = "late" if late > LATE_ABOVE else "today" if late > WATER_ABOVE else "soon"
    if about.pot:
        return replace(advice, until_drains=True, urgency=urgency)
    asked_mm = round(about.capped(_asked_mm(about, case)), 1)
    advice = about.with_run(
        replace(advice, depth_mm=asked_mm, urgency=urgency, rain_counted_mm=round(rain_counted_mm(ahead), 1))
    )
    given_mm = asked_mm if advice.depth_mm is None else advice.depth_mm
    deep_cm = round(_reaches_cm(about, now, given_mm * about.efficiency))
    return replace(advice, reaches_cm=deep_cm, check_depth_cm=deep_cm)


def _asked_mm(about: Profile, case: Case) -> float:
    """What to put on, losses included, before well and ground set their bounds. [mm]"""
    if case.dormant and case.drinks_in_winter:
        return gross_depth_mm(_WINTER_MM, about.plot, about.tables)
    return max(case.need_mm, _WINTER_MM if case.dormant else LEAST_DEPTH_MM)


def given_today(
    about: Profile, read: Belief, ahead: tuple[Day, ...], lower_share: float, todays: tuple[Observation, ...]
) -> bool:
    """Whether the waterings after today's last reading put on what was asked, or nobody knows how much.

    Args:
        read: what is believed before any of them; `ahead` and `lower_share` as for `need_mm`.
        todays: today's events, in order.
    """
    last = max((at for at, event in enumerate(todays) if isinstance(event, Reading)), default=-1)
    waterings = [event for event in todays[last + 1 :] if isinstance(event, Watering)]
    if not waterings or about.pot:
        return bool(waterings)
    if about.tree_dose is not None:
        return _reached([_litres_each(event, about) for event in waterings], about.asked_litres_each)
    asked_mm = about.asked_mm(need_mm(about, read, ahead, lower_share))
    return _reached([about.scene.net_mm(event) for event in waterings], asked_mm * about.efficiency)


def _reached(given: list[float | None], asked: float) -> bool:
    """Whether the sum comes to what was asked, as far as that was rounded when it was said; an amount not known does."""
    known = [each for each in given if each is not None]
    return len(known) < len(given) or sum(known) >= _ROUNDED * asked


def _litres_each(watering: Watering, about: Profile) -> float | None:
    in_all = None if watering.litres is None else watering.litres / (about.plot.count or 1)
    return in_all if watering.litres_each is None else watering.litres_each


def _reaches_cm(about: Profile, now: Belief, net_mm: float) -> float:
    """How deep water goes in the soil as it is believed now. [cm]"""
    root, lacking = about.scene.root, now.depletion
    layers = (
        (root.upper_cm, float(lacking.upper_mm.mean())),
        (root.depth_cm - root.upper_cm, float(lacking.lower_mm.mean())),
    )
    return reaches_cm(net_mm, layers)
