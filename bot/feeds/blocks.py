"""A National Weather Service grid cell: layers of blocks in time, made into local days.

A block is a value with a start and a length, such as "2031-07-22T06:00:00+00:00/PT6H". Rain is an amount over exactly
its block; the other layers hold throughout theirs. Wind is at 10 m. Source as in `nws`.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from bot.errors import FeedChanged
from bot.feeds.days import chance_from_amount, plausible
from rules import units
from rules.evapotranspiration import extraterrestrial_radiation
from rules.terms import Day

_TEMPERATURE: dict[str, Callable[[float], float]] = {"degC": lambda value: value, "degF": units.celsius}
_SHARE: dict[str, Callable[[float], float]] = {"percent": lambda value: value / 100}
# Layer -> the units it may come in, and the way to ours.
LAYERS: dict[str, dict[str, Callable[[float], float]]] = {
    "maxTemperature": _TEMPERATURE,
    "minTemperature": _TEMPERATURE,
    "temperature": _TEMPERATURE,
    "dewpoint": _TEMPERATURE,
    "skyCover": _SHARE,
    "probabilityOfPrecipitation": _SHARE,
    "quantitativePrecipitation": {"mm": lambda value: value, "in": lambda value: value * units.MM_PER_INCH},
    "windSpeed": {"km_h-1": lambda value: value / 3.6, "m_s-1": lambda value: value},
}

DAYLIGHT_H = (7, 19)  # local clock; cloud at night says nothing of the sun
LEAST_COVERED = 0.75  # share of a day's hours that must be there for its sum or mean; our judgement
_LENGTH = re.compile(r"P(?:(\d+)D)?(?:T(?:(\d+)H)?(?:(\d+)M)?)?$")


@dataclass(frozen=True)
class Block:
    """A value over a stretch of time, UTC."""

    start: datetime
    end: datetime
    value: float

    def shared_h(self, start: datetime, end: datetime) -> float:
        """Hours that the block has in common with the stretch."""
        return max(0.0, (min(self.end, end) - max(self.start, start)) / timedelta(hours=1))

    @property
    def length_h(self) -> float:
        return (self.end - self.start) / timedelta(hours=1)

    @property
    def middle(self) -> datetime:
        return self.start + (self.end - self.start) / 2


Layers = Mapping[str, list[Block]]


def layers_of(properties: Mapping[str, Any]) -> Layers:
    """The layers we use, in our units; an absent layer is empty. Raises FeedChanged on a unit or shape not known."""
    try:
        return {name: _blocks(name, properties.get(name) or {}) for name in LAYERS}
    except (KeyError, TypeError, ValueError, AttributeError) as error:
        raise FeedChanged("nws", f"a layer of another shape ({type(error).__name__})") from error


def days_of(layers: Layers, zone: ZoneInfo, latitude: float, first: date) -> tuple[Day, ...]:
    """One day for each local date from `first` on that any layer reaches."""
    ends = [block.end for blocks in layers.values() for block in blocks]
    if not ends:
        return ()
    last = (max(ends) - timedelta(seconds=1)).astimezone(zone).date()
    dates = [first + timedelta(days=ahead) for ahead in range((last - first).days + 1)]
    return tuple(_day(layers, zone, latitude, on) for on in dates)


def solar_under_cloud_mj_m2(latitude: float, on: date, covered: float) -> float:
    """Sunshine at the ground, of one day. [MJ/m2] FAO-56 Eq. 35 with a_s 0.25 and b_s 0.50.

    Args:
        covered: share of the sky under cloud in daylight, 0 to 1; the share of sunshine is taken as the rest.
    """
    above = float(extraterrestrial_radiation(math.radians(latitude), on.timetuple().tm_yday))
    return (0.25 + 0.50 * (1 - covered)) * above


def _day(layers: Layers, zone: ZoneInfo, latitude: float, on: date) -> Day:
    start, end = _at(on, 0, zone), _at(on + timedelta(days=1), 0, zone)
    sunrise, sunset = (_at(on, hour, zone) for hour in DAYLIGHT_H)
    rain_mm = _sum(layers["quantitativePrecipitation"], start, end)
    pop = _largest(layers["probabilityOfPrecipitation"], start, end)
    covered = _mean(layers["skyCover"], sunrise, sunset)
    tmin_c = _of_day(layers["minTemperature"], on, zone)
    numbers = {
        "tmax_c": _of_day(layers["maxTemperature"], on, zone),
        "tmin_c": _lowest(layers["temperature"], start, end) if tmin_c is None else tmin_c,
        "rain_mm": rain_mm,
        "pop": chance_from_amount(rain_mm) if pop is None else pop,
        "solar_mj_m2": None if covered is None else solar_under_cloud_mj_m2(latitude, on, covered),
        "wind_m_s": _mean(layers["windSpeed"], start, end),
        "dewpoint_c": _mean(layers["dewpoint"], start, end),
    }
    return Day(on=on, **{key: plausible(key, number) for key, number in numbers.items()})


def _blocks(name: str, layer: Mapping[str, Any]) -> list[Block]:
    known = [entry for entry in layer.get("values", []) if entry["value"] is not None]
    if not known:
        return []
    unit = layer["uom"].rpartition(":")[2]
    if unit not in LAYERS[name]:
        raise FeedChanged("nws", f"an unknown unit {unit!r} of {name}")
    convert = LAYERS[name][unit]
    return [Block(*_stretch(entry["validTime"]), convert(entry["value"])) for entry in known]


def _stretch(valid_time: str) -> tuple[datetime, datetime]:
    start_text, _, length_text = valid_time.partition("/")
    length = _LENGTH.match(length_text)
    if length is None:
        raise ValueError(valid_time)
    days, hours, minutes = (int(part or 0) for part in length.groups())
    start = datetime.fromisoformat(start_text).astimezone(UTC)
    return start, start + timedelta(days=days, hours=hours, minutes=minutes)


def _at(on: date, hour: int, zone: ZoneInfo) -> datetime:
    return datetime.combine(on, time(hour), zone).astimezone(UTC)


def _covered(blocks: list[Block], start: datetime, end: datetime) -> bool:
    hours = sum(block.shared_h(start, end) for block in blocks)
    return hours >= LEAST_COVERED * (end - start) / timedelta(hours=1)


def _sum(blocks: list[Block], start: datetime, end: datetime) -> float | None:
    """The amounts of the stretch; a block that reaches over its edge is split by hours.

    On the first day the layer begins at some hour: the rest of the day is all that is asked for. On the last day it
    may end at some hour, and what is there would be taken for the whole.
    """
    if not blocks or not _covered(blocks, max(start, min(block.start for block in blocks)), end):
        return None
    return sum(block.value * block.shared_h(start, end) / block.length_h for block in blocks)


def _largest(blocks: list[Block], start: datetime, end: datetime) -> float | None:
    """The largest chance of any block: a lower bound of the day's, as blocks must not be added or multiplied."""
    return max((block.value for block in blocks if block.shared_h(start, end) > 0), default=None)


def _mean(blocks: list[Block], start: datetime, end: datetime) -> float | None:
    if not _covered(blocks, start, end):
        return None
    hours = [block.shared_h(start, end) for block in blocks]
    return sum(block.value * shared for block, shared in zip(blocks, hours, strict=True)) / sum(hours)


def _lowest(blocks: list[Block], start: datetime, end: datetime) -> float | None:
    """The lowest of the hourly values, where most of the day is there: the afternoon alone knows no minimum."""
    if not _covered(blocks, start, end):
        return None
    return min(block.value for block in blocks if block.shared_h(start, end) > 0)


def _of_day(blocks: list[Block], on: date, zone: ZoneInfo) -> float | None:
    """The value of the block whose middle falls on that local date: a night's minimum belongs to the morning."""
    return next((block.value for block in blocks if block.middle.astimezone(zone).date() == on), None)
