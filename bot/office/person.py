"""A person's page: the conversation as it was, the plots, the call that is open, and what was agreed on texts."""

from __future__ import annotations

import json
from secrets import token_urlsafe

from flask import Response, request
from flask.typing import ResponseReturnValue

from bot.office import answers, showing
from bot.office.house import Caller
from bot.store import Person, StoredCall
from bot.talk.sharing import farewell

# Neither a telephone nor a person at the counter gets texts.
NO_TEXTS = ("phone", "visit")
_TURNS = 60


def person(caller: Caller, id: int, draft: str = "", problem: str = "", confirm: int = 0, number: str = "") -> str:
    """The page.

    Args:
        draft, problem, confirm: a text that was not sent, why, and how many segments it takes where that must be agreed to.
        number: the whole number, for once.
    """
    who = caller.person(id)
    messages = caller.store.messages.of(who)
    shown = messages if request.args.get("all") else messages[-_TURNS:]
    call = caller.store.calls.of(who)
    plots = caller.store.plots.of(who)
    return caller.page(
        "person",
        person=who,
        number=number,
        messages=shown,
        earlier=len(messages) - len(shown),
        verdicts=caller.store.overview.verdicts(who),
        call=call,
        notes=caller.store.calls.notes(call) if call else [],
        past_calls=[each for each in caller.store.calls.all_of(who) if each.state == "done"],
        held_by_other=_held_by_other(caller, call),
        plots=[(plot, caller.store.advices.last(plot)) for plot in plots],
        writable=who.channel not in NO_TEXTS,
        gives_files=who.channel in caller.house.files,
        local_now=caller.local(who),
        key=token_urlsafe(12),
        draft=draft or answers.filled_in(caller, who, plots),
        canned=caller.store.canned.all(),
        picked_expired=answers.picked_expired(caller),
        problem=problem,
        confirm=confirm,
    )


def number(caller: Caller, id: int) -> ResponseReturnValue:
    """The whole number, for once: that it was looked at is written down."""
    who = caller.person(id)
    caller.did("looked at the whole number", who)
    return person(caller, id, number=who.address)


def consent(caller: Caller, id: int) -> ResponseReturnValue:
    """What the person agreed to and took back: when, in which words, and by which channel."""
    who = caller.person(id)
    messages = {each.id: each for each in caller.store.messages.of(who)}
    changes = [each for each in caller.store.facts.history(who) if each.about == "stopped"]
    return caller.page(
        "consent",
        person=who,
        first=min(messages.values(), key=lambda each: each.id, default=None),
        changes=[(each, messages.get(each.message or 0)) for each in changes],
        local_now=caller.local(who),
    )


def stop(caller: Caller, id: int) -> ResponseReturnValue:
    """The person told the office by another way that no text is wanted any more."""
    who = caller.person(id)
    caller.store.facts.set(who, "stopped", True, at=caller.local(who), by=caller.colleague.name)
    caller.did("stopped the texts, as the person asked", who)
    return caller.go("consent", "No text goes to this person any more. Only START brings the line back.", id=id)


def export(caller: Caller, id: int) -> ResponseReturnValue:
    """All that is held of the person, to hand out."""
    who = caller.person(id)
    caller.did("handed the data out", who)
    held = json.dumps(caller.store.holdings.export(who), ensure_ascii=False, indent=1)
    name = f"dropline-person-{who.id}.json"
    return Response(held, mimetype="application/json", headers={"Content-Disposition": f"attachment; filename={name}"})


def forget(caller: Caller, id: int) -> ResponseReturnValue:
    """Erase the person."""
    who = caller.person(id)
    if request.form.get("sure", "").strip().upper() != "FORGET":
        return person(caller, id, problem="Nothing was erased: the word FORGET was not there."), 400
    with caller.store.transaction():
        farewell(caller.store, who, caller.house.line.time())
        until = caller.house.office.texts_locked_until(caller.now.date())
    caller.store.holdings.forget(who, caller.now, until)
    caller.did("erased the person", id)
    kept = f" The texts stay locked until {showing.day(until)} {until.year}, and no page shows them." if until else ""
    return caller.go("people", f"Erased: the conversation, the plots and all readings.{kept}")


def write(caller: Caller, id: int) -> ResponseReturnValue:
    """Send a text to the person, as the office."""
    who, text = caller.person(id), request.form.get("text", "").strip()
    call = caller.store.calls.of(who)
    problem = _why_not(caller, who, call, text)
    if problem:
        return person(caller, id, draft=text, problem=problem), 409
    reply = caller.house.line.as_office(who, text)
    if reply is None:
        return person(caller, id, draft=text, problem="That is more than a text may hold. Say it in two."), 400
    if reply.segments > 1 and request.form.get("agreed") != str(reply.segments):
        return person(caller, id, draft=text, confirm=reply.segments), 200
    if not _sent(caller, who, call, text):
        return caller.go("person", "That text was sent already; it did not go out twice.", id=id)
    return caller.go("person", "Sent.", id=id, sent=1)


def _why_not(caller: Caller, who: Person, call: StoredCall | None, text: str) -> str:
    if who.channel in NO_TEXTS or who.stopped:
        return "This person gets no texts. Call them."
    if holder := _held_by_other(caller, call):
        return f"{holder} has this talk: nobody is answered twice. Nothing was sent."
    if not text:
        return "There is nothing to send yet."
    if blanks := answers.blanks(text):
        return f"Fill in {', '.join(blanks)} first."
    return ""


def _sent(caller: Caller, who: Person, call: StoredCall | None, text: str) -> bool:
    """Whether the text is on its way; whoever answers an open call has it from then on."""
    calls, name = caller.store.calls, caller.colleague.name
    with caller.store.transaction():
        if call and call.state == "open" and not calls.claim(call, name, caller.local(who)):
            return False
        key = request.form.get("key", "")
        if not caller.house.line.write_as_office(who, text, by=name, id=key):
            return False
        if call:
            calls.answered(call)
        caller.did("wrote to the person", who)
    return True


def length(caller: Caller, id: int) -> ResponseReturnValue:
    """How long a text gets, told while it is written."""
    who, text = caller.person(id), request.form.get("text", "").strip()
    reply = caller.house.line.as_office(who, text)
    if reply is None:
        return {"says": "More than a text may hold. Say it in two."}
    blanks = answers.blanks(text)
    left = f" Still to fill in: {', '.join(blanks)}." if blanks else ""
    return {"says": f"{_segments(reply.segments)} Goes out as: {reply.text}{left}"}


def _segments(count: int) -> str:
    return "One text." if count == 1 else f"{count} texts long, and costs as many."


def _held_by_other(caller: Caller, call: StoredCall | None) -> str | None:
    """The colleague, if it is another one, who has the call."""
    return call.taken_by if call and call.taken_by not in (None, caller.colleague.name) else None
