"""Copies of the whole store in another file, made and brought back while the line is running (SQLite's online backup)."""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing, suppress
from pathlib import Path

from bot.errors import StoreError
from bot.store.database import BUSY_S, store_errors


def copy(source: Path, target: Path) -> None:
    """Make `target` a whole and checked copy of the store in `source`, as of one moment. An older copy is replaced.

    Raises: StoreError, when one of them can't be read or written, or the copy is not sound; then `target` is as it was.
    """
    if not source.exists():
        raise StoreError(f"there is no store at {source.name}")
    part = target.with_name(target.name + ".part")
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        part.unlink(missing_ok=True)
        part.touch(mode=0o600)
        with store_errors(), closing(_opened(source)) as held, closing(_opened(part)) as copied:
            held.backup(copied)
            copied.execute("PRAGMA journal_mode = DELETE")  # one file, that can be carried away
        check(part)
        _on_disk(part)
        part.replace(target)
    except OSError as error:
        raise StoreError(f"{target.name} can't be written: {error}") from error
    finally:
        with suppress(OSError):  # where the folder itself is gone
            part.unlink(missing_ok=True)


def restore(source: Path, target: Path) -> Path | None:
    """Put the store in `source` in the place of the one in `target`, also while the line has it open.

    Returns: where the store that was there before is kept; None: there was none.
    Raises: StoreError, when `source` is no sound store; then `target` is as it was.
    """
    check(source)
    before = target.with_name(target.name + ".before-restore") if target.exists() else None
    if before:
        copy(target, before)
    with store_errors(), closing(_opened(source)) as kept, closing(_opened(target)) as put:
        put.execute("PRAGMA journal_mode = WAL")
        kept.backup(put)
    check(target)
    return before


def check(path: Path) -> None:
    """The file is a store, and sound. Raises: StoreError."""
    if not path.exists():
        raise StoreError(f"there is no store at {path.name}")
    with store_errors(), closing(_opened(path)) as held:
        people = held.execute("SELECT 1 FROM sqlite_schema WHERE name = 'people'").fetchone()
        if people is None or held.execute("PRAGMA user_version").fetchone()[0] == 0:
            raise StoreError(f"{path.name} is no store of dropline")
        found = held.execute("PRAGMA integrity_check(1)").fetchone()[0]
        if found != "ok" or held.execute("PRAGMA foreign_key_check").fetchone():
            raise StoreError(f"{path.name} is damaged: {found}")


def _opened(path: Path) -> sqlite3.Connection:
    return sqlite3.connect(path, isolation_level=None, timeout=BUSY_S)


def _on_disk(path: Path) -> None:
    with path.open("rb+") as file:
        os.fsync(file.fileno())
