"""The help desk: calls that wait for the office, each with one colleague at a time."""

from __future__ import annotations

import re

from flask import abort, request
from flask.typing import ResponseReturnValue

from bot.desks import DESKS, desk_for
from bot.office.house import Caller
from bot.store import Person, StoredCall

_LONGEST_NOTE = 4000
_LANGUAGES = ("en", "es")


def desk(caller: Caller) -> ResponseReturnValue:
    """The calls, those that wait longest first."""
    mine = caller.desks or DESKS
    wanted = request.args.get("desk", "")
    shown = (wanted,) if wanted in mine else mine
    done = request.args.get("state") == "done"
    return caller.page("desk", calls=caller.store.overview.calls(shown, done=done), desks=mine, shown=wanted, done=done)


def thread(caller: Caller, id: int) -> ResponseReturnValue:
    """A call is dealt with on the page of its person."""
    return caller.go("person", id=_call(caller, id).person)


def move_call(caller: Caller, id: int) -> ResponseReturnValue:
    """Take a call, give it back, move it to another desk, let dropline answer again or not, or close it."""
    call, do = _call(caller, id), request.form.get("do", "")
    calls, name = caller.store.calls, caller.colleague.name
    at = caller.local(caller.store.people.by_id(call.person))
    if do == "take":
        return _taken(caller, call)
    if call.taken_by not in (None, name) and not (do == "give" and caller.may("specialist")):
        return caller.go("person", f"{call.taken_by} has this call. Nothing was changed.", id=call.person)
    if do == "give":
        calls.give_up(call, name, at)
    elif do == "move" and request.form.get("desk") in DESKS:
        calls.give_up(call, name, at, desk=request.form["desk"])
    elif do == "close":
        calls.close(call, name, at)
    elif do in ("silent", "speak") and call.taken_by == name:
        calls.set_silent(call, do == "silent", name, at)
    else:
        abort(400)
    caller.did(f"call: {do}", call.person)
    return caller.go("person", id=call.person)


def _taken(caller: Caller, call: StoredCall) -> ResponseReturnValue:
    at = caller.local(caller.store.people.by_id(call.person))
    if caller.store.calls.claim(call, caller.colleague.name, at):
        caller.did("call: take", call.person)
        return caller.go("person", "This call is yours. dropline leaves the talk to you.", id=call.person)
    now = caller.store.calls.by_id(call.id)
    holder = now.taken_by if now and now.taken_by else "somebody"
    return caller.go("person", f"{holder} was faster: the call is taken.", id=call.person)


def take_over(caller: Caller, id: int) -> ResponseReturnValue:
    """Take a talk over from dropline, without a call or with the one that is open."""
    who = caller.person(id)
    calls = caller.store.calls
    with caller.store.transaction():
        call = calls.of(who)
        if call is None:
            calls.call_person(who, "the office took the talk over", caller.local(who), desk=_desk(caller, who))
            call = calls.of(who) or abort(500)
        return _taken(caller, call)


def note(caller: Caller, id: int) -> ResponseReturnValue:
    """Note something for colleagues."""
    call, text = _call(caller, id), request.form.get("note", "").strip()[:_LONGEST_NOTE]
    if text:
        at = caller.local(caller.store.people.by_id(call.person))
        caller.store.calls.note(call, text, by=caller.colleague.name, at=at)
        caller.did("noted", call.person)
    return caller.go("person", "Noted for colleagues." if text else "", id=call.person)


def log_form(caller: Caller, problem: str = "") -> str:
    """A form for a telephone call or a walk-in."""
    return caller.page("log", desks=DESKS, problem=problem, given=request.form)


def log_call(caller: Caller) -> ResponseReturnValue:
    """Keep a telephone call or a walk-in as a call like any other."""
    form = request.form
    reason, said = form.get("reason", "").strip()[:200], form.get("said", "").strip()[:_LONGEST_NOTE]
    origin = form.get("origin", "")
    if origin not in ("phone", "visit") or form.get("desk") not in DESKS:
        abort(400)
    if not reason:
        return log_form(caller, "Say in a few words what it was about."), 400
    with caller.store.transaction():
        who = _person_of(caller, origin, form.get("number", ""), form.get("language", ""))
        calls, at = caller.store.calls, caller.local(who)
        calls.call_person(who, reason, at, desk=form["desk"], origin=origin)
        call = calls.of(who) or abort(500)
        if said:
            calls.note(call, said, by=caller.colleague.name, at=at)
        if form.get("done") and call.taken_by in (None, caller.colleague.name):
            calls.close(call, caller.colleague.name, at)
        caller.did(f"logged a {'telephone call' if origin == 'phone' else 'walk-in'}", who)
    return caller.go("person", "Logged.", id=who.id)


def _person_of(caller: Caller, origin: str, number: str, language: str) -> Person:
    """Whoever has this number already, or somebody new."""
    digits = re.sub(r"\D", "", number)
    known = caller.store.people.by_digits(digits) if len(digits) >= 7 else None
    if known:
        return known
    address = digits or f"{caller.now:%m-%d %H:%M:%S}"
    who = caller.store.people.person(origin, address, caller.now)
    if language in _LANGUAGES and who.language is None:
        caller.store.facts.set(who, "language", language, at=caller.now, by=caller.colleague.name)
    return who


def _desk(caller: Caller, who: Person) -> str:
    plots = [plot.facts for plot in caller.store.plots.of(who)]
    texts = [each.text for each in caller.store.messages.of(who) if each.author == "person"]
    return desk_for(who.language or "en", plots, texts)


def _call(caller: Caller, id: int) -> StoredCall:
    call = caller.store.calls.by_id(id) or abort(404)
    if caller.desks is not None and call.desk not in caller.desks:
        abort(403)
    return call
