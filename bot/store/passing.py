"""What becomes of a shared plot when somebody who waters it is erased: its record goes on, without their words and number.

What they told stands from then on under an empty message of whoever keeps the plot. Rows that are never edited are put
in the place of themselves, under their own ids, so that order and links stay.
"""

from __future__ import annotations

from datetime import datetime

from bot.store.columns import stamp
from bot.store.database import Database
from bot.store.facts import Facts
from bot.store.held import Person, StoredPlot
from bot.store.plots import Plots

# Whose messages these are: nobody's any more.
LEFT = "left"
_HOME = ("place", "latitude", "longitude", "elevation_m")
_THEIRS = "(SELECT person FROM messages WHERE messages.id = {}) = :leaving"
_OBSERVATIONS = f"""INSERT OR REPLACE INTO observations
    (id, person, plot, kind, day, at, quantity, value, depth_cm, soil_temp_c, minutes, depth_mm, litres, litres_each, sign,
        message, words, set_aside, retracted_by)
    SELECT id, :keeper, plot, kind, day, at, quantity, value, depth_cm, soil_temp_c, minutes, depth_mm, litres, litres_each, sign,
        iif({_THEIRS.format("message")}, :stub, message), iif({_THEIRS.format("message")}, NULL, words), set_aside,
        iif({_THEIRS.format("retracted_by")}, :stub, retracted_by)
    FROM observations WHERE plot = :plot"""
_FACTS = f"""INSERT OR REPLACE INTO facts (id, person, plot, about, value, at, message, retracted_by, by)
    SELECT id, :keeper, plot, about, value, at, iif({_THEIRS.format("message")}, NULL, message),
        iif({_THEIRS.format("retracted_by")}, :stub, retracted_by), by
    FROM facts WHERE plot = :plot"""
_ADVICES = f"""INSERT OR REPLACE INTO advices
    (id, person, plot, message, day, at, advice, inputs, weather, version, language, text, sent_by)
    SELECT id, :keeper, plot, iif({_THEIRS.format("message")}, NULL, message), day, at, advice, inputs, weather, version,
        language, iif({_THEIRS.format("message")}, '', text), sent_by
    FROM advices WHERE plot = :plot ORDER BY id"""
# Rain told by who made the plot fell on all of theirs: the last plot to be handed on keeps its ids, which advices name.
_RAINS = """INSERT OR REPLACE INTO observations (id, person, plot, kind, day, at, depth_mm, message)
    SELECT iif(:last, id, NULL), :keeper, :plot, kind, day, at, depth_mm, :stub FROM observations
    WHERE person = :leaving AND plot IS NULL AND kind = 'rain' AND retracted_by IS NULL AND set_aside IS NULL"""
_BESIDE = (
    "series",
    "cautions",
    "baselines",
    "sensor_tokens",
    "logger_files",
    "logger_uploads",
    "last_advices",
    "exceptions",
)
_READ_BY_PROBES = ("series", "logger_files")


class Passing:
    """The one verb."""

    def __init__(self, database: Database, plots: Plots, facts: Facts) -> None:
        self._database, self._plots, self._facts = database, plots, facts

    def on(self, leaving: Person, at: datetime) -> None:
        """Take the person out of all plots that others water too; who has shared theirs for longest keeps it.

        It must happen inside the transaction that erases the person.
        """
        self._database.write("PRAGMA defer_foreign_keys = ON")  # a plot changes hands before its rows do
        heirs = self._database.rows(
            """SELECT plot, shares.person, shares.name, min(since) FROM shares JOIN plots ON plots.id = plot
            WHERE plots.person = ? AND plots.name IS NOT NULL GROUP BY plot""",
            (leaving.id,),
        )
        for row in heirs:
            stub = self._hand_over(self._plots.by_id(row["plot"]), row["person"], row["name"], leaving, at)
            rains = {"keeper": row["person"], "plot": row["plot"], "leaving": leaving.id, "stub": stub}
            self._database.write(_RAINS, rains | {"last": row is heirs[-1]})
        told_of = self._database.rows(
            """SELECT DISTINCT plot, observations.person FROM observations JOIN messages ON messages.id = message
            WHERE messages.person = :leaving AND observations.person <> :leaving
            UNION SELECT DISTINCT plot, facts.person FROM facts JOIN messages ON messages.id = message
            WHERE messages.person = :leaving AND facts.person <> :leaving""",
            {"leaving": leaving.id},
        )
        for row in told_of:
            self._keep_told(row["plot"], row["person"], leaving, at)
        self._database.changed("plots")
        self._database.changed("log")

    def _hand_over(self, plot: StoredPlot, heir: int, name: str, leaving: Person, at: datetime) -> int:
        """Make the plot the heir's own, under the name that they gave it, at the place where it lies; as `_keep_told`."""
        self._facts.set(plot, "name", name, at=at)
        if plot.facts.latitude is not None:
            for about in _HOME:
                value = plot.place if about == "place" else getattr(plot.facts, about)
                self._facts.set(plot, about, value, at=at)
        self._database.write("DELETE FROM shares WHERE plot = ? AND person = ?", (plot.id, heir))
        self._database.write("UPDATE plots SET person = ? WHERE id = ?", (heir, plot.id))
        stub = self._keep_told(plot.id, heir, leaving, at)
        for table in _BESIDE:
            self._database.write(f"UPDATE {table} SET person = ? WHERE plot = ?", (heir, plot.id))
        for table in _READ_BY_PROBES:
            self._database.write(
                f"""UPDATE {table} SET message = ? WHERE plot = ?
                AND (SELECT person FROM messages WHERE messages.id = message) = ?""",
                (stub, plot.id, leaving.id),
            )
        return stub

    def _keep_told(self, plot: int, keeper: int, leaving: Person, at: datetime) -> int:
        """Put what the leaving person told of a plot under an empty message of its keeper; the message's id."""
        stub = self._database.write(
            "INSERT INTO messages (person, author, text, received_at, written_at) VALUES (?, ?, '', ?, ?)",
            (keeper, LEFT, stamp(at), stamp(at)),
        )
        for rewritten in (_OBSERVATIONS, _FACTS, _ADVICES):
            self._database.write(rewritten, {"keeper": keeper, "plot": plot, "leaving": leaving.id, "stub": stub})
        return stub
