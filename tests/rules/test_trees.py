"""Doses by the trunk: how often, and when a tree stops being new."""

import pytest

from rules import trees
from rules.tables import base

TABLES = base()


# University of Minnesota Extension: daily in weeks 1 and 2, every 2 to 3 days to week 12, weekly after.
@pytest.mark.parametrize(("weeks", "days"), [(0, 1), (2, 1), (2.1, 2.5), (12, 2.5), (12.1, 7)])
def test_a_new_tree_is_watered_less_often_as_it_settles(weeks: float, days: float) -> None:
    assert trees.new_tree_dose(5, weeks, TABLES).every_days == days


def test_a_two_inch_tree_is_new_for_three_years() -> None:
    """Same page: 1.5 years for each inch of trunk."""
    assert trees.settles_weeks(2 * 2.54, TABLES) / 52.18 == pytest.approx(3, abs=0.02)


def test_a_new_trees_week_is_within_the_factor_of_two_that_sources_differ_by() -> None:
    """Georgia Forestry Commission gives 5 to 7.5 gal a week per inch; Minnesota's first weeks come to 7 to 10.5."""
    dose = trees.new_tree_dose(1, 1, TABLES)
    week = TABLES.delivery["new_tree.week_litres_per_cm"]
    assert 7 * dose.litres_low == pytest.approx(week.value, rel=1.0)


def test_a_thicker_trunk_gets_more() -> None:
    assert trees.old_tree_dose(30, TABLES).litres_low == pytest.approx(2 * trees.old_tree_dose(15, TABLES).litres_low)
