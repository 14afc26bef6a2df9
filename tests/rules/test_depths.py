"""Readings at several depths, read together, asked through the one door.

That a dry top on wet ground wants less water more often, and dry ground below more water at a time, is common practice: New
Mexico State University, tensiometer page; Using Soil Moisture Sensors for Vineyard Irrigation Management (2014).
"""

from __future__ import annotations

import pytest
from drawn_seasons import drawn
from dry_spell import MONDAY, ask, filled, peach, probe, rule, tomato
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


@settings(max_examples=120, deadline=None)
@given(st.integers(0, 2**32 - 1), st.tuples(*[st.floats(1, 199)] * 3), st.integers(0, 2), st.floats(0.01, 1.0))
def test_a_wetter_reading_at_any_depth_never_asks_for_more_water(
    seed: int, cb: tuple[float, float, float], which: int, share: float
) -> None:
    case = drawn(seed)
    wetter = tuple(kpa * share if at == which else kpa for at, kpa in enumerate(cb))
    dry, wet = (
        advise(case.plot, (*case.observations[:-1], *_at_depths(kpa, case.on)), case.weather, case.on)
        for kpa in (cb, wetter)
    )
    if Verdict.CHECK not in (dry.verdict, wet.verdict):
        assert not (dry.verdict is Verdict.WAIT and wet.verdict is Verdict.WATER)
        assert (wet.depth_mm or 0.0) <= (dry.depth_mm or 0.0) + 1e-9


def _at_depths(cb: tuple[float, ...], on: object) -> tuple[Reading, ...]:
    return tuple(
        Reading(on=on, quantity="tension", value=kpa, depth_cm=cm)  # type: ignore[arg-type]
        for kpa, cm in zip(cb, FEET_CM, strict=True)
    )
