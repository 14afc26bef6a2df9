"""What a clause is about when the person has no such plot: the words used, such as "lavender" or "zone 3"."""

from __future__ import annotations

import itertools
from dataclasses import replace

from bot.understand import words
from bot.understand.clauses import Clause
from bot.understand.items import Item, at
from bot.understand.lexicon import vocabulary
from bot.understand.plots import as_written
from bot.understand.runs import is_event_amount
from bot.understand.statements import Fact, Reading, Statement, Watering

_GENERIC = words.named("generic")
_NUMBERED = words.named("numbered")


def is_name(item: Item) -> bool:
    """Whether a word can be the name of what is watered: a plant, a kind of place, or a word no list knows."""
    if item.kind == "ago" and item.text == "back":
        return True
    return item.kind in ("thing", "name") or (item.kind == "container" and item.text in words.concepts())


def named_thing(clause: Clause, text: str) -> str | None:
    """The words of the thing watered, as written, when they are not one of the person's plots."""
    best: list[Item] = []
    for place, item in enumerate(clause.items):
        if not is_name(item) or (place and is_name(clause.items[place - 1])):
            continue
        stretch = _stretch(clause, place)
        if _is_specific(stretch) and not _is_each(clause, place):
            best = stretch
            break
    if not best:
        return None
    return as_written(text[best[0].start : best[-1].end])


def _stretch(clause: Clause, place: int) -> list[Item]:
    """The run of name words round a place, with unknown words before and a figure after ("zone 3")."""
    start, end = _span(clause, place)
    return list(clause.items[start:end])


def _span(clause: Clause, place: int) -> tuple[int, int]:
    """From where to where the run of name words round a place goes."""
    start = place
    while start > 0 and _may_lead(clause.items[start - 1]):
        start -= 1
    end = place + 1
    while end < len(clause.items) and (is_name(clause.items[end]) or _joins_names(clause, end)):
        end += 1
    lies = _lies(list(clause.items[start:end]))
    end += clause.items[end - 1].text in _NUMBERED and _is_label(clause, end, lies=lies)
    return start, end


def _is_label(clause: Clause, place: int, *, lies: bool) -> bool:
    """Whether a figure or letter names the block before it: in "north block 40 at 12" it is what was read there."""
    label, after, last = (at(clause.items, place + step) for step in range(3))
    if label is None or after is None or label.kind != "number":
        lettered = label is not None and len(label.text) == 1 and label.text.isalpha()
        return label is not None and ((label.kind == "number" and not lies) or (lettered and _is_figure(after)))
    if after.kind == "at" and last is not None and last.kind == "number":
        return float(label.value) < float(last.value) and not lies
    return not lies or _is_figure(after)


def _is_figure(item: Item | None) -> bool:
    return item is not None and (
        item.kind in ("number", "reads") or (item.kind == "quantity" and item.value.dimension in _READ)
    )


def _is_specific(stretch: list[Item]) -> bool:
    """Whether words name one thing: a word of its own, or a kind of place and where it lies ("back row")."""
    return any(one.text not in _GENERIC for one in stretch) or (len(stretch) > 1 and _lies(stretch))


def _is_plant_of(block: Item, stretch: list[Item], text: str) -> bool:
    """Whether a plant is told right after the number of its block: "lote 1 almendro 62"."""
    numbered = block.kind == "plot" and len(block.text.split()) > 1 and len(block.text.split()[-1]) < _SHORTEST_WORD
    beside = not text[block.end : stretch[0].start].strip()
    return numbered and beside and all(one.kind == "name" and one.text not in _GENERIC for one in stretch)


_SHORTEST_WORD = 3


def with_plants(made: list[Statement], clause: Clause) -> list[Statement]:
    """What was made of a clause with names, after the plants told with the numbers of their blocks."""
    pairs = itertools.pairwise(clause.items)
    plants = {str(block.value): str(plant.value) for block, plant in pairs if plant.kind == "plant"}
    out: list[Statement] = []
    for one in made:
        plot = one.plot if isinstance(one, Reading | Watering) else None
        if plot in plants:
            out.append(Fact(about="plant", value=plants.pop(plot), plot=plot))
        out.append(one)
    return out


def _lies(stretch: list[Item]) -> bool:
    return any(one.text in _POSITIONS for one in stretch)


_POSITIONS = words.named("positions")


def _may_lead(item: Item) -> bool:
    unknown = item.text not in vocabulary() and item.text.isalpha()
    return item.kind == "ordinal" or (item.kind == "word" and (unknown or item.text in _POSITIONS))


