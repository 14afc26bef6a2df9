"""All that is held on one person: told in short (`state`), in full (`export`), and erased (`forget`)."""

from __future__ import annotations

import json
from datetime import date, datetime
from typing import Any

from bot.errors import StoreBusy
from bot.store.columns import column, stamp
from bot.store.database import Database
from bot.store.facts import Facts
from bot.store.held import Person, StoredObservation, StoredPlot
from bot.store.log import Log
from bot.store.passing import Passing
from bot.store.people import People
from bot.store.plots import Plots

_PLOT_STATE = ("soil", "plant", "root_depth_cm", "rate_mm_h", "probe")
_JSON = ("layout", "counts", "question", "dialogue", "replies", "water_days", "advice", "inputs", "weather")
# What others told of a shared plot, and were answered, is handed out without their words.
_MINE, _OWN_WORDS = "{table}.person = :person", "messages.person = :person"
_ANSWERS_ME = "messages.person IS NULL OR messages.person = :person"
_TABLES = {
    "person": "SELECT * FROM people WHERE id = :person",
    "plots": "SELECT * FROM plots WHERE person = :person ORDER BY id",
    "facts": "SELECT * FROM facts WHERE person = :person ORDER BY id",
    "messages": "SELECT * FROM messages WHERE person = :person ORDER BY id",
    "shares": f"""SELECT plot, shares.name, since FROM shares JOIN plots ON plots.id = plot
        WHERE {_MINE.format(table="plots")} OR shares.person = :person ORDER BY plot, since""",
    "observations": f"""SELECT observations.id, plot, kind, day, at, quantity, value, depth_cm, soil_temp_c, minutes, depth_mm,
        litres, litres_each, sign, iif({_OWN_WORDS}, message, NULL) AS message, iif({_OWN_WORDS}, words, NULL) AS words,
        set_aside, observations.retracted_by FROM observations JOIN messages ON messages.id = message
        WHERE {_MINE.format(table="observations")} OR {_OWN_WORDS} ORDER BY observations.id""",
    "advices": f"""SELECT advices.id, plot, day, at, version, sent_by, advice, inputs, body AS weather,
        iif({_ANSWERS_ME}, message, NULL) AS message, iif({_ANSWERS_ME}, advices.text, NULL) AS text,
        advices.language FROM advices LEFT JOIN weather_seen ON weather_seen.id = advices.weather
        LEFT JOIN messages ON messages.id = message
        WHERE {_MINE.format(table="advices")} OR {_OWN_WORDS} ORDER BY advices.id""",
    "cautions": "SELECT * FROM cautions WHERE person = :person ORDER BY at",
    "series": "SELECT plot, quantity, depth_cm, at, value, message FROM series WHERE person = :person",
    "sensor_tokens": "SELECT plot, by, at FROM sensor_tokens WHERE person = :person ORDER BY at",
    "baselines": "SELECT * FROM baselines WHERE person = :person ORDER BY id",
    "exceptions": "SELECT * FROM exceptions WHERE person = :person ORDER BY id",
    "logger_files": "SELECT * FROM logger_files WHERE person = :person ORDER BY id",
    "misses": """SELECT misses.* FROM misses JOIN messages ON messages.id = message WHERE messages.person = :person
        ORDER BY misses.id""",
    "calls": "SELECT * FROM calls WHERE person = :person ORDER BY id",
    "notes": "SELECT notes.* FROM notes JOIN calls ON calls.id = call WHERE person = :person ORDER BY notes.id",
}


