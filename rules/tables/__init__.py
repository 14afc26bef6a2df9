"""The specialist's tables: the one place that opens packaged data, once.

`base()` gives the tables that come with dropline, `overlay` the same with an office's own rows laid over them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from datetime import date
from functools import cached_property, lru_cache
from importlib.resources import files as packaged

from rules.errors import TableError
from rules.tables.kinds import (
    WEEKDAYS,
    Delivery,
    Feel,
    FeelStep,
    Instrument,
    Limit,
    Plant,
    Restriction,
    Soil,
    Source,
    Stage,
)
from rules.tables.rows import Evidence, Row, columns, rows

__all__ = [
    "KINDS",
    "WEEKDAYS",
    "Delivery",
    "Evidence",
    "Feel",
    "FeelStep",
    "Instrument",
    "Limit",
    "Plant",
    "Restriction",
    "Row",
    "Soil",
    "Source",
    "Stage",
    "Tables",
    "base",
    "columns",
    "overlay",
]  # fmt: skip


@dataclass(frozen=True, kw_only=True, eq=False)
class Tables:
    """Every table, each by row id. One `Tables` is equal only to itself, so it can key a cache."""

    sources: Mapping[str, Source]
    soils: Mapping[str, Soil]
    plants: Mapping[str, Plant]
    stages: Mapping[str, Stage]
    limits: Mapping[str, Limit]
    delivery: Mapping[str, Delivery]
    instruments: Mapping[str, Instrument]
    feel: Mapping[str, Feel]
    texture_by_feel: Mapping[str, FeelStep]
    restrictions: Mapping[str, Restriction]

    @cached_property
    def limits_in_use(self) -> Mapping[str, tuple[Limit, ...]]:
        """Rows of `limits` that set a limit, by the plant they are for."""
        in_use: dict[str, list[Limit]] = {}
        for row in self.limits.values():
            if row.use:
                in_use.setdefault(row.plant, []).append(row)
        return {plant: tuple(found) for plant, found in in_use.items()}


KINDS: dict[str, type[Row]] = {
    "sources": Source,
    "soils": Soil,
    "plants": Plant,
    "stages": Stage,
    "limits": Limit,
    "delivery": Delivery,
    "instruments": Instrument,
    "feel": Feel,
    "texture_by_feel": FeelStep,
    "restrictions": Restriction,
}


@lru_cache(maxsize=1)
def base() -> Tables:
    """The tables that come with dropline.

    Raises: TableError, when a packaged table is broken.
    """
    folder = packaged(__name__)
    parsed: dict[str, Mapping[str, Row]] = {}
    for name, kind in KINDS.items():
        content = (folder / f"{name}.csv").read_text(encoding="utf-8")
        keys = frozenset(parsed["sources"]) if "sources" in parsed else None
        parsed[name] = rows(kind, content, file=f"{name}.csv", sources=keys)
    return _checked(Tables(**parsed))  # type: ignore[arg-type]


def overlay(below: Tables, files: Mapping[str, str]) -> Tables:
    """The tables with an office's own rows laid over them.

    Args:
        files: content of the office's tables by file name, such as `{"soils.csv": "id,fc,source\\n..."}`.
    Returns: tables in which each given cell replaces the one below and new ids are added. Rows marked draft or
        withdrawn are passed over, so that taking a row back gives the base.
    Raises: TableError, with file, line, column and a plain sentence.
    """
    laid = {f.name: getattr(below, f.name) for f in fields(Tables)}
    for file, content in files.items():
        name = file.removesuffix(".csv")
        if name not in KINDS:
            raise TableError(file, 1, "", f"there is no such table; the tables are {', '.join(KINDS)}")
        laid[name] = rows(KINDS[name], content, file=file, sources=None, below=laid[name])
    return _checked(Tables(**laid))


def _checked(tables: Tables) -> Tables:
    """What no single cell can tell: the ids that rows name are there, and the numbers of a row fit together."""
    for soil in tables.soils.values():
        _require(soil.wp < soil.fc, soil, "wp", "wilting point must lie below field capacity")
        for name in soil.neighbours:
            _require(name in tables.soils, soil, "neighbours", f"no soil is called {name!r}")
    for plant in tables.plants.values():
        _check_plant(plant, tables)
    for limit in tables.limits.values():
        known = limit.plant in tables.plants or any(p.limits_like == limit.plant for p in tables.plants.values())
        _require(known, limit, "plant", f"no plant is called {limit.plant!r}")
        staged = limit.stage == "any" or limit.stage in tables.stages
        _require(staged, limit, "stage", f"no stage is called {limit.stage!r}")
        _check_limit(limit)
    for restriction in tables.restrictions.values():
        _check_restriction(restriction)
    for step in tables.texture_by_feel.values():
        _require(not step.soil or step.soil in tables.soils, step, "soil", f"no soil is called {step.soil!r}")
    return tables


def _check_plant(plant: Plant, tables: Tables) -> None:
    ordered = plant.root_seedling_cm <= plant.root_young_cm <= plant.root_cm
    _require(ordered, plant, "root_cm", "roots must not get shallower from seedling to young to grown")
    try:
        named = [stage for _, stage in plant.landmarks]
    except (ValueError, IndexError):
        named = [""]
    known = all(stage in tables.stages for stage in named)
    _require(known, plant, "calendar", "write dates and stages as 03-20 budbreak; 03-28 bloom")


def _check_limit(limit: Limit) -> None:
    if limit.kind == "depletion":
        _require(limit.depletion is not None, limit, "depletion", "a depletion limit needs its share")
        return
    low, high = limit.low_kpa, limit.high_kpa
    ordered = low is not None and high is not None and low <= high
    _require(ordered, limit, "low_kpa", "low_kpa and high_kpa must both be there, low first")


def _check_restriction(row: Restriction) -> None:
    for column in ("starts", "read_on", *(("ends",) if row.ends else ())):
        _require(_is_date(getattr(row, column)), row, column, "write the day as 2026-05-01")
    _require(bool(row.place), row, "place", "name the place as people text it, or * for the whole county")
    named = {*row.weekdays_odd, *row.weekdays_even}
    _require(named <= set(WEEKDAYS), row, "weekdays_odd", f"weekdays are written {'; '.join(WEEKDAYS)}")
    days = row.by_date or (row.weekdays_odd and row.weekdays_even)
    _require(bool(days), row, "weekdays_odd", "name the days of odd and of even addresses, or say by_date yes")


def _is_date(cell: str) -> bool:
    try:
        date.fromisoformat(cell)
    except ValueError:
        return False
    return True


def _require(holds: bool, row: Row, column: str, problem: str) -> None:
    if not holds:
        raise TableError(row.file, row.line, column, problem)
