"""What sums up a sentence: "lawn 15 min, peaches 2 hr, both yesterday" says the day of all that stands before it."""

from __future__ import annotations

from bot.understand import words
from bot.understand.items import Item, Row, at, kind_at

_ENDS = ".!?\n"
_BOTH = words.named("both") | words.named("the_two")


def with_day_of_both(row: Row) -> Row:
    """The row with a day told of both, at the end of a sentence, at its head, where it governs all that is told."""
    start = 0
    for place, item in enumerate(row):
        if item.kind == "mark" and item.text in _ENDS:
            start = place + 1
        elif _is_both(row, place) and _follows_a_figure(row, place):
            day_at = _day_at(row, place)
            if day_at is not None and not any(one.kind == "date" for one in row[start:place]):
                return [*row[:start], row[day_at], *row[start:place], *row[day_at + 1 :]]
    return row


def _is_both(row: Row, place: int) -> bool:
    item = row[place]
    return item.kind in ("plot", "all") and (item.text in _BOTH or _stands_for_two(item, at(row, place + 1)))


def _stands_for_two(item: Item, after: Item | None) -> bool:
    """ "both" was taken apart into the two plots it means, which stand in one place of the text."""
    return after is not None and item.kind == after.kind == "plot" and item.start == after.start


def _follows_a_figure(row: Row, place: int) -> bool:
    before = place - 1
    while kind_at(row, before) in ("mark", "word") and before > place - 3:
        before -= 1
    return kind_at(row, before) in ("number", "quantity")


def _day_at(row: Row, place: int) -> int | None:
    """Where the day stands that "both" has, with the sentence at its end."""
    here = place + 1
    while kind_at(row, here) in ("plot", "word", "interrogative") and here < place + 5:
        here += 1
    after = at(row, here + 1)
    ends = after is None or (after.kind == "mark" and after.text in _ENDS)
    return here if kind_at(row, here) == "date" and ends else None
