"""The schema as named steps, each applied once and in order. A step that has shipped is never changed: add another.

`PRAGMA user_version` counts the applied steps, so that a store which is up to date opens without sqlite-utils
(whose import brings pandas along where that is installed).
"""

from __future__ import annotations

import sqlite3
import sys
from collections.abc import Callable, Mapping
from types import ModuleType
from typing import TYPE_CHECKING

from bot.errors import StoreError
from bot.store.database import store_errors
from bot.store.misses import MISSES, VERDICTS
from bot.store.probes import PROBES
from bot.store.seasons import SEASONS
from bot.store.sought import SOUGHT

if TYPE_CHECKING:
    import sqlite_utils

Steps = Mapping[str, tuple[str, ...]]

STEPS: Steps = {
    "people": (
        """CREATE TABLE people (
            id INTEGER PRIMARY KEY AUTOINCREMENT, channel TEXT NOT NULL, address TEXT NOT NULL, created TEXT NOT NULL,
            language TEXT, units TEXT, place TEXT, latitude REAL, longitude REAL, elevation_m REAL, timezone TEXT,
            stopped INTEGER, question TEXT, asked_at TEXT, dialogue TEXT NOT NULL DEFAULT '{}',
            UNIQUE (channel, address)) STRICT""",
    ),
    "messages": (
        """CREATE TABLE messages (
            id INTEGER PRIMARY KEY, person INTEGER NOT NULL REFERENCES people ON DELETE CASCADE, author TEXT NOT NULL,
            their_id TEXT, text TEXT NOT NULL, received_at TEXT NOT NULL, sent_at TEXT, written_at TEXT NOT NULL,
            replies TEXT NOT NULL DEFAULT '[]', UNIQUE (person, their_id)) STRICT""",
        "CREATE INDEX messages_in_order ON messages (person, written_at, id)",
        "CREATE INDEX messages_by_arrival ON messages (person, received_at)",
        """CREATE TRIGGER messages_are_never_edited
            BEFORE UPDATE OF id, person, author, their_id, text, received_at, sent_at, written_at ON messages
            BEGIN SELECT RAISE(ABORT, 'a message is never edited'); END""",
    ),
    "plots": (
        """CREATE TABLE plots (
            id INTEGER PRIMARY KEY AUTOINCREMENT, person INTEGER NOT NULL REFERENCES people ON DELETE CASCADE,
            created TEXT NOT NULL, name TEXT, paused INTEGER, closed INTEGER, place TEXT,
            soil TEXT, soil_source TEXT, plant TEXT, latitude REAL, longitude REAL, elevation_m REAL,
            root_depth_cm REAL, rate_mm_h REAL, rate_source TEXT, rate_on TEXT, method TEXT,
            emitters_each REAL, flow_l_h REAL, count REAL, area_m2 REAL, container_litres REAL, trunk_cm REAL,
            planted_on TEXT, stage TEXT, stage_on TEXT, stress INTEGER, water_days TEXT, most_litres_a_day REAL,
            probe TEXT, probe_depth_cm REAL, runoff_minutes REAL,
            UNIQUE (person, id)) STRICT""",
    ),
    "facts": (
        """CREATE TABLE facts (
            id INTEGER PRIMARY KEY, person INTEGER NOT NULL REFERENCES people ON DELETE CASCADE, plot INTEGER,
            about TEXT NOT NULL, value ANY, at TEXT NOT NULL, message INTEGER REFERENCES messages ON DELETE CASCADE,
            retracted_by INTEGER REFERENCES messages,
            FOREIGN KEY (person, plot) REFERENCES plots (person, id) ON DELETE CASCADE) STRICT""",
        "CREATE INDEX facts_of_subject ON facts (person, plot, about, at, id)",
        "CREATE INDEX facts_of_message ON facts (message)",
        "CREATE INDEX facts_retracted ON facts (retracted_by) WHERE retracted_by IS NOT NULL",
        """CREATE TRIGGER facts_are_never_edited
            BEFORE UPDATE OF id, person, plot, about, value, at, message ON facts
            BEGIN SELECT RAISE(ABORT, 'a fact is never edited, only retracted'); END""",
    ),
    "observations": (
        """CREATE TABLE observations (
            id INTEGER PRIMARY KEY, person INTEGER NOT NULL REFERENCES people ON DELETE CASCADE, plot INTEGER,
            kind TEXT NOT NULL CHECK (kind IN ('reading', 'watering', 'rain', 'sign')), day TEXT, at TEXT,
            quantity TEXT, value ANY, depth_cm REAL, soil_temp_c REAL,
            minutes REAL, depth_mm REAL, litres REAL, litres_each REAL, sign TEXT,
            message INTEGER NOT NULL REFERENCES messages ON DELETE CASCADE, words TEXT, set_aside TEXT,
            retracted_by INTEGER REFERENCES messages,
            FOREIGN KEY (person, plot) REFERENCES plots (person, id) ON DELETE CASCADE) STRICT""",
        "CREATE INDEX observations_of_plot ON observations (person, plot, day)",
        "CREATE INDEX observations_of_message ON observations (message)",
        "CREATE INDEX observations_retracted ON observations (retracted_by) WHERE retracted_by IS NOT NULL",
        """CREATE TRIGGER observations_are_never_edited
            BEFORE UPDATE OF id, person, plot, kind, day, at, quantity, value, depth_cm, soil_temp_c,
                minutes, depth_mm, litres, litres_each, sign, message, words, set_aside ON observations
            BEGIN SELECT RAISE(ABORT, 'an observation is never edited, only retracted'); END""",
    ),
    "advices": (
        "CREATE TABLE weather_seen (id INTEGER PRIMARY KEY, digest TEXT NOT NULL UNIQUE, body TEXT NOT NULL) STRICT",
        """CREATE TABLE advices (
            id INTEGER PRIMARY KEY, person INTEGER NOT NULL REFERENCES people ON DELETE CASCADE, plot INTEGER NOT NULL,
            message INTEGER REFERENCES messages ON DELETE CASCADE, day TEXT NOT NULL, at TEXT NOT NULL,
            advice TEXT NOT NULL, inputs TEXT NOT NULL, weather INTEGER REFERENCES weather_seen,
            version TEXT NOT NULL, language TEXT NOT NULL, text TEXT NOT NULL, sent_by TEXT NOT NULL,
            FOREIGN KEY (person, plot) REFERENCES plots (person, id) ON DELETE CASCADE) STRICT""",
        "CREATE INDEX advices_of_plot ON advices (person, plot, id)",
        "CREATE INDEX advices_of_message ON advices (message)",
        "CREATE INDEX advices_of_weather ON advices (weather)",
        """CREATE TRIGGER advices_are_never_edited BEFORE UPDATE ON advices
            BEGIN SELECT RAISE(ABORT, 'an advice is never edited'); END""",
        """CREATE TABLE cautions (
            person INTEGER NOT NULL REFERENCES people ON DELETE CASCADE, plot INTEGER,
            caution TEXT NOT NULL, at TEXT NOT NULL,
            FOREIGN KEY (person, plot) REFERENCES plots (person, id) ON DELETE CASCADE) STRICT""",
        "CREATE INDEX cautions_of_plot ON cautions (person, plot, caution, at)",
    ),
    "calls": (
        """CREATE TABLE calls (
            id INTEGER PRIMARY KEY, person INTEGER NOT NULL REFERENCES people ON DELETE CASCADE,
            reason TEXT NOT NULL, at TEXT NOT NULL, message INTEGER REFERENCES messages ON DELETE CASCADE,
            state TEXT NOT NULL DEFAULT 'open' CHECK (state IN ('open', 'taken', 'waiting', 'done')),
            taken_by TEXT) STRICT""",
        "CREATE INDEX calls_of_person ON calls (person, id)",
        "CREATE INDEX calls_of_message ON calls (message)",
        "CREATE INDEX calls_not_done ON calls (at) WHERE state <> 'done'",
    ),
    "shelf": ("CREATE TABLE shelf (cell TEXT PRIMARY KEY, fetched_at TEXT NOT NULL, body TEXT NOT NULL) STRICT",),
    "erasures": (
        "CREATE TABLE erasures (id INTEGER PRIMARY KEY, at TEXT NOT NULL, swept INTEGER NOT NULL DEFAULT 0) STRICT",
        """CREATE TABLE locked_texts (
            id INTEGER PRIMARY KEY, channel TEXT NOT NULL, address TEXT NOT NULL, author TEXT NOT NULL,
            text TEXT NOT NULL, replies TEXT NOT NULL, received_at TEXT NOT NULL, locked_until TEXT NOT NULL) STRICT""",
    ),
    "outbox": (
        """CREATE TABLE outbox (
            id INTEGER PRIMARY KEY AUTOINCREMENT, channel TEXT NOT NULL, address TEXT NOT NULL,
            person INTEGER REFERENCES people ON DELETE CASCADE, kind TEXT NOT NULL, text TEXT NOT NULL,
            language TEXT NOT NULL, choices TEXT NOT NULL, picture BLOB, alt TEXT NOT NULL, made_at TEXT NOT NULL,
            due_at TEXT NOT NULL, tries INTEGER NOT NULL DEFAULT 0, problem TEXT, their_id TEXT, done_at TEXT,
            state TEXT NOT NULL DEFAULT 'waiting'
                CHECK (state IN ('waiting', 'taken', 'arrived', 'lost', 'dead', 'withheld'))) STRICT""",
        "CREATE INDEX outbox_waiting ON outbox (channel, due_at, id) WHERE state = 'waiting'",
        "CREATE INDEX outbox_waiting_of ON outbox (channel, address, id) WHERE state = 'waiting'",
        "CREATE INDEX outbox_taken ON outbox (channel, their_id) WHERE their_id IS NOT NULL",
        "CREATE INDEX outbox_of_person ON outbox (person, made_at)",
        "CREATE INDEX outbox_idle ON outbox (made_at) WHERE kind = 'idle'",
        "CREATE INDEX outbox_dead ON outbox (id) WHERE state = 'dead'",
        # The office's front page counts letters at each look.
        "CREATE INDEX outbox_by_state ON outbox (channel, state)",
    ),
    "media": (
        "ALTER TABLE messages ADD COLUMN media TEXT",
        """CREATE TRIGGER media_are_never_edited BEFORE UPDATE OF media ON messages
            BEGIN SELECT RAISE(ABORT, 'a message is never edited'); END""",
    ),
    "waterings advised": (
        "ALTER TABLE advices ADD COLUMN depth_mm REAL AS (json_extract(advice, '$.depth_mm')) VIRTUAL",
        "CREATE INDEX advices_watered ON advices (person, plot, day, id, depth_mm)",
    ),
    "asks": (
        "ALTER TABLE outbox ADD COLUMN asks TEXT",
        "CREATE INDEX outbox_of_address ON outbox (channel, address)",
    ),
    "languages": ("ALTER TABLE messages ADD COLUMN language TEXT",),
    "series": (
        """CREATE TABLE series (
            person INTEGER NOT NULL, plot INTEGER NOT NULL, quantity TEXT NOT NULL, depth_cm REAL NOT NULL,
            at INTEGER NOT NULL, value REAL NOT NULL, message INTEGER NOT NULL REFERENCES messages ON DELETE CASCADE,
            PRIMARY KEY (person, plot, quantity, depth_cm, at),
            FOREIGN KEY (person, plot) REFERENCES plots (person, id) ON DELETE CASCADE) STRICT, WITHOUT ROWID""",
        "CREATE INDEX series_of_message ON series (message)",
        """CREATE TABLE logger_files (
            id INTEGER PRIMARY KEY, person INTEGER NOT NULL, plot INTEGER NOT NULL,
            message INTEGER NOT NULL REFERENCES messages ON DELETE CASCADE, name TEXT NOT NULL, by TEXT NOT NULL,
            at TEXT NOT NULL, layout TEXT NOT NULL, counts TEXT NOT NULL, taken_back TEXT, taken_back_by TEXT,
            FOREIGN KEY (person, plot) REFERENCES plots (person, id) ON DELETE CASCADE) STRICT""",
        "CREATE INDEX logger_files_of_message ON logger_files (message)",
        "CREATE INDEX logger_files_of_plot ON logger_files (person, plot, id)",
    ),
    "staff": (
        """CREATE TABLE staff (
            id INTEGER PRIMARY KEY AUTOINCREMENT, name TEXT NOT NULL UNIQUE COLLATE NOCASE,
            role TEXT NOT NULL CHECK (role IN ('helper', 'specialist', 'keeper')), desks TEXT NOT NULL DEFAULT '[]',
            password TEXT NOT NULL, made_at TEXT NOT NULL, left_at TEXT) STRICT""",
        """CREATE TABLE sittings (
            token TEXT PRIMARY KEY, staff INTEGER NOT NULL REFERENCES staff ON DELETE CASCADE, csrf TEXT NOT NULL,
            began_at TEXT NOT NULL, seen_at TEXT NOT NULL) STRICT, WITHOUT ROWID""",
        "CREATE INDEX sittings_of_staff ON sittings (staff)",
        "CREATE TABLE wrong_passwords (name TEXT NOT NULL COLLATE NOCASE, address TEXT NOT NULL, at TEXT NOT NULL) STRICT",
        "CREATE INDEX wrong_passwords_by_time ON wrong_passwords (at)",
    ),
    "deeds": (
        # No reference to people: what was done stands, by the store's own number, after the person was forgotten.
        """CREATE TABLE deeds (
            id INTEGER PRIMARY KEY, at TEXT NOT NULL, by TEXT NOT NULL, deed TEXT NOT NULL, person INTEGER,
            detail TEXT NOT NULL DEFAULT '') STRICT""",
        "CREATE INDEX deeds_about ON deeds (person, id)",
        "CREATE TRIGGER deeds_are_never_edited BEFORE UPDATE ON deeds BEGIN SELECT RAISE(ABORT, 'a deed is never edited'); END",
        "CREATE TRIGGER deeds_are_never_deleted BEFORE DELETE ON deeds BEGIN SELECT RAISE(ABORT, 'a deed stands'); END",
    ),
    "desk": (
        "ALTER TABLE calls ADD COLUMN desk TEXT NOT NULL DEFAULT 'volunteer'",
        "ALTER TABLE calls ADD COLUMN origin TEXT NOT NULL DEFAULT 'text'",
        # While it is set the line leaves the talk to whoever has the call.
        "ALTER TABLE calls ADD COLUMN silent INTEGER NOT NULL DEFAULT 0",
        "ALTER TABLE calls ADD COLUMN urgent INTEGER NOT NULL DEFAULT 0",
        # Since when the person waits for the office; nothing while the office waits for the person.
        "ALTER TABLE calls ADD COLUMN waits_since TEXT",
        "UPDATE calls SET waits_since = at, urgent = reason LIKE 'danger%'",
        "ALTER TABLE calls ADD COLUMN done_at TEXT",
        """CREATE TABLE notes (
            id INTEGER PRIMARY KEY, call INTEGER NOT NULL REFERENCES calls ON DELETE CASCADE, at TEXT NOT NULL,
            by TEXT NOT NULL, kind TEXT NOT NULL, text TEXT NOT NULL) STRICT""",
        "CREATE INDEX notes_of_call ON notes (call, id)",
        """CREATE TABLE canned (
            id INTEGER PRIMARY KEY, title TEXT NOT NULL, en TEXT NOT NULL, es TEXT NOT NULL, by TEXT NOT NULL,
            changed_at TEXT NOT NULL, expires_on TEXT NOT NULL) STRICT""",
        "ALTER TABLE messages ADD COLUMN by TEXT",
        """CREATE TRIGGER authors_are_never_edited BEFORE UPDATE OF by ON messages
            BEGIN SELECT RAISE(ABORT, 'a message is never edited'); END""",
        "ALTER TABLE facts ADD COLUMN by TEXT",
        """CREATE TRIGGER tellers_are_never_edited BEFORE UPDATE OF by ON facts
            BEGIN SELECT RAISE(ABORT, 'a fact is never edited, only retracted'); END""",
    ),
    "last_advices": (
        # The last advice of each plot, so that the office's front page need not look through all of them.
        """CREATE TABLE last_advices (
            plot INTEGER PRIMARY KEY, person INTEGER NOT NULL, advice INTEGER NOT NULL, verdict TEXT NOT NULL,
            day TEXT NOT NULL, due TEXT NOT NULL,
            FOREIGN KEY (person, plot) REFERENCES plots (person, id) ON DELETE CASCADE) STRICT""",
        "CREATE INDEX last_advices_by_verdict ON last_advices (verdict, due)",
        "CREATE INDEX last_advices_of_person ON last_advices (person)",
        """INSERT INTO last_advices
            SELECT plot, person, max(id), coalesce(json_extract(advice, '$.verdict'), ''), day,
                coalesce(json_extract(advice, '$.date'), day) FROM advices GROUP BY plot""",
        """CREATE TRIGGER an_advice_is_the_last AFTER INSERT ON advices BEGIN
            INSERT INTO last_advices VALUES (new.plot, new.person, new.id,
                coalesce(json_extract(new.advice, '$.verdict'), ''), new.day, coalesce(json_extract(new.advice, '$.date'), new.day))
            ON CONFLICT (plot) DO UPDATE SET advice = excluded.advice, verdict = excluded.verdict, day = excluded.day,
                due = excluded.due;
            END""",
    ),
    "house numbers": ("ALTER TABLE plots ADD COLUMN house TEXT",),
    "edits": (
        "ALTER TABLE messages ADD COLUMN replaces TEXT",
        "CREATE INDEX messages_replacing ON messages (person, replaces) WHERE replaces IS NOT NULL",
        """CREATE TRIGGER edits_are_never_edited BEFORE UPDATE OF replaces ON messages
            BEGIN SELECT RAISE(ABORT, 'a message is never edited'); END""",
    ),
    "drawn": ("ALTER TABLE messages ADD COLUMN drawn TEXT NOT NULL DEFAULT '[]'",),
    "table rows": (
        """CREATE TABLE table_rows (
            id INTEGER PRIMARY KEY, table_name TEXT NOT NULL, row TEXT NOT NULL, cells TEXT NOT NULL, reason TEXT NOT NULL,
            by TEXT NOT NULL, at TEXT NOT NULL,
            state TEXT NOT NULL DEFAULT 'proposed' CHECK (state IN ('proposed', 'in force', 'ended')),
            reviewed_by TEXT, reviewed_at TEXT, ended_by TEXT, ended_at TEXT) STRICT""",
        "CREATE UNIQUE INDEX table_rows_in_force ON table_rows (table_name, row) WHERE state = 'in force'",
        """CREATE TRIGGER table_rows_are_never_edited
            BEFORE UPDATE OF id, table_name, row, cells, reason, by, at ON table_rows
            BEGIN SELECT RAISE(ABORT, 'a change of a table is never edited'); END""",
    ),
    "logger uploads": (
        # A file between the look at it and the word to keep it.
        """CREATE TABLE logger_uploads (
            id INTEGER PRIMARY KEY, person INTEGER NOT NULL REFERENCES people ON DELETE CASCADE, plot INTEGER NOT NULL,
            name TEXT NOT NULL, data BLOB NOT NULL, by TEXT NOT NULL, at TEXT NOT NULL) STRICT""",
        "CREATE INDEX logger_uploads_of_person ON logger_uploads (person)",
    ),
    "baselines": (
        """CREATE TABLE baselines (
            id INTEGER PRIMARY KEY, person INTEGER NOT NULL, plot INTEGER NOT NULL, mm_week REAL, kind TEXT NOT NULL,
            source TEXT NOT NULL, price_m3 REAL, lift_m REAL, pump_efficiency REAL, by TEXT NOT NULL, at TEXT NOT NULL,
            FOREIGN KEY (person, plot) REFERENCES plots (person, id) ON DELETE CASCADE) STRICT""",
        "CREATE INDEX baselines_of_plot ON baselines (person, plot, id)",
    ),
    "notices": (
        """CREATE TABLE notices (
            id INTEGER PRIMARY KEY, en TEXT NOT NULL, es TEXT NOT NULL, place TEXT NOT NULL, plant TEXT NOT NULL,
            method TEXT NOT NULL, by TEXT NOT NULL, at TEXT NOT NULL, agreed_by TEXT,
            state TEXT NOT NULL DEFAULT 'draft' CHECK (state IN ('draft', 'sent', 'halted'))) STRICT""",
        "ALTER TABLE outbox ADD COLUMN notice INTEGER",
        "CREATE INDEX outbox_of_notice ON outbox (notice) WHERE notice IS NOT NULL",
    ),
    "sensor tokens": (
        """CREATE TABLE sensor_tokens (
            digest TEXT PRIMARY KEY, person INTEGER NOT NULL, plot INTEGER NOT NULL, by TEXT NOT NULL, at TEXT NOT NULL,
            FOREIGN KEY (person, plot) REFERENCES plots (person, id) ON DELETE CASCADE) STRICT, WITHOUT ROWID""",
        "CREATE INDEX sensor_tokens_of_plot ON sensor_tokens (person, plot)",
    ),
    "heard": (
        # When somebody's last text was, so that a list of everybody by it need not look at every text.
        "ALTER TABLE people ADD COLUMN heard_at TEXT",
        "UPDATE people SET heard_at = (SELECT max(received_at) FROM messages WHERE messages.person = people.id)",
        "CREATE INDEX people_by_last_text ON people (heard_at, id)",
        """CREATE TRIGGER a_text_is_heard AFTER INSERT ON messages BEGIN
            UPDATE people SET heard_at = max(coalesce(heard_at, ''), new.received_at) WHERE id = new.person;
            END""",
    ),
    # The day on which a plot was said to be held dry: a plan of fruit set ends with veraison, one told then does not.
    "stress_told": ("ALTER TABLE plots ADD COLUMN stress_on TEXT",),
    "shares": (
        # Who waters a plot beside the one who made it, and what they call it.
        """CREATE TABLE shares (
            plot INTEGER NOT NULL REFERENCES plots ON DELETE CASCADE, person INTEGER NOT NULL REFERENCES people ON DELETE CASCADE,
            name TEXT NOT NULL, since TEXT NOT NULL, PRIMARY KEY (plot, person)) STRICT, WITHOUT ROWID""",
        "CREATE INDEX shares_of_person ON shares (person)",
        """CREATE TABLE share_codes (
            code TEXT PRIMARY KEY, plot INTEGER NOT NULL REFERENCES plots ON DELETE CASCADE, at TEXT NOT NULL)
            STRICT, WITHOUT ROWID""",
        "CREATE INDEX share_codes_of_plot ON share_codes (plot)",
    ),
    "sought": SOUGHT,
    "exceptions": (
        "ALTER TABLE plots ADD COLUMN own_limit REAL",
        "ALTER TABLE plots ADD COLUMN own_from TEXT",
        "ALTER TABLE plots ADD COLUMN own_until TEXT",
        "ALTER TABLE plots ADD COLUMN let_off_until TEXT",
        """CREATE TABLE exceptions (
            id INTEGER PRIMARY KEY, person INTEGER NOT NULL, plot INTEGER NOT NULL, own_limit REAL,
            let_off INTEGER NOT NULL, starts TEXT NOT NULL, until TEXT NOT NULL, reason TEXT NOT NULL, agreed TEXT NOT NULL,
            by TEXT NOT NULL, at TEXT NOT NULL, ended_by TEXT, ended_at TEXT,
            FOREIGN KEY (person, plot) REFERENCES plots (person, id) ON DELETE CASCADE) STRICT""",
        "CREATE INDEX exceptions_of_plot ON exceptions (person, plot, id)",
        "CREATE INDEX exceptions_not_ended ON exceptions (until) WHERE ended_at IS NULL",
    ),
    "seasons": SEASONS,
    "touched": (
        "CREATE INDEX advices_by_time ON advices (at)",
        # Whom a notice is for by name, as a list of their numbers: a correction goes to those who were told wrong.
        "ALTER TABLE notices ADD COLUMN people TEXT",
    ),
    "misses": MISSES,
    # Where a colleague is texted when the line is unwell.
    "staff telephones": ("ALTER TABLE staff ADD COLUMN telephone TEXT",),
    # What the plot's probe shows where the ground is full.
    "probe full": ("ALTER TABLE plots ADD COLUMN probe_full REAL",),
    # A picture is drawn when its letter is sent, from the advice that it shows.
    "drawn_when_sent": ("ALTER TABLE outbox ADD COLUMN advice INTEGER", "ALTER TABLE outbox DROP COLUMN picture"),
    "verdicts": VERDICTS,
    "probes": PROBES,
}


