"""Floods: what somebody sends is always kept and read, but not everything is worth an answer.

Texts that say nothing readable get few answers a day, and any texts get so many an hour; the last one says why there will be
no more for now. Danger, STOP and a call for a person are answered whatever came before.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta

from bot.message import Reply
from bot.talk.visit import Visit

# Common practice, no published source: nobody in good faith needs more.
_IDLE_A_DAY = 10
_ANSWERS_AN_HOUR = 60
# Of all people together: beyond this, unreadable texts are an attack or a broken machine.
_IDLE_AN_HOUR_FROM_ALL = 600


def spared(visit: Visit, replies: Sequence[Reply]) -> list[Reply]:
    """The replies that go out; a longer run of them ends with a word of why."""
    if visit.draft.urgent or visit.draft.person_called or not replies:
        return list(replies)
    if visit.draft.idle and _all_idle(visit) >= _IDLE_AN_HOUR_FROM_ALL:
        return []
    left, key = _left(visit)
    if left <= 0:
        return []
    if len(replies) < left:
        return list(replies)
    said = visit.words.say(key, example=visit.words.example(), phone=visit.office.phone)
    told = replace(replies[-1], text=said, segments=visit.words.segments(said), asks=None, picture=None)
    return [*replies[: left - 1], told]


def _left(visit: Visit) -> tuple[int, str]:
    """How many answers this person may still get, and the sentence that tells of the bound nearest."""
    outbox, person, now = visit.store.outbox, visit.person, visit.line_now
    hour = _ANSWERS_AN_HOUR - outbox.answers_since(now - timedelta(hours=1), person)
    if not visit.draft.idle:
        return hour, "flood.many"
    day = _IDLE_A_DAY - outbox.answers_since(now - timedelta(days=1), person, kind="idle")
    return (day, "flood.idle") if day < hour else (hour, "flood.many")


def _all_idle(visit: Visit) -> int:
    return visit.store.outbox.answers_since(visit.line_now - timedelta(hours=1), kind="idle")
