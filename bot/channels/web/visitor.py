"""Who is looking at the page: an address nobody can guess, kept in a signed cookie; and forms that only that person can send."""

from __future__ import annotations

import secrets
from dataclasses import dataclass, replace
from datetime import timedelta
from hashlib import sha256

from flask import Request, current_app
from itsdangerous import BadSignature, URLSafeSerializer
from werkzeug.wrappers import Response

from bot.word.catalogue import FALLBACK, LANGUAGES

_COOKIE = "dropline_chat"
_LASTS = timedelta(days=365)


@dataclass(frozen=True)
class Visitor:
    """A person of this channel. `chosen`: the language they picked on the page; `guess`: what their browser asks for."""

    address: str
    chosen: str | None
    guess: str | None

    @property
    def language(self) -> str:
        """What the page speaks before the line knows better."""
        return self.chosen or self.guess or FALLBACK

    def speaking(self, language: str) -> Visitor:
        """The same person, who picked a language."""
        return replace(self, chosen=language if language in LANGUAGES else self.chosen)

    def anew(self) -> Visitor:
        """Somebody nobody has met, at the same browser."""
        return replace(self, address=_address())


def visitor(request: Request) -> Visitor:
    """Whoever sent this request; somebody new where no cookie of ours came with it."""
    guess = _asked_for(request)
    try:
        address, chosen = _signer("visitor").loads(request.cookies.get(_COOKIE, ""))
        return Visitor(str(address), chosen, guess)
    except (BadSignature, ValueError, TypeError):
        return Visitor(_address(), None, guess)


def remember(response: Response, who: Visitor, secure: bool) -> Response:
    """Have the browser bring the address along."""
    response.set_cookie(
        _COOKIE,
        str(_signer("visitor").dumps([who.address, who.chosen])),
        max_age=_LASTS,
        path="/",
        secure=secure,
        httponly=True,
        samesite="Lax",
    )
    return response


@dataclass(frozen=True)
class Form:
    """A form of this person that came back. `known`: the line knew them when it was made."""

    number: str
    known: bool

    def message_id(self, text: str) -> str:
        """The same when the form is sent twice. Shown again by going back it may bring another text: another message."""
        return f"{self.number}.{sha256(text.encode('utf-8', 'replace')).hexdigest()[:16]}"


def form_for(who: Visitor, known: bool) -> str:
    """What a form carries along, new for each, so that nobody else can have one sent in this person's name."""
    return str(_signer("form").dumps([who.address, secrets.token_urlsafe(9), known]))


def sent_form(who: Visitor, signed: str) -> Form | None:
    """The form that came back; None when it is not this person's."""
    try:
        address, number, known = _signer("form").loads(signed)
    except (BadSignature, ValueError, TypeError):
        return None
    return Form(str(number), bool(known)) if address == who.address else None


def _address() -> str:
    return secrets.token_urlsafe(16)


def _asked_for(request: Request) -> str | None:
    """Spanish, if the browser asks for it first. English is what most browsers come with: nobody's choice."""
    best = request.accept_languages.best_match(LANGUAGES)
    return best if best != FALLBACK else None


def _signer(use: str) -> URLSafeSerializer:
    return URLSafeSerializer(str(current_app.secret_key), salt=f"web {use}")
