"""A conversation as a channel may show it: what a person wrote, what was answered, and what staff and the line began."""

from __future__ import annotations

from datetime import date

from bot.drawings import Drawing, Drawings
from bot.message import Conversation, Turn
from bot.store import Person, Store, StoredMessage


def conversation(
    store: Store, drawings: Drawings, person: Person, today: date, at_most: int, before: int | None
) -> Conversation:
    """The last turns with this person, `before` the one of this id."""
    found = store.messages.latest(person, at_most + 1, before)
    return Conversation(
        language=person.language,
        stopped=person.stopped,
        today=today,
        turns=tuple(_turn(each, _drawn(store, drawings, person, each)) for each in found[-at_most:]),
        earlier=len(found) > at_most,
        choices=store.outbox.offered(person),
    )


def _turn(message: StoredMessage, drawn: tuple[Drawing | None, ...]) -> Turn:
    return Turn(
        id=message.id,
        by=message.author,
        text=message.text,
        at=message.received_at,
        language=message.language,
        replies=message.replies,
        drawings=drawn,
    )


def _drawn(store: Store, drawings: Drawings, person: Person, message: StoredMessage) -> tuple[Drawing | None, ...]:
    """The graph that went with each reply, or None."""
    if not any(message.drawn):
        return (None,) * len(message.replies)
    advices = store.advices.answering(message)
    given = [advices.get(plot) if plot else None for plot in message.drawn]
    return tuple(drawings.of(advice, person) if advice else None for advice in given)
