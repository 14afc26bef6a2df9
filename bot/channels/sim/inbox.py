"""SMS that came in, made into messages: parts joined, and each told from every other."""

from __future__ import annotations

from hashlib import sha256

from bot.channels.numbers import e164
from bot.channels.sim.parts import place
from bot.channels.sim.tables import Row
from bot.message import Message


def message(row: Row, country: str) -> Message | None:
    """The message that this row holds; None where it holds no more of one, or where nobody is there to answer.

    The daemon joins parts: the first then holds the whole text and the others nothing. Parts whose others have not come in
    time it stores one by one, each with what it holds itself.

    Args:
        country: the calling code of the office's country.
    """
    part = place(row.header)
    sender = e164(row.sender, country)
    if sender is None or (part and not row.text):
        return None
    alone = part is not None and row.text == row.own
    return Message(
        channel="sms",
        sender=sender,
        text=row.text,
        id=_id(row),
        sent_at=row.at,
        media="file" if row.binary else "part" if alone else None,
    )


def _id(row: Row) -> str:
    """Not the number of the row: a daemon that is killed between storing a text and deleting it from the modem stores it again.

    Nobody sends the same words twice in one second.
    """
    words = sha256(row.text.encode()).hexdigest()[:16]
    return f"{row.at or row.id} {words}"
