"""What a telephone wrote down by ear: marks by their names, numbers as words that sound like them ("to hours", "thirty ate")."""

from __future__ import annotations

from dataclasses import replace

from bot.understand import words
from bot.understand.items import Item, Row, at, kind_at, text_at
from bot.understand.lexicon import matching, number_words, unit_forms

_HEARD = {"to": "2", "too": "2", "for": "4", "fore": "4", "ate": "8", "won": "1"}
_SMALL_WORDS = ("to", "for")  # everyday words, so that only a sure place makes numbers of them
_CHANGING = ("switch", "change", "convert", "go", "back", "changed", "switched")  # "switch to gallons"
_SPOKEN = ("small", "tens", "number")


def with_spoken_marks(row: Row) -> Row:
    """The row with the names of marks as marks: "peaches 45 period no rain". A text that has marks names none."""
    if any(item.is_mark(*".,?!;") for item in row):
        return row
    out: Row = []
    place = 0
    while place < len(row):
        size = next((size for size in (3, 2, 1) if _names_mark(row, place, size)), 0)
        if size:
            parts = row[place : place + size]
            mark = words.spoken_marks()[tuple(part.text for part in parts)]
            out.append(Item("mark", None, mark, parts[0].start, parts[-1].end))
        else:
            out.append(row[place])
        place += size or 1
    return out


def _names_mark(row: Row, place: int, size: int) -> bool:
    """Whether so many words name a mark; "punto" and "coma" between numbers are of a number, "cuarenta punto cinco"."""
    said = tuple(item.text for item in row[place : place + size])
    if len(said) < size or said not in words.spoken_marks():
        return False
    return said not in (("punto",), ("coma",)) or not (row and _is_number_word(at(row, place + 1)))


def _is_number_word(item: Item | None) -> bool:
    return item is not None and (item.kind == "number" or item.text in number_words())


def heard(row: Row, place: int) -> tuple[Item, int] | None:
    """The number that a word which sounds like one stands for."""
    item = row[place]
    if item.text not in _HEARD or not _stands_for_number(row, place):
        return None
    return replace(item, kind="small", value=_HEARD[item.text]), 1


def _stands_for_number(row: Row, place: int) -> bool:
    text, before = row[place].text, kind_at(row, place - 1)
    if _counts_units(row, place + 1) and before not in _SPOKEN:
        return text_at(row, place - 1) == "for" if text == "for" else text_at(row, place - 1) not in _CHANGING
    if before == "tens":
        return text not in _SMALL_WORDS or _ends(row, place + 1)
    return before == "reads" and text != "for" and _ends(row, place + 1)


def _counts_units(row: Row, place: int) -> bool:
    """Whether so many hours or gallons may be told here."""
    unit = matching(unit_forms(), row, place) if at(row, place) else None
    return unit is not None and unit.value.startswith(("duration", "volume")) and len(unit.words[0]) > 2


def _ends(row: Row, place: int) -> bool:
    """Whether what is told of a value ends here."""
    return kind_at(row, place) in ("", "mark", "at") or text_at(row, place) in ("and", "on", "in", "centibars")
