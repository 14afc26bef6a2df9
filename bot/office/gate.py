"""The gate: nobody sees a page of the office who is not logged in, and no form does anything that is not of its own page."""

from __future__ import annotations

import hmac
import logging
import secrets
from collections.abc import Callable
from datetime import datetime, timedelta
from functools import wraps
from typing import Any

from flask import abort, flash, make_response, redirect, render_template, request, session, url_for
from flask.typing import ResponseReturnValue
from werkzeug.wrappers import Response

from bot.office.house import Caller, House
from bot.office.passwords import fits
from bot.store import Colleague

log = logging.getLogger(__name__)

View = Callable[..., ResponseReturnValue]

_COOKIE = "dropline_office"
# A shift; who was away longer logs in again.
_LASTS = timedelta(hours=12)
# A use is written down this often at most, so that looking at pages costs no commit each.
_SEEN_EVERY = timedelta(minutes=5)
_TRIES, _TRIES_FROM_ONE_ADDRESS, _TRIES_WITHIN = 5, 20, timedelta(minutes=15)


def guarded(house: House, role: str, view: View) -> View:
    """The view for colleagues who may do what needs `role`, and nobody else; its forms must carry the sitting's token."""

    @wraps(view)
    def guarded_view(**parts: Any) -> ResponseReturnValue:
        caller = _caller(house)
        if caller is None:
            return _to_login()
        if request.method == "POST" and not _same(request.form.get("csrf", ""), caller.csrf):
            abort(400)
        if not caller.may(role):
            log.warning("%s may not %s %s", caller.colleague.role, request.method, request.endpoint)
            abort(403)
        response = make_response(view(caller, **parts))
        response.headers["Cache-Control"] = "no-store"
        return response

    return guarded_view


def _caller(house: House) -> Caller | None:
    token = request.cookies.get(_COOKIE)
    sitting = house.line.store.staff.sitting(token) if token else None
    if sitting is None or not token:
        return None
    now = house.clock()
    if now - sitting.seen_at > _LASTS:
        house.line.store.staff.rise(token)
        return None
    if now - sitting.seen_at > _SEEN_EVERY:
        house.line.store.staff.seen(token, now)
    return Caller(house=house, colleague=sitting.colleague, csrf=sitting.csrf, at=now)


def _same(given: str, known: str) -> bool:
    return hmac.compare_digest(given.encode(), known.encode())


def _to_login() -> Response:
    if request.method == "POST":
        flash("You were logged out. Log in and send it again; what you wrote is still on its page.")
        return redirect(url_for("office.login"), 303)
    return redirect(url_for("office.login", next=request.full_path.rstrip("?")), 303)


# Logging in and out


def login_page(house: House) -> View:
    """The form."""

    def login() -> ResponseReturnValue:
        return _login_form(house)

    return login


def log_in(house: House) -> View:
    """A name and a password."""

    def log_in() -> ResponseReturnValue:
        if not _same(request.form.get("csrf", ""), session.pop("login", secrets.token_urlsafe())):
            return _login_form(house, "That form was out of date. Please try again."), 400
        name, password = request.form.get("name", "").strip(), request.form.get("password", "")
        now, address = house.clock(), request.remote_addr or ""
        if _too_many(house, name, address, now):
            return _login_form(
                house, "Too many wrong passwords. Wait a quarter of an hour, or ask a keeper.", name
            ), 429
        colleague = house.line.store.staff.named(name)
        if not fits(password, colleague.password if colleague else None) or colleague is None:
            house.line.store.staff.wrong_password(name, address, now)
            return _login_form(house, "Name and password don't fit each other.", name), 401
        return _seated(house, colleague, now)

    return log_in


def log_out(caller: Caller) -> ResponseReturnValue:
    """The end of a sitting: its cookie is worth nothing any more."""
    caller.store.staff.rise(request.cookies.get(_COOKIE, ""))
    caller.did("logged out")
    response = caller.go("login", "You are logged out.")
    response.delete_cookie(_COOKIE, path=url_for("office.today"))
    return response


def _too_many(house: House, name: str, address: str, now: datetime) -> bool:
    named, sent = house.line.store.staff.wrong_since(now - _TRIES_WITHIN, name, address)
    return named >= _TRIES or sent >= _TRIES_FROM_ONE_ADDRESS


def _seated(house: House, colleague: Colleague, now: datetime) -> Response:
    token = secrets.token_urlsafe(32)
    staff = house.line.store.staff
    with house.line.store.transaction():
        staff.clear_sittings(now - _LASTS)
        staff.sit(colleague, token, secrets.token_urlsafe(32), now)
        house.line.store.deeds.add(colleague.name, "logged in", now)
    response = redirect(_inside(request.form.get("next", "")), 303)
    response.set_cookie(
        _COOKIE,
        token,
        max_age=int(_LASTS.total_seconds()),
        path=url_for("office.today"),
        httponly=True,
        secure=house.secure,
        samesite="Lax",
    )
    return response


def _inside(path: str) -> str:
    """A path of the office, however the link that brought somebody here was made."""
    today = url_for("office.today")
    plain = path.startswith(today) and "\\" not in path and "//" not in path and path.isprintable()
    return path if plain else today


def _login_form(house: House, problem: str = "", name: str = "") -> str:
    session["login"] = secrets.token_urlsafe(16)
    return render_template(
        "office/login.html",
        csrf=session["login"],
        office=house.office,
        problem=problem,
        name=name,
        next=request.values.get("next", ""),
    )
