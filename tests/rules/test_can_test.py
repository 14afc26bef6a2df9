"""Measuring equipment: bounds and laws of the can test. The trade's own cases stand in tests/reference."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rules.can_test import can_test

CANS = st.lists(st.floats(0.1, 50), min_size=1, max_size=40)


@pytest.mark.parametrize(("depths", "minutes"), [([], 15), ([0, 0, 0], 15), ([5, -1], 15), ([5, 5], 0)])
def test_a_test_that_caught_nothing_tells_nothing(depths: list[float], minutes: float) -> None:
    assert can_test(depths, minutes) is None


@given(CANS, st.floats(5, 60))
def test_evenness_lies_between_none_and_all_and_the_order_of_the_cans_is_nothing(
    depths: list[float], minutes: float
) -> None:
    test, turned = can_test(depths, minutes), can_test(depths[::-1], minutes)
    assert test is not None
    assert test == turned
    assert 0 <= test.evenness <= 1 + 1e-9


@given(st.floats(0.1, 50), st.integers(1, 20))
def test_equal_cans_are_even(depth_mm: float, cans: int) -> None:
    test = can_test([depth_mm] * cans, 15)
    assert test is not None
    assert test.evenness == pytest.approx(1)
    assert not test.uneven
    assert test.enough is (cans >= 6)


def test_a_dry_can_among_full_ones_is_uneven() -> None:
    test = can_test([8, 8, 8, 8, 8, 8, 8, 0], 15)
    assert test is not None
    assert test.uneven
