"""Accounts: a keeper makes, changes and ends them; everybody changes their own password."""

from __future__ import annotations

from flask import abort, request
from flask.typing import ResponseReturnValue

from bot.channels.numbers import e164
from bot.desks import DESKS
from bot.errors import StoreError
from bot.office.house import Caller
from bot.office.passwords import fits, hashed, problem
from bot.store import Colleague
from bot.store.staff import ROLES

_LONGEST_NAME = 40


def accounts(caller: Caller, said: str = "") -> str:
    """All accounts, and a form for a new one."""
    everyone, name = caller.store.staff.everyone(), request.form.get("name", "") if said else ""
    return caller.page("accounts", everyone=everyone, roles=ROLES, desks=DESKS, problem=said, name=name)


def add_account(caller: Caller) -> ResponseReturnValue:
    """A new account."""
    name, password = " ".join(request.form.get("name", "").split()), request.form.get("password", "")
    role, desks = _role_and_desks()
    wrong = "The account needs a name of 40 letters at most." if not 0 < len(name) <= _LONGEST_NAME else None
    wrong = wrong or problem(password, name)
    if wrong:
        return accounts(caller, wrong), 400
    try:
        caller.store.staff.add(name, role, hashed(password), at=caller.at, desks=desks)
    except StoreError:
        return accounts(caller, "There is, or was, an account of that name. Names are kept apart in the trail."), 400
    caller.did("made an account", detail=f"{name}, {role}")
    return caller.go("accounts", f"{name} can log in now.")


def change_account(caller: Caller, id: int) -> ResponseReturnValue:
    """Another role, other desks or another password for an account, or its end."""
    colleague = _account(caller, id)
    if colleague.id == caller.colleague.id:
        return accounts(caller, "Ask another keeper to change your own account."), 400
    do = request.form.get("do")
    if do == "role":
        role, desks = _role_and_desks()
        caller.store.staff.change(colleague, role=role, desks=desks)
        caller.did("changed an account", detail=f"{colleague.name}: {role} {' '.join(desks)}")
        return caller.go("accounts", f"{colleague.name} is now {role}, and has to log in again.")
    if do == "password":
        password = request.form.get("password", "")
        if wrong := problem(password, colleague.name):
            return accounts(caller, wrong), 400
        caller.store.staff.change(colleague, password=hashed(password))
        caller.did("set a password", detail=colleague.name)
        return caller.go("accounts", f"{colleague.name} has a new password.")
    if do == "end":
        caller.store.staff.change(colleague, left_at=caller.at)
        caller.did("ended an account", detail=colleague.name)
        return caller.go("accounts", f"{colleague.name} can log in no more.")
    abort(400)


def own_account(caller: Caller, said: str = "") -> str:
    """One's own account."""
    return caller.page("account", problem=said)


def change_own_password(caller: Caller) -> ResponseReturnValue:
    """Another password of one's own; all sittings end, this one too."""
    if not fits(request.form.get("old", ""), caller.colleague.password):
        return own_account(caller, "The present password was wrong."), 400
    password = request.form.get("password", "")
    if wrong := problem(password, caller.colleague.name):
        return own_account(caller, wrong), 400
    caller.store.staff.change(caller.colleague, password=hashed(password))
    caller.did("changed the own password")
    return caller.go("login", "Your password is changed. Log in with the new one.")


def set_telephone(caller: Caller) -> ResponseReturnValue:
    """Where one is texted when the line is unwell, with its country; empty: nowhere."""
    written = request.form.get("telephone", "").strip()
    number = e164(written, "") if written.startswith("+") else None
    if written and number is None:
        return own_account(caller, "Write the number with its country, like +1 555 0142."), 400
    caller.store.staff.set_telephone(caller.colleague, number)
    caller.did("set the own telephone" if number else "took the own telephone out")
    said = "The line texts you when a backup fails." if number else "The line texts you no more."
    return caller.go("own_account", said)


def trail(caller: Caller) -> ResponseReturnValue:
    """What staff did."""
    before = request.args.get("before", type=int)
    return caller.page("trail", deeds=caller.store.deeds.last(100, before))


def _account(caller: Caller, id: int) -> Colleague:
    try:
        return caller.store.staff.by_id(id)
    except StoreError:
        abort(404)


def _role_and_desks() -> tuple[str, tuple[str, ...]]:
    role = request.form.get("role", "")
    if role not in ROLES:
        abort(400)
    return role, tuple(desk for desk in DESKS if desk in request.form.getlist("desks"))
