"""The log of facts: what was told of a person or a plot, and when. The columns of both only repeat what stands in it.

Of several values in force the one told last stands, by the time it was told and not by the time it arrived: a late
message changes no newer fact, and a retracted fact gives the older one back.
"""

from __future__ import annotations

import sqlite3
from dataclasses import fields
from datetime import datetime
from typing import Any

from bot.errors import StoreError
from bot.store.columns import column, stamp, time
from bot.store.database import Database
from bot.store.held import Person, StoredFact, StoredMessage, StoredPlot
from rules.terms import Plot

Subject = Person | StoredPlot

PERSON_FACTS = ("language", "units", "place", "latitude", "longitude", "elevation_m", "timezone", "stopped")
PLOT_FACTS = ("paused", "closed", "place", *(field.name for field in fields(Plot)))

# The last one told stands, but for what came late: that goes to its place among them. Times alone do not tell, as they are of
# where the person is: once that becomes known they may go back by hours.
_IN_FORCE = """WITH told AS (
        SELECT facts.id, value, at, coalesce(julianday(received_at) - julianday(written_at) > 300 / 86400.0, 0) AS late
        FROM facts LEFT JOIN messages ON messages.id = facts.message
        WHERE facts.person = ? AND plot IS ? AND about = ? AND retracted_by IS NULL),
    newest AS (SELECT id, at FROM told WHERE NOT late ORDER BY id DESC LIMIT 1)
    SELECT value FROM told WHERE id = (SELECT id FROM newest) OR (late AND at > coalesce((SELECT at FROM newest), ''))
    ORDER BY at DESC, id DESC LIMIT 1"""


class Facts:
    """Verbs on facts."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def set(
        self,
        subject: Subject,
        about: str,
        value: Any,
        *,
        at: datetime,
        message: StoredMessage | None = None,
        by: str | None = None,
    ) -> None:
        """A person's or plot's fact from now on. The subject in hand stays as it was: read it again.

        Args:
            about: a name out of PERSON_FACTS or PLOT_FACTS.
            value: of the type that Person or rules.terms.Plot gives it; None: no longer known.
            at: when it was told.
            message: the message that told it, so that UNDO takes it back; None: found out or set by the office.
            by: the colleague who set it.
        Raises: StoreError, for a name that is no fact or a value of the wrong type.
        """
        person, plot = _key(subject)
        with self._database.transaction():
            self._database.write(
                "INSERT INTO facts (person, plot, about, value, at, message, by) VALUES (?, ?, ?, ?, ?, ?, ?)",
                (person, plot, about, column(value), stamp(at), message.id if message else None, by),
            )
            self.put_in_force(person, plot, about)

    def history(self, subject: Subject) -> list[StoredFact]:
        """Every change of the subject's facts in the order told, retracted ones included."""
        rows = self._database.rows("SELECT * FROM facts WHERE person = ? AND plot IS ? ORDER BY at, id", _key(subject))
        return [stored_fact(row) for row in rows]

    def put_in_force(self, person: int, plot: int | None, about: str) -> None:
        """Repeat in the subject's column what the log says stands.

        Raises: StoreError, for a name that is no fact of this subject.
        """
        table, names, subject = ("people", PERSON_FACTS, person) if plot is None else ("plots", PLOT_FACTS, plot)
        if about not in names:
            raise StoreError(f"{about!r} is no fact of {table}")
        self._database.write(
            f"UPDATE {table} SET {about} = ({_IN_FORCE}) WHERE id = ?",
            (person, plot, about, subject),
        )
        self._database.changed("plots")


def _key(subject: Subject) -> tuple[int, int | None]:
    return (subject.id, None) if isinstance(subject, Person) else (subject.person, subject.id)


def stored_fact(row: sqlite3.Row) -> StoredFact:
    """A row of `facts`."""
    return StoredFact(
        id=row["id"],
        person=row["person"],
        plot=row["plot"],
        about=row["about"],
        value=row["value"],
        at=time(row["at"]),
        message=row["message"],
        retracted_by=row["retracted_by"],
        by=row["by"],
    )
