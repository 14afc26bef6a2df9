"""What was agreed for one plot alone: another limit, or leave from a watering rule, up to a day. It ends by itself.

What counts stands with the plot's facts, where the rules see its days; here stands who agreed to it, and why.
"""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from bot.store.columns import stamp, time, time_or_none
from bot.store.database import Database
from bot.store.facts import Facts
from bot.store.held import StoredPlot

# Who ended what ended by itself.
BY_ITSELF = "its end"


@dataclass(frozen=True, kw_only=True)
class PlotException:
    """One exception. `own_limit`: water left [0..1], or None; `let_off`: no watering rule of the place binds the plot.

    `until` is its last day; `agreed` says who agreed to it, and how; `by` is the colleague.
    """

    id: int
    person: int
    plot: int
    own_limit: float | None
    let_off: bool
    starts: date
    until: date
    reason: str
    agreed: str
    by: str
    at: datetime
    ended_by: str | None
    ended_at: datetime | None


class Exceptions:
    """Verbs on exceptions. A plot has one at a time."""

    def __init__(self, database: Database, facts: Facts) -> None:
        self._database, self._facts = database, facts

    def agree(
        self, plot: StoredPlot, own_limit: float | None, let_off: bool, until: date, reason: str, agreed: str, by: str,
        at: datetime,
    ) -> None:  # fmt: skip
        """An exception from today on, in place of one that stands.

        Args:
            at: the time where the person is.
        """
        with self._database.transaction():
            for standing in self.of(plot):
                if standing.ended_at is None:
                    self.end(plot, standing, by, at)
            self._database.write(
                """INSERT INTO exceptions (person, plot, own_limit, let_off, starts, until, reason, agreed, by, at)
                VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)""",
                (
                    plot.person, plot.id, own_limit, int(let_off), at.date().isoformat(), until.isoformat(), reason, agreed,
                    by, stamp(at),
                ),
            )  # fmt: skip
            if own_limit is not None:
                for about, value in (("own_limit", own_limit), ("own_from", at.date()), ("own_until", until)):
                    self._facts.set(plot, about, value, at=at, by=by)
            if let_off:
                self._facts.set(plot, "let_off_until", until, at=at, by=by)

    def end(self, plot: StoredPlot, exception: PlotException, by: str, at: datetime) -> bool:
        """It is over, before its day when a colleague ends it; whether it was not over before.

        Facts whose last day has passed are left as they are: the season is drawn by them.
        """
        with self._database.transaction():
            over = self._database.rows(
                "UPDATE exceptions SET ended_by = ?, ended_at = ? WHERE id = ? AND ended_at IS NULL RETURNING *",
                (by, stamp(at), exception.id),
            )
            if over and by != BY_ITSELF:
                yesterday = at.date() - timedelta(days=1)
                for about, was_set in (
                    ("own_until", exception.own_limit is not None),
                    ("let_off_until", exception.let_off),
                ):
                    if was_set:
                        self._facts.set(plot, about, yesterday, at=at, by=by)
            return bool(over)

    def of(self, plot: StoredPlot) -> list[PlotException]:
        """All of a plot, newest first."""
        return self._found("person = ? AND plot = ? ORDER BY id DESC", plot.person, plot.id)

    def over(self, today: date) -> list[PlotException]:
        """Those whose last day has passed and of which nobody was told."""
        return self._found("ended_at IS NULL AND until < ? ORDER BY id", today.isoformat())

    def of_late(self, since: date, before: date) -> list[PlotException]:
        """Those that end in these days, or ended by themselves."""
        return self._found(
            "until >= ? AND until < ? AND (ended_by IS NULL OR ended_by = ?) ORDER BY until, id",
            since.isoformat(), before.isoformat(), BY_ITSELF,
        )  # fmt: skip

    def _found(self, which: str, *values: str | int) -> list[PlotException]:
        rows = self._database.rows(
            f"""SELECT * FROM exceptions
            WHERE EXISTS (SELECT 1 FROM plots WHERE plots.id = plot AND plots.name IS NOT NULL) AND {which}""",
            values,
        )
        return [_exception(row) for row in rows]


def _exception(row: sqlite3.Row) -> PlotException:
    return PlotException(
        id=row["id"],
        person=row["person"],
        plot=row["plot"],
        own_limit=row["own_limit"],
        let_off=bool(row["let_off"]),
        starts=date.fromisoformat(row["starts"]),
        until=date.fromisoformat(row["until"]),
        reason=row["reason"],
        agreed=row["agreed"],
        by=row["by"],
        at=time(row["at"]),
        ended_by=row["ended_by"],
        ended_at=time_or_none(row["ended_at"]),
    )
