"""Lists of people, plots and calls for the office: searched, sorted and by the page, with what each row shows in one query."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any, NamedTuple

from bot.store.calls import stored_call
from bot.store.columns import Column, column, day_or_none, time_or_none
from bot.store.database import Database
from bot.store.held import Person, StoredCall
from bot.store.sought import is_sought

# Whose advice is older than this has gone quiet; that is no news of today. A probe stays wrong for longer.
_LATE_FOR, _DOUBTED_FOR = timedelta(days=10), timedelta(days=30)
_OPEN_PLOT = "plots.name IS NOT NULL AND plots.closed IS NOT 1"


@dataclass(frozen=True, kw_only=True)
class Search:
    """What a list is narrowed to, and its order.

    Args:
        words: each must stand in the name of a plot or in the place, be a plant's, or end the address.
        plants: for each word the ids of the plants that it may name.
        desks: only people who were handed to one of these desks; None: all.
        sort: a key of the list's; it starts with `-` to turn the order round.
    """

    words: tuple[str, ...] = ()
    plants: tuple[tuple[str, ...], ...] = ()
    desks: tuple[str, ...] | None = None
    sort: str = ""
    offset: int = 0
    at_most: int = 50


@dataclass(frozen=True, kw_only=True)
class Row:
    """What is told of a person in any list. `plots` are the names of the open ones."""

    person: int
    channel: str
    address: str
    language: str | None
    place: str | None
    stopped: bool
    plots: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class PersonRow(Row):
    """A person, when the last text was, and whether they have a call that is not done."""

    heard_at: datetime | None
    called: bool


@dataclass(frozen=True, kw_only=True)
class PlotRow(Row):
    """A plot with its last advice: made on `day`, to water or to look on `due`."""

    plot: int
    name: str
    plant: str | None
    advice: int
    day: date | None
    due: date | None


@dataclass(frozen=True, kw_only=True)
class CallRow(Row):
    """A call, with the last text of its person."""

    call: StoredCall
    text: str | None


class Given(NamedTuple):
    """An advice in short."""

    advice: int
    plot: int
    name: str
    verdict: str
    person: int


_PERSON = """people.id AS person, channel, address, language, people.place, stopped, (
    SELECT json_group_array(name) FROM (SELECT name FROM plots
        WHERE plots.person = people.id AND plots.name IS NOT NULL AND plots.closed IS NOT 1 ORDER BY plots.id)) AS plots"""
_PEOPLE_SORTS = {"heard": "heard_at", "place": "people.place COLLATE NOCASE", "since": "people.id"}
_PLOT_SORTS = {
    "due": "last.due",
    "name": "plots.name COLLATE NOCASE",
    "plant": "plots.plant",
    "place": "coalesce(plots.place, people.place) COLLATE NOCASE",
}
_PLOTS = """FROM last_advices AS last JOIN plots ON plots.id = last.plot JOIN people ON people.id = last.person"""
_LATE = """last.verdict = 'WATER' AND last.due < ? AND last.due >= ? AND NOT EXISTS (
    SELECT 1 FROM observations WHERE observations.person = last.person AND observations.plot = last.plot
    AND kind = 'watering' AND observations.day >= last.day AND retracted_by IS NULL AND set_aside IS NULL)"""
_DOUBTED = "last.verdict = 'CHECK' AND last.due >= ?"
_STANDING = f"{_OPEN_PLOT} AND plots.paused IS NOT 1 AND people.stopped IS NOT 1"


class Overview:
    """Verbs on lists."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def people(self, search: Search) -> tuple[list[PersonRow], int]:
        """The people who fit, by their last text, and how many there are."""
        where, values = _narrowed(search)
        ids, counted = self._page(
            "people.id AS id", f"FROM people WHERE {where}", values, search,
            _order(search, _PEOPLE_SORTS, "-heard", "people.id"),
        )  # fmt: skip
        rows = self._database.rows(
            f"""SELECT {_PERSON}, heard_at,
            EXISTS (SELECT 1 FROM calls WHERE calls.person = people.id AND state <> 'done') AS called
            FROM people WHERE people.id IN ({_marks(ids)})""",
            ids,
        )
        told = [
            PersonRow(**_person(row), heard_at=time_or_none(row["heard_at"]), called=bool(row["called"]))
            for row in rows
        ]
        return sorted(told, key=lambda each: ids.index(each.person)), counted

    def late(self, search: Search, today: date) -> tuple[list[PlotRow], int]:
        """Plots that should have been watered before today, no watering told of since; the longest first."""
        return self._plots(_LATE, search, today)

    def doubted(self, search: Search, today: date) -> tuple[list[PlotRow], int]:
        """Plots whose last reading could not be trusted; the longest first."""
        return self._plots(_DOUBTED, search, today)

    def _plots(self, which: str, search: Search, today: date) -> tuple[list[PlotRow], int]:
        narrowed, values = _narrowed(search)
        since = (today, today - _LATE_FOR) if which is _LATE else (today - _DOUBTED_FOR,)
        ids, counted = self._page(
            "last.plot AS id", f"{_PLOTS} WHERE {which} AND {_STANDING} AND {narrowed}",
            [*map(column, since), *values], search, _order(search, _PLOT_SORTS, "due", "last.plot"),
        )  # fmt: skip
        rows = self._database.rows(
            f"""SELECT {_PERSON}, last.plot, last.advice, last.day, last.due, plots.name, plots.plant,
            coalesce(plots.place, people.place) AS place {_PLOTS} WHERE last.plot IN ({_marks(ids)})""",
            ids,
        )
        return sorted(map(_plot, rows), key=lambda each: ids.index(each.plot)), counted

    def _page(
        self, columns: str, source: str, values: Sequence[Column], search: Search, order: str
    ) -> tuple[list[int], int]:
        """The ids on one page of a list, in order, and how many there are in all.

        What else a row shows is asked for afterwards: to sort, SQLite works out every column of every row.
        """
        rows = self._database.rows(
            f"SELECT {columns} {source} ORDER BY {order} LIMIT ? OFFSET ?", (*values, search.at_most, search.offset)
        )
        return [row["id"] for row in rows], self._count(f"SELECT count(*) AS n {source}", values)

    def calls(self, desks: Sequence[str] | None = None, done: bool = False, at_most: int = 200) -> list[CallRow]:
        """The calls of these desks (None: all): not done, urgent ones first, then by how long they wait; or the last done."""
        order = "done_at DESC" if done else "urgent DESC, waits_since IS NULL, waits_since, at"
        rows = self._database.rows(
            f"""WITH shown AS MATERIALIZED (SELECT * FROM calls WHERE state {"=" if done else "<>"} 'done'
                {_of_desks(desks)} ORDER BY {order} LIMIT ?)
            SELECT {_PERSON}, {", ".join(f"shown.{name} AS call_{name}" for name in _CALL)},
            (SELECT text FROM messages WHERE messages.person = people.id AND author = 'person'
                ORDER BY received_at DESC, messages.id DESC LIMIT 1) AS text
            FROM shown JOIN people ON people.id = shown.person ORDER BY {order}""",
            (*(desks or ()), at_most),
        )
        return [_call(row) for row in rows]

    def waiting(self, desks: Sequence[str] | None = None) -> int:
        """How many calls of these desks wait for the office."""
        return self._count(
            f"""SELECT count(*) AS n FROM calls WHERE state <> 'done' AND waits_since IS NOT NULL {_of_desks(desks)}""",
            (*(desks or ()),),
        )

    def on_desks(self, person: Person, desks: Sequence[str]) -> bool:
        """Whether the person was ever handed to one of these desks."""
        return bool(
            self._count(
                f"SELECT count(*) AS n FROM calls WHERE person = ? {_of_desks(desks)}", (person.id, *(desks or ()))
            )
        )

    def verdicts(self, person: Person) -> dict[int, list[Given]]:
        """The advices that the person got, by the message that they answer; of a shared plot they are its maker's."""
        rows = self._database.rows(
            """SELECT advices.id, advices.person, message, plot, name,
            coalesce(json_extract(advice, '$.verdict'), '') AS verdict
            FROM messages JOIN advices ON advices.message = messages.id JOIN plots ON plots.id = plot
            WHERE messages.person = ? ORDER BY advices.id""",
            (person.id,),
        )
        found: dict[int, list[Given]] = {}
        for row in rows:
            given = Given(row["id"], row["plot"], row["name"] or "", row["verdict"], row["person"])
            found.setdefault(row["message"], []).append(given)
        return found

    def last_heard(self) -> datetime | None:
        """When the last text of anybody arrived."""
        row = self._database.row("SELECT received_at FROM messages WHERE author = 'person' ORDER BY id DESC LIMIT 1")
        return time_or_none(row["received_at"]) if row else None

    def _count(self, sql: str, values: Sequence[Column]) -> int:
        row = self._database.row(sql, values)
        return int(row["n"]) if row else 0


