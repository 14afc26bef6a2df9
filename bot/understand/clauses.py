"""A tagged row cut into clauses, each of which says one thing.

Sentences end at full stops and line ends; within them commas and "and" part stretches. A stretch that says nothing by itself
(a day, a depth, a plot, a bare figure) goes with the clause before it, or with the one after when it comes first.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from bot.understand import words
from bot.understand.items import Item, Row, at, kind_at
from bot.understand.lexicon import unit_forms

_ENDS = frozenset(".!?\n¿¡")
_PARTS = frozenset(",;()|•*")
_LINKS = words.named("links")
_SHORTENED = words.named("shortened")

STRONG = frozenset(
    {"watered", "gave", "rain", "feel", "sign", "soil", "soilword", "method", "instrument", "rod", "root", "trunk"}
    | {"container", "emitter", "ask", "planted", "correct", "pest", "water", "stress", "stage", "plan", "neg", "span"}
)
_VALUES = frozenset({"tension", "resistance", "percent", "dial", "flow", "rate", "area", "daily", "habit"})
_WEAK = frozenset(
    {
        "number",
        "slash",
        "quantity",
        "date",
        "plot",
        "all",
        "at",
        "deep",
        "each",
        "thing",
        "name",
        "unit",
        "part",
        "both",
    }
    | {"reads", "clock", "ordinal", "ground", "dunno"}
)
_NEEDS_HEAD = words.named("needs_head")
_BEFORE_SUBJECT = words.named("before_subject")
_LONGEST_SHORT = 6
_LONGEST = 150
_AMOUNTS = ("duration", "volume")


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
            if after.kind == "mark":
                continue
            item = replace(item, text=",")
        out.append(item)
    return out


def _is_shortened(word: str) -> bool:
    return word in _SHORTENED or (len(word) < _LONGEST_SHORT and word in unit_forms())


def clauses(row: Row) -> list[Clause]:
    """The clauses of a tagged row, in order."""
    found: list[Clause] = []
    for number, (sentence, asks) in enumerate(_sentences(row)):
        pieces = [piece for stretch in _stretches(sentence) for piece in _cut_at_heads(stretch)]
        made = _merged(pieces, number)
        if made and asks:
            made = _asking(made)
        if found and len(made) == 1 and _completes(found[-1], made[0]):
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
    return item.kind == "word" and item.text in _LINKS


def group(items: Row | tuple[Item, ...]) -> str:
    """What a stretch is about: `request`, `rain`, `watering`, `reading`, `fact`, `sign`, or nothing."""
    kinds = {item.kind for item in items}
    dimensions = {item.value.dimension for item in items if item.kind == "quantity"}
    if "ask" in kinds:
        return "request"
    if "rain" in kinds:
        return "rain"
    if kinds & {"watered"} or (kinds & {"gave"} and not dimensions & _VALUES):
        return "watering"
    if dimensions & {"tension", "resistance", "percent", "dial"} or kinds & {"feel", "rod"}:
        return "reading"
    if kinds & {"soil", "root", "trunk", "container", "emitter", "planted", "stress", "stage"} or dimensions & _VALUES:
        return "fact"
    if kinds & {"instrument"}:
        return "reading"
    if "sign" in kinds:
        return "sign"
    if "water" in kinds:
        return "watering"
    if dimensions & set(_AMOUNTS):
        return "watering"
    if kinds & {"number", "slash"}:
        return "reading"
    return ""


def _cut_at_heads(stretch: Row) -> list[Row]:
    """A stretch without marks cut where it turns to another subject: "45 cb 12in yest 2hr"."""
    cuts = [0]
    for place in range(1, len(stretch)):
        if _turns(stretch[cuts[-1] : place], stretch, place):
            cut = place
            dated = any(item.kind == "date" for item in stretch[place:])
            lowest = cuts[-1] + (cuts[-1] > 0)
            while cut > lowest and _leads_over(stretch, cut - 1) and not (dated and stretch[cut - 1].kind == "date"):
                cut -= 1
            if cut > cuts[-1]:
                cuts.append(cut)
    return [stretch[start:end] for start, end in zip(cuts, [*cuts[1:], len(stretch)], strict=True) if end > start]


def _lists_catches(items: Row) -> bool:
    """Whether a stretch lists the catches of a can test, which belong together with their minutes."""
    return sum(item.kind == "slash" for item in items) >= 2 or any(item.text in _CANS for item in items)


_CANS = words.named("cans")


def _turns(before: Row, stretch: Row, place: int) -> bool:
    item = stretch[place]
    if item.kind == "both":
        return True
    if _lists_catches(before):
        return False
    about = group(before)
    full = any(one.kind in ("number", "quantity", "feel", "slash") for one in before)
    if item.kind == "ask":
        turned = bool(about) and about != "request" and (full or about in ("rain", "watering", "sign"))
        plain = item.text in ("how", "should", "why") and len(before) > 2 and about in ("", "sign")
        return (turned and item.text not in _NEEDS_HEAD) or plain
    if about == "reading" and full:
        if item.kind == "rain":
            if any(one.text in ("chance", "probabilidad") for one in before):
                return False
            return any(one.kind in ("plot", "instrument", "reads", "feel", "at") for one in before) or bool(
                {one.value.dimension for one in before if one.kind == "quantity"} & _VALUES
            )
        return item.kind == "watered" or (item.kind == "gave" and _amount_follows(stretch, place)) or _is_amount(item)
    if about == "watering" and any(_is_amount(one) or one.kind == "watered" for one in before):
        value = item.kind == "quantity" and item.value.dimension in ("tension", "resistance", "percent", "dial")
        return value or item.kind == "rain"
    if about == "rain":
        return item.kind == "watered"
    return False


def _is_amount(item: Item) -> bool:
    return item.kind == "quantity" and item.value.dimension in _AMOUNTS


def _amount_follows(stretch: Row, place: int) -> bool:
    return any(_is_amount(item) for item in stretch[place:])


def _leads_over(stretch: Row, place: int) -> bool:
    """Whether an item before a new subject belongs to it: its day, its plot when the first subject has one."""
    item = stretch[place]
    if item.kind in ("date", "slash", "gave", "method") or item.text in _BEFORE_SUBJECT:
        return True
    return item.kind == "plot" and any(one.kind == "plot" for one in stretch[:place])


def _strength(piece: Row) -> str:
    for item in piece:
        if item.kind in STRONG or (item.kind == "quantity" and item.value.dimension in _VALUES):
            return "strong"
    return "weak" if any(item.kind in _WEAK for item in piece) else "empty"


def _merged(pieces: list[Row], sentence: int) -> list[Clause]:
    made: list[Row] = []
    waiting: Row = []
    for piece in pieces:
        strength = _strength(piece)
        if strength == "weak" and (made or waiting) and _joins(made[-1] if made else waiting, piece):
            (made[-1] if made else waiting).extend(piece)
        elif strength == "weak" and not made and not _has_own(piece):
            waiting.extend(piece if waiting else _unlinked(piece))
        elif strength == "empty" and made and not _is_chat(piece):
            made[-1].extend(piece)
        elif strength == "empty" and not made and waiting:
            waiting.extend(piece)
        else:
            made.append([*waiting, *(piece if waiting else _unlinked(piece))])
            waiting = []
    if waiting:
        made.append(waiting)
    return [Clause(tuple(row), sentence=sentence) for row in made]


def _unlinked(piece: Row) -> Row:
    while len(piece) > 1 and _is_link(piece[0]):
        piece = piece[1:]
    return piece


def _is_chat(piece: Row) -> bool:
    return any(item.kind == "chat" for item in piece)


def _has_own(piece: Row) -> bool:
    """Whether a weak stretch can stand alone: it has a figure or an amount."""
    return any(item.kind in ("number", "slash") or _is_amount(item) for item in piece)


def _joins(before: Row, piece: Row) -> bool:
    """Whether a weak stretch goes with the clause before it."""
    about = group(before)
    if any(item.text in ("but", "pero") for item in piece[:2]) and any(item.kind == "neg" for item in before):
        return False
    if len(before) > _LONGEST or any(item.kind == "both" for item in piece):
        return False
    if _lists_catches(before) and not any(item.kind == "plot" for item in piece):
        return True
    if any(_is_amount(item) for item in piece):
        return about in ("watering", "fact", "rain")
    if any(item.kind in ("number", "slash") for item in piece):
        if about == "watering":
            return not any(item.kind in ("at", "plot") for item in piece) and not any(
                _is_amount(item) for item in before
            )
        if about == "rain":
            return not any(item.kind in ("at", "plot") for item in piece)
        return about in ("reading", "fact")
    return True


def _completes(before: Clause, after: Clause) -> bool:
    """Whether a whole weak sentence only adds an amount or a depth to the one before."""
    if _strength(list(after.items)) != "weak" or after.has("plot", "number", "date", "slash"):
        return False
    about = group(before.items)
    if after.quantities(*_AMOUNTS):
        return (
            about == "watering"
            and before.has("watered", "gave")
            and not before.quantities("duration", "volume", "length")
        )
    if after.quantities("length"):
        return about == "reading" and not before.quantities("length") and not before.has("at") and not after.has("both")
    return False


def _asking(made: list[Clause]) -> list[Clause]:
    """The question mark belongs to the last clause that could ask."""
    last = made[-1]
    return [*made[:-1], replace(last, asks=True)]