class Holdings:
    """Verbs on everything of one person."""

    def __init__(self, database: Database, people: People, plots: Plots, facts: Facts, log: Log) -> None:
        self._database, self._people, self._plots, self._log = database, people, plots, log
        self._passing = Passing(database, plots, facts)

    def state(self, person: Person) -> dict[str, Any]:
        """What the store holds now, in short: standing, open plots, and every observation with whether it counts."""
        with self._database.transaction():
            now = self._people.known(person.channel, person.address)
            return {
                "stopped": bool(now and now.stopped),
                "language": now and now.language,
                "units": now and now.units,
                "plots": [_plot_state(plot) for plot in self._plots.of(now)] if now else [],
                "observations": self._observation_states(now) if now else [],
            }

    def export(self, person: Person) -> dict[str, list[dict[str, Any]]]:
        """Every row held on the person, by subject, as JSON can carry it. Locked texts are no part of it."""
        with self._database.transaction():
            return {
                subject: [
                    {name: _exported(name, value) for name, value in dict(row).items()}
                    for row in self._database.rows(select, {"person": person.id})
                ]
                for subject, select in _TABLES.items()
            }

    def forget(self, person: Person, at: datetime, texts_locked_until: date | None = None) -> None:
        """Erase the person and all that hangs on them, and wipe it from the file once committed.

        Args:
            texts_locked_until: where a law has the texts kept: they go, with the address and nothing else, to a table
                that no screen and no export shows, until `drop_locked_texts` after that day. None: they are erased too.
        """
        with self._database.transaction():
            if texts_locked_until:
                self._database.write(
                    """INSERT INTO locked_texts (channel, address, author, text, replies, received_at, locked_until)
                    SELECT channel, address, author, text, replies, received_at, ? FROM messages
                    JOIN people ON people.id = person WHERE person = ? ORDER BY messages.id""",
                    (column(texts_locked_until), person.id),
                )
            self._leave(person, at)
            self._drop_unseen_weather()
            self._erased(at)

    def _leave(self, person: Person, at: datetime) -> None:
        """Erase the person; the record of a plot that others share goes on without their words and number."""
        self._passing.on(person, at)
        self._database.write("DELETE FROM people WHERE id = ?", (person.id,))

    def forget_silent(self, since: datetime, at: datetime) -> int:
        """Erase the people who were silent since then and whom nobody has to answer; how many.

        Who said stop stays known by the address and that wish alone, so that it is kept.
        """
        silent = """NOT EXISTS (SELECT 1 FROM messages WHERE messages.person = people.id AND received_at >= ?)
            AND created < ? AND NOT EXISTS (SELECT 1 FROM calls WHERE calls.person = people.id AND state <> 'done')"""
        with self._database.transaction():
            gone = self._database.rows(
                f"""SELECT * FROM people WHERE {silent} AND (stopped IS NOT 1
                OR EXISTS (SELECT 1 FROM messages WHERE messages.person = people.id))""",
                (stamp(since), stamp(since)),
            )
            for row in gone:
                self._leave(self._people.by_id(row["id"]), at)
                if row["stopped"]:
                    self._keep_stopped(row["channel"], row["address"], at)
            if gone:
                self._drop_unseen_weather()
                self._erased(at)
            return len(gone)

    def _keep_stopped(self, channel: str, address: str, at: datetime) -> None:
        made = self._database.write(
            "INSERT INTO people (channel, address, created, stopped) VALUES (?, ?, ?, 1)", (channel, address, stamp(at))
        )
        self._database.write(
            "INSERT INTO facts (person, about, value, at) VALUES (?, 'stopped', 1, ?)", (made, stamp(at))
        )

    def drop_locked_texts(self, on: date, at: datetime) -> None:
        """Erase the locked texts whose day has passed."""
        with self._database.transaction():
            if self._database.rows("DELETE FROM locked_texts WHERE locked_until < ? RETURNING id", (column(on),)):
                self._erased(at)

    def sweep(self) -> None:
        """Wipe from the file what erasures have left, where that is still due. In use by others: it stays due.

        Zeroing deleted cells is not enough: pages that were split keep stale copies, which only a rebuilt file has not.
        """
        if not self._database.row("SELECT 1 FROM erasures WHERE NOT swept"):
            return
        try:
            self._database.write("VACUUM")
            emptied = self._database.row("PRAGMA wal_checkpoint(TRUNCATE)")
        except StoreBusy:
            return
        if emptied and not emptied["busy"]:
            self._database.write("UPDATE erasures SET swept = 1")

    def _observation_states(self, person: Person) -> list[dict[str, Any]]:
        # from the log, where closed plots and those whose making was undone have a name too
        rows = self._database.rows(
            """SELECT plot, value FROM facts WHERE person = ? AND about = 'name'
            ORDER BY retracted_by IS NULL, at, id""",
            (person.id,),
        )
        names = {row["plot"]: row["value"] for row in rows}
        return [_observation_state(each, names) for each in self._log.history(person)]

    def _drop_unseen_weather(self) -> None:
        self._database.write(
            "DELETE FROM weather_seen WHERE NOT EXISTS (SELECT 1 FROM advices WHERE weather = weather_seen.id)"
        )

    def _erased(self, at: datetime) -> None:
        self._database.write("INSERT INTO erasures (at) VALUES (?)", (stamp(at),))
        self._database.after_commit(self.sweep)


def _plot_state(plot: StoredPlot) -> dict[str, Any]:
    return {"name": plot.name, "place": plot.place} | {name: getattr(plot.facts, name) for name in _PLOT_STATE}


def _observation_state(observation: StoredObservation, names: dict[int, str]) -> dict[str, Any]:
    return {
        "is": observation.kind,
        **observation.slots,
        "plot": names.get(observation.plot) if observation.plot else None,
        "on": observation.on and observation.on.isoformat(),
        "in_force": observation.in_force,
    }


def _exported(name: str, value: Any) -> Any:
    return json.loads(value) if name in _JSON and isinstance(value, str) else value