_CALL = (
    "id", "person", "reason", "at", "message", "state", "taken_by", "desk", "origin", "silent", "urgent", "waits_since",
    "done_at",
)  # fmt: skip


def _marks(values: Sequence[object]) -> str:
    """A question mark for each value."""
    return ", ".join("?" * len(values))


def _of_desks(desks: Sequence[str] | None) -> str:
    return "" if desks is None else f"AND desk IN ({_marks(desks)})"


def _order(search: Search, sorts: dict[str, str], usual: str, then: str) -> str:
    key = search.sort if search.sort.removeprefix("-") in sorts else usual
    way = " DESC" if key.startswith("-") else ""
    return f"{sorts[key.removeprefix('-')]}{way}, {then}{way}"


def _narrowed(search: Search) -> tuple[str, list[Column]]:
    """A condition on `people` and its values."""
    parts, values = ["1"], list[Column]()
    for word, plants in zip(search.words, search.plants, strict=True):
        condition, sought = is_sought(word, plants)
        parts.append(condition)
        values += sought
    if search.desks is not None:
        parts.append(f"EXISTS (SELECT 1 FROM calls WHERE calls.person = people.id {_of_desks(search.desks)})")
        values += search.desks
    return " AND ".join(parts), values


def _person(row: sqlite3.Row) -> dict[str, Any]:
    known = {name: row[name] for name in ("person", "channel", "address", "language", "place")}
    return known | {"stopped": bool(row["stopped"]), "plots": tuple(json.loads(row["plots"]))}


def _plot(row: sqlite3.Row) -> PlotRow:
    known = {name: row[name] for name in ("plot", "name", "plant", "advice")}
    return PlotRow(**_person(row), **known, day=day_or_none(row["day"]), due=day_or_none(row["due"]))


def _call(row: sqlite3.Row) -> CallRow:
    columns = {name: row[f"call_{name}"] for name in _CALL}
    return CallRow(**_person(row), call=stored_call(columns), text=row["text"])
