"""How each part of the line is, for staff."""

from __future__ import annotations

from flask.typing import ResponseReturnValue

from bot.office.house import Caller

# What becomes of a letter, as the page calls it.
_STATES = (("waiting", "wait"), ("taken", "sent"), ("arrived", "arrived"), ("lost", "lost"), ("dead", "not taken"))


def health(caller: Caller) -> ResponseReturnValue:
    """The page."""
    return caller.page(
        "health",
        parts=caller.house.health(),
        letters=caller.store.outbox.counts(),
        states=_STATES,
        dead=caller.store.outbox.dead(),
        heard_at=caller.store.overview.last_heard(),
        size=f"{caller.store.size() / 2**20:.0f} MB",
    )
