"""A can test: the catches of several cans, and the minutes they stood there. It gives a rate, never readings."""

from __future__ import annotations

from statistics import fmean

from bot.understand import words
from bot.understand.clauses import Clause
from bot.understand.items import Item, Row
from bot.understand.state import State, default_length_mm
from bot.understand.statements import Fact, Statement, Unclear

_FEWEST = 3  # catches that need no word of cans beside them
_CANS = words.named("cans")
_SEVERAL_CANS = words.named("several_cans")
_DEEPEST_MM = 80.0


def depths_mm(items: Row | tuple[Item, ...], units: str) -> tuple[float, ...]:
    """The catches among the items: fractions, figures and lengths, a figure taking the unit of the last length. [mm]"""
    found: list[float] = []
    unit_mm = default_length_mm(1.0, units, deep=False)
    lengths = [item for item in items if item.kind == "quantity" and item.value.dimension == "length"]
    if lengths and lengths[-1].text.split()[-1] in ("mm", "millimeters", "milimetros", "millimetres"):
        unit_mm = 1.0
    elif lengths and lengths[-1].text.split()[-1].startswith(("cm", "centim")):
        unit_mm = 10.0
    elif lengths:
        unit_mm = 25.4
    for place, item in enumerate(items):
        if item.kind == "number" and place + 1 < len(items) and items[place + 1].text in _CANS:
            continue  # "6 cans" counts them
        if item.kind == "slash" and len(item.value) == 2 and 0 < item.value[1] >= item.value[0]:
            found.append(item.value[0] / item.value[1] * unit_mm)
        elif item.kind == "number":
            found.append(float(item.value) * unit_mm)
        elif item in lengths:
            found.append(float(item.value.value))
    return tuple(found)


def is_can_test(items: Row | tuple[Item, ...], units: str) -> bool:
    """Whether the items list catches: cans are named, or a row of small fractions stands alone."""
    catches = depths_mm(items, units)
    if not catches or any(depth > _DEEPEST_MM for depth in catches):
        return False
    if any(item.kind in ("at", "feel", "rain", "watered", "plot") for item in items):
        return False
    if len(catches) < _FEWEST:
        return _is_catch_of_cans(items)
    named = any(item.text in _CANS for item in items)
    fractions = sum(item.kind == "slash" for item in items)
    lengths = sum(item.kind == "quantity" and item.value.dimension == "length" for item in items)
    minutes = any(item.kind == "quantity" and item.value.dimension == "duration" for item in items)
    return named or (minutes and fractions + lengths >= 1) or fractions >= _FEWEST


def _is_catch_of_cans(items: Row | tuple[Item, ...]) -> bool:
    """Whether a depth or two are told of several cans and of minutes: "the tuna cans had half an inch after 30 min"."""
    dimensions = [item.value.dimension for item in items if item.kind == "quantity"]
    measured = sorted(set(dimensions)) == ["duration", "length"] and dimensions.count("duration") == 1
    return measured and any(item.text in _SEVERAL_CANS for item in items)


def can_test(clause: Clause, state: State) -> list[Statement] | None:
    """The rate that a can test gives, `unclear` when the minutes are missing, or None when it is no can test."""
    units = state.context.units
    if not is_can_test(clause.items, units):
        return None
    minutes = clause.quantities("duration")
    if not minutes or minutes[0].value.value <= 0:
        return [Unclear(text=state.text[clause.start : clause.end])]
    rate_mm_h = fmean(depths_mm(clause.items, units)) * 60 / minutes[0].value.value
    return [Fact(about="rate_mm_h", value=rate_mm_h, plot=state.plot)]
