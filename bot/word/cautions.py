"""Cautions: which one speaks, and its sentence. Ranks, values and sources stand in `cautions.csv` beside this file.

Rank 1 is danger to people: said alone, with no word of watering. Rank 2 goes with the verdict. Rank 3 is said once.
`probe_doubt` has no sentence of its own: a CHECK says it. `planned_stress` is three words in a verdict, and in full
when it is asked for.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from bot.word.voice import Voice

ON_PURPOSE = "planned_stress"


@dataclass(frozen=True)
class Caution:
    """One row: `values` are the figures of its sentence, SI, unit in the name."""

    id: str
    rank: int
    values: dict[str, Any]
    source: str


@cache
def cautions() -> dict[str, Caution]:
    """Every caution by id."""
    with (files(__package__) / "cautions.csv").open(encoding="utf-8") as file:
        return {
            row["id"]: Caution(row["id"], int(row["rank"]), _values(row["values"]), row["source"])
            for row in csv.DictReader(file)
        }


def first(ids: Iterable[str]) -> Caution | None:
    """The one that speaks: lowest rank, then the order given. Ids that have no sentence are passed over."""
    known = [cautions()[id_] for id_ in ids if id_ in cautions()]
    return min(known, key=lambda caution: caution.rank, default=None)


def sentence(voice: Voice, id_: str) -> str:
    """One text message. Raises KeyError for an id that `cautions` does not have."""
    return voice.say(f"caution.{id_}", **cautions()[id_].values)


def _values(cell: str) -> dict[str, Any]:
    return {name: float(value) for name, _, value in (pair.partition("=") for pair in cell.split(";") if pair)}
