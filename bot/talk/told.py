"""Statements kept aside: as JSON with an open question, and out of the store again when something is taken back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from datetime import date
from typing import Any

from bot.store import Kept, StoredFact
from bot.understand.statements import Fact, Rain, Reading, Request, Sign, Statement, Unclear, Watering

_STATEMENTS: dict[str, type[Statement]] = {
    kind.kind: kind for kind in (Reading, Watering, Rain, Fact, Sign, Request, Unclear)
}
# Facts that only go with another one, and are not worth a word of their own.
BESIDE = (
    "name", "soil_source", "rate_source", "rate_on", "stage_on", "stress_on", "latitude", "longitude", "timezone", "probe",
)  # fmt: skip


def told(kept: Kept, names: Mapping[int, str], plants: Mapping[str, str]) -> list[Statement]:
    """What the store gave back, as the statements that had told it.

    Args:
        names: the plots' names by their id; `plants`: what plants are called, by theirs.
    """
    said: list[Statement] = []
    for item in kept.items:
        plot = (names.get(item.plot) or None) if item.plot is not None else None
        if isinstance(item, StoredFact):
            if item.about not in BESIDE:
                value = plants.get(item.value, item.value) if item.about == "plant" else item.value
                said.append(Fact(about=item.about, value=value, plot=plot))
        else:
            slots = {**item.slots, "on": item.on} | ({} if item.kind == "rain" else {"plot": plot})
            said.append(_STATEMENTS[item.kind](**slots))
    return said


def as_json(statement: Statement) -> dict[str, Any]:
    """A statement as it can be kept with an open question."""
    plain = {name: value.isoformat() if isinstance(value, date) else value for name, value in asdict(statement).items()}
    return {"is": statement.kind, **plain}


def from_json(held: dict[str, Any]) -> Statement:
    """The statement that was kept."""
    slots = {name: value for name, value in held.items() if name != "is"}
    if slots.get("on"):
        slots["on"] = date.fromisoformat(slots["on"])
    return _STATEMENTS[held["is"]](**slots)
