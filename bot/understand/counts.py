"""How many plants somebody has: "40 peach trees", "tengo 12 duraznos", and several kinds counted in one clause."""

from __future__ import annotations

from dataclasses import replace

from bot.understand import words
from bot.understand.clauses import Clause
from bot.understand.fact_slots import of, tagged_fit
from bot.understand.items import Item
from bot.understand.joining import is_count
from bot.understand.naming import named_thing
from bot.understand.patterns import Fit
from bot.understand.state import State
from bot.understand.statements import Fact, Statement

_THEM = words.named("of_them")
_PRONOUNS = words.named("pronouns")
_ROWS = words.named("rows_of_plants")
_BEFORE_A_COUNT = words.named("before_a_count")


def count(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    """ "there are 9 cherries", "40 peach trees", "tengo 12 duraznos"."""
    if clause.has("watered", "gave", "rain", "feel", "instrument", "date", "at", "slash") or clause.quantities():
        return None
    pointed = state.new_plot and clause.says(*_PRONOUNS) and {"number", "word"} >= {item.kind for item in clause.items}
    figure_at = next((place for place, item in enumerate(clause.items) if item.kind == "number"), 0)
    plain = all(item.text in _BEFORE_A_COUNT for item in clause.items[:figure_at])
    if (plain and is_count(list(clause.items)) and clause.says(*_THEM)) or pointed:
        return of("count", float(clause.every("number")[0].value), clause, state)
    counted = [place for place, item in enumerate(clause.items) if _counts(item) and thing_after(clause, place)]
    counted = [place for place in counted if clause.items[place + 1].text not in _ROWS]  # "40 trees in 2 rows"
    if not counted or (tagged_fit(found, "have") is None and counted[0] != 0 and not _is_so_many(clause, counted[0])):
        return None
    if state.context.probe and len(counted) > 1 and not counted[0] and _are_values(clause, counted):
        return None  # "45 lawn, 30 tomatoes"
    if [item.kind for item in clause.items[-2:]] in (["plot", "number"], ["thing", "number"]):
        return None  # "55 front bed 60"
    listed = [place for place in range(len(clause.items)) if place in counted or _single(clause, place)]
    if len(listed) > 1:
        ends = [*listed[1:], len(clause.items)]
        return [fact for start, end in zip(listed, ends, strict=True) for fact in _listed(clause, start, end, state)]
    thing = thing_after(clause, counted[0])
    named = thing is not None and thing.kind == "name"
    return of("count", float(clause.items[counted[0]].value), clause, state, unknown_plot=named)


def _are_values(clause: Clause, counted: list[int]) -> bool:
    bare = {item.kind for item in clause.items} <= {"number", "plot", "mark"}
    return bare and all(clause.items[place + 1].kind == "plot" for place in counted)


def _is_so_many(clause: Clause, place: int) -> bool:
    """ "the orchard is 48 trees", "orchard: 20 apple trees"."""
    told = clause.items[place - 1].text in _IS
    return told and any(item.text in _GROWING for item in clause.items[place + 1 : place + 3])


_IS = frozenset({"is", ":", "=", "es", "son"})
_GROWING = words.named("growing")


def _counts(item: Item) -> bool:
    return item.kind == "number" and float(item.value) == int(item.value) and " - " not in item.text


def _single(clause: Clause, place: int) -> bool:
    """ "a lemon" beside others that are counted."""
    thing = thing_after(clause, place) if clause.items[place].text in _ONE else None
    return thing is not None and thing.kind in ("plot", "name") and thing.text not in words.named("generic")


_ONE = frozenset({"a", "an", "un", "una"})


def _listed(clause: Clause, start: int, end: int, state: State) -> list[Statement]:
    """One of several things that somebody has: its count, or that it is there."""
    part = replace(clause, items=clause.items[start:end])
    if _counts(part.items[0]):
        return of("count", float(part.items[0].value), part, state)
    name = part.first("plot") is None and named_thing(part, state.text)
    return [Fact(about="new_plot", value=name, plot=name)] if name else []


def thing_after(clause: Clause, place: int) -> Item | None:
    """The plants or plot right after a figure, which counts them."""
    after = clause.items[place + 1] if place + 1 < len(clause.items) else None
    if after is None or after.kind not in ("plot", "thing", "name"):
        return None
    return None if after.text in ("side", "area", "north", "south", "east", "west") else after
