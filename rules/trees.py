"""Water for trees by the trunk, as extension services give it: young trees little and often, old ones seldom."""

from __future__ import annotations

from dataclasses import dataclass

from rules.tables import Tables


@dataclass(frozen=True)
class Dose:
    """Water for one tree at a time, and the days from one time to the next. [L, days]"""

    litres_low: float
    litres_high: float
    every_days: float


def settles_weeks(trunk_cm: float, tables: Tables) -> float:
    """How long after planting a tree counts as new. [weeks]"""
    return trunk_cm * tables.delivery["new_tree.years_per_cm"].value * 365.25 / 7


def new_tree_dose(trunk_cm: float, weeks: float, tables: Tables) -> Dose:
    """For a tree planted so many weeks ago: daily, then every 2 to 3 days, then weekly."""
    row = tables.delivery["new_tree.litres_per_cm"]
    if weeks <= tables.delivery["new_tree.daily_weeks"].value:
        every_days = 1.0
    elif weeks <= tables.delivery["new_tree.often_weeks"].value:
        every_days = tables.delivery["new_tree.often_days"].value
    else:
        every_days = tables.delivery["new_tree.weekly_days"].value
    return Dose(trunk_cm * (row.low or row.value), trunk_cm * (row.high or row.value), every_days)


def old_tree_dose(trunk_cm: float, tables: Tables) -> Dose:
    """A deep soak of a tree that stands on its own, in the dry season."""
    row = tables.delivery["old_tree.litres_per_cm"]
    every_days = tables.delivery["old_tree.every_days"].value
    return Dose(trunk_cm * (row.low or row.value), trunk_cm * (row.high or row.value), every_days)
