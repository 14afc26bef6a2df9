"""What a figure is told of: "sensor 1: 33", "#2 40", "probe B 40", "tensiometer two at sixty reads 41"."""

from __future__ import annotations

from dataclasses import replace

from bot.understand.items import Item, Row, at, joined, kind_at, text_at
from bot.understand.numbers import starts_unit


def label(row: Row, place: int) -> tuple[Item, int] | None:
    """ "sensor 1: 33", "#2 40", "probe B 40", "1) 33": what a figure is told of, and no figure itself."""
    item, name = row[place], at(row, place + 1)
    if (
        item.kind == "number"
        and name is not None
        and name.is_mark(")")
        and item.value <= _MOST_LABELS
        and item.text.isdigit()
    ):
        opened = kind_at(row, place - 1) not in ("", "number") and text_at(row, place - 1) not in (",", ";", ".", "\n")
        return (
            None
            if opened or kind_at(row, place + 2) == ""
            else (joined("instrument", "any", row[place : place + 2]), 2)
        )
    if name is None or not (item.kind == "instrument" or item.is_mark("#")):
        return None
    here = place + 2 + (text_at(row, place + 2) in (":", "=", "-", "is") or kind_at(row, place + 2) == "reads")
    numbered = name.kind == "number" and name.value <= _MOST_LABELS and name.text.isdigit()
    lettered = len(name.text) == 1 and name.text.isalpha() and item.kind == "instrument"
    spoken = name.text == "one" or (name.kind == "small" and float(name.value) <= _MOST_LABELS)
    if (numbered or spoken) and item.kind == "instrument" and _at_a_depth(row, place + 2):
        return replace(
            joined("instrument", item.value, row[place : place + 2]), text=f"{item.text} {float(name.value):.0f}"
        ), 2
    valued = kind_at(row, here) in (("number", "small", "tens") if spoken else ("number",))
    if not (numbered or lettered or (spoken and here > place + 2)) or not valued or starts_unit(row, place + 2):
        return None
    value = item.value if item.kind == "instrument" else "any"
    made = joined("instrument", value, row[place : place + 2])
    return (replace(made, text=f"{item.text} {name.value}") if spoken else made), 2


def _at_a_depth(row: Row, place: int) -> bool:
    """ "at 30 cm: 58 kPa", "at thirty reads 58": where a probe sits, then what it shows."""
    if kind_at(row, place) != "at":
        return False
    here = place + 1
    while kind_at(row, here) in ("number", "small", "tens"):
        here += 1
    if here == place + 1:
        return False
    here += starts_unit(row, here)
    return text_at(row, here) in (":", "=") or kind_at(row, here) == "reads"


_MOST_LABELS = 9
