"""A town told with its state in the middle of anything else: "12 tomatoes in a bed in some town OK"."""

from __future__ import annotations

from functools import cache

from bot.understand import words
from bot.understand.items import Item, Row, at, joined, rewrite, text_at
from bot.understand.lexicon import vocabulary
from bot.understand.plots import as_written

_LONGEST_NAME = 3
_LEADS = words.named("leads_to_town")


def with_towns(row: Row, text: str) -> Row:
    """The row with each town and its state, after a word such as "near", as one item of kind `town`."""

    def town(row: Row, place: int) -> tuple[Item, int] | None:
        end = _end_of_town(row, place, text) if text_at(row, place - 1) in _LEADS else None
        if end is None:
            return None
        stretch = row[place:end]
        return joined("town", as_written(text[stretch[0].start : stretch[-1].end]), stretch), end - place

    return rewrite(row, town)


def _end_of_town(row: Row, place: int, text: str) -> int | None:
    """Where a town and its state that begin at a place end; None when none does."""
    for after in range(place + 1, place + 1 + _LONGEST_NAME):
        if any(item.kind == "mark" for item in row[place:after]) or after > len(row):
            return None
        comma = text_at(row, after) == ","
        end = _end_of_state(row, after + comma, text, surely=comma)
        if end is not None and _is_name_of_town(row[place:after], text):
            return end
    return None


def _is_name_of_town(stretch: Row, text: str) -> bool:
    """Whether words are a name: each with a capital, or of no list."""
    capital = all(text[item.start : item.start + 1].isupper() for item in stretch)
    return capital or all(item.text not in vocabulary() and item.text.isalpha() for item in stretch)


def _end_of_state(row: Row, place: int, text: str, *, surely: bool) -> int | None:
    """Where the state at a place ends: its whole name, or its two letters in capitals or as the last word of a sentence."""
    for length in (2, 1):
        named = row[place : place + length]
        if len(named) == length and " ".join(item.text for item in named) in _states():
            return place + length
    item = at(row, place)
    if item is None or item.text not in _codes():
        return None
    written = text[item.start : item.end]
    after = at(row, place + 1)
    return place + 1 if written.isupper() or surely or after is None or after.kind == "mark" else None


@cache
def _states() -> frozenset[str]:
    return words.named("states")


@cache
def _codes() -> frozenset[str]:
    return words.named("state_codes")
