"""The people handed over to a person, until that is done, and what the staff notes beside it. Somebody has one call at a time."""

from __future__ import annotations

import sqlite3
from datetime import datetime
from typing import Any

from bot.store.columns import stamp, time, time_or_none
from bot.store.database import Database
from bot.store.held import Note, Person, StoredCall, StoredMessage


class Calls:
    """Verbs on calls for help."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def call_person(
        self,
        person: Person,
        reason: str,
        at: datetime,
        message: StoredMessage | None = None,
        *,
        desk: str = "volunteer",
        origin: str = "text",
        urgent: bool = False,
    ) -> int:
        """Hand the person over; the id of the call. Whoever has been handed over already waits in the same call.

        Args:
            desk: whose it is, unless it is somebody's already.
            urgent: it comes before all others.
        """
        with self._database.transaction():
            known = self.of(person)
            if known:
                self._wait_again(known, reason, at, urgent)
                return known.id
            return self._database.write(
                """INSERT INTO calls (person, reason, at, message, desk, origin, urgent, waits_since)
                VALUES (?, ?, ?, ?, ?, ?, ?, ?)""",
                (person.id, reason, stamp(at), message.id if message else None, desk, origin, int(urgent), stamp(at)),
            )

    def _wait_again(self, call: StoredCall, reason: str, at: datetime, urgent: bool) -> None:
        self._database.write(
            """UPDATE calls SET waits_since = coalesce(waits_since, ?), urgent = max(urgent, ?),
            state = iif(state = 'waiting', 'taken', state) WHERE id = ?""",
            (stamp(at), int(urgent), call.id),
        )
        self.note(call, reason, by="", at=at, kind="event")

    def of(self, person: Person) -> StoredCall | None:
        """The newest call of the person that is not done."""
        row = self._database.row(
            "SELECT * FROM calls WHERE person = ? AND state <> 'done' ORDER BY id DESC LIMIT 1", (person.id,)
        )
        return stored_call(row) if row else None

    def by_id(self, id: int) -> StoredCall | None:
        """The call, done or not."""
        row = self._database.row("SELECT * FROM calls WHERE id = ?", (id,))
        return stored_call(row) if row else None

    def all_of(self, person: Person) -> list[StoredCall]:
        """Every call of the person, newest first."""
        rows = self._database.rows("SELECT * FROM calls WHERE person = ? ORDER BY id DESC", (person.id,))
        return [stored_call(row) for row in rows]

    def not_done(self) -> list[StoredCall]:
        """All calls that are not done, oldest first."""
        return [
            stored_call(row) for row in self._database.rows("SELECT * FROM calls WHERE state <> 'done' ORDER BY at, id")
        ]

    def claim(self, call: StoredCall, by: str, at: datetime) -> bool:
        """Take the call, unless somebody else was faster or it is done; the line is silent from now on."""
        with self._database.transaction():
            won = self._database.rows(
                """UPDATE calls SET state = 'taken', taken_by = ?, silent = 1
                WHERE id = ? AND state = 'open' RETURNING id""",
                (by, call.id),
            )
            if won:
                self.note(call, "took it", by=by, at=at, kind="event")
            return bool(won)

    def give_up(self, call: StoredCall, by: str, at: datetime, desk: str | None = None) -> None:
        """The call is open again for anybody, on another desk if one is given; the line answers again."""
        with self._database.transaction():
            self._database.write(
                """UPDATE calls SET state = 'open', taken_by = NULL, silent = 0, desk = coalesce(?, desk)
                WHERE id = ? AND state <> 'done'""",
                (desk, call.id),
            )
            self.note(call, f"moved it to another desk: {desk}" if desk else "gave it back", by=by, at=at, kind="event")

    def answered(self, call: StoredCall) -> None:
        """The office waits for the person now."""
        self._database.write(
            "UPDATE calls SET state = 'waiting', waits_since = NULL WHERE id = ? AND state <> 'done'", (call.id,)
        )

    def wrote(self, call: StoredCall, at: datetime) -> None:
        """The person wrote while the talk was the office's."""
        self._database.write(
            """UPDATE calls SET waits_since = coalesce(waits_since, ?), state = iif(state = 'waiting', 'taken', state)
            WHERE id = ?""",
            (stamp(at), call.id),
        )

    def set_silent(self, call: StoredCall, silent: bool, by: str, at: datetime) -> None:
        """Whether the line leaves the talk to the office."""
        with self._database.transaction():
            self._database.write("UPDATE calls SET silent = ? WHERE id = ? AND state <> 'done'", (int(silent), call.id))
            self.note(call, "took the talk over" if silent else "let dropline answer again", by=by, at=at, kind="event")

    def close(self, call: StoredCall, by: str, at: datetime) -> None:
        """It is done; the line answers again."""
        with self._database.transaction():
            self._database.write(
                "UPDATE calls SET state = 'done', silent = 0, waits_since = NULL, done_at = ? WHERE id = ?",
                (stamp(at), call.id),
            )
            self.note(call, "closed it", by=by, at=at, kind="event")

    def silent(self, person: Person) -> StoredCall | None:
        """The call for which the line is silent towards this person."""
        row = self._database.row("SELECT * FROM calls WHERE person = ? AND silent", (person.id,))
        return stored_call(row) if row else None

    def move(self, call: StoredCall, state: str, taken_by: str | None = None) -> None:
        """The call goes on to `open`, `taken`, `waiting` or `done`. `taken_by` None leaves it with whoever has it.

        Raises: StoreError, for another state.
        """
        self._database.write(
            "UPDATE calls SET state = ?, taken_by = coalesce(?, taken_by) WHERE id = ?", (state, taken_by, call.id)
        )

    def note(self, call: StoredCall, text: str, *, by: str, at: datetime, kind: str = "note") -> None:
        """Note something for the staff alone."""
        self._database.write(
            "INSERT INTO notes (call, at, by, kind, text) VALUES (?, ?, ?, ?, ?)",
            (call.id, stamp(at), by, kind, text),
        )

    def notes(self, call: StoredCall) -> list[Note]:
        """What was noted, oldest first."""
        rows = self._database.rows("SELECT * FROM notes WHERE call = ? ORDER BY id", (call.id,))
        return [
            Note(call=row["call"], at=time(row["at"]), by=row["by"], kind=row["kind"], text=row["text"]) for row in rows
        ]


def stored_call(row: sqlite3.Row | dict[str, Any]) -> StoredCall:
    """A row of `calls`."""
    return StoredCall(
        id=row["id"],
        person=row["person"],
        reason=row["reason"],
        at=time(row["at"]),
        message=row["message"],
        state=row["state"],
        taken_by=row["taken_by"],
        desk=row["desk"],
        origin=row["origin"],
        silent=bool(row["silent"]),
        urgent=bool(row["urgent"]),
        waits_since=time_or_none(row["waits_since"]),
        done_at=time_or_none(row["done_at"]),
    )
