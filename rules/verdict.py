"""The verdict: an ordered list of small named rules. The first that speaks decides, and its name goes into the trace.

A rule looks at a `Case` and returns a `Finding`, or None when it has nothing to say. To add one, write the function and put it
where it belongs in `RULES`: danger and wrong readings first, then what forbids water, then the plant's need.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from typing import Any

from rules.depths import Depths
from rules.outlook import Outlook
from rules.restrictions import Rule
from rules.tables import WEEKDAYS
from rules.terms import Day, Plot, Verdict

# Share of members past the limit by tomorrow evening at which to water: the specialist's knob (0.50 to 0.65 cost alike).
WATER_ABOVE = 0.55
# Share of members that suffer already from which a watering is late.
LATE_ABOVE = 0.8
# Too soon to water while less than this share of what may be used is gone, however hot tomorrow is (our judgement).
_TOO_SOON_SHARE = 0.4
# How far a published tension limit moves that threshold when today's reading has passed it, or is not half way there.
_TENSION_SAYS = 0.2
# No watering below this: it wets leaves and the top inch (common practice, no published source).
LEAST_DEPTH_MM = 5.0
# Plants die of thirst at leisure and of drowning in a hurry: above this share left, a drooping plant is not thirsty.
_WET_LEFT = 0.7
_WET_HAND = 0.8
_FILLED = 0.8  # our judgement
LEAF_SIGNS = frozenset({"wilting", "yellow", "leaf_drop"})
_TOO_FAST = frozenset({"puddles", "runoff"})
_COLD_C = 4.5  # no watering under 40 F: University of Nebraska-Lincoln Extension, winter watering
_DORMANT_LOOK_DAYS = 28
_DRY_WINTER_DAYS = 21  # common practice, no published source
_LONGEST_LOOK_DAYS = 7
_CHECK_LOOK_DAYS = 1
_LONGEST_BAN_DAYS = 21
_LONGEST_SILENCE_DAYS = 21  # our judgement


@dataclass(frozen=True, kw_only=True)
class Case:
    """All that the rules look at. Shares are of available water, 0 to 1.

    Args:
        left: what is believed to be left now; `hand_left` the same by today's feel, if any.
        limit: the water left below which not to go.
        late: share of the members that suffer already.
        need_mm: what to put on, losses included, to reach the wanted level.
        yesterday_left: what the last reading of yesterday says, if any.
        silent_days: days since a reading or a watering was last told, of who ever read anything.
        given_today: at least what was asked, or nobody knows how much, was put on today after the last reading.
        reported: anything was ever reported of the plot; `soil_told`: a reading or a hand told of its soil in the last days.
        refill: these are the last weeks to fill the root zone before winter; `lower_left`: left in its lower layer.
        rod: what the last rod of today says, `dry`, `enough` or `overwatered`.
        signs: what plant and ground showed in the last days.
        drinks_in_winter: evergreen or newly planted; `dry_days`: days without rain or watering.
        top_dry: of several depths read today, the one among most of the roots is past the limit; `depths`: what they say together.
        freeze: one of the next nights freezes a plant that can't bear it.
        today: today's weather, if known.
        restriction: the watering rule of the place, if one binds this plot.
    """

    plot: Plot
    on: date
    left: float
    limit: float
    late: float
    outlook: Outlook
    need_mm: float
    doubt: str | None = None
    reading_left: float | None = None
    hand_left: float | None = None
    yesterday_left: float | None = None
    refill: bool = False
    lower_left: float = 1.0
    rod: str | None = None
    tension_kpa: float | None = None
    tension_limit_kpa: float | None = None
    signs: frozenset[str] = frozenset()
    reported: bool = True
    soil_told: bool = False
    silent_days: int = 0
    dormant: bool = False
    drinks_in_winter: bool = False
    dry_days: int = 0
    pot: bool = False
    tree_due: date | None = None
    given_today: bool = False
    stress_plan: bool = False
    top_dry: bool = False
    depths: tuple[Depths, ...] = ()
    freeze: bool = False
    today: Day | None = None
    restriction: Rule | None = None

    def may_water(self, day: date) -> bool:
        """Whether the person's own days and the rule of the place both allow it."""
        own = not self.plot.water_days or WEEKDAYS[day.weekday()] in self.plot.water_days
        return own and (self.restriction is None or self.restriction.allows(day))

    def next_allowed(self, day: date) -> date:
        """The first day from this one on which watering is allowed; the day itself where none is within three weeks."""
        days = (day + timedelta(days=ahead) for ahead in range(_LONGEST_BAN_DAYS))
        return next(filter(self.may_water, days), day)


@dataclass(frozen=True, kw_only=True)
class Finding:
    """What one rule says. `look_on` is the day to water or to look again."""

    verdict: Verdict
    look_on: date
    rule: str = ""
    numbers: dict[str, Any] = field(default_factory=dict)
    cautions: tuple[str, ...] = ()


