"""The office's staff: their accounts, who is logged in (a sitting), and the passwords that were wrong.

Of a sitting's token only the hash is here: who reads the file can't sit down in somebody's place.
"""

from __future__ import annotations

import hashlib
import json
import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from bot.errors import StoreError
from bot.store.columns import stamp, time, time_or_none
from bot.store.database import Database

ROLES = ("helper", "specialist", "keeper")


@dataclass(frozen=True, kw_only=True)
class Colleague:
    """One account. `role` is one of ROLES, each of which may all that the one before it may; `desks`: those a helper sees.

    `telephone`: where they want to be texted when the line is unwell; None: nowhere.
    """

    id: int
    name: str
    role: str
    desks: tuple[str, ...]
    password: str
    made_at: datetime
    left_at: datetime | None
    telephone: str | None = None

    def may(self, role: str) -> bool:
        """Whether this colleague may do what needs `role`."""
        return ROLES.index(self.role) >= ROLES.index(role)


@dataclass(frozen=True)
class Sitting:
    """Somebody logged in; `csrf` proves that a form comes from a page of this sitting."""

    colleague: Colleague
    csrf: str
    began_at: datetime
    seen_at: datetime


class Staff:
    """Verbs on accounts and sittings. Passwords come hashed."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def add(self, name: str, role: str, password: str, *, at: datetime, desks: Sequence[str] = ()) -> Colleague:
        """A new account.

        Raises: StoreError, for a name that is taken (also of somebody who left: deeds are told by name) or no role.
        """
        id_ = self._database.write(
            "INSERT INTO staff (name, role, desks, password, made_at) VALUES (?, ?, ?, ?, ?)",
            (name, role, json.dumps(list(desks)), password, stamp(at)),
        )
        return self.by_id(id_)

    def everyone(self) -> list[Colleague]:
        """All accounts by name, those who left last."""
        rows = self._database.rows("SELECT * FROM staff ORDER BY left_at IS NOT NULL, name")
        return [_colleague(row) for row in rows]

    def by_id(self, id: int) -> Colleague:
        """The account. Raises: StoreError, when there is none."""
        row = self._database.row("SELECT * FROM staff WHERE id = ?", (id,))
        if row is None:
            raise StoreError(f"there is no account {id}")
        return _colleague(row)

    def named(self, name: str) -> Colleague | None:
        """The account of that name, unless its owner left."""
        row = self._database.row("SELECT * FROM staff WHERE name = ? AND left_at IS NULL", (name,))
        return _colleague(row) if row else None

    def change(
        self,
        colleague: Colleague,
        *,
        role: str | None = None,
        desks: Sequence[str] | None = None,
        password: str | None = None,
        left_at: datetime | None = None,
    ) -> None:
        """Change what is given. Whoever it concerns must log in again. Raises: StoreError, for no role."""
        with self._database.transaction():
            self._database.write(
                """UPDATE staff SET role = coalesce(?, role), desks = coalesce(?, desks),
                password = coalesce(?, password), left_at = coalesce(?, left_at) WHERE id = ?""",
                (
                    role,
                    None if desks is None else json.dumps(list(desks)),
                    password,
                    stamp(left_at) if left_at else None,
                    colleague.id,
                ),
            )
            self._database.write("DELETE FROM sittings WHERE staff = ?", (colleague.id,))

    def set_telephone(self, colleague: Colleague, telephone: str | None) -> None:
        """Where the colleague is texted when the line is unwell; None: nowhere."""
        self._database.write("UPDATE staff SET telephone = ? WHERE id = ?", (telephone, colleague.id))

    def to_warn(self) -> list[Colleague]:
        """Those who want to be texted when the line is unwell."""
        return [each for each in self.everyone() if each.telephone and not each.left_at and each.may("specialist")]

    # Sittings

    def sit(self, colleague: Colleague, token: str, csrf: str, at: datetime) -> None:
        """The colleague is logged in by this token from now on."""
        self._database.write(
            "INSERT INTO sittings (token, staff, csrf, began_at, seen_at) VALUES (?, ?, ?, ?, ?)",
            (_hashed(token), colleague.id, csrf, stamp(at), stamp(at)),
        )

    def sitting(self, token: str) -> Sitting | None:
        """Who is logged in by this token."""
        row = self._database.row(
            """SELECT staff.*, csrf, began_at, seen_at FROM sittings JOIN staff ON staff.id = sittings.staff
            WHERE token = ? AND left_at IS NULL""",
            (_hashed(token),),
        )
        return Sitting(_colleague(row), row["csrf"], time(row["began_at"]), time(row["seen_at"])) if row else None

    def seen(self, token: str, at: datetime) -> None:
        """The sitting was used."""
        self._database.write("UPDATE sittings SET seen_at = ? WHERE token = ?", (stamp(at), _hashed(token)))

    def rise(self, token: str) -> None:
        """The sitting is over."""
        self._database.write("DELETE FROM sittings WHERE token = ?", (_hashed(token),))

    def clear_sittings(self, before: datetime) -> None:
        """End the sittings that were not used since then, and forget the wrong passwords up to then."""
        self._database.write("DELETE FROM sittings WHERE seen_at < ?", (stamp(before),))
        self._database.write("DELETE FROM wrong_passwords WHERE at < ?", (stamp(before),))

    # Wrong passwords

    def wrong_password(self, name: str, address: str, at: datetime) -> None:
        """A password was wrong."""
        self._database.write(
            "INSERT INTO wrong_passwords (name, address, at) VALUES (?, ?, ?)", (name, address, stamp(at))
        )

    def wrong_since(self, since: datetime, name: str, address: str) -> tuple[int, int]:
        """How many passwords were wrong since then: for this name, and from this address for any name."""
        row = self._database.row(
            "SELECT sum(name = ?) AS named, sum(address = ?) AS sent FROM wrong_passwords WHERE at > ?",
            (name, address, stamp(since)),
        )
        return ((row["named"] or 0), (row["sent"] or 0)) if row else (0, 0)


def _hashed(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()


def _colleague(row: sqlite3.Row) -> Colleague:
    return Colleague(
        id=row["id"],
        name=row["name"],
        role=row["role"],
        desks=tuple(json.loads(row["desks"])),
        password=row["password"],
        made_at=time(row["made_at"]),
        left_at=time_or_none(row["left_at"]),
        telephone=row["telephone"],
    )