def migrate(connection: sqlite3.Connection, *, in_memory: bool, steps: Steps = STEPS) -> None:
    """Bring the schema up to date. A step that fails leaves the store as it was.

    Raises: StoreError, when the file was written by a newer program, or a step fails.
    """
    applied = connection.execute("PRAGMA user_version").fetchone()[0]
    if applied > len(steps):
        raise StoreError(f"the store has {applied} schema steps; this program knows {len(steps)}: use a newer program")
    if applied < len(steps):
        with store_errors():
            (_build if in_memory else _upgrade)(connection, steps)


def _build(connection: sqlite3.Connection, steps: Steps) -> None:
    """The whole schema at once: a store in memory has no past to record."""
    for statements in steps.values():
        for statement in statements:
            connection.execute(statement)
    connection.execute(f"PRAGMA user_version = {len(steps)}")


def _upgrade(connection: sqlite3.Connection, steps: Steps) -> None:
    """Apply what is pending, under the write lock, so that two processes that open the same file do it once."""
    tool = _sqlite_utils()
    named = tool.Migrations("dropline")
    for name, statements in steps.items():
        named(name=name)(_step(statements))
    database = tool.Database(connection)
    connection.execute("BEGIN IMMEDIATE")
    try:
        named.apply(database)
        connection.execute(f"PRAGMA user_version = {len(steps)}")
        connection.execute("COMMIT")
    except BaseException:
        connection.execute("ROLLBACK")
        raise


def _sqlite_utils() -> ModuleType:
    """sqlite-utils without pandas, which it would import where it is there: a third of the time to a first answer."""
    missing = object()
    held = sys.modules.get("pandas", missing)
    if held is missing:
        sys.modules["pandas"] = None  # type: ignore[assignment]  # to import it now is an ImportError, which is caught there
    try:
        import sqlite_utils
    finally:
        if held is missing:
            del sys.modules["pandas"]
    return sqlite_utils


def _step(statements: tuple[str, ...]) -> Callable[[sqlite_utils.Database], None]:
    def apply(database: sqlite_utils.Database) -> None:
        for statement in statements:
            database.conn.execute(statement)

    return apply
