"""A line to practise on: made-up people, invented weather, a clock that is turned by hand, and ten cases to judge.

Each room is a whole line in memory, which no channel knows: nothing of it is sent, kept, or seen by another colleague.
"""

from __future__ import annotations

import json
from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from functools import cache
from importlib.resources import files
from typing import Any

from bot.line import Line, Message, Office, open_line
from rules.tables import Tables

# What a colleague can say to a case.
ANSWERS = ("WATER", "WAIT", "CHECK", "a person")
_CHANNEL, _SENDER = "sms", "+15550199"
_MOST_ROOMS = 20
_SHOWN = 60


@dataclass(frozen=True)
class Case:
    """One text to judge, with what its person had told before."""

    language: str
    told: tuple[str, ...]
    text: str


@dataclass(frozen=True)
class Judged:
    """What the line makes of a case: one of ANSWERS, and its words."""

    answer: str
    says: str


@dataclass(frozen=True)
class Said:
    """One text of the talk."""

    at: datetime
    theirs: bool
    text: str


@dataclass
class _Clock:
    now: datetime

    def __call__(self) -> datetime:
        return self.now


@dataclass
class Room:
    """One colleague's line to practise on, and what they answered to the cases so far."""

    line: Line
    clock: _Clock
    talk: list[Said] = field(default_factory=list)
    answers: list[str] = field(default_factory=list)

    def text(self, words: str) -> None:
        """Text the line as the made-up person."""
        self._say(words, theirs=True)
        for reply in self.line.receive(Message(channel=_CHANNEL, sender=_SENDER, text=words)):
            self._say(reply.text, theirs=False)

    def turn(self, hours: int) -> None:
        """Turn the clock on, as far as there is weather; what the line then says by itself is said."""
        self.clock.now = min(self.clock.now + timedelta(hours=hours), _last_morning())
        for letter in self.line.post.due(_CHANNEL):
            self.line.post.took(letter)
            self._say(letter.text, theirs=False)

    def _say(self, words: str, *, theirs: bool) -> None:
        self.talk = [*self.talk, Said(self.clock.now, theirs, words)][-_SHOWN:]


class Rooms:
    """The rooms, by colleague; of so many the one not used for longest is given up."""

    def __init__(self) -> None:
        self._rooms: OrderedDict[int, Room] = OrderedDict()

    def of(self, colleague: int, tables: Tables, office: Office) -> Room:
        """The colleague's room, a new one at the first time."""
        room = self._rooms.pop(colleague, None) or new_room(tables, office)
        self._rooms[colleague] = room
        while len(self._rooms) > _MOST_ROOMS:
            self._rooms.popitem(last=False)
        return room

    def leave(self, colleague: int) -> None:
        """The next time begins afresh."""
        self._rooms.pop(colleague, None)


def new_room(tables: Tables, office: Office) -> Room:
    """A line in memory, at the morning of the cases."""
    clock = _Clock(datetime.fromisoformat(_script("cases")["on"]))
    return Room(open_line(None, _script("month")["weather"], clock, office=office, tables=tables), clock)


@cache
def cases() -> tuple[Case, ...]:
    """The cases, in their order."""
    return tuple(Case(each["language"], tuple(each["told"]), each["text"]) for each in _script("cases")["cases"])


def judged(case: Case, tables: Tables, office: Office) -> Judged:
    """What the line answers to a case, by the tables in force."""
    room = new_room(tables, office)
    for words in (*case.told, case.text):
        replies = room.line.receive(Message(channel=_CHANNEL, sender=_SENDER, text=words))
    person = room.line.store.people.known(_CHANNEL, _SENDER)
    called = person is not None and room.line.store.calls.of(person) is not None
    verdict = next((each.verdict for each in replies if each.verdict), None)
    room.line.store.close()
    return Judged("a person" if called else verdict or "", "\n".join(each.text for each in replies))


def _last_morning() -> datetime:
    last: str = _script("month")["weather"]["past"][-1]["date"]
    return datetime.fromisoformat(f"{last}T08:00")


@cache
def _script(name: str) -> Mapping[str, Any]:
    script: Mapping[str, Any] = json.loads((files("bot") / "demo" / f"{name}.json").read_text(encoding="utf-8"))
    return script
