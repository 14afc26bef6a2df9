"""Which plant is meant, how much it uses, how deep its managed roots go."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rules.plants import container_depth_cm, find, kc_on, root_column, root_depth_cm
from rules.stages import stage_on
from rules.tables import base
from rules.terms import Plot

TABLES = base()
PLANTS = TABLES.plants
ON = date(2026, 7, 1)


# Nicknames, plurals and misspellings; common speech, no published source.
@pytest.mark.parametrize(
    ("name", "language", "plant"),
    [
        ("tomatos", "en", "tomato"),
        ("jitomate", "es", "tomato"),
        ("maters", "en", "tomato"),
        ("chile", "es", "pepper_hot"),
        ("durazno", "es", "peach"),
        ("duraznos", "en", "peach"),
        ("peech", "en", "peach"),
        ("Meyer lemon", "en", "lemon"),
        ("my old apple trees", "en", "apple"),
        ("zuchini", "en", "squash_summer"),
        ("calabacitas", "es", "squash_summer"),
        ("uvas", "es", "grape_table"),
        ("viñedo", "es", "grape_wine"),
        ("pinot noir", "en", "grape_wine"),
        ("lawn", "en", "lawn"),
        ("zacate", "es", "lawn"),
        ("ROSES", "en", "roses"),
        ("potaoes", "en", "potato"),
        ("lima", "es", "lime"),
        ("lima beans", "en", "bean_lima"),
        ("grape_wine", "en", "grape_wine"),
        ("azafran", "es", None),
    ],
)
def test_common_names_find_their_plant(name: str, language: str, plant: str | None) -> None:
    match = find(name, language, TABLES)
    assert (match.plant if match.how in ("exact", "near") else None) == plant


@pytest.mark.parametrize("language", ["en", "es"])
def test_every_name_of_the_table_finds_its_plant_or_asks(language: str) -> None:
    for plant in PLANTS.values():
        mine = (plant.name_en, *plant.names_en) if language == "en" else (plant.name_es, *plant.names_es)
        for name in mine:
            match = find(name, language, TABLES)
            assert plant.id == match.plant or plant.id in match.choices, (name, match)


@pytest.mark.parametrize(
    ("name", "choices"),
    [
        ("tomate", {"tomato", "tomatillo"}),
        ("limón", {"lemon", "lime"}),
        ("limon", {"lemon", "lime"}),
        ("nuez", {"walnut", "pecan"}),
    ],
)
def test_names_that_mean_two_plants_are_asked_about(name: str, choices: set[str]) -> None:
    match = find(name, "es", TABLES)
    assert (match.how, set(match.choices)) == ("ambiguous", choices)


@pytest.mark.parametrize(
    ("name", "language", "plant"),
    [
        ("new oak tree", "en", "tree"),
        ("big oak", "en", "tree"),
        ("old maple", "en", "tree"),
        ("ash tree", "en", "tree"),
        ("young tree", "en", "tree"),
        ("my little lemon tree", "en", "lemon"),
        ("roble viejo", "es", "tree"),
        ("mi duraznero nuevo", "es", "peach"),
        ("un árbol joven", "es", "tree"),
    ],
)
def test_words_of_age_size_and_owner_hide_no_plant(name: str, language: str, plant: str) -> None:
    match = find(name, language, TABLES)
    assert (match.how, match.plant) == ("exact", plant)


@pytest.mark.parametrize(
    ("name", "group"),
    [
        ("ginkgo tree", "tree"),
        ("calla lily", "flower"),
        ("huckleberry plants", "shrub"),
        ("monstera", "shrub"),
        ("xyzzy", "shrub"),
    ],
)
def test_an_unknown_plant_becomes_a_group_with_the_three_nearest(name: str, group: str) -> None:
    match = find(name, "en", TABLES)
    assert (match.how, match.plant) == ("unknown", group)
    assert len(match.choices) == 3
    assert PLANTS[match.plant].generic


@given(st.text(max_size=40), st.sampled_from(["en", "es"]))
def test_any_words_give_a_plant_of_the_table(words: str, language: str) -> None:
    assert find(words, language, TABLES).plant in PLANTS


def depth(plant: str, plot: Plot, on: date = ON) -> float:
    return root_depth_cm(PLANTS[plant], plot, on, stage_on(PLANTS[plant], plot, on, TABLES))


def test_a_pear_of_one_year_is_shallower_than_one_of_five() -> None:
    young, grown = Plot(planted_on=date(2025, 4, 1)), Plot(planted_on=date(2021, 4, 1))
    assert depth("pear", young) < depth("pear", grown) == 90


def test_hardpan_caps_the_roots_at_any_age() -> None:
    assert depth("pear", Plot(root_depth_cm=45.7)) == 45.7
    assert depth("pear", Plot(root_depth_cm=45.7, planted_on=date(2026, 4, 1))) == 30
    assert depth("pear", Plot(root_depth_cm=20, planted_on=date(2026, 4, 1))) == 20


def test_a_person_may_know_of_deeper_roots() -> None:
    assert depth("pear", Plot(root_depth_cm=120)) == 120


def test_a_pot_is_no_deeper_than_itself() -> None:
    assert container_depth_cm(20) == pytest.approx(29.4, abs=0.1)  # as deep as wide: 20 L = pi/4 d^3
    assert depth("lemon", Plot(container_litres=20)) == pytest.approx(29.4, abs=0.1)


@given(st.sampled_from(list(PLANTS)), st.integers(0, 3000), st.integers(0, 3000))
def test_roots_never_get_shallower_with_age(plant: str, one: int, other: int) -> None:
    earlier, later = (date(2020, 4, 1) + timedelta(days=days) for days in sorted((one, other)))
    plot = Plot(planted_on=date(2020, 4, 1))
    assert depth(plant, plot, earlier) <= depth(plant, plot, later)


def test_the_depth_can_be_cited() -> None:
    plot = Plot(planted_on=date(2025, 4, 1))
    column = root_column(PLANTS["pear"], plot, ON, stage_on(PLANTS["pear"], plot, ON, TABLES))
    assert PLANTS["pear"].cite(column) == "plants:pear:root_young_cm=60 (EMSWCD T2)"


def kc(plant: str, plot: Plot, on: date = ON) -> float:
    return kc_on(PLANTS[plant], plot, on, stage_on(PLANTS[plant], plot, on, TABLES), TABLES)


def test_the_coefficient_runs_straight_between_its_periods() -> None:
    """FAO-56 Eq. 66 with tomato of Tables 11 and 12: 0.6 to day 35, 1.15 from day 75, 0.8 at day 155."""
    plot = Plot(planted_on=date(2026, 5, 1))
    for days, expected in ((20, 0.6), (55, 0.875), (100, 1.15), (140, 0.975), (155, 0.8), (200, 0.8)):
        assert kc("tomato", plot, date(2026, 5, 1) + timedelta(days=days)) == pytest.approx(expected, abs=1e-9)


def test_a_sleeping_tree_uses_little() -> None:
    assert kc("apple", Plot(latitude=38), date(2026, 1, 10)) < 0.3 < kc("apple", Plot(latitude=38), date(2026, 7, 10))


def test_a_young_tree_uses_less_than_a_grown_one() -> None:
    uses = [kc("apple", Plot(planted_on=ON - timedelta(days=365 * years + 30))) for years in range(6)]
    assert uses == sorted(uses)
    assert uses[0] < uses[3] < uses[4] == uses[5] == kc("apple", Plot())


def test_landscape_plants_keep_one_factor_while_awake() -> None:
    assert kc("native_xeric", Plot(), date(2026, 2, 1)) == kc("native_xeric", Plot()) == 0.2
