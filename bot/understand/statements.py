"""The statements that a message is read into: the output of `understand.read`, and of `dropline parse` as JSON.

Numbers are SI whatever the person wrote. A slot that the message does not settle is None; nothing is guessed.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any, ClassVar


@dataclass(frozen=True, kw_only=True)
class Asked:
    """The question that dropline asked last and that is still open."""

    about: str
    plot: str | None = None
    choices: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Context:
    """What a text is read in the light of. `now` is local to the person; `plots` are the person's own names."""

    now: datetime
    plots: tuple[str, ...] = ()
    units: str = "us"
    probe: str | None = None
    language: str | None = None
    asked: Asked | None = None


@dataclass(frozen=True, kw_only=True)
class Statement:
    """Root of the statements. `kind` is the `is` of the JSON form."""

    kind: ClassVar[str]


@dataclass(frozen=True, kw_only=True)
class Reading(Statement):
    kind = "reading"
    quantity: str
    value: float | str
    depth_cm: float | None = None
    soil_temp_c: float | None = None
    plot: str | None = None
    on: date | None = None


@dataclass(frozen=True, kw_only=True)
class Watering(Statement):
    kind = "watering"
    on: date | None = None
    minutes: float | None = None
    depth_mm: float | None = None
    litres: float | None = None
    litres_each: float | None = None
    plot: str | None = None


@dataclass(frozen=True, kw_only=True)
class Rain(Statement):
    kind = "rain"
    on: date | None = None
    depth_mm: float | None = None


@dataclass(frozen=True, kw_only=True)
class Fact(Statement):
    kind = "fact"
    about: str
    value: Any
    plot: str | None = None


@dataclass(frozen=True, kw_only=True)
class Sign(Statement):
    kind = "sign"
    sign: str
    plot: str | None = None
    on: date | None = None


@dataclass(frozen=True, kw_only=True)
class Request(Statement):
    kind = "request"
    want: str
    plot: str | None = None


@dataclass(frozen=True, kw_only=True)
class Unclear(Statement):
    kind = "unclear"
    text: str


@dataclass(frozen=True, kw_only=True)
class Understood:
    """A message as read: its language and its statements in the order of the message."""

    language: str
    statements: tuple[Statement, ...] = field(default=())
