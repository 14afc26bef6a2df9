"""The texts that arrived and what was answered. A repeat of a message is told by the channel's id, or by its words."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Sequence
from datetime import datetime, timedelta

from bot.store.columns import stamp, time, time_or_none
from bot.store.database import Database
from bot.store.held import Person, StoredMessage

_NEWEST = 2**63 - 1  # no id is greater


class Messages:
    """Verbs on messages."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def keep(
        self,
        person: Person,
        text: str,
        received_at: datetime,
        *,
        id: str | None = None,
        sent_at: datetime | None = None,
        author: str = "person",
        media: str | None = None,
        language: str | None = None,
        by: str | None = None,
        replaces: str | None = None,
    ) -> StoredMessage | None:
        """Keep a message; None: one of this person with the same `id` is here already (`seen` gives it).

        Ids are told apart per person, because some networks number the messages of each thread from one.

        Args:
            language: what it is written in; of a person's text it is known once it was answered.
        """
        written_at = min(sent_at, received_at) if sent_at else received_at
        row = self._database.row(
            """INSERT INTO messages
            (person, author, their_id, text, received_at, sent_at, written_at, media, language, by, replaces)
            VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT DO NOTHING RETURNING *""",
            (
                person.id,
                author,
                id,
                text,
                stamp(received_at),
                stamp(sent_at) if sent_at else None,
                stamp(written_at),
                media,
                language,
                by,
                replaces,
            ),
        )
        return _message(row) if row else None

    def seen(self, person: Person, id: str) -> StoredMessage | None:
        """The message of this person that bore the channel's `id`, with what was answered."""
        row = self._database.row("SELECT * FROM messages WHERE person = ? AND their_id = ?", (person.id, id))
        return _message(row) if row else None

    def versions(self, person: Person, id: str) -> list[StoredMessage]:
        """The message of this person that bore the channel's `id`, and those that took its place, oldest first."""
        rows = self._database.rows(
            "SELECT * FROM messages WHERE person = ? AND (their_id = ? OR replaces = ?) ORDER BY id",
            (person.id, id, id),
        )
        return [_message(row) for row in rows]

    def near_duplicate(self, person: Person, text: str, at: datetime, within: timedelta) -> StoredMessage | None:
        """The latest message of this person with the same words, received less than `within` before `at`.

        For channels that give no ids. Case and spacing make no difference.
        """
        rows = self._database.rows(
            """SELECT * FROM messages WHERE person = ? AND author = 'person' AND received_at BETWEEN ? AND ?
            ORDER BY id DESC""",
            (person.id, stamp(at - within), stamp(at)),
        )
        return next((_message(row) for row in rows if _words(row["text"]) == _words(text)), None)

    def replied(
        self,
        message: StoredMessage,
        replies: Sequence[str],
        language: str | None = None,
        drawn: Sequence[int | None] = (),
    ) -> None:
        """Keep what was answered, and in which language; `drawn` has the plot of the picture that went with each reply."""
        self._database.write(
            "UPDATE messages SET replies = ?, language = ?, drawn = ? WHERE id = ?",
            (json.dumps(list(replies), ensure_ascii=False), language, json.dumps(list(drawn)), message.id),
        )

    def of(self, person: Person) -> list[StoredMessage]:
        """All messages of the person in the order written; what somebody who was erased left to a shared plot is none."""
        rows = self._database.rows(
            "SELECT * FROM messages WHERE person = ? AND author <> 'left' ORDER BY written_at, id", (person.id,)
        )
        return [_message(row) for row in rows]

    def latest(self, person: Person, at_most: int, before: int | None = None) -> list[StoredMessage]:
        """The last messages of the person in the order they came in; `before`: of those older than the message of this id."""
        rows = self._database.rows(
            # Not by their times, which go back once a place is known; and +id, so that only this person's are looked at.
            "SELECT * FROM messages WHERE person = ? AND author <> 'left' AND id < ? ORDER BY +id DESC LIMIT ?",
            (person.id, before or _NEWEST, at_most),
        )
        return [_message(row) for row in reversed(rows)]


def _words(text: str) -> list[str]:
    return text.casefold().split()


def _message(row: sqlite3.Row) -> StoredMessage:
    return StoredMessage(
        id=row["id"],
        person=row["person"],
        author=row["author"],
        their_id=row["their_id"],
        text=row["text"],
        received_at=time(row["received_at"]),
        sent_at=time_or_none(row["sent_at"]),
        written_at=time(row["written_at"]),
        replies=tuple(json.loads(row["replies"])),
        media=row["media"],
        language=row["language"],
        by=row["by"],
        drawn=tuple(json.loads(row["drawn"])),
    )