def _joins_names(clause: Clause, place: int) -> bool:
    after = at(clause.items, place + 1)
    if clause.items[place].text in _POSITIONS:
        return clause.items[place - 1].text in _OF
    return clause.items[place].text in _OF and after is not None and (is_name(after) or after.text in _POSITIONS)


_OF = ("de", "of", "del")


def _is_each(clause: Clause, place: int) -> bool:
    before = at(clause.items, place - 1)
    return before is not None and before.kind in ("each", "per")


def with_names(clause: Clause, text: str) -> Clause:
    """The clause with the things watered that are no plots of the person as plot items, named by the words used.

    Beside a plot of the person, a further name counts only when it is listed with it ("peaches and roses").
    """
    known = clause.has("plot", "all")
    items = clause.items
    out: list[Item] = []
    place = taken = 0
    while place < len(items):
        named = is_name(items[place]) or _is_unknown_subject(clause, place)
        start, end = _span(clause, place) if named and not _is_each(clause, place) else (place, place)
        start = max(start, taken)
        stretch, before = list(items[start:end]), out[: len(out) - (place - start)] if start < place else out
        one_thing = bool(stretch) and (_is_specific(stretch) or _is_beside_another(stretch, before, clause))
        if (
            one_thing
            and not _is_side_of(before, stretch)
            and (not known or _is_listed(before) or _heads_figure(stretch, before, at(items, end)))
        ):
            words = as_written(text[stretch[0].start : stretch[-1].end])
            kind = "plant" if before and _is_plant_of(before[-1], stretch, text) else "plot"
            out = before
            out.append(Item(kind, words, words.casefold(), stretch[0].start, stretch[-1].end))
            place = taken = end
        else:
            out.append(items[place])
            place += 1
    return replace(clause, items=tuple(out))


def _is_side_of(before: list[Item], stretch: list[Item]) -> bool:
    """ "pears north end 45": a side of the plot just named, and no plot of its own."""
    part = all(one.text in _POSITIONS or one.text in _NUMBERED or one.kind == "number" for one in stretch)
    return part and bool(before) and before[-1].kind == "plot"


def _heads_figure(stretch: list[Item], before: list[Item], after: Item | None) -> bool:
    """ "peaches 45, tomatoes 32" of somebody who has peaches: another plant with a figure of its own, after one of the first."""
    told = any(_is_figure(item) or is_event_amount(item) for item in before if item.kind != "reads")
    plant = all(one.kind == "name" for one in stretch) and bool(before) and before[-1].text not in _ONTO
    return told and plant and after is not None and (_is_figure(after) or is_event_amount(after))


_ONTO = words.named("onto") | frozenset(_OF)


def _is_beside_another(stretch: list[Item], before: list[Item], clause: Clause) -> bool:
    """ "front 30 back 55", "tabla de arriba 40 y la de abajo 60": one place of two, where a depth is not meant as well."""
    if not _lies(stretch):
        return False
    placed = any(item.kind == "plot" and set(item.text.split()) & _POSITIONS for item in before)
    several = sum(is_name(item) and item.text in _POSITIONS for item in clause.items) > 1
    return placed or (several and not any(item.text in _LAYERS for item in stretch))


_LAYERS = words.named("layers")


def _is_unknown_subject(clause: Clause, place: int) -> bool:
    """ "el membrillo esta en 50": a word that no list knows, after an article and before what is told of it."""
    item, before, after = clause.items[place], at(clause.items, place - 1), at(clause.items, place + 1)
    if before is None or after is None or before.text not in _ARTICLES:
        return False
    if item.text in _PEOPLE or item.text in _NOT_SOIL or len(item.text) < _SHORTEST or not _may_lead(item):
        return False
    told = after.kind in ("reads", "feel", "interrogative") or (
        after.kind == "quantity" and after.value.dimension in _READ
    )
    return told and not any(part in item.text for part in ("meter", "metro", "sensor", "sond", "medid"))


_ARTICLES = words.named("between")
_SHORTEST = 4
_NOT_SOIL = words.named("not_soil")
_PEOPLE = words.named("people")
_READ = ("tension", "resistance", "percent", "dial")


def _is_listed(before: list[Item]) -> bool:
    """Whether a name follows a plot with nothing but "and", a comma or an article between."""
    place = len(before) - 1
    while place >= 0 and before[place].text in _BETWEEN:
        place -= 1
    return place >= 0 and before[place].kind == "plot"


_BETWEEN = words.named("between")
