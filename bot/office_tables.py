"""The tables in force at an office: those that come with dropline, its folder of rows over them, its changes by page on top."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping

from bot.store.table_rows import TableRow, TableRows
from rules.tables import Tables, overlay


class OfficeTables:
    """The tables, as they stand now.

    Args:
        below: packaged tables with the office's folder laid over them.
        rows: the changes that colleagues put in force.
    """

    def __init__(self, below: Tables, rows: TableRows) -> None:
        self._below, self._rows = below, rows
        self._current, self._version = self._laid(rows.in_force()), rows.version

    def current(self) -> Tables:
        """The tables in force; the same object until something changes."""
        if self._version != self._rows.version:
            self._version = self._rows.version
            self._current = self._laid(self._rows.in_force())
        return self._current

    def with_change(self, table: str, row: str, cells: Mapping[str, str], reason: str) -> Tables:
        """The tables as they would stand with a change in place of what the office has of that row.

        Raises: TableError, in a plain sentence with the column, when the change can't stand.
        """
        return overlay(self._without(table, row), {f"{table}.csv": _csv([(row, cells, reason)])})

    def _without(self, table: str, row: str) -> Tables:
        return self._laid([each for each in self._rows.in_force() if (each.table, each.row) != (table, row)])

    def _laid(self, changes: Iterable[TableRow]) -> Tables:
        by_table: dict[str, list[tuple[str, Mapping[str, str], str]]] = {}
        for each in changes:
            source = f"{each.reason} ({each.by}, {each.at.date().isoformat()})"
            by_table.setdefault(each.table, []).append((each.row, each.cells, source))
        files = {f"{table}.csv": _csv(rows) for table, rows in by_table.items()}
        return overlay(self._below, files) if files else self._below


def _csv(rows: list[tuple[str, Mapping[str, str], str]]) -> str:
    """Rows as the text of an office's table; a cell left empty shows what lies below."""
    columns = sorted({column for _, cells, _ in rows for column in cells})
    told = io.StringIO()
    writer = csv.writer(told)
    writer.writerow(["id", *columns, "source"])
    writer.writerows([row, *(cells.get(column, "") for column in columns), source] for row, cells, source in rows)
    return told.getvalue()
