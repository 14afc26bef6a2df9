"""The curve of a soil and the names of soils."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rules import soil
from rules.errors import OutOfRange, UnknownName
from rules.tables import base

TABLES = base()
SOILS = list(TABLES.soils.values())
any_soil = st.sampled_from(SOILS)


@pytest.mark.parametrize("row", SOILS, ids=lambda row: row.id)
def test_the_ends_of_the_curve_are_the_soils_own(row) -> None:
    assert soil.tension_kpa(row.fc, row.fc, row.wp, row.psi_fc) == pytest.approx(row.psi_fc)
    assert soil.tension_kpa(row.wp, row.fc, row.wp, row.psi_fc) == pytest.approx(1500)


@given(any_soil, st.floats(0, 1))
def test_content_to_tension_and_back_is_the_same_content(row, share) -> None:
    theta = row.wp + share * (row.fc - row.wp)
    tension = soil.tension_kpa(theta, row.fc, row.wp, row.psi_fc)
    assert soil.water_content(tension, row.fc, row.wp, row.psi_fc) == pytest.approx(theta, abs=1e-9)


@given(any_soil, st.floats(0, 0.7), st.floats(0, 0.7))
def test_a_wetter_soil_never_pulls_harder(row, one, other) -> None:
    drier, wetter = sorted((one, other))
    kpa = soil.tension_kpa([drier, wetter], row.fc, row.wp, row.psi_fc)
    assert kpa[0] >= kpa[1]


@given(any_soil, st.floats(-5, 5000), st.floats(-5, 5000))
def test_a_harder_pull_never_leaves_more_water(row, one, other) -> None:
    lower, higher = sorted((one, other))
    theta = soil.water_content([lower, higher], row.fc, row.wp, row.psi_fc)
    assert theta[0] >= theta[1]
    assert (theta >= row.wp - 1e-12).all()


def test_one_plot_and_many_take_the_same_code() -> None:
    fc, wp, psi = (np.array([[getattr(row, column)] for row in SOILS]) for column in ("fc", "wp", "psi_fc"))
    many = soil.water_content(np.array([[20.0, 45.0, 80.0]]), fc, wp, psi)
    assert many.shape == (12, 3)
    for place, row in enumerate(SOILS):
        assert many[place, 1] == pytest.approx(float(soil.water_content(45, row.fc, row.wp, row.psi_fc)))


def test_a_clay_still_holds_about_three_quarters_at_80_kpa() -> None:
    """New Mexico State University, notes on tensiometers: about 75 percent in clay, less than half in sand."""
    clay, sand = TABLES.soils["clay"], TABLES.soils["sand"]
    left = [
        (float(soil.water_content(80, row.fc, row.wp, row.psi_fc)) - row.wp) / (row.fc - row.wp) for row in (clay, sand)
    ]
    assert left[0] == pytest.approx(0.75, abs=0.05)
    assert left[1] < 0.5


def test_the_middle_of_each_class_lies_in_the_class() -> None:
    for row in SOILS:
        assert soil.texture_class(row.sand_pct, row.clay_pct) == row.id


def test_neighbours_are_the_classes_that_share_a_border_in_the_triangle() -> None:
    steps = 200
    seen: dict[str, dict[str, int]] = {row.id: {} for row in SOILS}
    grid = {
        (sand, clay): soil.texture_class(100 * sand / steps, 100 * clay / steps)
        for sand in range(steps + 1)
        for clay in range(steps + 1 - sand)
    }
    for (sand, clay), mine in grid.items():
        for beside in ((sand + 1, clay), (sand, clay + 1), (sand + 1, clay - 1)):
            other = grid.get(beside, mine)
            if other != mine:
                seen[mine][other] = seen[mine].get(other, 0) + 1
                seen[other][mine] = seen[other].get(mine, 0) + 1
    for row in SOILS:
        assert set(row.neighbours) == {other for other, times in seen[row.id].items() if times > 3}


@pytest.mark.parametrize(("sand", "clay"), [(-1, 10), (60, 50), (10, 101)])
def test_grains_that_do_not_add_up_are_refused(sand: float, clay: float) -> None:
    with pytest.raises(OutOfRange):
        soil.texture_class(sand, clay)


def test_saxton_and_rawls_is_not_taken_beyond_its_range() -> None:
    with pytest.raises(OutOfRange):
        soil.estimated_from_texture(20, 61)
    with pytest.raises(OutOfRange):
        soil.estimated_from_texture(20, 20, 9)


def test_half_of_a_loam_is_gone_at_159_kpa_by_saxton_and_rawls() -> None:
    """Loam of sand 40, clay 20, organic matter 2.5 percent: worked out apart from this code, 159 kPa."""
    loam = soil.estimated_from_texture(40, 20)
    half = (loam.at_33_kpa + loam.at_1500_kpa) / 2
    assert loam.tension_kpa(half) == pytest.approx(159, abs=0.5)


# What people call soils; common speech, no published source.
@pytest.mark.parametrize(
    ("words", "language", "expected"),
    [
        ("gumbo", "en", "clay"),
        ("barro", "es", "clay"),
        ("it's a heavy clay I think", "en", "clay"),
        ("Sandy Loam", "en", "sandy_loam"),
        ("franco arenoso", "es", "sandy_loam"),
        ("arena", "es", "sand"),
        ("arena", "en", "sand"),
        ("silty clay loam", "en", "silty_clay_loam"),
        ("sandy_loam", "en", "sandy_loam"),
        ("caly loam", "en", "clay_loam"),
        ("no idea", "en", None),
    ],
)
def test_lay_names_find_their_class(words: str, language: str, expected: str | None) -> None:
    assert soil.find(words, language, TABLES) == expected


def test_every_path_by_feel_ends_in_a_soil_and_every_node_is_reached() -> None:
    reached, waiting = set(), [soil.FIRST_FEEL_NODE]
    while waiting:
        node = waiting.pop()
        if node in reached:
            continue
        reached.add(node)
        steps = [soil.feel_step(node, answer, TABLES) for answer in soil.feel_answers(node, TABLES)]
        assert steps
        assert all(bool(step.next_node) != bool(step.soil) for step in steps)
        waiting += [step.next_node for step in steps if step.next_node]
    assert reached == {key.split(".")[0] for key in TABLES.texture_by_feel}


def test_an_unknown_answer_by_feel_names_the_known_ones() -> None:
    with pytest.raises(UnknownName) as refused:
        soil.feel_step("length", "huge", TABLES)
    assert refused.value.suggestions == ("short", "medium", "long")


def test_wilting_lies_below_full_for_every_step_of_the_curve() -> None:
    for row in SOILS:
        held = soil.water_content(np.linspace(row.psi_fc, 1500, 20), row.fc, row.wp, row.psi_fc)
        assert all(wetter > drier for wetter, drier in pairwise(held))
