"""The stage of a plant on a day: by what the person saw, else by days since planting or by the calendar of its kind."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from functools import lru_cache

from rules.names import Names, names
from rules.tables import Plant, Tables
from rules.terms import Plot

PHASES = ("ini", "dev", "mid", "late")
DORMANT = "dormant"

# The calendars of plants.csv are for this latitude. Spring comes four days later for each degree towards the pole and
# autumn as much earlier (Hopkins 1918, from memory), but not by more than a month.
_CALENDAR_LATITUDE = 38.0
_DAYS_PER_DEGREE = 4.0
_MOST_SHIFT_DAYS = 30.0
_HALF_YEAR = 182.5
_YEAR = 365
# A stage that the plant's calendar does not have counts for this long after it was seen (our judgement).
_SEEN_COUNTS_DAYS = 30
# Period lengths of annuals for which none is published, and shares of the season of perennials (working values).
_ANNUAL_DAYS = (25.0, 35.0, 40.0, 20.0)
_NAMES_OF_ANNUALS = {"ini": "seedling", "dev": "growing", "mid": "full", "late": "late"}


@dataclass(frozen=True)
class Stage:
    """Where a plant stands in its season.

    Args:
        name: stage id of stages.csv.
        phase: `ini`, `dev`, `mid` or `late` of its water use, or `dormant`.
        progress: how far the phase has gone. [0..1]
        seen: whether a person saw it; else it is the calendar's word.
    """

    name: str
    phase: str
    progress: float = 0.0
    seen: bool = False


@lru_cache(maxsize=8)
def _names(tables: Tables) -> Names:
    rows = tables.stages.values()
    return names((row.id, (row.id.replace("_", " "), *row.names_en, *row.names_es)) for row in rows)


@lru_cache(maxsize=1024)
def stage_named(words: str, tables: Tables) -> str | None:
    """Stage id that a person's words mean in English or Spanish, such as `in full bloom` or `envero`; or None."""
    found = _names(tables).within(words)
    return found[0] if found else None


def stage_on(plant: Plant, plot: Plot, on: date, tables: Tables) -> Stage:
    """Stage of the plant of a plot on a day.

    What was seen moves the calendar: the next stages follow from it at the calendar's distance. Winter sleep ends it.
    """
    seen = stage_named(plot.stage, tables) if plot.stage and plot.stage_on and plot.stage_on <= on else None
    since = (on - plot.stage_on).days if seen and plot.stage_on else 0
    if plant.habit == "annual":
        return _annual(plant, plot, on, tables, seen, since)
    if not plant.landmarks:
        return Stage(seen, "mid", seen=True) if seen and since <= _SEEN_COUNTS_DAYS else Stage("growing", "mid")
    return _perennial(plant, plot, on, seen, since)


def _lengths(plant: Plant) -> tuple[float, ...]:
    given = (plant.ini_days, plant.dev_days, plant.mid_days, plant.late_days)
    return tuple(known if known is not None else usual for known, usual in zip(given, _ANNUAL_DAYS, strict=True))


def _phase(lengths: tuple[float, ...], day: float) -> tuple[str, float]:
    """Period and progress on a day of the season; past the end it stays at the end."""
    start = 0.0
    for phase, length in zip(PHASES, lengths, strict=True):
        if day < start + length:
            return phase, max(day - start, 0.0) / length
        start += length
    return PHASES[-1], 1.0


def _annual(plant: Plant, plot: Plot, on: date, tables: Tables, seen: str | None, since: int) -> Stage:
    lengths = _lengths(plant)
    began = tables.stages[seen].annual_phase if seen else ""
    if seen and began:
        phase, progress = _phase(lengths, sum(lengths[: PHASES.index(began)]) + since)
        return Stage(seen if phase == began else _NAMES_OF_ANNUALS[phase], phase, progress, seen=phase == began)
    if plot.planted_on is None:
        return Stage("full", "mid")
    phase, progress = _phase(lengths, (on - plot.planted_on).days)
    return Stage(_NAMES_OF_ANNUALS[phase], phase, progress)


def _calendar(plant: Plant, plot: Plot) -> tuple[float, list[tuple[float, str]], float]:
    """First day of the season in the year, each stage's day after it, and the season's length, where the plot lies."""
    latitude = plot.latitude if plot.latitude is not None else _CALENDAR_LATITUDE
    late = _DAYS_PER_DEGREE * (abs(latitude) - _CALENDAR_LATITUDE)
    late = min(max(late, -_MOST_SHIFT_DAYS), _MOST_SHIFT_DAYS)
    first = plant.landmarks[0][0]
    days = [((day - first) % _YEAR, stage) for day, stage in plant.landmarks]
    length = next((day for day, stage in days if stage == DORMANT), _YEAR)
    shrink = 1 - 2 * late / length if length < _YEAR else 1.0
    start = first + late + (_HALF_YEAR if latitude < 0 else 0)
    return start, [(day * shrink, stage) for day, stage in days], length * shrink


def _perennial(plant: Plant, plot: Plot, on: date, seen: str | None, since: int) -> Stage:
    first, calendar, length = _calendar(plant, plot)
    day = (on.timetuple().tm_yday - first) % _YEAR
    began = next((begins for begins, stage in calendar if stage == seen), None)
    by_eye = began is not None and began + since < _YEAR
    if began is not None and by_eye:
        day = began + since
    elif seen and began is None and since <= _SEEN_COUNTS_DAYS:
        return Stage(seen, DORMANT if seen == DORMANT else "mid", seen=True)
    name = [stage for begins, stage in calendar if begins <= day][-1]
    if name == DORMANT:
        return Stage(name, DORMANT, seen=by_eye and name == seen)
    if plant.habit == "evergreen":
        return Stage(name, "mid", seen=by_eye and name == seen)
    given = _lengths(plant)
    phase, progress = _phase(tuple(part * length / sum(given) for part in given), day)
    return Stage(name, phase, progress, seen=by_eye and name == seen)
