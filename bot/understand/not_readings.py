"""Figures that look like readings and are none: of other things, of two minds, or of nobody knows what."""

from __future__ import annotations

import itertools
import re

from bot.understand import words
from bot.understand.clauses import Clause
from bot.understand.found import Found
from bot.understand.items import Item
from bot.understand.lexicon import vocabulary
from bot.understand.not_done import lies_ahead
from bot.understand.state import State
from bot.understand.tokens import fold

_PEOPLE = words.named("people")
_OF_SOIL = ("plot", "all", "name", "instrument", "reads", "at", "deep", "ground")
_CANS = words.named("cans")
_LARGEST_BARE = 50_000.0  # above the range of any block in ohms: a postal code, a phone number
_NOT_SOIL = words.named("not_soil")
_SLOPES = words.named("slopes")


def is_rejected(clause: Clause) -> bool:
    """ "peaches 45, no tomatoes 45": a bare "no" before a plot; which of the two was read is not said."""
    pairs = itertools.pairwise(clause.items)
    return clause.has("number", "quantity") and any(item.text == "no" and after.kind == "plot" for item, after in pairs)


def are_pairs(clause: Clause) -> bool:
    """ "12-40 24-33", "pears 18 45": two ranges or values, or depths with their values?"""
    triples = zip(clause.items, clause.items[1:], clause.items[2:], strict=False)
    if any(first.kind == last.kind == "number" and link.text == "x" for first, link, last in triples):
        return True  # "lawn 2x15"
    heads = [before.kind == "plot" for before, item in itertools.pairwise(clause.items) if item.kind == "slash"]
    if len(heads) > 1 and all(heads) and any(item.value[1] != _OF_TEN for item in clause.every("slash")):
        return True  # "viña 41/30, peras 38/30": values, or a value at a depth?
    ranges = sum(" - " in item.text and item.kind == "number" for item in clause.items)
    figures = clause.every("number")
    together = any(item.kind == after.kind == "number" for item, after in itertools.pairwise(clause.items))
    return ranges > 1 or (together and len(figures) == 2 and clause.has("plot", "name") and not clause.has("at"))


_OF_TEN = 10


def is_of_both(clause: Clause) -> bool:
    """ "12 and 24 both say 45": figures before "both" are no values, and what they are is not said."""
    pairs = itertools.pairwise(clause.items)
    return any(item.kind == "number" and after.kind == "all" for item, after in pairs)


def is_of_no_ground(clause: Clause) -> bool:
    """ "the ditch was dry", "a dry winter": a feel of something that nobody waters."""
    for place, item in enumerate(clause.items):
        near = clause.items[max(0, place - 3) : place] + clause.items[place + 1 : place + 2]
        if item.kind == "feel" and any(one.text in _NO_GROUND for one in near):
            return not clause.has("plot", "ground", "instrument", "name")
    return False


_NO_GROUND = words.named("not_ground")


def is_of_gauge(clause: Clause) -> bool:
    """ "the gauge is dry" tells of the gauge, and of which one is not said."""
    gauge = next((item for item in clause.every("instrument") if item.text in _GAUGES), None)
    feel = clause.first("feel")
    return gauge is not None and feel is not None and gauge.start < feel.start and not clause.has("ground", "number")


_GAUGES = words.named("gauges")


def is_of_something_else(events: list[object], clause: Clause, state: State) -> bool:
    """Whether bare figures are told of a thing no list knows ("ec of my well is 2.1") or over some days."""
    if clause.says(*_NOT_SOIL) and not clause.has("plot", "instrument", "ground", "feel", "rod"):
        return True
    if any(isinstance(event, Found) and event.quantity is not None for event in events):
        return clause.says(*_SLOPES) and all(
            not isinstance(event, Found) or event.quantity == "percent" for event in events
        )
    if any(
        isinstance(event, Found) and isinstance(event.value, float) and event.value > _LARGEST_BARE for event in events
    ):
        return True
    if _is_to_come(clause) or (clause.says(*_PEOPLE) and not clause.has(*_OF_SOIL)):
        return True
    if clause.says(*_CANS) or _is_of_water(clause) or lies_ahead(clause) or _is_count_alone(clause):
        return True
    if (
        _is_of_money(clause, state)
        or clause.has("span", "habit", "since")
        or _may_be_heat(clause)
        or _is_moisture(clause, state)
    ):
        return True
    strange = any(_is_unknown(item) for item in clause.items)
    return strange and not clause.has("plot", "all", "instrument", "reads", "at", "name")


def _is_count_alone(clause: Clause) -> bool:
    """ "me costaron mucho, son 60": plants or centibars? Nobody knows."""
    return clause.says("son") and not clause.has("plot", "all", "instrument", "reads", "at", "name", "date")


def _is_of_water(clause: Clause) -> bool:
    """ "ran it 20", "started the corn at 7": a bare figure beside what was run or opened is no reading."""
    shown = clause.has("reads", "instrument", "feel") or _is_got(clause)
    return not shown and (clause.has("watered", "method", "gave") or any(item.text in _RUN for item in clause.items))


def _is_to_come(clause: Clause) -> bool:
    """ "gonna be 108 friday": what is to come was not read."""
    plan, figure = clause.first("plan"), clause.first("number")
    return plan is not None and figure is not None and plan.start < figure.start and not clause.has("reads")


def _is_got(clause: Clause) -> bool:
    """ "got a 44 off the peaches at 18": a figure that somebody got is a reading where a depth stands by it or it is "a 44"."""
    for item, link, figure in zip(clause.items, clause.items[1:], clause.items[2:], strict=False):
        if item.text in _GOT and link.kind == "one" and figure.kind == "number":
            return True
    opened = clause.items[0].text in _GOT or (len(clause.items) > 1 and clause.items[1].text in _GOT)
    return opened and clause.has("at") and not clause.has("watered", "method", "water")


_GOT = words.named("got")
_RUN = words.named("run_words")


def _is_of_money(clause: Clause, state: State) -> bool:
    """ "45!! my water bill": a figure alone in a message about money."""
    alone = all(item.kind in ("number", "mark", "chat", "date") for item in clause.items)
    return alone and not _MONEY.isdisjoint(re.findall(r"[a-z]+", fold(state.text)))


_MONEY = words.named("money")


def _is_moisture(clause: Clause, state: State) -> bool:
    """ "moisture reads 24" from somebody whose probe shows tension: of which instrument?"""
    return state.context.probe in ("tension", "resistance") and clause.says(*_MOISTURE)


_MOISTURE = words.named("moisture")


def _may_be_heat(clause: Clause) -> bool:
    """ "its 104": the day or the soil? With no plot, depth or instrument the figure may be either."""
    figures = clause.every("number")
    if len(figures) != 1 or clause.has("plot", "instrument", "at", "deep", "name") or clause.quantities():
        return False
    dates = clause.every("date")
    if dates:
        return dates[0].value.day is None and _WARM_F <= float(figures[0].value) <= _HOTTEST_F  # "105 all week"
    return clause.says(*_IT_IS) and _WARM_F <= float(figures[0].value) <= _HOTTEST_F


_IT_IS = words.named("it_is")
_WARM_F, _HOTTEST_F = 85, 130


def _is_unknown(item: Item) -> bool:
    return item.kind == "word" and len(item.text) > 1 and item.text.isalpha() and item.text not in vocabulary()