def frozen_ground(case: Case) -> Finding | None:
    """Frozen ground takes no water, and sprinkling makes ice."""
    coldest = case.today.tmax_c if case.today else None
    if "frozen" not in case.signs and (coldest is None or coldest > 0):
        return None
    return Finding(verdict=Verdict.WAIT, look_on=case.on + timedelta(days=7), cautions=("frozen_ground",))


def drowned_roots(case: Case) -> Finding | None:
    """A plant that droops or yellows in soil that a hand or a probe found wet, today or yesterday, lacks air, not water."""
    told = (case.hand_left, case.reading_left, case.yesterday_left)
    wet = next((left for left in told if left is not None), 0.0)
    if not case.signs & LEAF_SIGNS or wet < _WET_LEFT or case.doubt:
        return None
    return Finding(
        verdict=Verdict.WAIT,
        look_on=case.on + timedelta(days=2),
        numbers={"wet_left": wet},
        cautions=("drowned_roots",),
    )


def leaf_alone(case: Case) -> Finding | None:
    """Drooping and yellow leaves fit too wet as well as too dry: the soil is asked before the leaf is believed."""
    if not case.signs & LEAF_SIGNS or case.soil_told or case.pot:
        return None
    return Finding(
        verdict=Verdict.CHECK, look_on=case.on + timedelta(days=_CHECK_LOOK_DAYS), numbers={"doubt": "unsure"}
    )


def wet_hand(case: Case) -> Finding | None:
    """Soil that wets the hand gets no water today, whatever the sum says."""
    if case.hand_left is None or case.hand_left < _WET_HAND or case.pot:
        return None
    return Finding(verdict=Verdict.WAIT, look_on=_look_on(case, 2), numbers={"wet_left": case.hand_left})


def deep_rod(case: Case) -> Finding | None:
    """A rod that goes in far past the roots shows too much water, whatever the sum says."""
    if case.rod != "overwatered" or case.pot:
        return None
    return Finding(verdict=Verdict.WAIT, look_on=_look_on(case, 2))


def rod_enough(case: Case) -> Finding | None:
    """A rod that goes in as far as the plant's chart asks shows enough water for now, whatever the sum says."""
    if case.rod != "enough" or case.pot:
        return None
    return Finding(verdict=Verdict.WAIT, look_on=_look_on(case, 2))


def _look_on(case: Case, days: int) -> date:
    """The day to look again: after so many days, or when the limit comes near if that is sooner."""
    thirst = case.outlook.first_day(WATER_ABOVE)
    return case.on + timedelta(days=days if thirst is None else min(days, max(thirst, 1)))


def doubtful_reading(case: Case) -> Finding | None:
    """A reading that can't be true is checked by hand before anything is built on it."""
    if case.doubt is None:
        return None
    return Finding(
        verdict=Verdict.CHECK, look_on=case.on + timedelta(days=_CHECK_LOOK_DAYS), numbers={"doubt": case.doubt}
    )


def puddles_today(case: Case) -> Finding | None:
    """Water that stands or runs off can't be short of."""
    if not case.signs & _TOO_FAST or case.late > 0.9:
        return None
    return Finding(verdict=Verdict.WAIT, look_on=case.on + timedelta(days=1), cautions=("runoff",))


def young_tree(case: Case) -> Finding | None:
    """A newly planted tree drinks from its root ball, by weeks since planting, if the hand does not say wet."""
    if case.tree_due is None:
        return None
    wet = case.hand_left if case.hand_left is not None else case.reading_left
    if wet is not None and wet >= 0.6:
        return Finding(verdict=Verdict.WAIT, look_on=case.on + timedelta(days=2), numbers={"wet_left": wet})
    dry = wet is not None and wet < 0.5
    if dry or case.tree_due <= case.on:
        return Finding(verdict=Verdict.WATER, look_on=case.on)
    return Finding(verdict=Verdict.WAIT, look_on=case.tree_due)


def asleep(case: Case) -> Finding | None:
    """Out of leaf, a plant is looked at once a month, and watered on a mild day when the soil is truly dry."""
    if not case.dormant:
        return None
    mild = case.today is None or case.today.tmax_c is None or case.today.tmax_c >= _COLD_C
    dry = case.outlook.stressed[0] > WATER_ABOVE or (case.drinks_in_winter and case.dry_days >= _DRY_WINTER_DAYS)
    if dry and mild:
        return Finding(verdict=Verdict.WATER, look_on=case.on, numbers={"dry_days": case.dry_days})
    wait = 3 if dry else _DORMANT_LOOK_DAYS
    return Finding(verdict=Verdict.WAIT, look_on=case.on + timedelta(days=wait))


def refill_before_winter(case: Case) -> Finding | None:
    """Fill the root zone once more before the leaves fall, till its foot, by the deepest probe, is wet."""
    if not case.refill or case.lower_left >= _FILLED or case.need_mm < LEAST_DEPTH_MM:
        return None
    return Finding(verdict=Verdict.WATER, look_on=case.on, numbers={"lower_left": round(case.lower_left, 3)})


