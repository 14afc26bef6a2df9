"""Where the line falls short, week by week, each count opening its texts: what to mend next, and whether mending helped."""

from __future__ import annotations

from datetime import date, timedelta

from flask import abort, request

from bot.office.house import Caller
from bot.store.misses import KINDS

_WEEKS = 6
SAYS = {
    "unread": "Not understood",
    "plant": "Unknown plant",
    "place": "Unknown place",
    "impossible": "Told, and can't be true",
    "asked again": "Asked once more",
    "check": "Readings not believed",
    "complaint": "Complaints",
    "handed over": "Handed to a person",
    "watered all the same": "Told to wait, and watered",
    "not watered": "Told to water, no watering told",
}


def misses(caller: Caller) -> str:
    """The counts of the last weeks."""
    today = caller.now.date()
    weeks = [_monday(today) - timedelta(days=7 * back) for back in range(_WEEKS)]
    return caller.page("misses", weeks=weeks, counts=caller.store.misses.count(weeks, today), says=SAYS)


def missed(caller: Caller, kind: str) -> str:
    """The texts behind one count."""
    kind = kind.replace("-", " ")
    if kind not in KINDS:
        abort(404)
    try:
        week = _monday(date.fromisoformat(request.args.get("week", "")))
    except ValueError:
        abort(404)
    found = caller.store.misses.of(kind, week, caller.now.date())
    people = {each.person: caller.store.people.by_id(each.person) for each in found}
    return caller.page("missed", kind=kind, week=week, found=found, people=people, says=SAYS)


def _monday(day: date) -> date:
    return day - timedelta(days=day.weekday())
