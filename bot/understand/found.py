"""What is found in a clause on its way to be a reading: a value, a depth, a day that leads."""

from __future__ import annotations

from dataclasses import dataclass

from bot.understand.dates import When


@dataclass(slots=True)
class Found:
    """A value on its way to be a reading."""

    quantity: str | None
    value: float | str
    depth_cm: float | None = None
    plots: tuple[str, ...] = ()
    when: When | None = None


@dataclass(frozen=True, slots=True)
class Depth:
    """A depth; `marked` by "at" before it, `bare` when told without a unit (then the figure as told)."""

    depth_cm: float
    marked: bool
    bare: float | None = None


class Leading(When):
    """A day of the value that follows it: "45 (yesterday 40)"."""
