"""Where the line fell short, by week and kind, each with the texts to learn from.

What was not read, or asked once more, is noted when it happens; what was doubted, handed over or not followed is found in what is
held anyway.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from bot.store.columns import Column, stamp, time
from bot.store.database import Database
from bot.store.held import StoredMessage

# A step of the schema: it is never changed.
MISSES = (
    """CREATE TABLE misses (
        id INTEGER PRIMARY KEY, message INTEGER NOT NULL REFERENCES messages ON DELETE CASCADE, kind TEXT NOT NULL,
        words TEXT NOT NULL, at TEXT NOT NULL) STRICT""",
    "CREATE INDEX misses_of_message ON misses (message)",
    "CREATE INDEX misses_by_time ON misses (at, kind)",
    "CREATE INDEX calls_by_time ON calls (at)",
)
# Another: what a week's advices said, read without the advices themselves.
VERDICTS = (
    "ALTER TABLE advices ADD COLUMN verdict TEXT AS (json_extract(advice, '$.verdict')) VIRTUAL",
    "ALTER TABLE advices ADD COLUMN due TEXT AS (coalesce(json_extract(advice, '$.date'), day)) VIRTUAL",
    "CREATE INDEX advices_by_verdict ON advices (verdict, at, person, plot, day, due, message)",
)
_ADVISED = """SELECT max(messages.person) AS person, advices.message, messages.text, advices.at, {words} AS words
    FROM advices JOIN messages ON messages.id = advices.message {more}
    WHERE advices.at >= :since AND advices.at < :until AND advices.verdict = '{verdict}' {which}
    GROUP BY {once}"""
_CALLED = """SELECT calls.person, calls.message, coalesce(messages.text, '') AS text, calls.at, calls.reason AS words
    FROM calls LEFT JOIN messages ON messages.id = calls.message
    WHERE calls.at >= :since AND calls.at < :until AND origin = 'text' AND {which}"""
_NOTED = """SELECT messages.person, message, text, at, words FROM misses JOIN messages ON messages.id = message
    WHERE at >= :since AND at < :until AND kind = '{kind}'"""
_WATERED = """observations.person = advices.person AND observations.plot = advices.plot AND kind = 'watering'
    AND observations.retracted_by IS NULL AND set_aside IS NULL"""
_DUE = "advices.due"
# A watering is expected to be told of within this after its day.
_TOLD_BY_NOW = f"{_DUE} < date(:today, '-3 days')"
_SELECTS = {
    **{kind: _NOTED.format(kind=kind) for kind in ("unread", "plant", "place", "impossible", "asked again")},
    "check": _ADVISED.format(
        words="coalesce(json_extract(advices.advice, '$.doubt'), '')",
        more="",
        verdict="CHECK",
        which="",
        once="advices.id",
    ),
    "complaint": _CALLED.format(which="calls.reason = 'complaint'"),
    "handed over": _CALLED.format(which="calls.reason <> 'complaint' AND calls.reason NOT LIKE 'danger%'"),
    "watered all the same": _ADVISED.format(
        words="'told to wait'",
        more=f"JOIN observations ON {_WATERED}",
        verdict="WAIT",
        once="observations.id",
        which=f"AND observations.day > advices.day AND observations.day < {_DUE}",
    ),
    "not watered": _ADVISED.format(
        words="'told to water'",
        more="",
        verdict="WATER",
        once="advices.plot, advices.day",
        which=f"""AND {_TOLD_BY_NOW}
        AND NOT EXISTS (SELECT 1 FROM observations WHERE {_WATERED} AND observations.day >= advices.day)""",
    ),
}
KINDS = tuple(_SELECTS)


@dataclass(frozen=True, kw_only=True)
class Miss:
    """One of them: whose text it was (empty: none), and what of it, or what came of it, in a word or two."""

    person: int
    message: int | None
    text: str
    at: datetime
    words: str


class Misses:
    """Verbs on where the line fell short."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def note(self, message: StoredMessage, kind: str, words: str, at: datetime) -> None:
        """Something of a message was not understood, not believed, or had to be asked once more."""
        self._database.write(
            "INSERT INTO misses (message, kind, words, at) VALUES (?, ?, ?, ?)", (message.id, kind, words, stamp(at))
        )

    def count(self, weeks: Sequence[date], today: date) -> dict[str, list[int]]:
        """How many there were of each kind in the weeks that begin on these days."""
        return {kind: [self._count(kind, week, today) for week in weeks] for kind in KINDS}

    def of(self, kind: str, week: date, today: date, at_most: int = 200) -> list[Miss]:
        """Those of one kind in a week, oldest first."""
        values: dict[str, Column] = {**_span(week, today), "most": at_most}
        rows = self._database.rows(f"SELECT * FROM ({_SELECTS[kind]}) ORDER BY at LIMIT :most", values)
        return [
            Miss(person=row["person"], message=row["message"], text=row["text"], at=time(row["at"]), words=row["words"])
            for row in rows
        ]

    def _count(self, kind: str, week: date, today: date) -> int:
        row = self._database.row(f"SELECT count(*) AS n FROM ({_SELECTS[kind]})", _span(week, today))
        return int(row["n"]) if row else 0


def _span(week: date, today: date) -> dict[str, str]:
    until = week + timedelta(days=7)
    return {"since": week.isoformat(), "until": until.isoformat(), "today": today.isoformat()}
