"""Doubt: what a clause says in figures must be in the statements made of it, else part of it was not understood.

A figure that no statement took up may be the very thing that changes them ("watered tomatoes 20 min peaches 40"). So such a
clause is unclear, and dropline asks, unless the figure is known to count or to name something.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from bot.understand import words
from bot.understand.clauses import Clause
from bot.understand.items import Item
from bot.understand.statements import Rain, Reading, Statement, Watering
from rules.units import LITRES_PER_GALLON

# From figures as told to the unit of a slot: inches and feet to mm and cm, cm to mm, kilohms to ohms, gallons to litres,
# hours and seconds to minutes.
_FACTORS = (1.0, 25.4, 2.54, 10.0, 0.1, 304.8, 30.48, 1000.0, 100.0, LITRES_PER_GALLON, 60.0, 1 / 60)
_MOST_PROBES = 9  # "sensor 2" names one, "sensor 40" reads
_NOT_TAKEN = frozenset({"temperature", "days", "flow", "habit"})
_COUNTED = frozenset(
    {"thing", "name", "plot", "instrument", "emitter", "times", "method", "part", "daypart", "am", "pm", "container"}
)
_NAMING = frozenset({"thing", "instrument", "emitter", "month"})
_VESSELS = words.named("quantities_vessels")
_PLACES = words.kinds_of_place()
_BEFORE = words.named("not_an_amount") | words.named("before_no_value") | words.named("before_no_amount")


def figures_left(clause: Clause, made: Iterable[Statement]) -> list[Item]:
    """The figures of a clause that none of its statements took up and that count or name nothing."""
    made = [*made]
    timed = any(isinstance(statement, Watering) for statement in made)  # "at 6" is a time of day beside a watering
    lasting = all(isinstance(statement, Rain) for statement in made)  # how long it rained is nowhere kept
    often = clause.first("often")
    times = float(often.value) if often is not None else 1.0
    taken = [share for amount in _amounts(made) for share in {amount, amount / times}]
    return [
        item
        for place, item in enumerate(clause.items)
        if (value := _value(item)) is not None
        and not (lasting and _is_time(item))
        and not (timed and place and clause.items[place - 1].kind == "at")
        and not _is_taken(value, taken)
        and not _is_beside(clause, place)
    ]


def _amounts(made: Iterable[Statement]) -> Iterable[float]:
    for statement in made:
        if isinstance(statement, Reading):
            slots = [statement.value, statement.depth_cm]
        elif isinstance(statement, Watering):
            slots = [statement.minutes, statement.depth_mm, statement.litres, statement.litres_each]
        else:
            slots = [statement.depth_mm] if isinstance(statement, Rain) else []
        yield from (float(slot) for slot in slots if isinstance(slot, int | float))


def _value(item: Item) -> float | None:
    if item.kind == "number":
        return None if " - " in item.text else float(item.value)  # 7-12 was a day
    return item.value.value if item.kind == "quantity" and item.value.dimension not in _NOT_TAKEN else None


def _is_time(item: Item) -> bool:
    return item.kind == "quantity" and item.value.dimension == "duration"


def _is_taken(value: float, taken: list[float]) -> bool:
    return any(
        math.isclose(abs(value) * factor, abs(amount), rel_tol=1e-6) for amount in taken for factor in _FACTORS
    ) or (value == 0 and 0.0 in taken)


def _is_beside(clause: Clause, place: int) -> bool:
    """Whether a figure counts what follows, names what stands before it, or is a time of day or a depth wetted."""
    before = clause.items[place - 1] if place else None
    after = clause.items[place + 1] if place + 1 < len(clause.items) else None
    if after is not None and (after.kind in _COUNTED or after.text in _VESSELS):
        return True
    if (
        after is not None
        and after.text in ("of", "de")
        and any(item.kind == "method" for item in clause.items[place + 2 : place + 3])
    ):
        return True
    if before is not None and before.kind == "instrument" and float(_value(clause.items[place]) or 0) > _MOST_PROBES:
        return False
    row_of_plot = before is not None and before.kind == "plot" and after is not None and after.kind == "reads"
    return row_of_plot or (before is not None and (before.kind in _NAMING or before.text in _BEFORE | _PLACES))
