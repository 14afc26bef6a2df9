"""Stages: what was seen, then days since planting or the calendar. Calendar days are working values of plants.csv."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rules.stages import DORMANT, PHASES, stage_named, stage_on
from rules.tables import base
from rules.terms import Plot

TABLES = base()
PLANTS = TABLES.plants
WINE, PEACH, TOMATO, ORANGE = (PLANTS[key] for key in ("grape_wine", "peach", "tomato", "orange"))
YEAR = [date(2026, 1, 1) + timedelta(days=day) for day in range(365)]


@pytest.mark.parametrize("plant", PLANTS.values(), ids=lambda plant: plant.id)
def test_every_plant_has_a_stage_of_the_table_on_every_day(plant) -> None:
    for on in YEAR[::5]:
        for latitude in (-60.0, -38.0, 0.0, 38.0, 60.0):
            stage = stage_on(plant, Plot(latitude=latitude, planted_on=date(2026, 4, 20)), on, TABLES)
            assert stage.name in TABLES.stages
            assert stage.phase in (*PHASES, DORMANT)
            assert 0 <= stage.progress <= 1


@pytest.mark.parametrize(
    ("on", "north", "south"),
    [
        (date(2026, 1, 10), "dormant", "fruit_set"),
        (date(2026, 6, 20), "fruit_set", "dormant"),
        (date(2026, 8, 5), "veraison", "dormant"),
    ],
)
def test_the_southern_half_is_half_a_year_off(on: date, north: str, south: str) -> None:
    assert stage_on(WINE, Plot(latitude=38), on, TABLES).name == north
    assert stage_on(WINE, Plot(latitude=-38), on, TABLES).name == south


def test_a_place_unknown_is_taken_as_the_north() -> None:
    assert stage_on(WINE, Plot(), date(2026, 6, 20), TABLES) == stage_on(
        WINE, Plot(latitude=38), date(2026, 6, 20), TABLES
    )


def test_spring_comes_later_and_winter_sooner_towards_the_pole() -> None:
    def awake(latitude: float) -> list[date]:
        return [on for on in YEAR if stage_on(PEACH, Plot(latitude=latitude), on, TABLES).name != DORMANT]

    south, north = awake(33), awake(44)
    assert south[0] < north[0]
    assert south[-1] > north[-1]


def test_what_was_seen_stands_over_the_calendar_that_day() -> None:
    plot = Plot(stage="veraison just started", stage_on=date(2026, 7, 10))
    before, after = (stage_on(WINE, plot, on, TABLES) for on in (date(2026, 7, 9), date(2026, 7, 10)))
    assert (before.name, before.seen) == ("fruit_set", False)
    assert (after.name, after.seen) == ("veraison", True)


def test_stages_after_the_seen_one_follow_at_the_calendars_distance() -> None:
    plot = Plot(stage="veraison", stage_on=date(2026, 7, 10))
    late = Plot(stage="veraison", stage_on=date(2026, 8, 10))
    on = date(2026, 9, 10)
    assert stage_on(WINE, plot, on, TABLES).name == "harvest"
    assert stage_on(WINE, late, on, TABLES).name == "veraison"


def test_a_stage_seen_last_year_no_longer_counts() -> None:
    plot = Plot(stage="veraison", stage_on=date(2025, 7, 10))
    assert stage_on(WINE, plot, date(2026, 6, 20), TABLES) == stage_on(WINE, Plot(), date(2026, 6, 20), TABLES)


def test_annuals_count_from_planting_with_the_lengths_of_fao_56() -> None:
    """FAO-56 Table 11, tomato, California: 35, 40, 50, 30 days."""
    plot = Plot(planted_on=date(2026, 5, 1))
    for days, phase in (
        (0, "ini"),
        (34, "ini"),
        (35, "dev"),
        (74, "dev"),
        (75, "mid"),
        (124, "mid"),
        (125, "late"),
        (300, "late"),
    ):
        assert stage_on(TOMATO, plot, date(2026, 5, 1) + timedelta(days=days), TABLES).phase == phase


def test_a_tomato_in_flower_is_in_its_middle_whatever_the_days_say() -> None:
    plot = Plot(planted_on=date(2026, 6, 1), stage="flowering", stage_on=date(2026, 6, 20))
    stage = stage_on(TOMATO, plot, date(2026, 6, 20), TABLES)
    assert (stage.name, stage.phase, stage.seen) == ("bloom", "mid", True)
    assert stage_on(TOMATO, plot, date(2026, 6, 20) + timedelta(days=50), TABLES).phase == "late"


def test_an_annual_of_unknown_age_is_taken_as_full_grown() -> None:
    assert stage_on(TOMATO, Plot(), date(2026, 7, 1), TABLES).phase == "mid"


def test_evergreens_never_sleep() -> None:
    assert all(stage_on(ORANGE, Plot(latitude=30), on, TABLES).phase == "mid" for on in YEAR)


@given(
    st.sampled_from([p for p in PLANTS.values() if p.habit == "deciduous"]), st.integers(0, 364), st.integers(0, 200)
)
def test_leaf_fall_seen_ends_the_season_until_spring(plant, fall, later) -> None:
    on = YEAR[fall]
    stage = stage_on(plant, Plot(stage="leaf fall", stage_on=on), on + timedelta(days=min(later, 60)), TABLES)
    assert stage.phase == DORMANT


# Words for stages; common speech in English and Spanish, no published source.
@pytest.mark.parametrize(
    ("words", "stage"),
    [
        ("budbreak", "budbreak"),
        ("bud break", "budbreak"),
        ("brotación", "budbreak"),
        ("in full bloom", "bloom"),
        ("en flor", "bloom"),
        ("floreciendo", "bloom"),
        ("fruit set", "fruit_set"),
        ("cuajado", "fruit_set"),
        ("veraison just started", "veraison"),
        ("envero", "veraison"),
        ("harvest", "harvest"),
        ("cosecha", "harvest"),
        ("harvest is over", "post_harvest"),
        ("harvest is done", "post_harvest"),
        ("leaves are down", "dormant"),
        ("bloom is over", "fruit_set"),
        ("después de la cosecha", "post_harvest"),
        ("leaf fall", "dormant"),
        ("caída de hojas", "dormant"),
        ("pit hardening", "pit_hardening"),
        ("purple", None),
    ],
)
def test_stages_are_known_by_their_words_in_both_languages(words: str, stage: str | None) -> None:
    assert stage_named(words, TABLES) == stage
