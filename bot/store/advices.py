"""The advices as given, each with all that it was made from, so that it can be given again; and the cautions."""

from __future__ import annotations

import hashlib
import json
import sqlite3
from dataclasses import replace
from datetime import date, datetime
from functools import lru_cache

from bot.errors import StoreError
from bot.store.columns import stamp, time
from bot.store.database import Database
from bot.store.forms import as_json, from_json
from bot.store.held import Inputs, Person, StoredAdvice, StoredMessage, StoredPlot
from bot.store.log import stored_observation
from rules.terms import Advice, Advised, Observation, Weather


class Advices:
    """Verbs on advices and cautions."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def keep(
        self,
        plot: StoredPlot,
        advice: Advice,
        inputs: Inputs,
        *,
        at: datetime,
        text: str,
        language: str,
        version: str,
        message: StoredMessage | None = None,
        sent_by: str = "line",
    ) -> int:
        """Keep an advice with what it was made from; its id.

        Args:
            at: when it was given; `inputs.on` is the day it was made for.
            text, language: the words sent.
            version: the program's.
            message: the one that it answers; None: the line or the office spoke first.
            sent_by: `line`, or the role of the person who sent it.
        Raises: ValueError, for a number that is not finite.
        """
        with self._database.transaction():
            return self._database.write(
                """INSERT INTO advices
                (person, plot, message, day, at, advice, inputs, weather, version, language, text, sent_by)
                VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)""",
                (
                    plot.person,
                    plot.id,
                    message.id if message else None,
                    inputs.on.isoformat(),
                    stamp(at),
                    as_json(advice),
                    as_json(replace(inputs, weather=None, observations=inputs.observations[len(inputs.reported) :])),
                    None if inputs.weather is None else self._keep_weather(inputs.weather),
                    version,
                    language,
                    text,
                    sent_by,
                ),
            )

    def last(self, plot: StoredPlot) -> StoredAdvice | None:
        """The advice given last for the plot."""
        found = self.of(plot, at_most=1)
        return found[0] if found else None

    def last_of_year(self, plot: StoredPlot, year: int) -> StoredAdvice | None:
        """The advice given last for the plot for a day of this year."""
        row = self._database.row(
            "SELECT * FROM advices WHERE person = ? AND plot = ? AND day BETWEEN ? AND ? ORDER BY id DESC LIMIT 1",
            (plot.person, plot.id, f"{year:04}-01-01", f"{year:04}-12-31"),
        )
        return _advice(row) if row else None

    def of(self, plot: StoredPlot, at_most: int = 100) -> list[StoredAdvice]:
        """The advices given for the plot, newest first."""
        rows = self._database.rows(
            "SELECT * FROM advices WHERE person = ? AND plot = ? ORDER BY id DESC LIMIT ?",
            (plot.person, plot.id, at_most),
        )
        return [_advice(row) for row in rows]

    def answering(self, message: StoredMessage) -> dict[int, StoredAdvice]:
        """The advices given in answer to a message, by plot."""
        rows = self._database.rows("SELECT * FROM advices WHERE message = ? ORDER BY id", (message.id,))
        return {advice.plot: advice for advice in map(_advice, rows)}

    def watered(self, plot: StoredPlot, since: date, before: date) -> list[Advised]:
        """The waterings advised on days since and before, as the last advice of each day had it; oldest first."""
        rows = self._database.rows(
            """SELECT day, depth_mm, max(id) FROM advices
            WHERE person = ? AND plot = ? AND day >= ? AND day < ? GROUP BY day ORDER BY day""",
            (plot.person, plot.id, since.isoformat(), before.isoformat()),
        )
        return [Advised(on=date.fromisoformat(row["day"]), depth_mm=row["depth_mm"]) for row in rows if row["depth_mm"]]

    def by_id(self, id: int) -> StoredAdvice | None:
        """The advice, if there is one of that id."""
        row = self._database.row("SELECT * FROM advices WHERE id = ?", (id,))
        return _advice(row) if row else None

    def last_citing(self, cited: str, since: date, offset: int, at_most: int) -> tuple[list[StoredAdvice], int]:
        """The last advices of the plots whose last was given since then and whose table rows hold this text, newest
        first, and how many there are in all; `""`: of every plot."""
        which = """FROM last_advices JOIN advices ON advices.id = last_advices.advice
            WHERE last_advices.day >= ? AND instr(advices.advice, ?) > 0"""
        values = (since.isoformat(), cited)
        rows = self._database.rows(
            f"SELECT advices.* {which} ORDER BY advices.id DESC LIMIT ? OFFSET ?", (*values, at_most, offset)
        )
        counted = self._database.row(f"SELECT count(*) AS n {which}", values)
        return [_advice(row) for row in rows], int(counted["n"]) if counted else 0

    def last_between(
        self, cited: str, since: datetime, until: datetime, offset: int, at_most: int
    ) -> tuple[list[tuple[int, StoredAdvice]], int, int]:
        """The last advice of each person on each plot of those given from `since` on and before `until` whose table rows
        hold this text (`""`: all), oldest first.

        Returns: each with the person who was told, who may be another than the one that the plot is held with; how many
            there are in all, and how many people.
        """
        last = """SELECT max(advices.id) AS id, coalesce(messages.person, advices.person) AS told
            FROM advices LEFT JOIN messages ON messages.id = message
            WHERE advices.at >= ? AND advices.at < ? AND instr(advices.advice, ?) > 0 GROUP BY told, advices.plot"""
        values = (stamp(since), stamp(until), cited)
        counted = self._database.row(f"SELECT count(*) AS n, count(DISTINCT told) AS people FROM ({last})", values)
        rows = self._database.rows(
            f"SELECT * FROM ({last} ORDER BY 1 LIMIT ? OFFSET ?) JOIN advices USING (id) ORDER BY id",
            (*values, at_most, offset),
        )
        found = [(row["told"], _advice(row)) for row in rows]
        return found, *((counted["n"], counted["people"]) if counted else (0, 0))

    def inputs(self, advice: StoredAdvice) -> Inputs:
        """All that an advice was made from.

        Raises: StoreError, when the advice is held no more.
        """
        row = self._database.row(
            """SELECT inputs, body FROM advices LEFT JOIN weather_seen ON weather_seen.id = advices.weather
            WHERE advices.id = ?""",
            (advice.id,),
        )
        if row is None:
            raise StoreError(f"there is no advice {advice.id}")
        weather = None if row["body"] is None else from_json(Weather, row["body"])
        held = from_json(Inputs, row["inputs"])
        return replace(held, weather=weather, observations=(*self._reported(held.reported), *held.observations))

    def _reported(self, ids: tuple[int, ...]) -> list[Observation]:
        """Observations of the log as they counted when they were advised on, whatever was taken back since."""
        rows = self._database.rows(
            "SELECT * FROM observations WHERE id IN (SELECT value FROM json_each(?))", (json.dumps(ids),)
        )
        terms = {row["id"]: replace(stored_observation(row), retracted_by=None).term() for row in rows}
        return [terms[id] for id in ids]

    def caution(self, person: Person, caution: str, at: datetime, plot: StoredPlot | None = None) -> None:
        """Note that a caution was given, on a plot or to the person."""
        self._database.write(
            "INSERT INTO cautions (person, plot, caution, at) VALUES (?, ?, ?, ?)",
            (person.id, plot.id if plot else None, caution, stamp(at)),
        )

    def cautions(self, person: Person, plot: StoredPlot | None = None) -> dict[str, datetime]:
        """When each caution was given last, on this plot or (None) to the person."""
        rows = self._database.rows(
            "SELECT caution, max(at) AS at FROM cautions WHERE person = ? AND plot IS ? GROUP BY caution",
            (person.id, plot.id if plot else None),
        )
        return {row["caution"]: time(row["at"]) for row in rows}

    def _keep_weather(self, weather: Weather) -> int:
        """The id of this weather; the plots of a place share one copy."""
        digest, body = _weather_form(weather)
        row = self._database.row("SELECT id FROM weather_seen WHERE digest = ?", (digest,))
        if row:
            return int(row["id"])
        return self._database.write("INSERT INTO weather_seen (digest, body) VALUES (?, ?)", (digest, body))


@lru_cache(maxsize=32)
def _weather_form(weather: Weather) -> tuple[str, str]:
    body = as_json(weather)
    return hashlib.sha256(body.encode()).hexdigest(), body


def _advice(row: sqlite3.Row) -> StoredAdvice:
    return StoredAdvice(
        id=row["id"],
        person=row["person"],
        plot=row["plot"],
        message=row["message"],
        on=date.fromisoformat(row["day"]),
        at=time(row["at"]),
        advice=from_json(Advice, row["advice"]),
        version=row["version"],
        language=row["language"],
        text=row["text"],
        sent_by=row["sent_by"],
    )
