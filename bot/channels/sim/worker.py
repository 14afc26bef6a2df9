"""The worker of the SIM card: hands over what came in, sends what the post has, and watches the daemon."""

from __future__ import annotations

import logging
from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path
from threading import Event

from bot.channels.sim.inbox import message
from bot.channels.sim.parts import split
from bot.channels.sim.tables import Sign, Tables, Unusable, opened
from bot.config import Section
from bot.errors import BotError
from bot.message import Message
from bot.post import Letter, Post
from bot.workers import Health

log = logging.getLogger(__name__)

_ROUND_S = 0.5
_AT_ONCE = 100
_REPORTS = timedelta(seconds=30)
_TIDY = timedelta(hours=1)
# Longer than any network tries to deliver, so that its report still finds the message.
_KEPT = timedelta(days=7)
# The daemon signs each minute unless told otherwise, and one message may keep it busy for half of one.
_SILENT = timedelta(minutes=3)
# A number that can't be reached fails once; after so many in a row it is the line.
_FAILURES = 3
# Whose messages are ours among those of the daemon's other users.
_OURS = "dropline "


class Sim:
    """Text messages through gammu-smsd.

    Args:
        take: the line's.
        path: the daemon's SQLite file.
        country: the calling code put before numbers that come without one.
        clock: the line's.
    """

    name = "sms"

    def __init__(
        self, take: Callable[[Message], None], post: Post, path: Path, country: str, clock: Callable[[], datetime]
    ) -> None:
        self._take, self._post, self._path, self._country, self._clock = take, post, path, country, clock
        self._problem: str | None = "not begun yet"
        self._failures = 0
        self._sign: Sign | None = None
        self._since = clock()
        self._looked_at = self._tidied_at = clock() - _KEPT

    def run(self, stop: Event) -> None:
        """Round after round, until told to stop. What can't be used now is tried again in the next."""
        while not stop.is_set():
            try:
                with opened(self._path) as tables:
                    self._round(tables, stop)
                self._now_is(None)
            except (Unusable, BotError) as problem:
                self._now_is(str(problem))
            self._post.wait(_ROUND_S)

    def health(self) -> Health:
        """Whether texts come and go, and what to do where they don't."""
        problem = self._problem or self._trouble()
        return Health(part=self.name, well=problem is None, says=problem or self._well(), since=self._since)

    def _round(self, tables: Tables, stop: Event) -> None:
        self._sign = tables.sign()
        for row in tables.arrived():
            if stop.is_set():
                return
            arrived = message(row, self._country)
            if arrived:
                self._take(arrived)
            tables.processed(row)
        self._send(tables)
        self._look_back(tables)

    def _send(self, tables: Tables) -> None:
        """One letter to each number at a time: the daemon keeps no order among those of one second."""
        addressed: set[str] = set()
        for letter in self._post.due("sms", _AT_ONCE):
            if letter.address not in addressed:
                addressed.add(letter.address)
                self._carry(tables, letter)

    def _carry(self, tables: Tables, letter: Letter) -> None:
        """Bring a letter one step on. Its name is looked for first, so that no crash makes it go out twice."""
        name = f"{_OURS}{letter.id} {letter.made_at:%Y-%m-%dT%H:%M:%S} {letter.tries}"
        state = tables.state(name)
        if state is None:
            tables.put(name, letter.address, split(letter.text, letter.id))
        elif state == "failed":
            self._post.failed(letter, "the modem could not send it")
            tables.wipe(name)
            self._failures += 1
        elif state != "waiting":
            self._post.took(letter, name)
            self._reported(name, state)
            tables.wipe(name)
            self._failures = 0

    def _look_back(self, tables: Tables) -> None:
        now = self._clock()
        if now - self._looked_at >= _REPORTS:
            for name, state in tables.changed(_OURS, self._looked_at - _REPORTS).items():
                self._reported(name, state)
            self._looked_at = now
        if now - self._tidied_at >= _TIDY:
            tables.drop(_OURS, now - _KEPT)
            self._tidied_at = now

    def _reported(self, name: str, state: str) -> None:
        if state in ("arrived", "lost"):
            self._post.reported("sms", name, state == "arrived")

    def _now_is(self, problem: str | None) -> None:
        if problem != self._problem:
            self._problem, self._since = problem, self._clock()
            log.warning("sms: %s", problem) if problem else log.info("sms: well again")

    def _trouble(self) -> str | None:
        if self._sign is None:
            return "gammu-smsd has found no modem yet: is it plugged in, and what says `systemctl status gammu-smsd`?"
        if self._clock() - self._sign.at > _SILENT:
            return (
                f"no sign of gammu-smsd or its modem since {self._sign.at.astimezone():%b %d %H:%M}: is the modem plugged in,"
                " and what says `systemctl status gammu-smsd`?"
            )
        if self._sign.signal == 0:
            return "the modem has no signal: is the SIM active, and would the antenna do better elsewhere?"
        if self._failures >= _FAILURES:
            return "the modem can't send: has the SIM credit, and may it send texts?"
        return None

    def _well(self) -> str:
        signal = self._sign.signal if self._sign else -1
        return f"texts come and go; signal {signal} %" if signal > 0 else "texts come and go"


def from_settings(section: Section, take: Callable[[Message], None], post: Post, clock: Callable[[], datetime]) -> Sim:
    """The worker of the table [sim]. Raises: ConfigError."""
    sim = Sim(take, post, section.path("database"), section.text("country", "1"), clock)
    section.done()
    return sim
