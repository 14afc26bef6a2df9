from __future__ import annotations

import sqlite3
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from dataclasses import fields
from pathlib import Path

import pytest
from store_talk import MORNING, Talk

from bot.errors import StoreBusy, StoreError
from bot.store import Store, database, open_store
from bot.store.database import connect
from bot.store.migrations import STEPS, migrate
from rules.terms import Plot


def schema(connection: sqlite3.Connection) -> set[str]:
    rows = connection.execute("SELECT sql FROM sqlite_schema WHERE sql NOT NULL AND tbl_name NOT LIKE '%sqlite_%'")
    return {row[0] for row in rows}


def step_names(path: Path) -> list[str]:
    with sqlite3.connect(path) as connection:
        return [row[0] for row in connection.execute("SELECT name FROM _sqlite_migrations ORDER BY id")]


def test_memory_and_file_have_the_same_schema(tmp_path: Path) -> None:
    open_store(tmp_path / "line.db").close()
    memory = connect(None)
    migrate(memory, in_memory=True)
    assert schema(memory) == schema(connect(tmp_path / "line.db"))


def test_every_step_is_recorded_by_name(tmp_path: Path) -> None:
    open_store(tmp_path / "line.db").close()
    assert step_names(tmp_path / "line.db") == list(STEPS)


def test_every_table_is_strict() -> None:
    memory = connect(None)
    migrate(memory, in_memory=True)
    tables = memory.execute("SELECT name, strict FROM pragma_table_list WHERE name NOT LIKE 'sqlite_%'").fetchall()
    assert {table["name"] for table in tables} >= {"people", "plots", "facts", "observations", "advices"}
    assert [table["name"] for table in tables if not table["strict"]] == []


def test_the_plots_table_has_a_column_for_every_fact_of_a_plot() -> None:
    memory = connect(None)
    migrate(memory, in_memory=True)
    columns = {row["name"] for row in memory.execute("SELECT name FROM pragma_table_info('plots')")}
    assert {field.name for field in fields(Plot)} <= columns


@pytest.mark.parametrize("steps", range(1, len(STEPS)))
def test_an_older_file_is_brought_up_to_date_and_keeps_what_it_holds(tmp_path: Path, steps: int) -> None:
    path = tmp_path / "line.db"
    old = connect(path)
    migrate(old, in_memory=False, steps=dict(list(STEPS.items())[:steps]))
    old.execute("INSERT INTO people (channel, address, created) VALUES ('sms', '+15550100', '2026-07-01T00:00:00')")
    old.close()
    store = open_store(path)
    assert store.people.known("sms", "+15550100") is not None
    assert step_names(path) == list(STEPS)
    store.close()


def test_a_step_that_fails_leaves_the_file_as_it_was(tmp_path: Path) -> None:
    path = tmp_path / "line.db"
    open_store(path).close()
    broken = {**STEPS, "broken": ("CREATE TABLE half (id INTEGER) STRICT", "CREATE TABLE people (id INTEGER)")}
    connection = connect(path)
    before = schema(connection)
    with pytest.raises(StoreError, match="already exists"):
        migrate(connection, in_memory=False, steps=broken)
    assert schema(connection) == before
    connection.close()
    open_store(path).close()


def test_a_file_of_a_newer_program_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "line.db"
    connection = connect(path)
    migrate(connection, in_memory=False, steps={**STEPS, "tomorrow": ("CREATE TABLE tomorrow (id INTEGER) STRICT",)})
    connection.close()
    with pytest.raises(StoreError, match="newer program"):
        open_store(path)


def test_many_who_open_a_new_file_at_once_make_it_once(tmp_path: Path) -> None:
    open_store(tmp_path / "first.db").close()  # the import of sqlite-utils is not what is tested
    path = tmp_path / "line.db"
    with ThreadPoolExecutor(4) as threads:
        stores = list(threads.map(open_store, [path] * 4))
    assert step_names(path) == list(STEPS)
    for store in stores:
        store.close()


def test_a_store_that_is_up_to_date_opens_without_sqlite_utils(tmp_path: Path) -> None:
    open_store(tmp_path / "line.db").close()
    program = (
        "import sys; from pathlib import Path; from bot.store import open_store;"
        "open_store(Path(sys.argv[1])); open_store(None);"
        "assert 'sqlite_utils' not in sys.modules and 'pandas' not in sys.modules"
    )
    subprocess.run([sys.executable, "-c", program, str(tmp_path / "line.db")], check=True)


def test_what_is_no_database_is_refused(tmp_path: Path) -> None:
    (tmp_path / "line.db").write_text("this is a shopping list, and long enough to be read as a header" * 20)
    with pytest.raises(StoreError, match="not a database"):
        open_store(tmp_path / "line.db")


def test_a_foreign_key_bites_on_somebody_elses_plot(store: Store, talk: Talk) -> None:
    other = store.people.person("sms", "+15550101", MORNING)
    theirs = store.plots.new(other, "lawn", at=MORNING)
    with pytest.raises(StoreError, match="FOREIGN KEY"):
        store.log.keep(talk.say("45"), "reading", {"quantity": "tension", "value": 45.0}, plot=theirs, on=None)


def test_a_value_of_the_wrong_type_is_refused(store: Store, talk: Talk) -> None:
    plot = talk.plot()
    with pytest.raises(StoreError, match="rate_mm_h"):
        store.facts.set(plot, "rate_mm_h", "a lot", at=MORNING)
    assert [fact.about for fact in store.facts.history(plot)] == ["name"]


def test_a_file_locked_by_another_process_is_busy(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(database, "BUSY_S", 0.05)
    store = open_store(tmp_path / "line.db")
    other = connect(tmp_path / "line.db")
    other.execute("BEGIN IMMEDIATE")
    with pytest.raises(StoreBusy), store.transaction():
        pass
    other.execute("ROLLBACK")
    with store.transaction():
        store.people.person("sms", "+15550100", MORNING)
    other.close()
    store.close()


def test_every_connection_is_durable_checks_foreign_keys_and_wipes_what_it_deletes(tmp_path: Path) -> None:
    connection = connect(tmp_path / "line.db")
    settings = ("journal_mode", "synchronous", "foreign_keys", "secure_delete")
    # sqlite.org/pragma.html, from memory: synchronous 2 is FULL
    assert [connection.execute(f"PRAGMA {name}").fetchone()[0] for name in settings] == ["wal", 2, 1, 1]
    connection.close()
