"""What the reader works on: a message as a row of tagged items, rewritten pass after pass.

Each pass is a rule: given the row and a place, it gives one item for the next few, or None. Numbers become quantities,
quantities become rates; what no rule takes stays a plain word.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Item:
    """A run of tokens with one meaning.

    `kind` names it (`word`, `mark`, `number`, `quantity`, `date`, `plot` or a tag of the word lists), `value` is what it
    says, `text` its folded words, `start` and `end` its place in the text, `glued` whether no space stands before it.
    """

    kind: str
    value: Any
    text: str
    start: int
    end: int
    glued: bool = False

    def is_mark(self, *marks: str) -> bool:
        return self.kind == "mark" and self.text in marks


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number with its unit, in the base unit of its dimension (units.csv)."""

    dimension: str
    value: float


Row = list[Item]
Rule = Callable[[Row, int], tuple[Item, int] | None]


def joined(kind: str, value: Any, parts: Row) -> Item:
    """One item for a run of items."""
    text = " ".join(part.text for part in parts)
    return Item(kind, value, text, parts[0].start, parts[-1].end, parts[0].glued)


def rewrite(row: Row, rule: Rule) -> Row:
    """The row with every run that the rule takes replaced by its item, from left to right."""
    out: Row = []
    at = 0
    while at < len(row):
        taken = rule(row, at)
        if taken is None:
            out.append(row[at])
            at += 1
        else:
            out.append(taken[0])
            at += taken[1]
    return out


def at(row: Sequence[Item], place: int) -> Item | None:
    """The item at a place, None beyond the ends."""
    return row[place] if 0 <= place < len(row) else None


def kind_at(row: Row, place: int) -> str:
    """The kind of the item at a place, empty beyond the ends."""
    return row[place].kind if 0 <= place < len(row) else ""


def text_at(row: Row, place: int) -> str:
    """The folded words of the item at a place, empty beyond the ends."""
    return row[place].text if 0 <= place < len(row) else ""
