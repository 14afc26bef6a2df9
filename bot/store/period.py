"""All that passed between two days, of everybody, for a records request: rows as they are held."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from bot.store.columns import Column
from bot.store.database import Database

_ROWS = {
    "texts": """SELECT id, person, author, substr(received_at, 1, 10) AS day, text, replies, language, media FROM messages
        WHERE received_at >= ? AND received_at < ? AND author IN ('person', 'office', 'line') ORDER BY received_at, id""",
    "told": """SELECT person, plot, day, kind, quantity, value, depth_cm, minutes, depth_mm, litres, litres_each, sign,
        retracted_by IS NULL AND set_aside IS NULL AS counts FROM observations WHERE day >= ? AND day < ? ORDER BY day, id""",
    "advices": "SELECT person, plot, day, advice, version FROM advices WHERE at >= ? AND at < ? ORDER BY at, id",
    "calls": """SELECT person, substr(at, 1, 10) AS day, desk, origin, reason, state, substr(done_at, 1, 10) AS done
        FROM calls WHERE at >= ? AND at < ? ORDER BY at, id""",
}
# What a month comes to: each with what it is called, how many, and of how many people.
_COUNTS = {
    "texts": """SELECT coalesce(people.language, 'en') AS name, count(*) AS n, count(DISTINCT person) AS people
        FROM messages JOIN people ON people.id = person
        WHERE received_at >= ? AND received_at < ? AND author = 'person' GROUP BY name""",
    "told": """SELECT kind AS name, count(*) AS n, count(DISTINCT person) AS people FROM observations
        WHERE day >= ? AND day < ? AND retracted_by IS NULL AND set_aside IS NULL GROUP BY kind""",
    "advices": """SELECT verdict AS name, count(*) AS n, count(DISTINCT person) AS people FROM advices
        WHERE at >= ? AND at < ? GROUP BY verdict""",
    "calls": """SELECT origin AS name, count(*) AS n, count(DISTINCT person) AS people FROM calls
        WHERE at >= ? AND at < ? GROUP BY origin""",
}
_PLACES = """SELECT place FROM people WHERE place IS NOT NULL UNION SELECT place FROM plots WHERE place IS NOT NULL
    UNION SELECT value FROM facts WHERE about = 'place' AND value IS NOT NULL"""


class Period:
    """Verbs on a stretch of time."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def rows(self, subject: str, first: date, last: date) -> list[dict[str, Any]]:
        """`texts`, `told`, `advices` or `calls` of these days."""
        return [dict(row) for row in self._database.rows(_ROWS[subject], self._span(first, last))]

    def counts(self, subject: str, first: date, last: date) -> list[tuple[str, int, int]]:
        """`texts` by language, `told` by kind, `advices` by verdict, `calls` by origin: name, how many, of how many people."""
        return [tuple(row) for row in self._database.rows(_COUNTS[subject], self._span(first, last))]

    def notes(self, first: date, last: date) -> int:
        """How many notes colleagues made for each other."""
        row = self._database.row("SELECT count(*) AS n FROM notes WHERE at >= ? AND at < ?", self._span(first, last))
        return int(row["n"]) if row else 0

    def places(self) -> list[str]:
        """Every place that anybody told."""
        return [str(row["place"]) for row in self._database.rows(_PLACES)]

    def _span(self, first: date, last: date) -> tuple[Column, ...]:
        return first.isoformat(), (last + timedelta(days=1)).isoformat()
