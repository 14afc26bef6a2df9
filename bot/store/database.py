"""One SQLite connection behind one lock: transactions, and the errors of SQLite in the words of the bot.

Any thread may use it. A thread inside `transaction` keeps the others waiting until it has committed, so nobody sees
half a message. Never await or call a network inside a transaction. The connection stays open: the last close of a file
in WAL mode moves the log into the file, which costs several commits.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path
from threading import RLock
from typing import Any, TypeVar

from bot.errors import StoreBusy, StoreError
from bot.store.columns import Column

_HELD = (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED)
Item = TypeVar("Item")

BUSY_S = 5.0  # how long a reply may wait for another process, such as a backup


def connect(path: Path | None) -> sqlite3.Connection:
    """A connection that checks foreign keys, wipes what it deletes, and loses nothing that it has committed.

    Args:
        path: the file, made if missing; None: in memory.
    """
    # isolation_level None: transactions begin where we say, with the write lock, and not at some later statement
    connection = sqlite3.connect(path or ":memory:", isolation_level=None, check_same_thread=False, timeout=BUSY_S)
    connection.row_factory = sqlite3.Row
    for setting in ("journal_mode = WAL", "synchronous = FULL", "foreign_keys = ON", "secure_delete = ON"):
        connection.execute(f"PRAGMA {setting}")
    return connection


class store_errors(AbstractContextManager[None]):  # noqa: N801  # read as a verb
    """Turns SQLite's errors into the store's. SQLite names tables and columns in its text, never a value.

    Raises: StoreBusy, StoreError.
    """

    def __exit__(self, kind: object, error: BaseException | None, trace: object) -> None:
        if isinstance(error, sqlite3.Error):
            busy = isinstance(error, sqlite3.OperationalError) and error.sqlite_errorcode & 0xFF in _HELD
            raise (StoreBusy if busy else StoreError)(str(error)) from error


Values = Sequence[Column] | Mapping[str, Column]


class Database:
    """The connection that all subjects of the store share."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        self._connection = connection
        self._lock = RLock()
        self._after_commit: list[Callable[[], None]] = []
        self._read: dict[str, dict[int, list[Any]]] = {}

    def rows(self, sql: str, values: Values = ()) -> list[sqlite3.Row]:
        """All rows of one statement. Outside a transaction the statement is a transaction of its own."""
        with self._lock, store_errors():
            return self._connection.execute(sql, values).fetchall()

    def row(self, sql: str, values: Values = ()) -> sqlite3.Row | None:
        """The first row of one statement, if there is any."""
        rows = self.rows(sql, values)
        return rows[0] if rows else None

    def write(self, sql: str, values: Values = ()) -> int:
        """Run one statement; the id of the row it inserted last."""
        with self._lock, store_errors():
            return self._connection.execute(sql, values).lastrowid or 0

    def write_many(self, sql: str, rows: Iterable[Sequence[Column]]) -> None:
        """Run one statement for each row."""
        with self._lock, store_errors():
            self._connection.executemany(sql, rows)

    def once(self, subject: str, key: int, read: Callable[[], list[Item]]) -> list[Item]:
        """What `read` gives, read once in a transaction, until `changed` is said of the subject; outside of one each time."""
        with self._lock:
            if not self._connection.in_transaction:
                return read()
            held = self._read.setdefault(subject, {})
            if key not in held:
                held[key] = read()
            return list(held[key])

    def changed(self, subject: str) -> None:
        """What was read of the subject is so no more. Whoever writes what is read with `once` says this."""
        self._read.pop(subject, None)

    @contextmanager
    def transaction(self) -> Iterator[None]:
        """All or nothing, durable once left. Inside another transaction: all or nothing of this part of it.

        Raises: StoreBusy, when another process holds the file for longer than `BUSY_S`.
        """
        with self._lock:
            outermost = not self._connection.in_transaction
            self.write("BEGIN IMMEDIATE" if outermost else "SAVEPOINT part")
            try:
                yield
                self.write("COMMIT" if outermost else "RELEASE part")
            except BaseException:
                self._read.clear()
                self._roll_back(outermost)
                raise
            if outermost:
                self._read.clear()
                self._run_after_commit()

    def after_commit(self, work: Callable[[], None]) -> None:
        """Do this once the transaction is durable; never, if it is rolled back."""
        self._after_commit.append(work)

    def close(self) -> None:
        """Close the connection."""
        with self._lock:
            self._connection.close()

    def _roll_back(self, outermost: bool) -> None:
        if not self._connection.in_transaction:  # SQLite has rolled back by itself, as it does on a full disk
            return
        if outermost:
            self._after_commit.clear()
            self.write("ROLLBACK")
        else:
            self.write("ROLLBACK TO part")
            self.write("RELEASE part")

    def _run_after_commit(self) -> None:
        work, self._after_commit = self._after_commit, []
        for task in work:
            task()
