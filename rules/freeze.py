"""Frost to come, and the plants that it kills: a caution goes with the verdict, it changes none."""

from __future__ import annotations

from rules.tables import Plant
from rules.terms import Day

_FREEZES_C = 0.0
# This night and the next: the low of a day is that of its dawn.
_DAYS = slice(1, 3)
_TENDER_KINDS = frozenset({"citrus"})
# Killed or badly hurt by the first frost (common garden practice, no published source; what of the table is not here stands one).
_TENDER = frozenset({
    "avocado", "banana", "basil", "bean_snap", "bean_dry", "bean_lima", "corn_sweet", "cowpea", "cucumber", "eggplant",
    "melon_cantaloupe", "melon_sweet", "okra", "peanut", "pepper_sweet", "pepper_hot", "potato", "pumpkin", "squash_summer",
    "sweet_potato", "tomatillo", "tomato", "watermelon", "annual_flowers", "hanging_basket",
})  # fmt: skip


def freeze_near(plant: Plant, ahead: tuple[Day, ...]) -> bool:
    """Whether one of the next two nights freezes a plant that can't bear it.

    Args:
        ahead: the days of the forecast, today first.
    """
    tender = plant.category in _TENDER_KINDS or plant.id in _TENDER
    return tender and any(day.tmin_c is not None and day.tmin_c <= _FREEZES_C for day in ahead[_DAYS])
