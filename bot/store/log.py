"""The log of observations: only ever added to. What was wrong is retracted, what is impossible set aside."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from datetime import date, datetime
from typing import Any

from bot.errors import StoreError
from bot.store.columns import column, day_or_none, time_or_none
from bot.store.database import Database
from bot.store.held import SLOTS, Person, StoredMessage, StoredObservation, StoredPlot

_IN_FORCE = "day IS NOT NULL AND retracted_by IS NULL AND set_aside IS NULL"
# Of a shared plot all is held with who made it, whoever told it.
_HELD_WITH = "CASE WHEN EXISTS (SELECT 1 FROM shares WHERE plot = ? AND person = ?) THEN ? ELSE ? END"
_OF_PLOT = f"SELECT * FROM observations WHERE person = ? AND plot = ? AND {_IN_FORCE}"
_OF_ALL = f"SELECT * FROM observations WHERE person = ? AND plot IS NULL AND kind = 'rain' AND {_IN_FORCE}"
_COUNTS = f"{_OF_PLOT} UNION ALL {_OF_ALL}"
_NEWEST = "ORDER BY day DESC, at DESC, id DESC LIMIT 1"
# The newest of each first: an index has them in order, and the two together are sorted again.
_LAST = f"SELECT * FROM ({_OF_PLOT} {_NEWEST}) UNION ALL SELECT * FROM ({_OF_ALL} {_NEWEST}) {_NEWEST}"


class Log:
    """Verbs on observations."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def keep(
        self,
        message: StoredMessage,
        kind: str,
        slots: Mapping[str, Any],
        *,
        plot: StoredPlot | None,
        on: date | None,
        at: datetime | None = None,
        words: str | None = None,
        set_aside: str | None = None,
    ) -> int:
        """Add an observation of the message's person, or of a plot that this person shares; its id.

        Args:
            kind: `reading`, `watering`, `rain` or `sign`.
            slots: values of the slots that SLOTS names for the kind, in SI; a slot left out is not known.
            plot: None for rain, which falls on all plots of the person, or where the plot is not known.
            on, at: the local day and time of what was seen; `at` orders the events of one day.
            words: the words that told it.
            set_aside: why it can't be true, so that it counts for nothing.
        Raises: StoreError, for an unknown kind or slot, a value of the wrong type, or somebody else's plot.
        """
        names = SLOTS.get(kind, ())
        if not names or not slots.keys() <= set(names):
            raise StoreError(f"a {kind} has the slots {', '.join(names) or 'of no known kind'}")
        self._database.changed("log")
        return self._database.write(
            f"""INSERT INTO observations (person, plot, kind, day, at, message, words, set_aside, {", ".join(names)})
            VALUES ({_HELD_WITH}, ?, ?, ?, ?, ?, ?, ?{", ?" * len(names)})""",
            (
                plot.id if plot else None,
                message.person,
                plot.person if plot else None,
                message.person,
                plot.id if plot else None,
                kind,
                column(on),
                column(at),
                message.id,
                words,
                set_aside,
                *(column(slots.get(name)) for name in names),
            ),
        )

    def observations(self, plot: StoredPlot) -> list[StoredObservation]:
        """What counts for the plot: in force and dated, rain on all the person's plots included; oldest first."""
        return self._database.once("log", plot.id, lambda: self._counting(plot))

    def _counting(self, plot: StoredPlot) -> list[StoredObservation]:
        rows = self._database.rows(f"{_COUNTS} ORDER BY day, at, id", (plot.person, plot.id, plot.person))
        told = [stored_observation(row) for row in rows]
        return self._one_gauge_a_day(told) if any(each.kind == "rain" and each.plot for each in told) else told

    def _one_gauge_a_day(self, told: list[StoredObservation]) -> list[StoredObservation]:
        """The same with one person's rain a day, who told it last: those who share a plot tell of the same rain."""
        rains = [each for each in told if each.kind == "rain"]
        tellers = {each.id: self._teller(each) for each in rains}
        last = {each.on: tellers[each.id] for each in sorted(rains, key=lambda each: each.id)}
        return [each for each in told if each.kind != "rain" or tellers[each.id] == last[each.on]]

    def _teller(self, observation: StoredObservation) -> int:
        row = self._database.row("SELECT person FROM messages WHERE id = ?", (observation.message,))
        return int(row["person"]) if row else observation.person

    def last(self, plot: StoredPlot) -> StoredObservation | None:
        """The last of `observations`, without reading the others."""
        row = self._database.row(_LAST, (plot.person, plot.id, plot.person))
        return stored_observation(row) if row else None

    def is_empty(self, plot: StoredPlot) -> bool:
        """Whether nothing that counts was ever reported of the plot."""
        return not self._database.row(f"{_COUNTS} LIMIT 1", (plot.person, plot.id, plot.person))

    def history(self, person: Person) -> list[StoredObservation]:
        """Everything the person reported, retracted and set aside included, in the order kept."""
        rows = self._database.rows(
            """SELECT observations.* FROM observations JOIN messages ON messages.id = message
            WHERE messages.person = ? ORDER BY observations.id""",
            (person.id,),
        )
        return [stored_observation(row) for row in rows]

    def of_plot(self, plot: StoredPlot) -> list[StoredObservation]:
        """Everything reported of the plot itself, whoever told it, retracted and set aside included, in the order kept."""
        rows = self._database.rows(
            "SELECT * FROM observations WHERE person = ? AND plot = ? ORDER BY id", (plot.person, plot.id)
        )
        return [stored_observation(row) for row in rows]


def stored_observation(row: sqlite3.Row) -> StoredObservation:
    """A row of `observations`."""
    kind = row["kind"]
    return StoredObservation(
        id=row["id"],
        person=row["person"],
        plot=row["plot"],
        kind=kind,
        on=day_or_none(row["day"]),
        at=time_or_none(row["at"]),
        slots={name: row[name] for name in SLOTS[kind]},
        message=row["message"],
        words=row["words"],
        set_aside=row["set_aside"],
        retracted_by=row["retracted_by"],
    )
