"""Readings at several depths, read together, asked through the one door.

That a dry top on wet ground wants less water more often, and dry ground below more water at a time, is common practice: New
Mexico State University, tensiometer page; Using Soil Moisture Sensors for Vineyard Irrigation Management (2014).
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from drawn_seasons import drawn
from dry_spell import MONDAY, ask, felt, filled, peach, probe, rule, spell, tomato
from hypothesis import given, settings
from hypothesis import strategies as st

from rules import advise
from rules.terms import Advice, Plot, Reading, Verdict

FEET_CM = (30.0, 60.0, 90.0)


def _read(plot: Plot, *cb: float, days: int = 8) -> Advice:
    return ask(plot, filled(days), *(probe(kpa, 0, cm) for kpa, cm in zip(cb, FEET_CM, strict=False)))


def _said(advice: Advice) -> list[tuple[str, float]]:
    return [(each.rule, each.numbers["read_cm"]) for each in advice.reasons if "read_cm" in each.numbers]


@pytest.mark.parametrize("plant", ["peach", "pear", "grape_wine"])
def test_a_dry_top_on_wet_ground_is_watered_less_at_a_time_than_ground_dry_all_through(plant: str) -> None:
    dry_top, dry = _read(peach(plant=plant), 70, 30, 9), _read(peach(plant=plant), 70, 70, 70)
    assert (dry_top.verdict, dry.verdict) == (Verdict.WATER, Verdict.WATER)
    assert (dry_top.depth_mm or 0) < (dry.depth_mm or 0) / 2
    assert (dry_top.reaches_cm or 0) < (dry.reaches_cm or 0)
    assert _said(dry_top) == [("wet_below", 90.0)]
    assert _said(dry) == []


@pytest.mark.parametrize("plant", ["peach", "pear", "grape_wine"])
def test_ground_dry_below_is_watered_longer(plant: str) -> None:
    dry_below, moist = _read(peach(plant=plant), 35, 60, 90), _read(peach(plant=plant), 70, 30, 9)
    assert dry_below.verdict is Verdict.WATER
    assert (dry_below.depth_mm or 0) > 2 * (moist.depth_mm or 0)
    assert _said(dry_below) == [("dry_below", 90.0)]


def test_what_lies_deeper_than_the_roots_makes_no_run_longer() -> None:
    """A tomato's managed roots end at 45 cm here."""
    assert _said(_read(tomato(), 35, 60, 90)) == []


def test_a_foot_that_stays_wet_tells_that_water_went_past_the_roots() -> None:
    once = (filled(8), probe(50, 0, 30), probe(8, 0, 90))
    again = (filled(8), probe(9, 4, 90), probe(50, 0, 30), probe(8, 0, 90))
    assert _said(ask(peach(soil="loam"), *once)) == [("wet_below", 90.0)]
    assert _said(ask(peach(soil="loam"), *again)) == [("wet_below", 90.0), ("past_roots", 90.0)]


def test_one_depth_alone_is_compared_with_nothing() -> None:
    assert _said(_read(peach(), 70)) == []
    assert rule(_read(peach(), 70)) == "limit_near"


def test_a_plant_kept_dry_on_purpose_is_not_watered_for_a_dry_top() -> None:
    planned = peach(plant="grape_wine", stress=True, stage="fruit set", stage_on=MONDAY)
    assert _read(planned, 70, 30, 9).verdict is Verdict.WAIT


def test_of_three_probes_at_one_depth_the_middle_one_counts_and_the_odd_one_is_named() -> None:
    """Three at 20, 24 and 90 cb: the middle one is 24."""
    three = ask(tomato(), filled(3), *(probe(kpa) for kpa in (20, 24, 90)))
    middle = ask(tomato(), filled(3), probe(24))
    assert (three.water_left, three.verdict) == (middle.water_left, middle.verdict)
    assert [(each.rule, each.numbers["value"]) for each in three.reasons if "read_cm" in each.numbers] == [
        ("odd_probe", 90)
    ]
    assert _said(ask(tomato(), filled(3), *(probe(kpa) for kpa in (20, 24, 28)))) == []


def test_a_hand_outweighs_the_probe_beside_it_and_says_so_where_they_differ() -> None:
    wet, dry = felt("wet", depth_cm=30.0), felt("dry", depth_cm=30.0)
    for hand, kpa, verdict in ((wet, 90, Verdict.WAIT), (dry, 9, Verdict.WATER)):
        advice = ask(tomato(), filled(6), probe(kpa), hand)
        assert advice.verdict is verdict
        assert advice.water_left == ask(tomato(), filled(6), hand).water_left
        assert "hand_first" in [each.rule for each in advice.reasons]
    assert "hand_first" not in [each.rule for each in ask(tomato(), filled(6), probe(9), wet).reasons]


@pytest.mark.parametrize("depths_cm", [FEET_CM, (30.0, 30.0, 30.0)])
@settings(max_examples=80, deadline=None)
@given(
    seed=st.integers(0, 2**32 - 1),
    cb=st.tuples(*[st.floats(1, 199)] * 3),
    which=st.integers(0, 2),
    share=st.floats(0.01, 1.0),
)
def test_a_wetter_reading_among_three_never_asks_for_more_water(
    depths_cm: tuple[float, ...], seed: int, cb: tuple[float, float, float], which: int, share: float
) -> None:
    case = drawn(seed)
    wetter = tuple(kpa * share if at == which else kpa for at, kpa in enumerate(cb))
    dry, wet = (
        advise(case.plot, (*case.observations[:-1], *_at_depths(kpa, depths_cm, case.on)), case.weather, case.on)
        for kpa in (cb, wetter)
    )
    if Verdict.CHECK not in (dry.verdict, wet.verdict):
        assert not (dry.verdict is Verdict.WAIT and wet.verdict is Verdict.WATER)
        assert (wet.depth_mm or 0.0) <= (dry.depth_mm or 0.0) + 1e-9


def _at_depths(cb: tuple[float, ...], depths_cm: tuple[float, ...], on: object) -> tuple[Reading, ...]:
    return tuple(
        Reading(on=on, quantity="tension", value=kpa, depth_cm=cm)  # type: ignore[arg-type]
        for kpa, cm in zip(cb, depths_cm, strict=True)
    )


def test_the_roots_are_filled_before_winter_until_the_deepest_probe_is_wet() -> None:
    """Good Fruit Grower on post-harvest refill: done when the deepest probe says so. The weeks before are the calendar's."""
    october = date(2031, 10, 20)
    vines = peach(plant="grape_wine", soil="loam")

    def asked(*cb: float, on: date = october) -> Advice:
        deep = [replace(probe(kpa, 0, cm), on=on) for kpa, cm in zip(cb, (30.0, 90.0), strict=True)]
        return ask(vines, filled(20, october), *deep, weather=spell(on, et0_mm=1.5, tmax_c=16.0), on=on)

    assert (asked(30, 90).verdict, rule(asked(30, 90))) == (Verdict.WATER, "refill_before_winter")
    assert asked(30, 12).verdict is Verdict.WAIT
    assert rule(asked(30, 90, on=date(2031, 8, 20))) != "refill_before_winter"
