"""A picture, voice or file that a person sent, for staff to look at; it stays with the channel that brought it."""

from __future__ import annotations

from flask import Response, abort
from flask.typing import ResponseReturnValue

from bot.office.house import Caller

# What a browser may show in a page, by how it begins; all else is only handed over.
_PICTURES = {b"\xff\xd8\xff": "image/jpeg", b"\x89PNG\r\n": "image/png", b"RIFF": "image/webp"}


def sent(caller: Caller, id: int, message: int) -> ResponseReturnValue:
    """What came with this message."""
    who = caller.person(id)
    media = next((each.media for each in caller.store.messages.of(who) if each.id == message), None)
    give = caller.house.files.get(who.channel)
    content = give(media.partition(":")[2]) if media and give else None
    if content is None:
        abort(404)
    kind = next((kind for begins, kind in _PICTURES.items() if content.startswith(begins)), None)
    response = Response(content, mimetype=kind or "application/octet-stream")
    if kind is None:
        response.headers["Content-Disposition"] = "attachment"
    return response
