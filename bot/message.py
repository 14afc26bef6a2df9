"""What a channel hands to the line, and what the line hands back. A channel needs nothing else of the house."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Protocol


@dataclass(frozen=True, kw_only=True)
class Message:
    """One text that arrived. `id` is the channel's own, for telling a repeat; `sent_at` is when it was written, if known.

    `media` names what came with it that only a person can judge: `photo`, `voice` or `file`, and after a colon the channel's
    name for it; or `part`: the text is one of several parts of which others did not come. `language` is what the channel
    guesses of a person who has not shown theirs. `replaces` is the id of a message that this one takes the place of, because
    its words were changed.
    """

    channel: str
    sender: str
    text: str
    id: str | None = None
    sent_at: datetime | None = None
    media: str | None = None
    language: str | None = None
    replaces: str | None = None


@dataclass(frozen=True, kw_only=True)
class Picture:
    """A picture that goes with a reply, and what it shows in one line; `draw` makes the PNG, for a channel that has pictures.

    `plot` is the store's own number of the plot that it shows.
    """

    alt: str
    draw: Callable[[], bytes]
    plot: int | None = None


@dataclass(frozen=True, kw_only=True)
class Reply:
    """One text to send, with what it says in numbers for whoever measures or draws it (SI, shares 0 to 1).

    `choices` are the answers offered to the question `asks`, for a channel that has buttons.
    """

    to: str
    text: str
    language: str = "en"
    verdict: str | None = None
    plot: str | None = None
    depth_mm: float | None = None
    minutes: float | None = None
    date: dt.date | None = None
    water_left: float | None = None
    limit: float | None = None
    asks: str | None = None
    person_called: bool = False
    picture: Picture | None = None
    segments: int = 1
    parts: tuple[dict[str, Any], ...] = ()
    choices: tuple[str, ...] = ()


class Drawing(Protocol):
    """A graph as a page shows it: the drawing, and the same in words. `id` is that of the advice that it led to.

    `owner` is the channel and the address of the person that it was made for.
    """

    @property
    def id(self) -> int: ...
    @property
    def owner(self) -> tuple[str, str]: ...
    @property
    def plot(self) -> str: ...
    @property
    def language(self) -> str: ...

    def svg(self) -> str:
        """The drawing."""

    def alt(self) -> str:
        """What it shows, in one line."""

    def story(self) -> str:
        """What it shows, in a few sentences."""

    def head(self) -> tuple[str, ...]:
        """The heads of the table of its data."""

    def rows(self) -> list[tuple[str, ...]]:
        """Its data, a row a day."""


@dataclass(frozen=True, kw_only=True)
class Turn:
    """A person's text with what was answered; or, `by` the `office` or the `line`, a text that nobody asked for.

    `at` is the time where the person is. `language`: what all of it is written in, where known. `drawings` go with the replies.
    """

    id: int
    by: str
    text: str
    at: datetime
    language: str | None
    replies: tuple[str, ...]
    drawings: tuple[Drawing | None, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Conversation:
    """What was said with one person, oldest first. `today` is the day where they are, `earlier` whether more came before.

    `choices` are the answers that the line's last text offers.
    """

    language: str | None
    stopped: bool
    today: dt.date
    turns: tuple[Turn, ...]
    earlier: bool
    choices: tuple[str, ...]
