"""What the store hands out: frozen values, one a row. Ids are the store's own numbers."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any

from rules.terms import Advice, Observation, Plot, Rain, Reading, Sign, Watering, Weather

SLOTS = {
    "reading": ("quantity", "value", "depth_cm", "soil_temp_c"),
    "watering": ("minutes", "depth_mm", "litres", "litres_each"),
    "rain": ("depth_mm",),
    "sign": ("sign",),
}
_TERMS: dict[str, type[Observation]] = {"reading": Reading, "watering": Watering, "rain": Rain, "sign": Sign}


@dataclass(frozen=True, kw_only=True)
class Person:
    """Somebody who texts. None: not told yet. `question` is the open one, as asked with `People.ask`."""

    id: int
    channel: str
    address: str
    created: datetime
    language: str | None = None
    units: str | None = None
    place: str | None = None
    latitude: float | None = None
    longitude: float | None = None
    elevation_m: float | None = None
    timezone: str | None = None
    stopped: bool = False
    question: dict[str, Any] | None = None
    asked_at: datetime | None = None
    dialogue: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class StoredPlot:
    """One thing a person waters. `facts` is what the rules take, at the person's own place where the plot has none."""

    id: int
    person: int
    name: str
    created: datetime
    paused: bool
    closed: bool
    place: str | None
    facts: Plot


@dataclass(frozen=True, kw_only=True)
class StoredMessage:
    """One text that arrived, or that staff or the line wrote first. `id` is ours, `their_id` the channel's.

    `written_at` orders what a person said: when it was sent, or when it arrived if that is earlier or all we know.
    `author` is `person`, `office` or `line`; `language` is what it and its replies are written in, where that is known.
    `by` is the colleague who wrote for the office. `drawn` has, reply by reply, the plot that a picture showed, or None.
    """

    id: int
    person: int
    author: str
    their_id: str | None
    text: str
    received_at: datetime
    sent_at: datetime | None
    written_at: datetime
    replies: tuple[str, ...] = ()
    media: str | None = None
    language: str | None = None
    by: str | None = None
    drawn: tuple[int | None, ...] = ()


@dataclass(frozen=True, kw_only=True)
class StoredFact:
    """One change of a person's fact (`plot` None) or of a plot's. `value` is as the column keeps it (dates: text).

    `by`: the colleague who changed it; None: it was told in a message, or found out.
    """

    id: int
    person: int
    plot: int | None
    about: str
    value: Any
    at: datetime
    message: int | None
    retracted_by: int | None
    by: str | None = None


@dataclass(frozen=True, kw_only=True)
class StoredObservation:
    """One thing reported. `plot` None: all of the person's plots (rain), or not known. `on` None: not known."""

    id: int
    person: int
    plot: int | None
    kind: str
    on: date | None
    at: datetime | None
    slots: dict[str, Any]
    message: int
    words: str | None
    set_aside: str | None
    retracted_by: int | None

    @property
    def in_force(self) -> bool:
        """Neither retracted nor set aside as impossible."""
        return self.retracted_by is None and self.set_aside is None

    def term(self) -> Observation:
        """The observation as the rules take it. It must have a day."""
        return _TERMS[self.kind](on=self.on, at=self.at, in_force=self.in_force, **self.slots)  # type: ignore[arg-type]


Item = StoredFact | StoredObservation


@dataclass(frozen=True, kw_only=True)
class Kept:
    """What one message stored, as far as it was asked for: the group that UNDO takes back and REDO brings back."""

    message: int
    items: tuple[Item, ...]

    @property
    def observations(self) -> tuple[StoredObservation, ...]:
        """The observations among the items."""
        return tuple(item for item in self.items if isinstance(item, StoredObservation))

    @property
    def facts(self) -> tuple[StoredFact, ...]:
        """The facts among the items."""
        return tuple(item for item in self.items if isinstance(item, StoredFact))


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """All that a verdict was made from; `rules.advise` gives the same advice from it again.

    `reported`: by their ids, the observations of the log that the others begin with. They are never edited, so ids are enough.
    """

    plot: Plot
    observations: tuple[Observation, ...]
    weather: Weather | None = None
    on: date
    reported: tuple[int, ...] = ()


@dataclass(frozen=True, kw_only=True)
class StoredAdvice:
    """One advice as given: to the word (`text`), in which `language`, by which program `version`, sent by whom.

    `Advices.inputs` gives what it was made from.
    """

    id: int
    person: int
    plot: int
    message: int | None
    on: date
    at: datetime
    advice: Advice
    version: str
    language: str
    text: str
    sent_by: str


@dataclass(frozen=True, kw_only=True)
class StoredCall:
    """A person handed over to a person. `state` is `open`, `taken`, `waiting` (for the person) or `done`.

    `taken_by`: the colleague who has it. `silent`: the line leaves the talk to them. `origin`: `text`, `phone` or `visit`.
    `waits_since`: since when the person waits for the office; None: they don't.
    """

    id: int
    person: int
    reason: str
    at: datetime
    message: int | None
    state: str
    taken_by: str | None
    desk: str = "volunteer"
    origin: str = "text"
    silent: bool = False
    urgent: bool = False
    waits_since: datetime | None = None
    done_at: datetime | None = None


@dataclass(frozen=True, kw_only=True)
class Note:
    """What stands beside a call for the staff alone. `kind` is `note`, or `event`: what was done with the call."""

    call: int
    at: datetime
    by: str
    kind: str
    text: str


@dataclass(frozen=True, kw_only=True)
class Letter:
    """One text on its way out by a channel, with buttons, and the graph of an advice and what it shows in words, where it has them.

    `asks` is what its last sentence asks for, and `choices` are the answers offered.
    """

    id: int
    channel: str
    address: str
    person: int | None
    kind: str
    text: str
    language: str
    asks: str | None
    choices: tuple[str, ...]
    advice: int | None
    alt: str
    made_at: datetime
    tries: int
    problem: str | None
