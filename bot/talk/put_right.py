"""A report put right in so few words that only the record tells what is meant: "no, friday", "take out the rain"."""

from __future__ import annotations

import re

from bot.store import Kept
from bot.talk.own_answers import HANDLED
from bot.talk.setup import plain
from bot.talk.slips import day_named
from bot.talk.told import told
from bot.talk.visit import Visit
from bot.understand.statements import Request, Statement

_NO_DAY = re.compile(
    r"(?:no|nope|sorry|oops|wait|actually|i mean|perdon|digo)(?: sorry| wait| perdon)?"
    r"(?: (?:it was|that was|i mean|make that|fue|era))?(?: on| el| last)? (?P<day>[a-z]+)"
)
_TAKE_OUT = re.compile(
    r"(?:please )?(?:take (?:out|off|back)|remove|delete|erase|scratch|cancel|quite|quita|borre|borra|elimine)"
    r"(?: (?:the|that|my|last|el|la|ese|esa|ultim[oa]))* (?P<kind>rain|watering|reading|lluvia|riego|lectura)"
    r"(?: please| por favor)?"
)
_KINDS = {"lluvia": "rain", "riego": "watering", "lectura": "reading"}


def another_day(visit: Visit, text: str) -> list[Statement] | None:
    """The request to tell the last report anew of the day that is named alone after a "no"; None for any other text."""
    found = _NO_DAY.fullmatch(plain(text))
    last = visit.store.corrections.last_kept(visit.person) if found else None
    if found is None or last is None or day_named(found["day"], visit.context(None)) is None:
        return None
    reports = [each for each in visit.store.log.history(visit.person) if each.in_force and each.message == last.message]
    return [Request(want="undo")] if reports else None


def taken_out_meant(text: str) -> bool:
    """Whether a text asks to set the last report of a kind aside."""
    return _TAKE_OUT.fullmatch(plain(text)) is not None


def taken_out(visit: Visit, text: str) -> list[Statement] | None:
    """The last report of the kind that is to go, set aside; then what to do without it. None for any other text."""
    found = _TAKE_OUT.fullmatch(plain(text))
    if found is None:
        return None
    kind = _KINDS.get(found["kind"], found["kind"])
    alike = [each for each in visit.store.log.history(visit.person) if each.in_force and each.kind == kind]
    meant = (
        Kept(message=alike[-1].message, items=tuple(each for each in alike if each.message == alike[-1].message))
        if alike
        else None
    )
    names = {plot.id: plot.name for plot in visit.plots()}
    if meant is not None:
        visit.store.corrections.retract(meant.items, visit.message)
    visit.say(visit.words.undone(told(meant, names, visit.plant_names) if meant else []))
    return [Request(want="verdict")] if meant else HANDLED
