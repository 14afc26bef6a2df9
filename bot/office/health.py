"""How each part of the line is, for staff."""

from __future__ import annotations

from flask.typing import ResponseReturnValue

from bot.office.house import Caller


def health(caller: Caller) -> ResponseReturnValue:
    """The page."""
    return caller.page(
        "health",
        parts=caller.house.health(),
        letters=caller.store.outbox.counts(),
        dead=caller.store.outbox.dead(),
        heard_at=caller.store.overview.last_heard(),
    )
