"""How values lie in columns: times and dates as ISO text that sorts, flags as 0 and 1, lists and objects as JSON.

A line keeps one kind of time throughout: naive local, or aware. Aware times are kept in UTC.
"""

from __future__ import annotations

import json
from datetime import UTC, date, datetime
from typing import Any

Column = str | int | float | bytes | None


def stamp(at: datetime) -> str:
    """A time as text of fixed width, so that text order is time order."""
    moment = at if at.tzinfo is None else at.astimezone(UTC)
    return moment.isoformat(timespec="microseconds")


def column(value: Any) -> Column:
    """A fact or slot as SQLite keeps it."""
    if isinstance(value, bool):
        return int(value)
    if isinstance(value, datetime):
        return stamp(value)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, tuple | list | dict):
        return json.dumps(value, ensure_ascii=False)
    return value  # type: ignore[no-any-return]  # SQLite itself refuses what is no column value


def time(text: str) -> datetime:
    """The time that `stamp` wrote."""
    return datetime.fromisoformat(text)


def time_or_none(text: str | None) -> datetime | None:
    """The time that `stamp` wrote, if there is one."""
    return None if text is None else datetime.fromisoformat(text)


def day_or_none(text: str | None) -> date | None:
    """A date column, if it is filled."""
    return None if text is None else date.fromisoformat(text)
