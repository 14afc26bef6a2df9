"""The office's own rows of the specialist's tables: put forward by one colleague, put in force by another, ended by either."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from bot.errors import StoreError
from bot.store.columns import stamp, time, time_or_none
from bot.store.database import Database


@dataclass(frozen=True, kw_only=True)
class TableRow:
    """One change: `cells` are the columns that differ from the table below, as text.

    `state` is `proposed`, `in force` or `ended`.
    """

    id: int
    table: str
    row: str
    cells: Mapping[str, str]
    reason: str
    by: str
    at: datetime
    state: str
    reviewed_by: str | None
    reviewed_at: datetime | None
    ended_by: str | None
    ended_at: datetime | None


class TableRows:
    """Verbs on changes of tables. `version` grows with every change of what is in force."""

    def __init__(self, database: Database) -> None:
        self._database = database
        self.version = 0

    def propose(self, table: str, row: str, cells: Mapping[str, str], reason: str, by: str, at: datetime) -> int:
        """Put a change forward, which has no effect yet; its id."""
        return self._database.write(
            "INSERT INTO table_rows (table_name, row, cells, reason, by, at) VALUES (?, ?, ?, ?, ?, ?)",
            (table, row, json.dumps(dict(cells), ensure_ascii=False), reason, by, stamp(at)),
        )

    def put_in_force(self, id: int, by: str, at: datetime) -> None:
        """The change counts from now on, in place of an earlier one of the same row.

        Raises: StoreError, when it is not waiting for that.
        """
        change = self.one(id)
        if change.state != "proposed":
            raise StoreError("this change is not waiting to be put in force")
        with self._database.transaction():
            self._database.write(
                """UPDATE table_rows SET state = 'ended', ended_by = ?, ended_at = ?
                WHERE table_name = ? AND row = ? AND state = 'in force'""",
                (by, stamp(at), change.table, change.row),
            )
            self._database.write(
                "UPDATE table_rows SET state = 'in force', reviewed_by = ?, reviewed_at = ? WHERE id = ?",
                (by, stamp(at), id),
            )
            self._database.after_commit(self._changed)

    def end(self, id: int, by: str, at: datetime) -> None:
        """The change counts no more; the table below shows through."""
        with self._database.transaction():
            self._database.write(
                "UPDATE table_rows SET state = 'ended', ended_by = ?, ended_at = ? WHERE id = ? AND state <> 'ended'",
                (by, stamp(at), id),
            )
            self._database.after_commit(self._changed)

    def in_force(self) -> list[TableRow]:
        """The changes that count now."""
        return self._found("state = 'in force' ORDER BY table_name, row")

    def all(self, at_most: int = 200) -> list[TableRow]:
        """All changes, those that wait first, then the newest."""
        return self._found(f"1 ORDER BY state <> 'proposed', state = 'ended', id DESC LIMIT {at_most:d}")

    def of(self, table: str, row: str) -> list[TableRow]:
        """All changes of one row, newest first."""
        return self._found("table_name = ? AND row = ? ORDER BY id DESC", table, row)

    def one(self, id: int) -> TableRow:
        """One change. Raises: StoreError, when there is none of that id."""
        found = self._found("id = ?", id)
        if not found:
            raise StoreError(f"there is no change {id}")
        return found[0]

    def _found(self, which: str, *values: str | int) -> list[TableRow]:
        rows = self._database.rows(f"SELECT * FROM table_rows WHERE {which}", values)
        return [_change(row) for row in rows]

    def _changed(self) -> None:
        self.version += 1


def _change(row: sqlite3.Row) -> TableRow:
    return TableRow(
        id=row["id"],
        table=row["table_name"],
        row=row["row"],
        cells=json.loads(row["cells"]),
        reason=row["reason"],
        by=row["by"],
        at=time(row["at"]),
        state=row["state"],
        reviewed_by=row["reviewed_by"],
        reviewed_at=time_or_none(row["reviewed_at"]),
        ended_by=row["ended_by"],
        ended_at=time_or_none(row["ended_at"]),
    )
