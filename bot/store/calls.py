"""The people handed over to a person, until that is done."""

from __future__ import annotations

import sqlite3
from datetime import datetime

from bot.store.columns import stamp, time
from bot.store.database import Database
from bot.store.held import Person, StoredCall, StoredMessage


class Calls:
    """Verbs on calls for help."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def call_person(self, person: Person, reason: str, at: datetime, message: StoredMessage | None = None) -> int:
        """Hand the person over; the id of the call."""
        return self._database.write(
            "INSERT INTO calls (person, reason, at, message) VALUES (?, ?, ?, ?)",
            (person.id, reason, stamp(at), message.id if message else None),
        )

    def of(self, person: Person) -> StoredCall | None:
        """The newest call of the person that is not done."""
        row = self._database.row(
            "SELECT * FROM calls WHERE person = ? AND state <> 'done' ORDER BY id DESC LIMIT 1", (person.id,)
        )
        return _call(row) if row else None

    def not_done(self) -> list[StoredCall]:
        """All calls that are not done, oldest first."""
        return [_call(row) for row in self._database.rows("SELECT * FROM calls WHERE state <> 'done' ORDER BY at, id")]

    def move(self, call: StoredCall, state: str, taken_by: str | None = None) -> None:
        """The call goes on to `open`, `taken`, `waiting` or `done`. `taken_by` None leaves it with whoever has it.

        Raises: StoreError, for another state.
        """
        self._database.write(
            "UPDATE calls SET state = ?, taken_by = coalesce(?, taken_by) WHERE id = ?", (state, taken_by, call.id)
        )


def _call(row: sqlite3.Row) -> StoredCall:
    return StoredCall(
        id=row["id"],
        person=row["person"],
        reason=row["reason"],
        at=time(row["at"]),
        message=row["message"],
        state=row["state"],
        taken_by=row["taken_by"],
    )
