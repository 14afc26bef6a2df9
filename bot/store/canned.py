"""Answers that the office keeps ready, in both languages, with blanks in braces; each is somebody's and ends on a day."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from datetime import date, datetime

from bot.store.columns import column, stamp, time
from bot.store.database import Database


@dataclass(frozen=True, kw_only=True)
class CannedAnswer:
    """One answer kept ready. `by`: who changed it last; after `expires_on` somebody must look at it again."""

    id: int
    title: str
    en: str
    es: str
    by: str
    changed_at: datetime
    expires_on: date


class Canned:
    """Verbs on answers kept ready."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def all(self) -> list[CannedAnswer]:
        """All by title."""
        return [_answer(row) for row in self._database.rows("SELECT * FROM canned ORDER BY title COLLATE NOCASE, id")]

    def by_id(self, id: int) -> CannedAnswer | None:
        """One of them."""
        row = self._database.row("SELECT * FROM canned WHERE id = ?", (id,))
        return _answer(row) if row else None

    def keep(
        self, id: int | None, *, title: str, en: str, es: str, by: str, at: datetime, expires_on: date
    ) -> CannedAnswer | None:
        """A new answer (`id` None), or other words for one that is there; None: it is there no more."""
        row = self._database.row(
            """INSERT INTO canned (title, en, es, by, changed_at, expires_on) VALUES (?, ?, ?, ?, ?, ?) RETURNING *"""
            if id is None
            else """UPDATE canned SET title = ?, en = ?, es = ?, by = ?, changed_at = ?, expires_on = ?
                WHERE id = ? RETURNING *""",
            (title, en, es, by, stamp(at), column(expires_on), *([] if id is None else [id])),
        )
        return _answer(row) if row else None

    def drop(self, id: int) -> None:
        """It is kept no more."""
        self._database.write("DELETE FROM canned WHERE id = ?", (id,))


def _answer(row: sqlite3.Row) -> CannedAnswer:
    return CannedAnswer(
        id=row["id"],
        title=row["title"],
        en=row["en"],
        es=row["es"],
        by=row["by"],
        changed_at=time(row["changed_at"]),
        expires_on=date.fromisoformat(row["expires_on"]),
    )
