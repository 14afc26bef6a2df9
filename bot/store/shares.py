"""Plots that several people water: one record and one advice. Who made the plot lets others in by a code that they text.

A plot stays its maker's row; whoever shares it is beside them. What each told stands under their own message, so that each
takes back what is theirs alone.
"""

from __future__ import annotations

import secrets
from dataclasses import dataclass
from datetime import datetime, timedelta

from bot.store.columns import stamp
from bot.store.database import Database
from bot.store.held import Person, StoredObservation, StoredPlot
from bot.store.log import stored_observation
from bot.store.people import People
from bot.store.plots import Plots

# Letters and figures that nobody takes for one another, and no vowel, so that no code is a word.
_SIGNS, _LENGTH = "BCDFGHJKMNPQRTVWXYZ2346789", 6
_CODE_LASTS = timedelta(days=2)


@dataclass(frozen=True, kw_only=True)
class Told:
    """What somebody else told of a shared plot."""

    by: Person
    observation: StoredObservation


class Shares:
    """Verbs on shared plots."""

    def __init__(self, database: Database, people: People, plots: Plots) -> None:
        self._database, self._people, self._plots = database, people, plots

    def invite(self, plot: StoredPlot, at: datetime) -> str:
        """A code that lets one person in, once, within two days; an older one of the plot is worth nothing any more."""
        code = "".join(secrets.choice(_SIGNS) for _ in range(_LENGTH))
        with self._database.transaction():
            self._database.write("DELETE FROM share_codes WHERE plot = ?", (plot.id,))
            self._database.write(
                "INSERT INTO share_codes (code, plot, at) VALUES (?, ?, ?)", (code, plot.id, stamp(at))
            )
        return code

    def meant(self, code: str, at: datetime) -> StoredPlot | None:
        """The open plot that a code lets in to; None: it is wrong, used or too old."""
        row = self._database.row(
            """SELECT plot FROM share_codes JOIN plots ON plots.id = plot
            WHERE code = ? AND at >= ? AND plots.name IS NOT NULL AND plots.closed IS NOT 1""",
            (code.upper(), stamp(at - _CODE_LASTS)),
        )
        return self._plots.by_id(row["plot"]) if row else None

    def join(self, plot: StoredPlot, person: Person, at: datetime) -> StoredPlot:
        """The person shares the plot from now on, under a name that none of their own has; as they hold it."""
        with self._database.transaction():
            self._database.write("DELETE FROM share_codes WHERE plot = ?", (plot.id,))
            self._database.write(
                "INSERT INTO shares (plot, person, name, since) VALUES (?, ?, ?, ?)",
                (plot.id, person.id, self._free_name(plot, person), stamp(at)),
            )
            self._database.changed("plots")
        return next(each for each in self._plots.of(person) if each.id == plot.id)

    def _free_name(self, plot: StoredPlot, person: Person) -> str:
        taken = {each.name.casefold() for each in self._plots.of(person)}
        names = [plot.name, *(f"{plot.name} {number}" for number in range(2, len(taken) + 3))]
        return next(name for name in names if name.casefold() not in taken)

    def rename(self, plot: StoredPlot, person: Person, name: str) -> None:
        """What this person, who did not make the plot, calls it."""
        self._database.changed("plots")
        self._database.write("UPDATE shares SET name = ? WHERE plot = ? AND person = ?", (name, plot.id, person.id))

    def others(self, plot: StoredPlot, person: Person) -> list[Person]:
        """Everybody who waters the plot, but this person; who made it first."""
        rows = self._database.rows("SELECT person FROM shares WHERE plot = ? ORDER BY since", (plot.id,))
        everybody = [plot.person, *(row["person"] for row in rows)]
        return [self._people.by_id(each) for each in everybody if each != person.id]

    def leave(self, plot: StoredPlot, person: Person) -> None:
        """The person shares the plot no more; what they told stays in its record."""
        self._database.changed("plots")
        self._database.write("DELETE FROM shares WHERE plot = ? AND person = ?", (plot.id, person.id))

    def end(self, plot: StoredPlot) -> None:
        """Nobody shares the plot with its maker any more."""
        self._database.changed("plots")
        self._database.write("DELETE FROM share_codes WHERE plot = ?", (plot.id,))
        self._database.write("DELETE FROM shares WHERE plot = ?", (plot.id,))

    def told_by_others(self, plot: StoredPlot, person: Person, after: int) -> list[Told]:
        """What others told of the plot after the message of this id, and what still counts of it; oldest first."""
        rows = self._database.rows(
            """SELECT observations.*, messages.person AS teller FROM observations JOIN messages ON messages.id = message
            WHERE observations.person = ? AND plot = ? AND message > ? AND messages.person <> ? AND author = 'person'
            AND day IS NOT NULL AND observations.retracted_by IS NULL AND set_aside IS NULL ORDER BY day, observations.id""",
            (plot.person, plot.id, after, person.id),
        )
        return [Told(by=self._people.by_id(row["teller"]), observation=stored_observation(row)) for row in rows]

    def last_answered(self, plot: StoredPlot, person: Person, before: int) -> int:
        """The id of the last message of this person, before the one of that id, that was answered with advice on the plot."""
        row = self._database.row(
            """SELECT coalesce(max(message), 0) AS last FROM advices JOIN messages ON messages.id = message
            WHERE advices.person = ? AND plot = ? AND message < ? AND messages.person = ?""",
            (plot.person, plot.id, before, person.id),
        )
        return int(row["last"]) if row else 0
