"""A tagged row cut into clauses, each of which says one thing.

Sentences end at full stops and line ends; within them commas and "and" part stretches. A stretch that says nothing by itself
(a day, a depth, a plot, a bare figure) goes with the clause before it, or with the one after when it comes first.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from bot.understand import words
from bot.understand.items import Item, Row, at, kind_at
from bot.understand.joining import (
    completes,
    is_its_depth,
    is_its_gauge,
    is_its_push,
    joins,
    more_readings,
    same_event,
)
from bot.understand.lexicon import unit_forms
from bot.understand.subjects import is_amount, is_length, is_measured, strength
from bot.understand.turns import cut_at_turns

_ENDS = frozenset(".!?\n¿¡")
_PARTS = frozenset(",;()|•*")
_LINKS = words.named("links")
_SHORTENED = words.named("shortened")
_GOES_ON = words.named("onto") | words.named("quantities_articles") | words.named("goes_on")

_LONGEST_SHORT = 6
_LONGEST = 150


@dataclass(frozen=True, slots=True)
class Clause:
    """Items that say one thing. `asks`: a question. `sentence` counts the sentences of the message."""

    items: tuple[Item, ...]
    asks: bool = False
    sentence: int = 0

    @property
    def start(self) -> int:
        return self.items[0].start

    @property
    def end(self) -> int:
        return self.items[-1].end

    def has(self, *kinds: str) -> bool:
        return any(item.kind in kinds for item in self.items)

    def every(self, *kinds: str) -> list[Item]:
        return [item for item in self.items if item.kind in kinds]

    def first(self, *kinds: str) -> Item | None:
        return next((item for item in self.items if item.kind in kinds), None)

    def quantities(self, *dimensions: str) -> list[Item]:
        """The quantities of some dimensions, of any when none is named."""
        return [
            item
            for item in self.items
            if item.kind == "quantity" and (not dimensions or item.value.dimension in dimensions)
        ]

    def says(self, *texts: str) -> bool:
        return any(item.text in texts for item in self.items)

    def texts(self) -> list[str]:
        """The words in order, with `#plot`, `#q` (quantity), `#n` (number), `#date` in place of such items."""
        return [text for text, _, _ in self.spelled()]

    def spelled(self) -> list[tuple[str, int, int]]:
        """As `texts`, each with its place in the message."""
        found: list[tuple[str, int, int]] = []
        for item in self.items:
            short = _SHORT.get(item.kind)
            if short:
                found.append((short, item.start, item.end))
            elif item.kind == "mark":
                if item.text == ":":
                    found.append((item.text, item.start, item.end))
            else:
                found += [(word, item.start, item.end) for word in item.text.split() if word not in (".", ",")]
        return found


_SHORT = {"plot": "#plot", "quantity": "#q", "number": "#n", "slash": "#n"}


def softened(row: Row, text: str) -> Row:
    """Full stops after a shortened word, with a small letter or a figure after, are no ends of sentences."""
    out: Row = []
    for place, item in enumerate(row):
        before, after = at(row, place - 1), at(row, place + 1)
        shortened = item.is_mark(".") and item.glued and before is not None and _is_shortened(before.text)
        if shortened and after is not None and not text[after.start].isupper() and not after.is_mark("\n"):
            if after.kind == "mark" or after.text in _GOES_ON:
                continue
            item = replace(item, text=",")
        out.append(item)
    return out


_FULL_UNITS = words.named("full_units")


def _is_shortened(word: str) -> bool:
    return word in _SHORTENED or (len(word) < _LONGEST_SHORT and word in unit_forms() and word not in _FULL_UNITS)


def clauses(row: Row) -> list[Clause]:
    """The clauses of a tagged row, in order."""
    found: list[Clause] = []
    for number, (sentence, asks) in enumerate(_sentences(row)):
        pieces = [piece for stretch in _stretches(sentence) for piece in cut_at_turns(stretch)]
        made = _merged(pieces, number)
        if made and asks:
            made = _asking(made)
        asking = found and (found[-1].asks or (made and made[0].asks))
        if found and len(made) == 1 and not asking and completes(list(found[-1].items), list(made[0].items)):
            found[-1] = replace(found[-1], items=(*found[-1].items, *made[0].items))
        else:
            found += made
    return found


def _sentences(row: Row) -> list[tuple[Row, bool]]:
    found: list[tuple[Row, bool]] = []
    current: Row = []
    opened = False
    for item in row:
        if item.kind == "mark" and item.text in _ENDS:
            if item.is_mark("¿"):
                if current:
                    found.append((current, False))
                    current = []
                opened = True
                continue
            if current:
                found.append((current, item.is_mark("?") or opened))
                current, opened = [], False
        else:
            current.append(item)
    if current:
        found.append((current, opened))
    return found


def _stretches(sentence: Row) -> list[Row]:
    """The stretches between marks and links; a link stays at the head of its stretch."""
    found: list[Row] = []
    current: Row = []
    for place, item in enumerate(sentence):
        if _parts(sentence, place, item) or len(current) >= _LONGEST:
            if any(not _is_link(one) for one in current):
                found.append(current)
            current = [item]
        else:
            current.append(item)
    if any(not _is_link(one) for one in current):
        found.append(current)
    return found


def _is_link(item: Item) -> bool:
    return item.kind == "mark" or (item.kind == "word" and item.text in _LINKS)


def _parts(sentence: Row, place: int, item: Item) -> bool:
    if item.kind == "mark":
        if item.text == "-":
            return not item.glued or kind_at(sentence, place + 1) in ("watered", "plot")
        return item.text in _PARTS
    return item.kind in ("coordinates", "postal") or (
        item.kind == "word" and item.text in _LINKS and not _is_listing(sentence, place)
    )


def _is_listing(sentence: Row, place: int) -> bool:
    """The link in "19 percent and 24 percent", "6 and 12 inches"."""
    before, after = at(sentence, place - 1), at(sentence, place + 1)
    if before is not None and after is not None and before.kind == after.kind == "soil":
        return True
    if before is None or after is None or before.kind != "quantity" or after.kind != "quantity":
        return False
    if any(kind_at(sentence, place + step) == "rain" for step in (2, 3)):
        return False  # "31 kpa at 20 cm and 5 mm of rain"
    return bool(before.value.dimension == after.value.dimension and (is_length(after) or is_measured(after)))


def _merged(pieces: list[Row], sentence: int) -> list[Clause]:
    made: list[Row] = []
    waiting: Row = []
    for piece in pieces:
        standing = strength(piece)
        if standing == "strong" and made and _goes_on(made[-1], piece):
            made[-1].extend(piece)
        elif standing == "weak" and (made or waiting) and joins(made[-1] if made else waiting, piece):
            (made[-1] if made else waiting).extend(piece)
        elif len(waiting) > _LONGEST:
            made.append([*waiting, *piece])
            waiting = []
        elif standing == "weak" and not made and not _has_own(piece):
            waiting.extend(piece if waiting else _unlinked(piece))
        elif standing == "empty" and made and not _is_chat(piece) and not _is_want(piece):
            made[-1].extend(piece)
        elif standing == "empty" and not made and waiting:
            waiting.extend(piece)
        else:
            if waiting and any(is_told(waiting, piece) for is_told in (_tells_soil, _tells_days, _is_well)):
                made.append(waiting)
                waiting = []
            made.append([*waiting, *(piece if waiting else _unlinked(piece))])
            waiting = []
    if waiting:
        made.append(waiting)
    return [Clause(tuple(row), sentence=sentence) for row in made]


def _unlinked(piece: Row) -> Row:
    while len(piece) > 1 and _is_link(piece[0]) and piece[0].text not in _BECAUSE:
        piece = piece[1:]
    return piece


_BECAUSE = words.named("because")


def _tells_soil(waiting: Row, piece: Row) -> bool:
    """ "I have peaches in the lower plot and the soil is loam": what grows there is told before the soil."""
    before, told = {item.kind for item in waiting}, {item.kind for item in piece}
    return {"ground", "soil"} <= told and {"name", "plot"} <= before


def _tells_days(waiting: Row, piece: Row) -> bool:
    """ "we're only allowed Wed and Sat, so lawn got 30 min Wed": the days allowed, then what was done."""
    allowed = any(word in _ALLOWED for item in waiting for word in item.text.split())
    dated = any(item.kind == "date" for item in waiting)
    return allowed and dated and any(item.kind in ("watered", "gave") for item in piece)


_ALLOWED = words.named("allowed")


def _is_well(waiting: Row, piece: Row) -> bool:
    """ "oranges look fine but the lemons got water": of the first nothing more is told."""
    named = all(any(item.kind in ("plot", "name") for item in row) for row in (waiting, piece))
    well = waiting[-1].kind == "chat" or waiting[-1].text in _FINE
    return named and well and not any(item.kind in ("number", "quantity", "date") for item in waiting)


_FINE = words.named("fine")


def _goes_on(before: Row, piece: Row) -> bool:
    if len(before) > _LONGEST:
        return False
    return any(
        goes_on(before, piece) for goes_on in (same_event, is_its_depth, is_its_push, more_readings, is_its_gauge)
    )


def _is_want(piece: Row) -> bool:
    """A single word that asks by itself: ", forecast?"."""
    told = [item for item in piece if not _is_link(item)]
    return len(told) == 1 and told[0].text in _WANTS


_WANTS = words.named("wants_alone")


def _is_chat(piece: Row) -> bool:
    return any(item.kind == "chat" for item in piece)


def _has_own(piece: Row) -> bool:
    """Whether a weak stretch can stand alone: it has a figure or an amount."""
    return any(item.kind in ("number", "slash") or is_amount(item) for item in piece)


def _asking(made: list[Clause]) -> list[Clause]:
    """The question mark belongs to the last clause that could ask."""
    last = made[-1]
    return [*made[:-1], replace(last, asks=True)]
