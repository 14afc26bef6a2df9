"""Statements out of the store again: what was told before, when it is taken back or told to somebody else."""

from __future__ import annotations

from collections.abc import Mapping

from bot.store import Kept, StoredFact
from bot.understand.statements import KINDS, Fact, Statement

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
            said.append(KINDS[item.kind](**slots))
    return said
