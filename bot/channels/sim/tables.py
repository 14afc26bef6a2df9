"""The tables of gammu-smsd, as far as dropline reads and writes them; this is another program's database, not the store.

Source: gammu-smsd-tables(7) and its sqlite.sql, schema 17. Its own times are of the machine's zone, but `UpdatedInDB` is UTC.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from bot.channels.sim.parts import Part

_BUSY_S = 5.0
_AT_MOST = 500
_STAMP = "%Y-%m-%d %H:%M:%S"
_NARROW, _WIDE = "Default_No_Compression", "Unicode_No_Compression"
# The daemon compares with its own local time; what is long past is due in any zone.
_LONG_AGO = "2000-01-01 00:00:00"

_ARRIVED = "SELECT * FROM inbox WHERE Processed = 'false' ORDER BY ReceivingDateTime, ID LIMIT ?"
_OUT = """INSERT INTO outbox
    (DestinationNumber, TextDecoded, Coding, UDH, MultiPart, CreatorID, DeliveryReport, SendingDateTime, SendingTimeOut)
    VALUES (?, ?, ?, ?, ?, ?, 'yes', ?, ?)"""
_OUT_MORE = "INSERT INTO outbox_multipart (ID, SequencePosition, TextDecoded, Coding, UDH) VALUES (?, ?, ?, ?, ?)"
_CHANGED = """SELECT CreatorID, group_concat(Status, ' ') AS parts FROM sentitems
    WHERE CreatorID IN (SELECT CreatorID FROM sentitems WHERE UpdatedInDB >= ? AND CreatorID LIKE ?) GROUP BY CreatorID"""


class Unusable(Exception):
    """The tables can't be used now; says what to do."""


@dataclass(frozen=True)
class Row:
    """One SMS that came in. `own` is what this part holds, `text` what all parts hold: in the first part, else nothing."""

    id: int
    at: datetime | None
    sender: str
    header: str
    own: str
    text: str
    binary: bool


@dataclass(frozen=True)
class Sign:
    """The last sign of life of the daemon: when, and the signal that the modem has [percent; below 0: not told]."""

    at: datetime
    signal: int


class Tables:
    """Verbs on one open database. Every verb is a transaction of its own. Raises: Unusable."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        self._connection = connection

    def arrived(self) -> list[Row]:
        """The SMS that nobody has taken yet, by the service centre's time; whole messages or what came of them."""
        return [_row(row) for row in self._connection.execute(_ARRIVED, (_AT_MOST,))]

    def processed(self, row: Row) -> None:
        """Mark it as taken, and wipe the words: they are in the store now."""
        with self._connection:
            self._connection.execute(
                "UPDATE inbox SET Processed = 'true', Text = '', TextDecoded = '' WHERE ID = ?", (row.id,)
            )

    def put(self, name: str, number: str, parts: Sequence[Part]) -> None:
        """Give the daemon a message to send, with a report of delivery. `name` must be new."""
        first, *rest = parts
        multipart = "true" if rest else "false"
        row = (number, first.text, _coding(first), first.header, multipart, name, _LONG_AGO, _LONG_AGO)
        with self._connection:
            id_ = self._connection.execute(_OUT, row).lastrowid
            more = [(id_, at, part.text, _coding(part), part.header) for at, part in enumerate(rest, 2)]
            self._connection.executemany(_OUT_MORE, more)

    def state(self, name: str) -> str | None:
        """How the message of this name is: `waiting`, `sent` or `failed`, later `arrived` or `lost`; None: not known here."""
        if self._connection.execute("SELECT 1 FROM outbox WHERE CreatorID = ?", (name,)).fetchone():
            return "waiting"
        found = self._connection.execute("SELECT Status FROM sentitems WHERE CreatorID = ?", (name,))
        parts = {row["Status"] for row in found}
        return _state(parts) if parts else None

    def wipe(self, name: str) -> None:
        """Forget the words of a message that has gone its way."""
        with self._connection:
            self._connection.execute("UPDATE sentitems SET Text = '', TextDecoded = '' WHERE CreatorID = ?", (name,))

    def changed(self, prefix: str, since: datetime) -> dict[str, str]:
        """As `state`, by name, for those whose name begins so and of which something was told since then."""
        rows = self._connection.execute(_CHANGED, (_utc(since), f"{prefix}%"))
        return {row["CreatorID"]: _state(set(row["parts"].split())) for row in rows}

    def sign(self) -> Sign | None:
        """The last sign of life; None: the daemon has never found a modem."""
        row = self._connection.execute("SELECT UpdatedInDB, Signal FROM phones ORDER BY UpdatedInDB DESC").fetchone()
        return row and Sign(datetime.strptime(row["UpdatedInDB"], _STAMP).replace(tzinfo=UTC), row["Signal"])

    def drop(self, prefix: str, before: datetime) -> None:
        """Delete what was wiped before then: it still holds numbers."""
        with self._connection:
            self._connection.execute("DELETE FROM inbox WHERE Processed = 'true' AND UpdatedInDB < ?", (_utc(before),))
            self._connection.execute(
                "DELETE FROM sentitems WHERE CreatorID LIKE ? AND TextDecoded = '' AND UpdatedInDB < ?",
                (f"{prefix}%", _utc(before)),
            )


