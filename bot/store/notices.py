"""Notices of the office to many: written in both languages, agreed by a second person, stopped midway if need be."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from bot.errors import StoreError
from bot.store.columns import Column, stamp, time
from bot.store.database import Database

# Only who asked for the line's own texts gets any: START was said, and STOP was not said since.
_ASKED_FOR_THEM = "people.stopped = 0"


@dataclass(frozen=True, kw_only=True)
class Notice:
    """One notice, for those of a place, a plant or a way of watering; empty: all. `state`: draft, sent or halted.

    `people`: for these alone, by their numbers; None: for whoever is of the kind.
    """

    id: int
    en: str
    es: str
    place: str
    plant: str
    method: str
    by: str
    at: datetime
    state: str
    agreed_by: str | None
    sent: int
    taken: int
    waiting: int
    people: tuple[int, ...] | None = None


class Notices:
    """Verbs on notices."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def draft(
        self, en: str, es: str, place: str, plant: str, method: str, by: str, at: datetime,
        people: Sequence[int] | None = None,
    ) -> int:  # fmt: skip
        """Keep a notice; its id. It goes to nobody yet."""
        named = None if people is None else json.dumps(list(people))
        return self._database.write(
            "INSERT INTO notices (en, es, place, plant, method, by, at, people) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
            (en, es, place, plant, method, by, stamp(at), named),
        )

    def one(self, id: int) -> Notice:
        """Raises: StoreError, when there is none of that id."""
        found = self._found("notices.id = ?", (id,))
        if not found:
            raise StoreError(f"there is no notice {id}")
        return found[0]

    def all(self, at_most: int = 100) -> list[Notice]:
        """All notices, newest first."""
        return self._found("1", (), at_most)

    def reached(self, notice: Notice) -> list[int]:
        """The ids of those whom the notice would reach."""
        if notice.people is None:
            return self.recipients(notice.place, notice.plant, notice.method)
        return self._named(notice.people, _ASKED_FOR_THEM)

    def not_reached(self, notice: Notice) -> list[int]:
        """Of those whom a notice names, the ids of those who never asked for texts, or want none any more."""
        return self._named(notice.people or (), f"({_ASKED_FOR_THEM}) IS NOT 1")

    def _named(self, people: Sequence[int], which: str) -> list[int]:
        rows = self._database.rows(
            f"SELECT id FROM people WHERE id IN (SELECT value FROM json_each(?)) AND {which} ORDER BY id",
            (json.dumps(list(people)),),
        )
        return [row["id"] for row in rows]

    def recipients(self, place: str = "", plant: str = "", method: str = "") -> list[int]:
        """The ids of those whom a notice would reach: who asked for texts, and has an open plot of the kind."""
        wanted = [("coalesce(plots.place, people.place)", place), ("plots.plant", plant), ("plots.method", method)]
        told = [(column, value) for column, value in wanted if value]
        plots = " AND ".join(f"{column} = ? COLLATE NOCASE" for column, _ in told)
        of_kind = (
            f"""AND EXISTS (SELECT 1 FROM plots WHERE (plots.person = people.id
            OR plots.id IN (SELECT plot FROM shares WHERE shares.person = people.id)) AND plots.closed IS NOT 1 AND {plots})"""
            if told
            else ""
        )
        rows = self._database.rows(
            f"SELECT id FROM people WHERE {_ASKED_FOR_THEM} {of_kind} ORDER BY id", [value for _, value in told]
        )
        return [row["id"] for row in rows]

    def not_asked(self) -> int:
        """How many people write to the line and never asked for its own texts."""
        row = self._database.row("SELECT count(*) AS n FROM people WHERE stopped IS NULL")
        return int(row["n"]) if row else 0

    def agree(self, id: int, by: str) -> bool:
        """The notice goes out from now on; False: it did so before, or was halted."""
        return bool(
            self._database.rows(
                "UPDATE notices SET state = 'sent', agreed_by = ? WHERE id = ? AND state = 'draft' RETURNING id",
                (by, id),
            )
        )

    def halt(self, id: int) -> int:
        """What still waits of a notice goes to nobody; how many letters that were."""
        with self._database.transaction():
            self._database.write("UPDATE notices SET state = 'halted' WHERE id = ?", (id,))
            return len(
                self._database.rows("DELETE FROM outbox WHERE notice = ? AND state = 'waiting' RETURNING id", (id,))
            )

    def _found(self, which: str, values: Sequence[Column], at_most: int = 1) -> list[Notice]:
        rows = self._database.rows(
            f"""SELECT notices.*, count(outbox.id) AS sent, coalesce(sum(outbox.state = 'waiting'), 0) AS waiting,
            coalesce(sum(outbox.state IN ('taken', 'arrived')), 0) AS taken
            FROM notices LEFT JOIN outbox ON outbox.notice = notices.id WHERE {which}
            GROUP BY notices.id ORDER BY notices.id DESC LIMIT {at_most:d}""",
            values,
        )
        return [_notice(row) for row in rows]


def _notice(row: sqlite3.Row) -> Notice:
    return Notice(
        id=row["id"],
        en=row["en"],
        es=row["es"],
        place=row["place"],
        plant=row["plant"],
        method=row["method"],
        by=row["by"],
        at=time(row["at"]),
        state=row["state"],
        agreed_by=row["agreed_by"],
        sent=row["sent"],
        taken=row["taken"],
        waiting=row["waiting"],
        people=None if row["people"] is None else tuple(json.loads(row["people"])),
    )
