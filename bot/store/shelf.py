"""What can be had again but is dear to fetch: the weather of a cell."""

from __future__ import annotations

from datetime import datetime

from bot.store.columns import stamp, time
from bot.store.database import Database


class Shelf:
    """Weather by cell, the newest only."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def get(self, cell: str) -> tuple[datetime, str] | None:
        """When the cell was fetched and what came, if it lies here."""
        row = self._database.row("SELECT fetched_at, body FROM shelf WHERE cell = ?", (cell,))
        return (time(row["fetched_at"]), row["body"]) if row else None

    def put(self, cell: str, at: datetime, body: str) -> None:
        """Lay it here in place of what lay here before."""
        self._database.write(
            """INSERT INTO shelf (cell, fetched_at, body) VALUES (?, ?, ?)
            ON CONFLICT (cell) DO UPDATE SET fetched_at = excluded.fetched_at, body = excluded.body""",
            (cell, stamp(at), body),
        )
