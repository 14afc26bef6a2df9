"""The end of exceptions: each ends on its day by itself, and says so to the people of the plot and to the office."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from threading import Event

from bot.line import Line
from bot.local_time import local
from bot.quiet import by_day
from bot.store import Person, StoredPlot
from bot.store.exceptions import BY_ITSELF, PlotException
from bot.talk.changes import over_since
from bot.word.say import Words
from bot.workers import Health

_LOOK_EVERY_S = 300.0


class Endings:
    """A worker that looks for exceptions whose last day has passed.

    Args:
        clock: the line's.
    """

    name = "endings"

    def __init__(self, line: Line, clock: Callable[[], datetime]) -> None:
        self._line, self._store, self._clock = line, line.store, clock

    def run(self, stop: Event) -> None:
        """Look again and again."""
        while not stop.is_set():
            self.look()
            stop.wait(_LOOK_EVERY_S)

    def look(self) -> None:
        """Look once."""
        now = self._clock()
        for each in self._store.exceptions.over(now.date()):
            with self._store.transaction():
                self._end(each, now)
        self._line.post.ring()

    def _end(self, over: PlotException, now: datetime) -> None:
        plot, maker = self._store.plots.by_id(over.plot), self._store.people.by_id(over.person)
        if not self._store.exceptions.end(plot, over, BY_ITSELF, local(now, maker)):
            return
        self._store.deeds.add(
            "dropline", "an exception ended on its day", now, person=maker.id, detail=f"plot {plot.id}"
        )
        for person in (maker, *self._store.shares.others(plot, maker)):
            if self._store.people.wants_texts(person):
                self._tell(person, plot, over, now)

    def _tell(self, person: Person, plot: StoredPlot, over: PlotException, now: datetime) -> None:
        there = local(now, person)
        words = Words(person.language or "en", person.units or "us", person.channel, there.date())
        theirs = next((each for each in self._store.plots.of(person) if each.id == plot.id), None)
        if theirs is None:
            return
        text = " ".join(over_since(words, theirs.facts, over.starts, there.date()))
        if not text:
            return
        self._store.messages.keep(person, text, there, author="line", language=words.language)
        self._store.outbox.put(
            person.channel, person.address, text, at=now, due_at=by_day(now, person), kind="notice", person=person,
            language=words.language,
        )  # fmt: skip

    def health(self) -> Health:
        """It has nothing that could be unwell but its thread."""
        return Health(part=self.name, well=True, says="looks for exceptions that end")
