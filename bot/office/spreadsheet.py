"""Rows as comma-separated text that a spreadsheet opens and does not run."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable

# A cell that a spreadsheet would take for a formula begins with one of these.
_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def as_csv(rows: Iterable[Iterable[str | int | float | bytes | None]]) -> str:
    """The rows as text."""
    told = io.StringIO()
    csv.writer(told).writerows([[_harmless(cell) if isinstance(cell, str) else cell for cell in row] for row in rows])
    return told.getvalue()


def _harmless(cell: str) -> str:
    """A cell that no spreadsheet runs; a plain number may begin with its sign."""
    number = cell.removeprefix("-").replace(".", "", 1).isdigit()
    return f"'{cell}" if cell.startswith(_FORMULA) and not number else cell
