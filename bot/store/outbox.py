"""What is on its way out: letters wait here until a channel took them, so that a crash loses none.

A letter's text is blanked once it was taken; what was answered stands with the message that it answers.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Sequence
from datetime import datetime

from bot.store.columns import stamp, time
from bot.store.database import Database
from bot.store.held import Letter, Person

# An earlier letter that a channel could not take holds back the later ones to the same address, so that order is kept.
_DUE = """SELECT * FROM outbox AS mine WHERE channel = ? AND state = 'waiting' AND due_at <= ? AND NOT EXISTS (
        SELECT 1 FROM outbox AS before WHERE before.channel = mine.channel AND before.address = mine.address
        AND before.state = 'waiting' AND before.id < mine.id AND before.tries > 0 AND before.due_at > ?)
    ORDER BY id LIMIT ?"""
_WITHHOLD = """UPDATE outbox SET state = 'withheld', text = ''
    WHERE channel = ? AND state = 'waiting' AND kind IN ('notice', 'reminder')
    AND EXISTS (SELECT 1 FROM people WHERE people.id = outbox.person AND people.stopped)"""


class Outbox:
    """Verbs on letters.

    `kind` is `answer`, `idle` (an answer to what nobody could read), `late` (to what came a day late), `reminder` (asked for
    earlier) or `notice`: nobody asked.
    """

    def __init__(self, database: Database) -> None:
        self._database = database

    def put(
        self,
        channel: str,
        address: str,
        text: str,
        *,
        at: datetime,
        due_at: datetime | None = None,
        kind: str = "answer",
        person: Person | None = None,
        language: str = "en",
        asks: str | None = None,
        choices: Sequence[str] = (),
        advice: int | None = None,
        alt: str = "",
        notice: int | None = None,
    ) -> int:
        """Put a letter in; its id. It goes out when `due_at` has come. [the line's kind of time]"""
        return self._database.write(
            """INSERT INTO outbox
            (channel, address, person, kind, text, language, asks, choices, advice, alt, made_at, due_at, notice)
            VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)""",
            (
                channel,
                address,
                person.id if person else None,
                kind,
                text,
                language,
                asks,
                json.dumps(list(choices), ensure_ascii=False),
                advice,
                alt,
                stamp(at),
                stamp(due_at or at),
                notice,
            ),
        )

    def late_wait(self, channel: str, address: str) -> bool:
        """Whether answers to belated messages wait."""
        return bool(
            self._database.row(
                "SELECT 1 FROM outbox WHERE channel = ? AND address = ? AND state = 'waiting' AND kind = 'late'",
                (channel, address),
            )
        )

    def withdraw_late(self, channel: str, address: str) -> None:
        """Take back the answers to belated messages that still wait: a newer one will say it all."""
        self._database.write(
            "DELETE FROM outbox WHERE channel = ? AND address = ? AND state = 'waiting' AND kind = 'late'",
            (channel, address),
        )

    def withdraw_reminders(self, person: Person) -> None:
        """Take back the reminders that wait for this person."""
        self._database.write(
            "DELETE FROM outbox WHERE person = ? AND state = 'waiting' AND kind = 'reminder'", (person.id,)
        )

    def due(self, channel: str, now: datetime, at_most: int) -> list[Letter]:
        """The letters to send now, in order. Notices and reminders to those who said stop are withheld for good."""
        with self._database.transaction():
            self._database.write(_WITHHOLD, (channel,))
            rows = self._database.rows(_DUE, (channel, stamp(now), stamp(now), at_most))
        return [_letter(row) for row in rows]

    def hasten(self, now: datetime) -> None:
        """The clock may have been set back: no answer waits for a time that was wrong to come again."""
        self._database.write(
            "UPDATE outbox SET due_at = ? WHERE state = 'waiting' AND kind <> 'notice' AND made_at > ?",
            (stamp(now), stamp(now)),
        )

    def took(self, letter: Letter, at: datetime, their_id: str | None) -> None:
        """The channel has it; `their_id` is what its reports of delivery will name."""
        self._database.write(
            """UPDATE outbox SET state = 'taken', their_id = ?, done_at = ?, text = ''
            WHERE id = ? AND state = 'waiting'""",
            (their_id, stamp(at), letter.id),
        )

    def put_off(self, letter: Letter, due_at: datetime, problem: str) -> None:
        """The channel could not take it now; try again when `due_at` has come."""
        self._database.write(
            "UPDATE outbox SET tries = tries + 1, due_at = ?, problem = ? WHERE id = ? AND state = 'waiting'",
            (stamp(due_at), problem, letter.id),
        )

    def give_up(self, letter: Letter, at: datetime, problem: str) -> None:
        """The letter is dead: the office sees it, text and all."""
        self._database.write(
            "UPDATE outbox SET state = 'dead', tries = tries + 1, done_at = ?, problem = ? WHERE id = ?",
            (stamp(at), problem, letter.id),
        )

    def withhold(self, channel: str, address: str) -> None:
        """Nothing that waits for this address goes out."""
        self._database.write(
            "UPDATE outbox SET state = 'withheld', text = '' WHERE channel = ? AND address = ? AND state = 'waiting'",
            (channel, address),
        )

    def reported(self, channel: str, their_id: str, arrived: bool) -> None:
        """The network reports that a letter arrived, or that it never will."""
        self._database.write(
            "UPDATE outbox SET state = ? WHERE channel = ? AND their_id = ? AND state = 'taken'",
            ("arrived" if arrived else "lost", channel, their_id),
        )

    def wrote_to(self, channel: str, address: str) -> bool:
        """Whether anything was ever put in for this address."""
        row = self._database.row("SELECT 1 FROM outbox WHERE channel = ? AND address = ? LIMIT 1", (channel, address))
        return row is not None

    def offered(self, person: Person) -> tuple[str, ...]:
        """The choices that the newest letter to this person offers."""
        row = self._database.row(
            "SELECT choices FROM outbox WHERE person = ? ORDER BY made_at DESC, id DESC LIMIT 1", (person.id,)
        )
        return tuple(json.loads(row["choices"])) if row else ()

    def drop_done(self, before: datetime) -> None:
        """Drop the letters that were put in before then and wait no more."""
        self._database.write("DELETE FROM outbox WHERE state <> 'waiting' AND made_at < ?", (stamp(before),))

    def counts(self) -> dict[str, dict[str, int]]:
        """How many letters there are by channel and state."""
        found: dict[str, dict[str, int]] = {}
        for row in self._database.rows("SELECT channel, state, count(*) AS n FROM outbox GROUP BY channel, state"):
            found.setdefault(row["channel"], {})[row["state"]] = row["n"]
        return found

    def dead(self, at_most: int = 100) -> list[Letter]:
        """The letters that no channel would take, newest first."""
        rows = self._database.rows("SELECT * FROM outbox WHERE state = 'dead' ORDER BY id DESC LIMIT ?", (at_most,))
        return [_letter(row) for row in rows]

    def answers_since(self, since: datetime, person: Person | None = None, kind: str | None = None) -> int:
        """How many answers were put in since then: for one person or all, of one kind or all but notices."""
        row = self._database.row(
            f"""SELECT count(*) AS n FROM outbox WHERE made_at > ? AND {"kind = ?" if kind else "kind <> ?"}
            {"AND person = ?" if person else ""}""",
            (stamp(since), kind or "notice", *([person.id] if person else [])),
        )
        return int(row["n"]) if row else 0


def _letter(row: sqlite3.Row) -> Letter:
    return Letter(
        id=row["id"],
        channel=row["channel"],
        address=row["address"],
        person=row["person"],
        kind=row["kind"],
        text=row["text"],
        language=row["language"],
        asks=row["asks"],
        choices=tuple(json.loads(row["choices"])),
        advice=row["advice"],
        alt=row["alt"],
        made_at=time(row["made_at"]),
        tries=row["tries"],
        problem=row["problem"],
    )
