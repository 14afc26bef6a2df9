"""STOP, START, HELP and their kin: they count at once, whatever else a message says."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from bot.talk.valve import is_on
from bot.talk.visit import Visit
from bot.understand.statements import Request, Statement

# Whoever said STOP is asked nothing, so what needs a yes goes to a person.
_ASKS_STAFF = {
    "person": "asked for a person",
    "forget": "asked to be forgotten",
    "export": "asked for all that is held",
}


def counts_at_once(visit: Visit, statements: Sequence[Statement], next_question: Callable[[], None]) -> bool:
    """STOP, START, HELP and their kin; whether the message is dealt with."""
    words = visit.words
    wants = [each.want for each in statements if isinstance(each, Request)]
    visit.draft.urgent = not {"stop", "start", "help", "person"}.isdisjoint(wants)
    if "stop" in wants:
        if not visit.person.stopped:
            visit.store.facts.set(visit.person, "stopped", True, at=visit.now, message=visit.message)
            visit.say(words.say("stop.done_on" if is_on(visit) else "stop.done", phone=visit.office.phone))
            visit.refresh()
    elif "start" in wants:
        _start(visit, next_question)
    elif "help" in wants and visit.person.stopped:
        visit.say(words.say("help.stopped", office=visit.office_name, phone=visit.office.phone))
    elif "help" in wants:
        visit.say(words.say("help", office=visit.office_name, example=words.example()))
    elif visit.person.stopped and (asked := [reason for want, reason in _ASKS_STAFF.items() if want in wants]):
        visit.call_person(asked[0])
        visit.say(words.say("person.called", phone=visit.office.phone))
    elif not visit.person.stopped:
        return False
    return True


def _start(visit: Visit, next_question: Callable[[], None]) -> None:
    """The first word, or the way back after STOP."""
    words = visit.words
    stopped = visit.person.stopped
    visit.store.facts.set(visit.person, "stopped", False, at=visit.now, message=visit.message)
    visit.refresh()
    if words.short or stopped:
        visit.say(words.say("start.done" if words.short else "start.back", office=visit.office_name))
    if names := words.amounts.listed([plot.name for plot in visit.plots() if plot.name]):
        visit.say(words.say("start.kept", plots=names))
    next_question()
    if not visit.draft.texts:
        visit.say(words.say("help", office=visit.office_name, example=words.example()))


def said_once(text: str) -> str:
    """`stop stop stop` is STOP."""
    words = text.split()
    return words[0] if len(words) > 1 and len(set(map(str.casefold, words))) == 1 else text
