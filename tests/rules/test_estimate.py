"""The belief about a plot's water: how it starts, how a day passes, how a reading draws it."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rules.balance import Array, Zone
from rules.estimate import Belief, Today, beginning, pass_day, stressed, water_left, weigh
from rules.evidence import Evidence
from rules.spread import MEMBERS

ROOT_CM, UPPER_CM = 60.0, 30.0


def _zone(stress_share: float = 0.5) -> Zone:
    one = np.ones((1, MEMBERS))
    return Zone(45 * one, 45 * one, 0.7 * one, stress_share * one, one, 0.5 * one)


def _says(level: float, sd: float = 0.17, depth_cm: float | None = 15.0) -> Evidence:
    share: Array = np.full((1, MEMBERS), level)
    return Evidence(share, share, sd, depth_cm)


def _dry_day(use_mm: float = 5.0) -> Today:
    return Today(*(np.full((1, 1), mm) for mm in (use_mm, 0.0, 0.0, 0.0)))


def _left(belief: Belief) -> float:
    return float(water_left(_zone(), belief).mean())


def test_a_season_begins_at_the_share_believed_with_members_around_it() -> None:
    belief = beginning(_zone(), 0.2)
    assert _left(belief) == pytest.approx(0.8, abs=0.01)
    assert water_left(_zone(), belief).std() > 0.03


def test_a_day_without_water_uses_what_the_plant_wants_and_makes_the_belief_less_sure() -> None:
    """Arithmetic: 5 mm of 90 mm."""
    before = beginning(_zone(), 0.2)
    after = pass_day(_zone(), before, _dry_day())
    assert _left(before) - _left(after) == pytest.approx(5 / 90, abs=0.002)
    assert after.upper_sd.item() > before.upper_sd.item()


def test_rain_on_the_leaves_spares_the_plant_as_much_use() -> None:
    wet_leaves = Today(*(np.full((1, 1), mm) for mm in (5.0, 0.0, 2.5, 0.0)))
    start = beginning(_zone(), 0.2)
    spared = _left(pass_day(_zone(), start, wet_leaves)) - _left(pass_day(_zone(), start, _dry_day()))
    assert spared == pytest.approx(2.5 / 90, abs=0.002)


def test_a_reading_draws_the_belief_towards_it_and_makes_it_surer() -> None:
    before = beginning(_zone(), 0.2)
    after = weigh(_zone(), before, _says(0.4), ROOT_CM, UPPER_CM)
    assert 0.4 < _left(after) < _left(before)
    assert after.upper_sd.item() < before.upper_sd.item()
    assert after.lower_sd.item() < before.lower_sd.item()


def test_a_reading_draws_the_layer_it_was_taken_in_the_most() -> None:
    before = beginning(_zone(), 0.2)
    shallow, deep = (
        weigh(_zone(), before, _says(0.3, depth_cm=cm), ROOT_CM, UPPER_CM).depletion for cm in (15.0, 45.0)
    )
    assert shallow.upper_mm.mean() > shallow.lower_mm.mean()
    assert deep.lower_mm.mean() > deep.upper_mm.mean()


def test_a_better_instrument_draws_further() -> None:
    before = beginning(_zone(), 0.2)
    lefts = [_left(weigh(_zone(), before, _says(0.4, sd), ROOT_CM, UPPER_CM)) for sd in (0.1, 0.2, 0.4)]
    assert lefts == sorted(lefts)


def test_a_wild_reading_draws_no_further_than_one_at_its_reach_and_a_second_is_believed() -> None:
    before = beginning(_zone(), 0.1)
    wild, wilder = (weigh(_zone(), before, _says(level), ROOT_CM, UPPER_CM) for level in (-1.0, -5.0))
    assert _left(wild) == pytest.approx(_left(wilder), abs=1e-9)
    assert _left(wild) > 0.2
    assert _left(weigh(_zone(), wild, _says(-1.0), ROOT_CM, UPPER_CM)) < _left(wild) - 0.1


def test_a_band_leaves_a_belief_inside_it_alone() -> None:
    before = beginning(_zone(), 0.4)
    wide = Evidence(np.zeros((1, MEMBERS)), np.ones((1, MEMBERS)), 0.17, 15.0)
    after = weigh(_zone(), before, wide, ROOT_CM, UPPER_CM)
    np.testing.assert_allclose(after.depletion.upper_mm, before.depletion.upper_mm)


def test_the_share_that_suffers_counts_members_past_their_limit() -> None:
    belief = beginning(_zone(), 0.5)
    assert stressed(_zone(0.05), belief).tolist() == [1.0]
    assert stressed(_zone(0.99), belief).tolist() == [0.0]
    assert 0.3 < float(stressed(_zone(0.5), belief)[0]) < 0.7


levels = st.floats(-0.5, 1.5)


@settings(max_examples=150, deadline=None)
@given(levels, levels, st.floats(0, 0.6), st.floats(0, 90), st.floats(0.1, 0.4))
def test_a_wetter_reading_never_leaves_a_member_drier(
    one: float, other: float, start: float, depth_cm: float, sd: float
) -> None:
    dry, wet = sorted((one, other))
    before = beginning(_zone(), start)
    drier, wetter = (weigh(_zone(), before, _says(level, sd, depth_cm), ROOT_CM, UPPER_CM) for level in (dry, wet))
    assert (wetter.depletion.upper_mm <= drier.depletion.upper_mm + 1e-9).all()
    assert (wetter.depletion.lower_mm <= drier.depletion.lower_mm + 1e-9).all()
    assert wetter.upper_sd == drier.upper_sd


@settings(max_examples=150, deadline=None)
@given(st.floats(0, 0.6), st.floats(0, 0.4), levels, st.floats(0, 90))
def test_a_wetter_belief_is_never_drawn_to_a_drier_one_by_the_same_reading(
    start: float, more: float, level: float, depth_cm: float
) -> None:
    drier, wetter = (
        weigh(_zone(), beginning(_zone(), share), _says(level, depth_cm=depth_cm), ROOT_CM, UPPER_CM)
        for share in (start + more, start)
    )
    assert (wetter.depletion.total_mm <= drier.depletion.total_mm + 1e-9).all()
