"""When a reading can't be trusted: it says what soil cannot do. The answer is then CHECK, and a hand in the soil."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

import numpy as np

from rules.terms import Day, Observation, Rain, Reading, Watering

# Common practice, no published source: the same number for nearly a week, while plants drank or water came.
_STUCK_READINGS = 4
_STUCK_DAYS = 5
# How many standard deviations of the estimate and the reading together count as against all other evidence.
_AGAINST_SD = 2.4
_AGREE = 0.2
_CONFIRMS_DAYS = 3
_WET_DAY_MM = 4.0
_WET_KPA = 5.0
_DRY_DAYS = 5
_DRUNK_MM = 20.0
_END_KPA = 199.0
_DRY_LEFT = 0.35
_FROST_SPOILS = ("tension", "resistance", "percent")
_FROST_DAYS, _FREEZES_GROUND_C = 5, -1.0
_FROST_NIGHTS, _FREEZES_COLUMN_C = 3, -2.0


def in_frost(reading: Reading, days: tuple[Day, ...]) -> bool:
    """Whether the weather of the last days can have frozen the ground, or the water in a column, that a probe reads.

    Source: that both read wild in frost is common practice, no published source; the figures are our judgement.
    """
    if reading.quantity not in _FROST_SPOILS:
        return False
    since = reading.on - timedelta(days=_FROST_DAYS)
    lately = [day for day in days if since <= day.on < reading.on]
    means = [(day.tmax_c + day.tmin_c) / 2 for day in lately if day.tmax_c is not None and day.tmin_c is not None]
    frozen_ground = len(means) >= _FROST_DAYS - 1 and sum(means) / len(means) <= _FREEZES_GROUND_C
    nights = [day.tmin_c for day in lately[-_FROST_NIGHTS:] if day.tmin_c is not None]
    in_column = reading.quantity == "tension" and len(nights) == _FROST_NIGHTS and max(nights) <= _FREEZES_COLUMN_C
    return frozen_ground or in_column


def stuck(readings: list[Reading]) -> list[Reading]:
    """The run of equal readings that the last one ends, when it is too long for living soil; else none.

    Args:
        readings: of one plot, oldest first, numbers only.
    """
    if not readings:
        return []
    last = readings[-1]
    same = [reading for reading in readings if _same_probe(reading, last)]
    run: list[Reading] = []
    for reading in reversed(same):
        if reading.value != last.value:
            break
        run.insert(0, reading)
    days = {reading.on for reading in run}
    span = (last.on - run[0].on).days
    return run if len(days) >= _STUCK_READINGS and span >= _STUCK_DAYS else []


def _same_probe(reading: Reading, other: Reading) -> bool:
    return reading.quantity == other.quantity and reading.depth_cm == other.depth_cm


def against_evidence(reading_left: float, reading_sd: float, believed_left: float, believed_sd: float) -> bool:
    """Whether a reading is too far from what is believed to be taken at its word. All shares of available water."""
    return bool(abs(reading_left - believed_left) > _AGAINST_SD * float(np.hypot(reading_sd, believed_sd)))


def confirmed(reading: Reading, earlier: list[Reading], share: Callable[[Reading], float | None]) -> bool:
    """Whether another reading of the days just before says much the same: two in a row are believed."""
    said = share(reading)
    since = reading.on - timedelta(days=_CONFIRMS_DAYS)
    near = [other for other in earlier if since <= other.on and other is not reading]
    shares = [share(other) for other in near]
    return said is not None and any(other is not None and abs(other - said) < _AGREE for other in shares)


def rose_without_cause(
    reading: Reading,
    earlier: list[Reading],
    share: Callable[[Reading], float | None],
    observations: tuple[Observation, ...],
    days: tuple[Day, ...],
) -> bool:
    """Whether the soil got much wetter since the reading before, with no water and no rain on record."""
    same = [other for other in earlier if _same_probe(other, reading) and other.on < reading.on]
    said, before = share(reading), share(same[-1]) if same else None
    if said is None or before is None or said - before < 0.35 or (reading.on - same[-1].on).days > 10:
        return False
    return not _water_came(same[-1].on, reading.on, observations, days)


def wet_without_water(
    reading: Reading, observations: tuple[Observation, ...], days: tuple[Day, ...], use_mm: Callable[[Day], float]
) -> bool:
    """Whether a water column reads wet though plants drank for days and no water came: it has likely let air in.

    Source: NCSU AG-452-2 and other extension sheets on tensiometers; the figures are common practice.
    """
    if reading.quantity != "tension" or float(reading.value) >= _WET_KPA or len(observations) < 2:
        return False
    since = reading.on - timedelta(days=_DRY_DAYS)
    dry = [day for day in days if day.on >= since]
    if len(dry) < _DRY_DAYS or _water_came(since, reading.on, observations, days):
        return False
    return sum(map(use_mm, dry)) >= _DRUNK_MM


def at_its_end(reading: Reading, believed_left: float) -> bool:
    """Whether a probe shows the end of its scale while the soil should not be dry: a broken wire shows the same."""
    return reading.quantity == "tension" and float(reading.value) >= _END_KPA and believed_left > _DRY_LEFT


def _water_came(first: date, last: date, observations: tuple[Observation, ...], days: tuple[Day, ...]) -> bool:
    watered = any(isinstance(event, Watering) and first <= event.on <= last for event in observations)
    gauged = any(
        isinstance(event, Rain) and first <= event.on <= last and event.depth_mm != 0 for event in observations
    )
    rained = any(first <= day.on <= last and (day.rain_mm or 0) >= _WET_DAY_MM for day in days)
    return watered or gauged or rained
