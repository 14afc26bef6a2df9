"""Which plots are meant by "both", "the other one" and "everything but the peaches"."""

from __future__ import annotations

from dataclasses import replace

from bot.understand import words
from bot.understand.items import Row, kind_at, text_at

_BOTH = words.named("both")
_EXCEPT = words.named("except")
_BETWEEN = words.named("between")


def both_named(row: Row) -> Row:
    """ "both" after two plots means these two."""
    named = list(dict.fromkeys(item.value for item in row if item.kind == "plot"))
    if len(named) != 2:
        return row
    out: Row = []
    told: set[object] = set()
    for item in row:
        if item.kind == "plot":
            told.add(item.value)
        if item.kind == "all" and item.text in _BOTH and len(told) == 2 and _follows_them(out):
            out.append(replace(item, kind="word"))
        elif item.kind == "all" and item.text in _BOTH and len(told) == 2 and kind_at(out, len(out) - 1) != "plot":
            out += [replace(item, kind="plot", value=name, text=name.casefold()) for name in named]
        else:
            out.append(item)
    return out


def _follows_them(out: Row) -> bool:
    """ "beans and corn are both 22": the plots stand right before, and are named once."""
    return kind_at(out, len(out) - 1) in ("interrogative", "reads") and kind_at(out, len(out) - 2) == "plot"


def other_named(row: Row, plots: tuple[str, ...]) -> Row:
    """ "the other one" of somebody with two plots is the one that was not just named."""
    if len(plots) != 2:
        return row
    out: Row = []
    last: str | None = None
    for place, item in enumerate(row):
        if item.kind == "plot":
            both = place > 0 and kind_at(row, place - 1) == "plot" and row[place - 1].start == item.start
            last = None if both else str(item.value)
        if last in plots and _is_other(row, place):
            item = replace(item, kind="plot", value=next(name for name in plots if name != last))
        out.append(item)
    return out


def _is_other(row: Row, place: int) -> bool:
    if row[place].text not in _OTHER or text_at(row, place - 1) not in _THE:
        return False
    named = [item.kind for item in row[place + 1 : place + 5]]
    told = kind_at(row, place + 1) in _AFTER_OTHER or text_at(row, place + 1) in _OBJECTS
    return told and named[1:3] != ["mark", "word"] and "plot" not in named[:3]


_OBJECTS = ("se", "lo", "la", "le", "les", "los", "las")
_OTHER = ("other", "otro", "otra", "other one")
_THE = ("the", "el", "la", "al", "del")
_AFTER_OTHER = (
    "",
    "one",
    "reads",
    "interrogative",
    "watered",
    "gave",
    "neg",
    "at",
    "small",
    "tens",
    "number",
    "mark",
    "feel",
    "sign",
)


def _exception(row: Row, place: int) -> int | None:
    """Where what is left out of "everything" is told: at once, or after the amount ("everything 15 minutes except ...")."""
    if text_at(row, place + 1) in _EXCEPT:
        return place + 1
    near = range(place + 2, min(place + _FARTHEST, len(row)))
    return next((here for here in near if text_at(row, here) in _EXCEPT_ALONE), None)


_FARTHEST = 7
_EXCEPT_ALONE = _EXCEPT - {"but", "menos", "besides", "apart"}


def without_excepted(row: Row, plots: tuple[str, ...]) -> Row:
    """ "everything but the peaches": the person's other plots, or doubt when there are none to name."""
    for place, item in enumerate(row):
        except_at = _exception(row, place) if item.kind == "all" else None
        if except_at is None:
            continue
        end = except_at + 1
        while kind_at(row, end) == "plot" or text_at(row, end) in _BETWEEN:
            end += 1
        excepted = {one.value for one in row[except_at:end] if one.kind == "plot"}
        others = [name for name in plots if name not in excepted] if excepted else []
        named = [replace(item, kind="plot", value=name, text=name.casefold()) for name in others]
        return [*row[:place], *(named or [replace(item, kind="doubt")]), *row[place + 1 : except_at], *row[end:]]
    return row
