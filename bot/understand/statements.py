"""The statements that a message is read into: the output of `understand.read`, and of `dropline parse` as JSON.

Numbers are SI whatever the person wrote. A slot that the message does not settle is None; nothing is guessed.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, fields
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


def context_from_json(form: dict[str, Any]) -> Context:
    """The context of a message in its JSON form; `text` and unknown keys are not looked at.

    Raises: KeyError without `now`, ValueError when it is no time.
    """
    asked = form.get("asked")
    return Context(
        now=datetime.fromisoformat(form["now"]),
        plots=tuple(form.get("plots") or ()),
        units=form.get("units") or "us",
        probe=form.get("probe"),
        language=form.get("language"),
        asked=Asked(about=asked["about"], plot=asked.get("plot"), choices=tuple(asked.get("choices") or ()))
        if asked
        else None,
    )


def statement_to_json(statement: Statement) -> dict[str, Any]:
    """One statement in its JSON form: `is`, then its slots; days as ISO dates."""
    slots = {slot.name: getattr(statement, slot.name) for slot in fields(statement)}
    return {"is": statement.kind} | {
        name: value.isoformat() if isinstance(value, date) else value for name, value in slots.items()
    }


def understood_to_json(understood: Understood) -> dict[str, Any]:
    """A message as read, in its JSON form, numbers to a tenth: nobody measures closer, and inches leave long tails."""
    forms = [statement_to_json(one) for one in understood.statements]
    return {
        "language": understood.language,
        "statements": [{name: to_a_tenth(value) for name, value in form.items()} for form in forms],
    }


def to_a_tenth(value: Any) -> Any:
    """A float to one decimal, halves up as people round, whatever the binary tail; anything else as it is."""
    return round(math.copysign(abs(value) + 1e-9, value), 1) if isinstance(value, float) else value


KINDS: dict[str, type[Statement]] = {
    kind.kind: kind for kind in (Reading, Watering, Rain, Fact, Sign, Request, Unclear)
}


def statement_from_json(form: dict[str, Any]) -> Statement:
    """A statement from its JSON form. Raises: KeyError for a kind that does not exist, TypeError for a slot that does not."""
    slots = {name: value for name, value in form.items() if name != "is"}
    if slots.get("on"):
        slots["on"] = date.fromisoformat(slots["on"])
    return KINDS[form["is"]](**slots)
