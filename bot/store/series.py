"""Readings of probes that read by themselves, far too many for the log: the log gets one a day and depth of them."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from datetime import UTC, datetime
from typing import Any

from bot.store.columns import stamp
from bot.store.database import Database
from bot.store.held import StoredMessage, StoredPlot

# quantity, depth [cm], time [s since 1970, UTC], value [SI]
Row = tuple[str, float, int, float]


class Series:
    """Verbs on series."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def add(self, plot: StoredPlot, message: StoredMessage, rows: Iterable[Row]) -> int:
        """Add readings; how many were new. One of the same time, depth and quantity stays as it was."""
        with self._database.transaction():
            before = self._count(plot)
            self._database.write_many(
                """INSERT INTO series (person, plot, quantity, depth_cm, at, value, message)
                VALUES (?, ?, ?, ?, ?, ?, ?) ON CONFLICT DO NOTHING""",
                ((plot.person, plot.id, *row, message.id) for row in rows),
            )
            return self._count(plot) - before

    def of(self, plot: StoredPlot, since: datetime, before: datetime) -> list[Row]:
        """The readings in a stretch of time, by depth and time."""
        rows = self._database.rows(
            """SELECT quantity, depth_cm, at, value FROM series WHERE person = ? AND plot = ? AND at >= ? AND at < ?
            ORDER BY quantity, depth_cm, at""",
            (plot.person, plot.id, _seconds(since), _seconds(before)),
        )
        return [(row["quantity"], row["depth_cm"], row["at"], row["value"]) for row in rows]

    def span(self, plot: StoredPlot) -> tuple[datetime, datetime] | None:
        """The first and the last time of the plot's readings, in UTC."""
        row = self._database.row(
            "SELECT min(at) AS first, max(at) AS last FROM series WHERE person = ? AND plot = ?",
            (plot.person, plot.id),
        )
        if row is None or row["first"] is None:
            return None
        return datetime.fromtimestamp(row["first"], UTC), datetime.fromtimestamp(row["last"], UTC)

    def keep_file(
        self,
        plot: StoredPlot,
        message: StoredMessage,
        name: str,
        by: str,
        at: datetime,
        layout: Mapping[str, Any],
        counts: Mapping[str, int],
    ) -> int:
        """Note a file that was taken in, with how its columns were read; its id."""
        return self._database.write(
            """INSERT INTO logger_files (person, plot, message, name, by, at, layout, counts)
            VALUES (?, ?, ?, ?, ?, ?, ?, ?)""",
            (plot.person, plot.id, message.id, name, by, stamp(at), json.dumps(layout), json.dumps(counts)),
        )

    def files(self, plot: StoredPlot) -> list[dict[str, Any]]:
        """The files of a plot, newest first: id, name, by, at, layout, counts, taken_back."""
        rows = self._database.rows(
            "SELECT * FROM logger_files WHERE person = ? AND plot = ? ORDER BY id DESC", (plot.person, plot.id)
        )
        return [{**dict(row), "layout": json.loads(row["layout"]), "counts": json.loads(row["counts"])} for row in rows]

    def take_back(self, plot: StoredPlot, file: int, by: str, at: datetime) -> None:
        """The readings of a file count no more; a later file may bring the same ones again."""
        with self._database.transaction():
            self._database.write(
                """DELETE FROM series WHERE person = ? AND plot = ? AND message =
                (SELECT message FROM logger_files WHERE id = ?)""",
                (plot.person, plot.id, file),
            )
            self._database.write(
                "UPDATE logger_files SET taken_back = ?, taken_back_by = ? WHERE id = ? AND plot = ?",
                (stamp(at), by, file, plot.id),
            )

    def lay_by(self, plot: StoredPlot, name: str, data: bytes, by: str, at: datetime) -> int:
        """Keep a file until somebody has looked at it; the id. Older ones of this colleague are dropped."""
        with self._database.transaction():
            self._database.write("DELETE FROM logger_uploads WHERE by = ?", (by,))
            return self._database.write(
                "INSERT INTO logger_uploads (person, plot, name, data, by, at) VALUES (?, ?, ?, ?, ?, ?)",
                (plot.person, plot.id, name, data, by, stamp(at)),
            )

    def laid_by(self, plot: StoredPlot, id: int, by: str) -> tuple[str, bytes] | None:
        """Name and content of a file that this colleague laid by for the plot."""
        row = self._database.row(
            "SELECT name, data FROM logger_uploads WHERE id = ? AND plot = ? AND by = ?", (id, plot.id, by)
        )
        return (row["name"], row["data"]) if row else None

    def drop_laid_by(self, by: str) -> None:
        """The file was kept, or is not wanted."""
        self._database.write("DELETE FROM logger_uploads WHERE by = ?", (by,))

    def _count(self, plot: StoredPlot) -> int:
        row = self._database.row(
            "SELECT count(*) AS n FROM series WHERE person = ? AND plot = ?", (plot.person, plot.id)
        )
        return int(row["n"]) if row else 0


def _seconds(at: datetime) -> int:
    return int(at.timestamp())
