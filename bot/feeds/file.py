"""Weather kept as JSON: an office's own file, a replayed conversation, or an answer put on the shelf.

    {"past":     [{"date": "2026-06-01", "tmax_c": 31, "tmin_c": 18, "rain_mm": 0.0, "et0_mm": 6.1}],
     "forecast": [{"date": "2026-07-01", "tmax_c": 33, "tmin_c": 21, "rain_mm": 4.0, "pop": 0.4, "et0_mm": 6.8}]}

A row of `past` is observed. In a row of `forecast`, `rain_mm` is the amount SHOULD it rain and `pop` the chance, 0 to
1, that it does; without `pop`, `days.chance_from_amount` says what is taken and why. Every key but `date` may be
missing or null. Rows may stand in any order; of two rows with one date the later counts. Other keys are ignored.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path
from typing import Any

from bot.errors import FeedError
from bot.feeds.days import BOUNDS, as_seen, chance_from_amount, plausible
from rules.terms import Day, Weather


class FileFeed:
    """The same weather for every place: a path, the object itself, or None for no weather at all.

    Raises: FeedError, when the file can't be opened or a row can't be used; the sentence names row and key.
    """

    def __init__(self, weather: str | Path | Mapping[str, Any] | None) -> None:
        self._weather = read_text(_opened(weather)) if isinstance(weather, str | Path) else read(weather)

    def view(self, latitude: float | None, longitude: float | None, on: date) -> Weather:
        """The file's weather as seen on that day; where the place is makes no difference."""
        return as_seen(self._weather, on)


def read(weather: Any) -> Weather:
    """Weather from the JSON object. Raises FeedError."""
    if weather is None:
        return Weather()
    if not isinstance(weather, Mapping):
        raise FeedError('The weather should be an object with "past" and "forecast", or null.')
    return Weather(
        past=tuple(replace(day, pop=None) for day in _days(weather, "past")),
        forecast=tuple(_with_chance(day) for day in _days(weather, "forecast")),
        source=_text(weather, "source"),
        attribution=_text(weather, "attribution"),
        as_of=_moment(weather, "as_of"),
    )


def read_text(text: str) -> Weather:
    """Weather from JSON text. Raises FeedError."""
    try:
        return read(json.loads(text))
    except ValueError as error:
        raise FeedError(f"The weather file is not JSON: {error}.") from error


def write(weather: Weather) -> str:
    """The JSON text that `read` and `as_seen` turn back into the same weather. A chance gone by stays a forecast."""
    gone_by = tuple(day for day in weather.past if day.pop is not None)
    return json.dumps(
        {
            "past": [_row(day) for day in weather.past if day.pop is None],
            "forecast": [_row(day) for day in gone_by + weather.forecast],
            "source": weather.source,
            "attribution": weather.attribution,
            "as_of": weather.as_of and weather.as_of.isoformat(),
        }
    )


def _opened(path: str | Path) -> str:
    try:
        return Path(path).read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise FeedError(f"The weather file can't be opened: {error}.") from error


def _days(weather: Mapping[str, Any], name: str) -> list[Day]:
    rows = weather.get(name)
    if rows is None:
        return []
    if not isinstance(rows, list):
        raise FeedError(f'"{name}" of the weather should be a list of days.')
    return [_day(row, f"Row {number} of {name}") for number, row in enumerate(rows, start=1)]


def _day(row: Any, where: str) -> Day:
    if not isinstance(row, Mapping):
        raise FeedError(f'{where} should be an object with a "date".')
    return Day(on=_date(row, where), **{key: _number(row, key, where) for key in BOUNDS})


def _date(row: Mapping[str, Any], where: str) -> date:
    try:
        return date.fromisoformat(row["date"])
    except (KeyError, TypeError, ValueError) as error:
        raise FeedError(f'{where} needs a "date" such as 2026-07-01; it has {row.get("date")!r}.') from error


def _number(row: Mapping[str, Any], key: str, where: str) -> float | None:
    given = row.get(key)
    if given is None:
        return None
    number = plausible(key, given)
    if number is None:
        low, high = BOUNDS[key]
        raise FeedError(f'{where}: "{key}" should be a number from {low:g} to {high:g}; it is {given!r}.')
    return number


def _with_chance(day: Day) -> Day:
    return day if day.pop is not None else replace(day, pop=chance_from_amount(day.rain_mm))


def _text(weather: Mapping[str, Any], key: str) -> str | None:
    given = weather.get(key)
    return given if isinstance(given, str) else None


def _moment(weather: Mapping[str, Any], key: str) -> datetime | None:
    given = weather.get(key)
    try:
        return None if given is None else datetime.fromisoformat(given)
    except (TypeError, ValueError) as error:
        raise FeedError(f'"{key}" of the weather should be a date and time; it is {given!r}.') from error


def _row(day: Day) -> dict[str, Any]:
    numbers = {key: getattr(day, key) for key in BOUNDS}
    return {"date": day.on.isoformat()} | {key: number for key, number in numbers.items() if number is not None}
