"""Allowed depletion, planned stress and published tensions."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rules.limits import allowed_depletion, planned_stress, tension_limit_kpa, wants_refill
from rules.soil import water_content
from rules.stages import Stage, stage_on
from rules.tables import base, overlay
from rules.terms import Plot

TABLES = base()
PLANTS = TABLES.plants
WINE, PEACH, TOMATO = (PLANTS[key] for key in ("grape_wine", "peach", "tomato"))
MIDDLE = Stage("full", "mid")


def test_a_tomato_may_use_two_fifths_at_5_mm_a_day() -> None:
    """FAO-56 Table 22: p 0.40."""
    allowed = allowed_depletion(TOMATO, MIDDLE, 5.0, Plot(), TABLES)
    assert (allowed.depletion, allowed.limit, allowed.planned) == (0.4, 0.6, False)
    assert allowed.row == "plants:tomato:p=0.4 (FAO56 T22)"


@given(st.floats(0, 15), st.floats(0, 15))
def test_the_thirstier_the_day_the_less_may_be_used(one: float, other: float) -> None:
    cool, hot = sorted((one, other))
    allowed = [allowed_depletion(TOMATO, MIDDLE, et, Plot(), TABLES).depletion for et in (cool, hot)]
    assert 0.1 <= allowed[1] <= allowed[0] <= 0.8


def test_citrus_may_use_a_third_from_bloom_to_fruit_set() -> None:
    """Florida State Horticultural Society 110 (1997): one-third depletion."""
    assert allowed_depletion(PLANTS["orange"], Stage("bloom", "mid"), 5.0, Plot(), TABLES).depletion == 0.33


@pytest.mark.parametrize(
    ("on", "planned"),
    [
        (date(2026, 5, 28), False),
        (date(2026, 6, 20), True),
        (date(2026, 7, 27), True),
        (date(2026, 7, 28), False),
        (date(2026, 10, 20), False),
    ],
)
def test_planned_stress_of_wine_grapes_runs_from_fruit_set_to_veraison(on: date, planned: bool) -> None:
    plot = Plot(stress=True, soil="clay", latitude=38)
    stage = stage_on(WINE, plot, on, TABLES)
    assert planned_stress(WINE, stage, plot, TABLES) is planned
    assert allowed_depletion(WINE, stage, 5.0, plot, TABLES).planned is planned


def test_veraison_seen_early_ends_the_planned_stress_that_day() -> None:
    plot = Plot(stress=True, soil="clay", stage="veraison", stage_on=date(2026, 7, 10))
    before, after = (stage_on(WINE, plot, on, TABLES) for on in (date(2026, 7, 9), date(2026, 7, 10)))
    limits = [allowed_depletion(WINE, stage, 5.0, plot, TABLES).depletion for stage in (before, after)]
    assert limits == [0.70, 0.45]


@pytest.mark.parametrize(
    ("on", "depletion"),
    [(date(2026, 7, 9), 0.45), (date(2026, 7, 10), 0.55), (date(2026, 10, 4), 0.55), (date(2026, 10, 5), 0.35)],
)
def test_a_plan_told_in_veraison_runs_to_the_end_of_harvest(on: date, depletion: float) -> None:
    """0.55 is a working value of ours; stage as told on 10 July, harvest over by the calendar of the plant table."""
    seen = {"stage": "veraison", "stage_on": date(2026, 7, 10)} if on.month == 7 else {}
    told = date(2026, 7, 10) if seen else date(2026, 8, 10)
    plot = Plot(stress=True, stress_on=told, soil="clay", latitude=38, **seen)  # type: ignore[arg-type]
    allowed = allowed_depletion(WINE, stage_on(WINE, plot, on, TABLES), 5.0, plot, TABLES)
    assert (allowed.depletion, allowed.planned) == (depletion, depletion == 0.55)


@pytest.mark.parametrize(("told", "planned"), [(date(2026, 7, 27), False), (date(2026, 7, 28), True)])
def test_a_plan_of_fruit_set_ends_with_veraison_and_one_told_that_day_does_not(told: date, planned: bool) -> None:
    plot = Plot(stress=True, stress_on=told, soil="clay", latitude=38)
    assert planned_stress(WINE, stage_on(WINE, plot, date(2026, 8, 1), TABLES), plot, TABLES) is planned


def test_a_plan_for_ripening_overrules_the_published_tension() -> None:
    """Taylor and Ashcroft (1972): grapes at 1000 cm of water during maturity."""
    kept, held = Plot(soil="clay"), Plot(soil="clay", stress=True, stress_on=date(2026, 8, 10))
    usual = tension_limit_kpa(WINE, Stage("veraison", "mid"), 5.0, kept, TABLES)
    assert usual is not None
    assert usual.kpa == pytest.approx(98.1, abs=0.05)
    assert tension_limit_kpa(WINE, Stage("veraison", "mid"), 5.0, held, TABLES) is None


def test_without_a_plan_there_is_no_stress() -> None:
    stage = Stage("fruit_set", "mid")
    assert allowed_depletion(WINE, stage, 5.0, Plot(soil="clay"), TABLES).depletion == 0.45


# White, Understanding Vineyard Soils, p. 251: not beyond 100 kPa on sand, 400 kPa on clay.
@pytest.mark.parametrize(("soil", "kpa"), [("sandy_loam", 100), ("sand", 100), ("clay", 400), ("silty_clay", 400)])
def test_tension_under_planned_stress_depends_on_the_soil(soil: str, kpa: float) -> None:
    found = tension_limit_kpa(WINE, Stage("fruit_set", "mid"), 5.0, Plot(stress=True, soil=soil), TABLES)
    assert found is not None
    assert (found.kpa, found.planned, found.settled) == (kpa, True, True)


def test_a_limit_between_published_ones_says_that_it_is_ours() -> None:
    found = tension_limit_kpa(WINE, Stage("fruit_set", "mid"), 5.0, Plot(stress=True, soil="loam"), TABLES)
    assert found is not None
    assert not found.settled
    assert "working value" in found.row


@pytest.mark.parametrize(
    ("limit", "soil"),
    [
        ("grape_wine.fruit_set.sandy", "sandy_loam"),
        ("grape_wine.fruit_set.clay", "clay"),
        ("peach.pit_hardening", "loam"),
        ("peach.pit_hardening", "sandy_loam"),
    ],
)
def test_shares_of_planned_stress_are_the_published_tensions_on_our_curve(limit: str, soil: str) -> None:
    rows = {row.kind: row for row in TABLES.limits.values() if row.id.startswith(limit) and row.stress and row.use}
    ours = TABLES.soils[soil]
    theta = float(water_content(rows["tension"].low_kpa, ours.fc, ours.wp, ours.psi_fc))
    assert (ours.fc - theta) / (ours.fc - ours.wp) == pytest.approx(rows["depletion"].depletion, abs=0.05)


def test_the_low_end_of_a_tension_band_holds_on_days_of_high_use() -> None:
    """Taylor and Ashcroft (1972), deciduous fruit trees: 500 cm of water at high use, 800 at low use."""
    hot, cool = (tension_limit_kpa(PEACH, MIDDLE, et, Plot(), TABLES) for et in (9.0, 1.0))
    assert hot is not None
    assert cool is not None
    assert hot.kpa == pytest.approx(500 * 0.0980665, abs=0.05)
    assert cool.kpa == pytest.approx(800 * 0.0980665, abs=0.05)
    assert hot.row == "limits:peach.any.tension.ta72:low_kpa=49 (TA72)"


def test_no_published_tension_is_none() -> None:
    assert tension_limit_kpa(PLANTS["rhubarb"], MIDDLE, 5.0, Plot(), TABLES) is None


def test_relatives_share_the_published_tension() -> None:
    assert tension_limit_kpa(PLANTS["lawn_zoysia"], MIDDLE, 5.0, Plot(), TABLES) is not None
    assert tension_limit_kpa(PLANTS["apricot"], MIDDLE, 5.0, Plot(), TABLES) is not None


def test_an_offices_limit_takes_the_place_of_the_base() -> None:
    text = "id,low_kpa,high_kpa,source\npeach.any.tension.ta72,40,60,county trial (invented)\n"
    found = tension_limit_kpa(PEACH, MIDDLE, 9.0, Plot(), overlay(TABLES, {"limits.csv": text}))
    assert found is not None
    assert found.row == "limits:peach.any.tension.ta72:low_kpa=40 (office: county trial (invented))"


def test_the_root_zone_is_to_be_filled_after_harvest() -> None:
    assert wants_refill(WINE, stage_on(WINE, Plot(latitude=38), date(2026, 10, 20), TABLES))
    assert not wants_refill(WINE, stage_on(WINE, Plot(latitude=38), date(2026, 9, 20), TABLES))
    assert not wants_refill(TOMATO, MIDDLE)
