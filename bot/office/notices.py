"""Notices to many: written in both languages, counted, agreed by a second person, sent by day, halted at will."""

from __future__ import annotations

from flask import abort, request
from flask.typing import ResponseReturnValue

from bot.errors import StoreError
from bot.office.house import Caller
from bot.office.limits import alone
from bot.store.notices import Notice

_METHODS = ("", "sprinkler", "drip", "soaker", "hose", "can", "flood")
LONGEST = 300
_AT_ONCE = 200


def notices(caller: Caller, problem: str = "") -> str:
    """All notices, and a form for a new one."""
    return caller.page(
        "notices",
        notices=caller.store.notices.all(),
        plants=sorted((row.name_en, id_) for id_, row in caller.house.tables.plants.items()),
        methods=_METHODS,
        filled=request.form if problem else {},
        not_asked=caller.store.notices.not_asked(),
        problem=problem,
    )


def draft_notice(caller: Caller) -> ResponseReturnValue:
    """Keep a notice to be looked at; nothing goes out."""
    en, es, place = (" ".join(request.form.get(name, "").split()) for name in ("en", "es", "place"))
    plant, method = request.form.get("plant", ""), request.form.get("method", "")
    if not en or not es or max(len(en), len(es)) > LONGEST:
        return notices(caller, f"Write the notice in both languages, at most {LONGEST} signs each."), 400
    if method not in _METHODS or (plant and plant not in caller.house.tables.plants):
        abort(400)
    id_ = caller.store.notices.draft(en, es, place, plant, method, caller.colleague.name, caller.at)
    caller.did("wrote a notice")
    return caller.go("notice", "Kept. Nothing has gone out yet.", id=id_)


def notice(caller: Caller, id: int) -> str:
    """One notice as people would get it, with how many that are."""
    told = _one(caller, id)
    reached = caller.store.notices.reached(told)
    people = [caller.store.people.by_id(each) for each in reached[:3]]
    line = caller.house.line
    samples = [(each, line.as_office(each, told.es if each.language == "es" else told.en)) for each in people]
    missed = [caller.store.people.by_id(each) for each in caller.store.notices.not_reached(told)]
    return caller.page("notice", missed=missed, notice=told, count=len(reached), samples=samples, alone=alone(caller))


def move_notice(caller: Caller, id: int) -> ResponseReturnValue:
    """Agree, so that it goes out; or halt it."""
    told, do = _one(caller, id), request.form.get("do")
    if do == "halt":
        left = caller.store.notices.halt(id)
        caller.did("halted a notice", detail=f"{left} letters")
        return caller.go("notice", f"Halted: {left} letters that still waited go to nobody.", id=id)
    if do != "agree":
        abort(400)
    if told.by == caller.colleague.name and not alone(caller):
        return caller.go("notice", "Somebody else has to agree to your notice.", id=id)
    if not caller.store.notices.agree(id, caller.colleague.name):
        return caller.go("notice", "It went out already, or was halted.", id=id)
    reached = caller.store.notices.reached(told)
    for start in range(0, len(reached), _AT_ONCE):
        caller.house.line.notify(reached[start : start + _AT_ONCE], told.en, told.es, by=told.by, notice=id)
    caller.did("sent a notice", detail=f"{len(reached)} people")
    return caller.go("notice", f"On its way to {len(reached)} people, by day where each of them is.", id=id)


def _one(caller: Caller, id: int) -> Notice:
    try:
        return caller.store.notices.one(id)
    except StoreError:
        abort(404)
