"""What can be had again but is dear to make: weather as fetched for a cell, estimates of plots some days back."""

from __future__ import annotations

from datetime import date, datetime

from bot.store.columns import stamp, time
from bot.store.database import Database
from bot.store.held import StoredPlot


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


class Checkpoints:
    """One estimate a plot. It goes by itself when a report of its day or before it comes or goes, or a fact changes."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def get(self, plot: StoredPlot) -> bytes | None:
        """The estimate kept for the plot, if it still holds."""
        row = self._database.row("SELECT body FROM checkpoints WHERE plot = ?", (plot.id,))
        return row["body"] if row else None

    def put(self, plot: StoredPlot, on: date, body: bytes) -> None:
        """Keep the estimate made from all reports up to and with this day, in place of an older one."""
        self._database.write(
            """INSERT INTO checkpoints (plot, day, body) VALUES (?, ?, ?)
            ON CONFLICT (plot) DO UPDATE SET day = excluded.day, body = excluded.body""",
            (plot.id, on.isoformat(), body),
        )
