"""The audit trail: what staff did, when, and about whom. It is only ever added to."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from bot.store.columns import stamp, time
from bot.store.database import Database


@dataclass(frozen=True, kw_only=True)
class Deed:
    """One thing that somebody of the staff did. `person` is the store's own number, also of somebody forgotten since."""

    id: int
    at: datetime
    by: str
    deed: str
    person: int | None
    detail: str


class Deeds:
    """Verbs on deeds."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def add(self, by: str, deed: str, at: datetime, *, person: int | None = None, detail: str = "") -> None:
        """Somebody did something. `detail` holds no message text and no address."""
        self._database.write(
            "INSERT INTO deeds (at, by, deed, person, detail) VALUES (?, ?, ?, ?, ?)",
            (stamp(at), by, deed, person, detail),
        )

    def last(self, at_most: int, before: int | None = None, person: int | None = None) -> list[Deed]:
        """The newest deeds: with a smaller id than `before`, about one person or all."""
        rows = self._database.rows(
            f"""SELECT * FROM deeds WHERE id < ? {"" if person is None else "AND person = ?"}
            ORDER BY id DESC LIMIT ?""",
            (before or 2**62, *(() if person is None else (person,)), at_most),
        )
        return [
            Deed(
                id=row["id"],
                at=time(row["at"]),
                by=row["by"],
                deed=row["deed"],
                person=row["person"],
                detail=row["detail"],
            )
            for row in rows
        ]
