"""The post: what waits to be sent, as a channel sees it. A channel takes what is due, sends it, and says how that went."""

from __future__ import annotations

import logging
from collections.abc import Callable
from datetime import datetime, timedelta
from threading import Condition

from bot.store import Letter, Store

__all__ = ["Letter", "Post"]

log = logging.getLogger(__name__)

_FIRST_WAIT = timedelta(seconds=30)
_LONGEST_WAIT = timedelta(hours=1)
# A clock that goes back by so much was set right.
_CLOCK_STEP = timedelta(seconds=2)
# Advice of yesterday is no advice.
_TOO_OLD = timedelta(days=1)
# So many tries, an hour apart from the eighth on, take a day.
_MOST_TRIES = 30


class Post:
    """Letters by channel. Any thread may use it.

    Args:
        clock: the line's.
        draw: the graph of an advice, by its id, as a PNG file; None where there is none any more.
    """

    def __init__(self, store: Store, clock: Callable[[], datetime], draw: Callable[[int], bytes | None]) -> None:
        self._store, self._clock, self._draw = store, clock, draw
        self._looked_at: datetime | None = None
        self._rung = Condition()

    def ring(self) -> None:
        """Wake who waits for letters."""
        with self._rung:
            self._rung.notify_all()

    def wait(self, seconds: float) -> None:
        """Sleep until there may be a letter, or so long."""
        with self._rung:
            self._rung.wait(seconds)

    def due(self, channel: str, at_most: int = 20) -> list[Letter]:
        """The letters for this channel to send now, in order. They stay due until one of the verbs below was said."""
        now, before = self._clock(), self._looked_at
        if before is None or now < before - _CLOCK_STEP:
            self._store.outbox.hasten(now)
        self._looked_at = now
        return self._store.outbox.due(channel, now, at_most)

    def picture(self, letter: Letter) -> bytes | None:
        """The picture (PNG) that goes with it, if any; drawn now, while nobody waits for an answer."""
        try:
            return self._draw(letter.advice) if letter.advice is not None else None
        except Exception:
            log.exception("letter %d on %s goes without its picture", letter.id, letter.channel)
            return None

    def took(self, letter: Letter, their_id: str | None = None) -> None:
        """It was sent. `their_id` is the network's name for it, unique in the channel, for `reported`."""
        self._store.outbox.took(letter, self._clock(), their_id)

    def failed(self, letter: Letter, problem: str, *, wait_s: float | None = None) -> None:
        """It could not be sent now: it waits longer each time, or as long as the network asked, and dies after a day.

        Args:
            problem: what happened, without anybody's words or address.
        """
        now = self._clock()
        # A reminder was put in days before its time.
        tried = letter.tries > _MOST_TRIES if letter.kind == "reminder" else now - letter.made_at > _TOO_OLD
        if tried:
            self.refused(letter, problem)
            return
        wait = timedelta(seconds=wait_s) if wait_s is not None else _FIRST_WAIT * 2 ** min(letter.tries, 7)
        self._store.outbox.put_off(letter, now + min(wait, _LONGEST_WAIT), problem)
        log.warning("letter %d on %s put off: %s", letter.id, letter.channel, problem)

    def refused(self, letter: Letter, problem: str, *, stopped: bool = False) -> None:
        """It will never be taken. `stopped`: because the person has blocked the line, which counts as STOP."""
        now = self._clock()
        with self._store.transaction():
            self._store.outbox.give_up(letter, now, problem)
            if stopped:
                self._store.outbox.withhold(letter.channel, letter.address)
            person = self._store.people.known(letter.channel, letter.address)
            if stopped and person and not person.stopped:
                self._store.facts.set(person, "stopped", True, at=now)
        log.warning("letter %d on %s given up: %s", letter.id, letter.channel, problem)

    def reported(self, channel: str, their_id: str, arrived: bool) -> None:
        """The network's report on a letter that it took."""
        self._store.outbox.reported(channel, their_id, arrived)