def limit_near(case: Case) -> Finding | None:
    """Water when, left alone, the root zone is likely past its limit by tomorrow evening."""
    share = case.outlook.stressed[min(1, len(case.outlook.stressed) - 1)]
    too_soon = case.left > too_soon_above(case.limit)
    if share <= _threshold(case) or too_soon or case.need_mm < LEAST_DEPTH_MM:
        return None
    return Finding(verdict=Verdict.WATER, look_on=case.on, numbers={"stressed": share})


def dry_top(case: Case) -> Finding | None:
    """Water when most roots stand in dry ground, though deeper readings say that the rest have enough."""
    if not case.top_dry or case.stress_plan or case.need_mm < LEAST_DEPTH_MM:
        return None
    return Finding(verdict=Verdict.WATER, look_on=case.on, numbers={"stressed": case.late})


def _allowed(case: Case, found: Finding) -> Finding:
    """The same, or to wait where neither need nor thirst lets anybody break a rule."""
    if found.verdict is not Verdict.WATER or case.may_water(case.on):
        return found
    by_place = case.restriction is not None and not case.restriction.allows(case.on)
    look_on = case.next_allowed(case.on + timedelta(days=1))
    rule = "rule_of_place" if by_place else "not_a_watering_day"
    return Finding(verdict=Verdict.WAIT, look_on=look_on, rule=rule, numbers=found.numbers)


def _given(case: Case, found: Finding) -> Finding:
    """The same, or to look tomorrow where today's water is on already and has still to sink in."""
    if found.verdict is not Verdict.WATER or not case.given_today:
        return found
    return Finding(verdict=Verdict.WAIT, look_on=case.on + timedelta(days=1), rule="given_today", numbers=found.numbers)


def _sure(case: Case, found: Finding) -> Finding:
    """The same, or to feel the soil first: it came past its limit in weeks without a word, or was watered meanwhile."""
    modest = case.pot or case.dormant or case.tree_due is not None
    silent = case.silent_days > _LONGEST_SILENCE_DAYS and case.late > LATE_ABOVE
    if found.verdict is not Verdict.WATER or modest or not silent:
        return found
    look_on = case.on + timedelta(days=_CHECK_LOOK_DAYS)
    return Finding(verdict=Verdict.CHECK, look_on=look_on, rule="long_silence", numbers=found.numbers)


def _cautioned(case: Case, found: Finding) -> Finding:
    """The same with what must be watched beside any water or wait."""
    if found.verdict is Verdict.CHECK:
        return found
    runs_off = found.verdict is Verdict.WATER and bool(case.signs & _TOO_FAST)
    more = {"runoff": runs_off, "freeze_plants": case.freeze and "frozen_ground" not in found.cautions}
    return replace(found, cautions=(*found.cautions, *(id_ for id_, holds in more.items() if holds)))


def _threshold(case: Case) -> float:
    """The share of members at which to water, moved by a published tension limit where there is one and a reading."""
    if case.tension_kpa is None or case.tension_limit_kpa is None:
        return WATER_ABOVE
    if case.tension_kpa >= case.tension_limit_kpa:
        return WATER_ABOVE - _TENSION_SAYS
    return WATER_ABOVE + _TENSION_SAYS if case.tension_kpa < case.tension_limit_kpa / 2 else WATER_ABOVE


def too_soon_above(limit: float) -> float:
    """The upper line: with more water left than this it is too soon to water. [0..1]"""
    return 1 - _TOO_SOON_SHARE * (1 - limit)


def enough_left(case: Case) -> Finding | None:
    """Otherwise wait, until the day on which the limit comes near."""
    ahead = case.outlook.first_day(WATER_ABOVE)
    days = _LONGEST_LOOK_DAYS if ahead is None else min(max(ahead - 1, 1), _LONGEST_LOOK_DAYS)
    cautions = ("planned_stress",) if case.stress_plan else ()
    return Finding(verdict=Verdict.WAIT, look_on=case.next_allowed(case.on + timedelta(days=days)), cautions=cautions)


RULES: tuple[Callable[[Case], Finding | None], ...] = (
    frozen_ground,
    drowned_roots,
    wet_hand,
    deep_rod,
    doubtful_reading,
    leaf_alone,
    puddles_today,
    young_tree,
    rod_enough,
    asleep,
    refill_before_winter,
    limit_near,
    dry_top,
    enough_left,
)


def decide(case: Case) -> Finding:
    """The finding of the first rule that speaks, under the rule's name."""
    for rule in RULES:
        found = rule(case)
        if found is not None:
            named = replace(found, rule=found.rule or rule.__name__)
            return _cautioned(case, _given(case, _allowed(case, _sure(case, named))))
    raise AssertionError("the last rule always speaks")
