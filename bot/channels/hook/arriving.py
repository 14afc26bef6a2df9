"""The pages that the provider calls: a text came in, or a text of ours arrived or is lost."""

from __future__ import annotations

import logging
from collections.abc import Callable
from contextlib import suppress
from datetime import UTC, datetime
from hashlib import sha256
from typing import Any

from flask import Blueprint, Response, request

from bot.channels.hook.guard import proven
from bot.channels.hook.settings import Guard, In, Settings, at
from bot.channels.numbers import e164
from bot.errors import StoreError
from bot.message import Message
from bot.post import Post

log = logging.getLogger(__name__)

_MOST_BYTES = 64 * 1024
_MILLISECONDS = 10**11  # a count of seconds that large is one of milliseconds


def pages(settings: Settings, take: Callable[[Message], None], post: Post, clock: Callable[[], datetime]) -> Blueprint:
    """`/hook/in` and `/hook/status`. They answer 204 once all is kept, and 503 where the provider should call again."""
    part = Blueprint("hook", __name__, url_prefix="/hook")

    def admitted(guard: Guard) -> bool:
        request.max_content_length = _MOST_BYTES
        return proven(guard, request.headers, request.get_data(), clock())

    @part.errorhandler(StoreError)
    def again(_error: StoreError) -> Response:
        log.exception("a call could not be kept")
        return Response(status=503, headers={"Retry-After": "10"})

    @part.post("/in")
    def arrived() -> Response:
        if not admitted(settings.arriving.guard):
            return _refused()
        body = _body()
        if not at(body, settings.arriving.sender):
            return Response("no number in the field that [hook.in] from names", status=400)
        message = _message(settings.arriving, settings.country, body)
        if message:
            take(message)
        return Response(status=204)

    if settings.status:
        status = settings.status

        @part.post("/status")
        def reported() -> Response:
            if not admitted(status.guard):
                return _refused()
            body = _body()
            state = at(body, status.state)
            if state in status.arrived or state in status.lost:
                post.reported("sms", at(body, status.id), state in status.arrived)
            return Response(status=204)

    return part


def _refused() -> Response:
    log.warning("a call without proof, or of another time, was refused at %s", request.path)
    return Response("not proven", status=401)


def _body() -> Any:
    """JSON or a form, whichever it is said to be."""
    return request.get_json(silent=True) if request.is_json else request.form


def _message(fields: In, country: str, body: Any) -> Message | None:
    """The message; None where it is no person's."""
    sender = e164(at(body, fields.sender), country)
    if sender is None:
        return None
    return Message(
        channel="sms",
        sender=sender,
        text=at(body, fields.text),
        # A provider without ids is known to repeat a call by its very bytes.
        id=at(body, fields.id) or sha256(request.get_data()).hexdigest(),
        sent_at=_time(at(body, fields.time)) if fields.time else None,
        media="photo" if fields.media and at(body, fields.media) not in ("", "0") else None,
    )


def _time(written: str) -> datetime | None:
    """A time as ISO 8601 or in seconds or milliseconds since 1970; without a zone it is UTC."""
    with suppress(ValueError, OverflowError, OSError):
        if written.isdecimal():
            return datetime.fromtimestamp(int(written) / (1000 if int(written) >= _MILLISECONDS else 1), UTC)
        found = datetime.fromisoformat(written)
        return found if found.tzinfo else found.replace(tzinfo=UTC)
    return None
