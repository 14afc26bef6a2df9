"""A county's line joined to a Telegram that runs here, and the people who write to it."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from bot_api import TOKEN, BotApi, Said

from bot.channels.telegram.arriving import Arrivals
from bot.channels.telegram.fetching import Fetcher
from bot.channels.telegram.pace import Pace
from bot.channels.telegram.sending import Sender
from bot.channels.telegram.settings import Settings
from bot.line import Line, Office, open_line
from bot.workers import Crew, Health

NOON = datetime(2026, 7, 14, 12, 0, tzinfo=UTC)
# Invented: a hot, dry July.
WEATHER = {
    "past": [
        {"date": (NOON - timedelta(days=back)).date().isoformat(), "rain_mm": 0.0, "et0_mm": 6.0}
        for back in range(30, 0, -1)
    ],
    "forecast": [
        {"date": (NOON + timedelta(days=on)).date().isoformat(), "rain_mm": 0.0, "et0_mm": 6.0} for on in range(7)
    ],
}
ANN, BEN, CLUB = 501, 502, -900


class Clock:
    """The line's time, moved on by hand."""

    def __init__(self) -> None:
        self.now = NOON

    def __call__(self) -> datetime:
        return self.now

    def on(self, **by: float) -> None:
        self.now += timedelta(**by)


@dataclass
class Town:
    """Everything together: the service, the line, its workers, and verbs for people."""

    api: BotApi
    line: Line
    clock: Clock
    crew: Crew
    database: Path

    def writes(self, who: int, text: str, **more: Any) -> int:
        """Somebody sends a text; the message's id."""
        return self.sends(who, text=text, **more)

    def sends(self, who: int, **content: Any) -> int:
        """Somebody sends something; the message's id."""
        message = self.api.message(who, int(self.clock.now.timestamp()), **content)
        self.api.arrives(message=message)
        return int(message["message_id"])

    def edits(self, who: int, message_id: int, text: str) -> None:
        """Somebody changes the words of a message sent before."""
        written = int(self.clock.now.timestamp())
        message = self.api.message(who, written, message_id=message_id, text=text, edit_date=written)
        self.api.arrives(edited_message=message)

    def heard(self, who: int, count: int) -> list[Said]:
        """All that was said to somebody, once it is so many messages."""
        self.api.until(lambda: len(self.api.to(who)) >= count)
        return self.api.to(who)

    def talk(self, who: int, text: str, **more: Any) -> Said:
        """Somebody sends a text, and waits for the last word of the answer."""
        before = len(self.api.to(who))
        return self.answer(self.sends(who, text=text, **more), who, before)

    def answer(self, message_id: int, who: int, before: int) -> Said:
        """The last word of the answer to a message."""
        self.api.until(
            lambda: self.kept(who, message_id) and len(self.api.to(who)) >= before + self.kept(who, message_id)
        )
        return self.api.to(who)[-1]

    def kept(self, who: int, message_id: int) -> int:
        """How many replies the line gave to this message so far."""
        person = self.line.store.people.known("telegram", str(who))
        seen = person and self.line.store.messages.seen(person, str(message_id))
        return len(seen.replies) if seen else 0

    def settled(self) -> None:
        """Wait until all that arrived was fetched and answered, and every answer has left."""
        last = self.api.last_update
        self.api.until(lambda: self.api.confirmed >= last and not self.line.post.due("telegram"))

    def record(self, who: int) -> list[tuple[str, Any]]:
        """Kind and value or minutes of what counts."""
        person = self.line.store.people.known("telegram", str(who))
        history = self.line.store.log.history(person) if person else []
        return [(each.kind, each.slots.get("value") or each.slots.get("minutes")) for each in history if each.in_force]

    def health(self) -> dict[str, Health]:
        return {each.part: each for each in self.crew.health()}


@contextmanager
def held_by_another_program(database: Path) -> Iterator[None]:
    """Somebody else writes to the database, for longer than a reply can wait."""
    other = sqlite3.connect(database, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    try:
        yield
    finally:
        other.execute("ROLLBACK")
        other.close()


def settings(api: BotApi, secret: str | None = None) -> Settings:
    return Settings(token=TOKEN, secret=secret, service=api.url, url="https://water.example/telegram")


@pytest.fixture
def api(monkeypatch: pytest.MonkeyPatch) -> Iterator[BotApi]:
    monkeypatch.setenv("NO_PROXY", "127.0.0.1")
    with BotApi() as served:
        yield served


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def begin(api: BotApi, clock: Clock, tmp_path: Path) -> Iterator[Callable[[], Town]]:
    """Starts the line on one database, as often as it is called; the one before is stopped."""
    running: list[Town] = []

    def stop() -> None:
        for town in running:
            town.crew.stop()
            town.line.store.close()
        running.clear()

    def start() -> Town:
        stop()
        line = open_line(tmp_path / "line.sqlite", WEATHER, clock, office=Office(name="Dry Fork desk"))
        given = settings(api)
        workers = [Fetcher(given, Arrivals(line), clock), Sender(given, line.post, clock, Pace(0.0, 0.0))]
        town = Town(api, line, clock, Crew(workers, clock), tmp_path / "line.sqlite")
        town.crew.start()
        running.append(town)
        return town

    yield start
    stop()


@pytest.fixture
def town(begin: Callable[[], Town]) -> Town:
    return begin()