@contextmanager
def opened(path: Path) -> Iterator[Tables]:
    """The tables in this file, for one round: it may be replaced between two.

    Raises: Unusable, also from within.
    """
    if not path.exists():
        raise Unusable(f"{path} is missing: is [sim] database right, and was it made from gammu-smsd's sqlite.sql?")
    try:
        connection = sqlite3.connect(f"{path.resolve().as_uri()}?mode=rw", uri=True, timeout=_BUSY_S)
        try:
            connection.row_factory = sqlite3.Row
            # What a power cut takes back here is looked for and done again: that is cheaper than to wait for the disk each time.
            connection.execute("PRAGMA synchronous = NORMAL")
            connection.execute("PRAGMA secure_delete = ON")
            yield Tables(connection)
        finally:
            connection.close()
    except sqlite3.Error as error:
        raise Unusable(_advice(path, error)) from error


def _advice(path: Path, error: sqlite3.Error) -> str:
    code = (getattr(error, "sqlite_errorcode", None) or 0) & 0xFF
    if code in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        return f"{path} stays locked: close the other program that holds it (a browser of databases, a backup)"
    if code in (sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM):
        return f"{path} can't be written: let dropline's account write the file and its folder"
    if "no such" in str(error):
        return f"{path} has not the tables of gammu-smsd ({error}): load its sqlite.sql"
    return f"{path} can't be used: {error}"


def _row(row: sqlite3.Row) -> Row:
    return Row(
        id=row["ID"],
        at=_local(row["ReceivingDateTime"]),
        sender=row["SenderNumber"],
        header=row["UDH"],
        own=_letters(row["Text"]),
        text=row["TextDecoded"],
        binary=row["Coding"] not in (_NARROW, _WIDE),
    )


def _letters(hexadecimal: str) -> str:
    try:
        return bytes.fromhex(hexadecimal).decode("utf-16-be", "replace")
    except ValueError:
        return ""


def _local(written: str) -> datetime | None:
    """A time of the machine's zone; None for what is no time. In the hour that a clock in autumn has twice it is the second."""
    try:
        return datetime.strptime(written, _STAMP).replace(fold=1).astimezone()
    except ValueError:
        return None


def _state(parts: set[str]) -> str:
    """One state of all parts of a message: the worst of them, but `arrived` only when all are."""
    if not parts.isdisjoint({"SendingError", "Error"}):
        return "failed"
    if "DeliveryFailed" in parts:
        return "lost"
    return "arrived" if parts == {"DeliveryOK"} else "sent"


def _utc(time: datetime) -> str:
    return time.astimezone(UTC).strftime(_STAMP)


def _coding(part: Part) -> str:
    return _WIDE if part.wide else _NARROW
