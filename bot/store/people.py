"""The people of the line: known by channel and address, with the open question and where the talk stands."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Mapping
from datetime import datetime
from typing import Any

from bot.errors import NoSuchPerson
from bot.store.columns import stamp, time, time_or_none
from bot.store.database import Database
from bot.store.held import Person


class People:
    """Verbs on people. What a person told (language, units, place, stop) is set through `Facts`."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def person(self, channel: str, address: str, at: datetime) -> Person:
        """Whoever writes from this address; made at the first contact, which is then `at`."""
        known = self.known(channel, address)
        if known:
            return known
        self._database.write(
            "INSERT INTO people (channel, address, created) VALUES (?, ?, ?) ON CONFLICT DO NOTHING",
            (channel, address, stamp(at)),
        )
        made = self.known(channel, address)
        if made is None:
            raise NoSuchPerson
        return made

    def known(self, channel: str, address: str) -> Person | None:
        """Whoever writes from this address, if anybody has."""
        row = self._database.row("SELECT * FROM people WHERE channel = ? AND address = ?", (channel, address))
        return _person(row) if row else None

    def by_id(self, person: int) -> Person:
        """The person as held now.

        Raises: NoSuchPerson.
        """
        row = self._database.row("SELECT * FROM people WHERE id = ?", (person,))
        if row is None:
            raise NoSuchPerson(person)
        return _person(row)

    def by_digits(self, digits: str) -> Person | None:
        """The one person whose address ends in these digits; None also when there are several."""
        rows = self._database.rows("SELECT * FROM people WHERE address LIKE ? LIMIT 2", (f"%{digits}",))
        return _person(rows[0]) if len(rows) == 1 else None

    def everyone(self) -> list[Person]:
        """All people, oldest first, those who said stop included."""
        return [_person(row) for row in self._database.rows("SELECT * FROM people ORDER BY id")]

    def wants_texts(self, person: Person) -> bool:
        """Whether the person asked for the line's own texts: START was said, and STOP was not said since."""
        return self._database.row("SELECT 1 FROM people WHERE id = ? AND stopped = 0", (person.id,)) is not None

    def ask(self, person: Person, question: Mapping[str, Any], at: datetime) -> None:
        """Note the question that is now open; it takes the place of an older one. It must be JSON."""
        self._database.write(
            "UPDATE people SET question = ?, asked_at = ? WHERE id = ?", (_json(question), stamp(at), person.id)
        )

    def clear_question(self, person: Person) -> None:
        """No question is open any more."""
        self._database.write("UPDATE people SET question = NULL, asked_at = NULL WHERE id = ?", (person.id,))

    def set_dialogue(self, person: Person, dialogue: Mapping[str, Any]) -> Person:
        """Keep where the talk stands, in place of what was kept before; the person as held now. It must be JSON.

        Raises: NoSuchPerson.
        """
        row = self._database.row(
            "UPDATE people SET dialogue = ? WHERE id = ? RETURNING *", (_json(dialogue), person.id)
        )
        if row is None:
            raise NoSuchPerson(person.id)
        return _person(row)


def _person(row: sqlite3.Row) -> Person:
    return Person(
        id=row["id"],
        channel=row["channel"],
        address=row["address"],
        created=time(row["created"]),
        language=row["language"],
        units=row["units"],
        place=row["place"],
        latitude=row["latitude"],
        longitude=row["longitude"],
        elevation_m=row["elevation_m"],
        timezone=row["timezone"],
        stopped=bool(row["stopped"]),
        question=None if row["question"] is None else json.loads(row["question"]),
        asked_at=time_or_none(row["asked_at"]),
        dialogue=json.loads(row["dialogue"]),
    )


def _json(value: Mapping[str, Any]) -> str:
    return json.dumps(dict(value), ensure_ascii=False)
