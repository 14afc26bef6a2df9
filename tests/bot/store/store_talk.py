"""Somebody who texts, for the tests of the store. All people and plots here are invented."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from datetime import datetime, timedelta
from itertools import count
from typing import Any

from bot.store import Person, Store, StoredMessage, StoredPlot

MORNING = datetime(2026, 7, 1, 7, 40)


class Talk:
    """One person texting, a minute between the messages."""

    def __init__(self, store: Store, person: Person) -> None:
        self.store, self.person, self._minutes = store, person, count()

    def say(self, text: str, **more: Any) -> StoredMessage:
        at = MORNING + timedelta(minutes=next(self._minutes))
        message = self.store.messages.keep(self.person, text, at, **more)
        assert message is not None
        return message

    def plot(self, name: str = "peaches") -> StoredPlot:
        """A plot that no UNDO takes back."""
        return self.store.plots.new(self.person, name, at=MORNING)

    def reads(self, plot: StoredPlot, kpa: float) -> StoredMessage:
        """A message that reports a tension."""
        message = self.say(f"{kpa} cb")
        self.store.log.keep(
            message, "reading", {"quantity": "tension", "value": kpa}, plot=plot, on=message.written_at.date()
        )
        return message

    def counting(self, plot: StoredPlot) -> list[float]:
        """The readings in force."""
        return [observation.slots["value"] for observation in self.store.log.observations(plot)]


class AbandonedError(Exception):
    """What goes wrong in `abandoned`."""


@contextmanager
def abandoned(store: Store) -> Iterator[None]:
    """A transaction in which something goes wrong at the end."""
    with suppress(AbandonedError), store.transaction():
        yield
        raise AbandonedError
