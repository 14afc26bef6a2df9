"""A slip set right: what a correction takes back, and the new statement with what it leaves unsaid taken from there."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import fields, replace
from datetime import date
from typing import Any

from bot import understand
from bot.store import Kept, StoredFact, StoredObservation
from bot.talk.setup import plain
from bot.talk.told import BESIDE
from bot.understand.statements import Context, Fact, Rain, Reading, Sign, Statement, Watering
from rules.units import LITRES_PER_GALLON, MM_PER_INCH

# Depths that people give for the same probe differ by less.
_SAME_DEPTH_CM = 1.0
# After a watering told in whole hours, a number up to this is hours too.
_MOST_HOURS = 12
_NO = re.compile(r"^(?:(?:no|nope|sorry|oops|wait|actually|perdon|digo)\b ?)+")


def taken_back(corrected: Statement | None, last: Kept, history: Sequence[StoredObservation], said: str) -> Kept:
    """What a correction takes back.

    Args:
        corrected: the statement as it should be; None for an UNDO alone, which takes back the `last` thing told.
        history: everything reported, in the order kept.
        said: the message; of several reports alike, the one whose depth or figure it names is meant.

    Returns:
        Of the last thing told what is of the corrected statement's kind; else the last report of that kind; else nothing.
    """
    if corrected is None:
        return last
    if isinstance(corrected, Fact):
        told_so = any(isinstance(each, StoredFact) and each.about == corrected.about for each in last.items)
        facts = [
            each for each in last.items if isinstance(each, StoredFact) and each.about in (corrected.about, *BESIDE)
        ]
        return replace(last, items=tuple(facts) if told_so else ())
    reports = [each for each in last.items if isinstance(each, StoredObservation)]
    alike = [each for each in reports if each.kind == corrected.kind]
    if reports and not alike and _number_alone(corrected):
        return last
    earlier = [each for each in history if each.kind == corrected.kind and each.retracted_by is None]
    named = [each for each in earlier if each.on == earlier[-1].on and _names(said, each, corrected)]
    meant = named[-1:] or alike or [each for each in earlier if each.message == earlier[-1].message]
    if meant == reports:
        return last
    return Kept(message=meant[0].message if meant else last.message, items=tuple(meant))


def _names(said: str, report: StoredObservation, corrected: Statement) -> bool:
    """Whether a correction names this report among others: by its depth, or by the wrong figure."""
    depth_cm, value = getattr(corrected, "depth_cm", None), report.slots.get("value")
    if depth_cm is not None and report.slots.get("depth_cm") is not None:
        return abs(float(report.slots["depth_cm"]) - float(depth_cm)) < _SAME_DEPTH_CM
    wrong = isinstance(value, int | float) and value != getattr(corrected, "value", None)
    return wrong and f" {value:g} " in f" {plain(said)} "


def as_before(
    statement: Statement, undone: list[Statement] | None, *, us: bool, dated: bool, edited: bool = False
) -> Any:
    """A corrected statement, with what it does not repeat taken from the one that was taken back.

    Args:
        us: a number without a unit is inches or gallons, not mm or litres.
        dated: the correction names a day; one that names none is of the day that was told before.
        edited: the words of a message were changed: the new ones say it all, but for a bare number.
    """
    bare = isinstance(statement, Reading) and statement.quantity == "bare"
    if edited and not bare:
        return statement
    for old in undone or ():
        if isinstance(old, Watering) and _number_alone(statement):
            return _another_amount(old, float(statement.value), us)  # type: ignore[attr-defined]
        if bare and isinstance(old, Reading):
            statement = replace(statement, quantity=old.quantity)  # type: ignore[call-arg]
        if type(old) is type(statement):
            gaps = {
                each.name: getattr(old, each.name)
                for each in fields(old)
                if each.name in ("depth_cm", "plot", "soil_temp_c") and getattr(statement, each.name) is None
            }
            return replace(statement, **gaps, **({} if dated else {"on": old.on}))  # type: ignore[attr-defined]
    return statement


def moved(undone: Iterable[Statement], plot: str | None, on: date | None) -> list[Reading | Watering | Rain | Sign]:
    """What was taken back, told anew of another plot or day; nothing where a correction names neither."""
    told: list[Reading | Watering | Rain | Sign] = []
    for old in undone:
        if plot is not None and isinstance(old, Reading | Watering | Sign):
            told.append(replace(old, plot=plot, on=on or old.on))
        elif on is not None and isinstance(old, Reading | Watering | Sign | Rain):
            told.append(replace(old, on=on))
    return told


def day_named(said: str, context: Context) -> date | None:
    """The day that a correction names, as in "no, that was yesterday"; None when it names none."""
    read = understand.read(f"watered {_NO.sub('', said)}", context).statements
    on = next((each.on for each in read if isinstance(each, Watering)), None)
    return on if on != context.now.date() or {"today", "hoy", "now", "ahora", "ahorita"} & set(said.split()) else None


def names_a_day(text: str, context: Context) -> bool:
    """Whether a correction names the day that it is about."""
    return day_named(plain(text), context) is not None


def _number_alone(statement: Statement) -> bool:
    return isinstance(statement, Reading) and statement.quantity != "feel" and statement.depth_cm is None


def _another_amount(old: Watering, amount: float, us: bool) -> Watering:
    """A watering with another number in the place of its own; hours stay hours, and a number alone for no number is minutes."""
    if old.minutes is None and old.depth_mm is not None:
        return replace(old, depth_mm=amount * MM_PER_INCH if us else amount)
    for slot in ("litres", "litres_each"):
        if old.minutes is None and getattr(old, slot) is not None:
            return replace(old, **{slot: amount * LITRES_PER_GALLON if us else amount})  # type: ignore[arg-type]  # a slot of litres
    hours = old.minutes is not None and old.minutes % 60 == 0 and amount <= _MOST_HOURS
    return replace(old, minutes=amount * 60 if hours else amount, depth_mm=None, litres=None, litres_each=None)
