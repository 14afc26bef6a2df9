"""The plots of a person, under the person's own names. A new name keeps the history; so does a closed plot.

A plot that is shared (`shares`) is among the plots of everybody who waters it; `StoredPlot.person` is who made it.
"""

from __future__ import annotations

import json
import sqlite3
from datetime import datetime
from typing import Any

from bot.errors import StoreError
from bot.store.columns import day_or_none, stamp, time
from bot.store.database import Database
from bot.store.facts import Facts
from bot.store.held import Person, StoredMessage, StoredPlot
from rules.terms import Plot

_NUMBERS_AND_WORDS = (
    "soil", "soil_source", "plant", "root_depth_cm", "rate_mm_h", "rate_source", "method", "emitters_each", "flow_l_h",
    "count", "area_m2", "container_litres", "trunk_cm", "stage", "most_litres_a_day", "probe", "probe_depth_cm",
    "runoff_minutes", "house", "own_limit", "probe_full",
)  # fmt: skip
_DAYS = ("rate_on", "planted_on", "stage_on", "stress_on", "own_from", "own_until", "let_off_until")

_SELECT = f"""SELECT {", ".join(_NUMBERS_AND_WORDS)}, plots.id, plots.person, plots.created,
    coalesce(shares.name, plots.name) AS name, paused, closed,
    {", ".join(_DAYS)}, stress, water_days, coalesce(plots.place, people.place) AS place,
    plots.latitude, plots.longitude, plots.elevation_m, people.latitude AS home_latitude,
    people.longitude AS home_longitude, people.elevation_m AS home_elevation_m
    FROM plots JOIN people ON people.id = plots.person LEFT JOIN shares ON shares.plot = plots.id AND shares.person = ?
    WHERE plots.name IS NOT NULL AND """
_NOBODY = 0


class Plots:
    """Verbs on plots. What is told of one (soil, plant, rate and so on) is set through `Facts`."""

    def __init__(self, database: Database, facts: Facts) -> None:
        self._database, self._facts = database, facts

    def of(self, person: Person) -> list[StoredPlot]:
        """The person's plots in the order they were made, those shared and paused ones included, closed ones not."""
        return self._database.once("plots", person.id, lambda: self._open(person.id))

    def by_id(self, plot: int) -> StoredPlot:
        """The plot as held now, closed or not, under the name that its maker gave it.

        Raises: StoreError, when there is none, or its making was undone.
        """
        row = self._database.row(_SELECT + "plots.id = ?", (_NOBODY, plot))
        if row is None:
            raise StoreError(f"there is no plot {plot}")
        return _plot(row)

    def new(self, person: Person, name: str, *, at: datetime, message: StoredMessage | None = None) -> StoredPlot:
        """A new plot.

        Raises: StoreError, when the person has an open plot of this name.
        """
        with self._database.transaction():
            self._refuse_taken(person.id, name)
            made = self._database.write("INSERT INTO plots (person, created) VALUES (?, ?)", (person.id, stamp(at)))
            self._database.write(
                "INSERT INTO facts (person, plot, about, value, at, message) VALUES (?, ?, 'name', ?, ?, ?)",
                (person.id, made, name, stamp(at), message.id if message else None),
            )
            self._facts.put_in_force(person.id, made, "name")
            return self.by_id(made)

    def rename(self, plot: StoredPlot, name: str, *, at: datetime, message: StoredMessage | None = None) -> None:
        """Another name for the same plot.

        Raises: StoreError, when another open plot of the person has this name.
        """
        with self._database.transaction():
            self._refuse_taken(plot.person, name, but=plot.id)
            self._facts.set(plot, "name", name, at=at, message=message)

    def pause(self, plot: StoredPlot, *, at: datetime, message: StoredMessage | None = None) -> None:
        """No reminders for this plot until it is resumed."""
        self._facts.set(plot, "paused", True, at=at, message=message)

    def resume(self, plot: StoredPlot, *, at: datetime, message: StoredMessage | None = None) -> None:
        """The end of a pause."""
        self._facts.set(plot, "paused", False, at=at, message=message)

    def close(self, plot: StoredPlot, *, at: datetime, message: StoredMessage | None = None) -> None:
        """The plot is given up: it is listed no more, its history stays."""
        self._facts.set(plot, "closed", True, at=at, message=message)

    def _open(self, person: int) -> list[StoredPlot]:
        rows = self._database.rows(
            _SELECT
            + """plots.id IN (SELECT id FROM plots WHERE plots.person = ? UNION ALL SELECT plot FROM shares WHERE shares.person = ?)
            AND plots.closed IS NOT 1 ORDER BY plots.id""",
            (person, person, person),
        )
        return [_plot(row) for row in rows]

    def _refuse_taken(self, person: int, name: str, but: int | None = None) -> None:
        rows = self._database.rows("SELECT id, name FROM plots WHERE person = ? AND closed IS NOT 1", (person,))
        if any(row["name"] and row["name"].casefold() == name.casefold() and row["id"] != but for row in rows):
            raise StoreError("this person has an open plot of that name")


def _plot(row: sqlite3.Row) -> StoredPlot:
    return StoredPlot(
        id=row["id"],
        person=row["person"],
        name=row["name"],
        created=time(row["created"]),
        paused=bool(row["paused"]),
        closed=bool(row["closed"]),
        place=row["place"],
        facts=_facts(row),
    )


def _facts(row: sqlite3.Row) -> Plot:
    known: dict[str, Any] = dict(zip(_NUMBERS_AND_WORDS, row, strict=False))  # they stand first
    known |= {name: day_or_none(row[name]) for name in _DAYS}
    home = "home_" if row["latitude"] is None else ""
    return Plot(
        name=row["name"],
        place=row["place"],
        latitude=row[f"{home}latitude"],
        longitude=row[f"{home}longitude"],
        elevation_m=row[f"{home}elevation_m"],
        stress=None if row["stress"] is None else bool(row["stress"]),
        water_days=tuple(json.loads(row["water_days"] or "[]")),
        **known,
    )
