"""Plain mappings, as JSON gives them, into the terms of the rules; terms pass through."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import fields
from datetime import date, datetime
from typing import Any

from rules.terms import Advised, Day, Observation, Plot, Rain, Reading, Sign, Watering, Weather

_KINDS: dict[str, type[Observation]] = {
    "reading": Reading,
    "watering": Watering,
    "rain": Rain,
    "sign": Sign,
    "advised": Advised,
}
_DATES = {"on", "rate_on", "planted_on", "stage_on", "stress_on"}
_TIMES = {"at", "as_of"}


def plot_given(plot: Plot | Mapping[str, Any]) -> Plot:
    """A plot; `place` as "latitude,longitude" is understood."""
    if isinstance(plot, Plot):
        return plot
    given = dict(plot)
    place = given.get("place")
    if isinstance(place, str) and place.count(",") == 1 and given.get("latitude") is None:
        given["latitude"], given["longitude"] = (float(part) for part in place.split(","))
    if given.get("water_days"):
        given["water_days"] = tuple(given["water_days"])
    return Plot(**_known(Plot, given))


def day_given(on: date | datetime | str) -> date:
    """A day, told as a date, a time or ISO text."""
    if isinstance(on, str):
        return date.fromisoformat(on[:10])
    return on.date() if isinstance(on, datetime) else on


def observations_given(observations: Iterable[Observation | Mapping[str, Any]], plot: str) -> tuple[Observation, ...]:
    """The observations that are of this plot and have a day; a mapping has its kind under `is`."""
    return tuple(
        each if isinstance(each, Observation) else _observation(each)
        for each in observations
        if isinstance(each, Observation) or (each.get("on") and each.get("plot") in (None, "", "*", plot))
    )


def _observation(observation: Mapping[str, Any]) -> Observation:
    kind = _KINDS[observation["is"]]
    return kind(**_known(kind, observation))


def weather_given(weather: Weather | Mapping[str, Any] | None) -> Weather:
    """Days of weather, oldest first; a mapping has `past` and `forecast` with a `date` each."""
    if isinstance(weather, Weather):
        return weather
    given = weather or {}
    return Weather(past=_days(given.get("past")), forecast=_days(given.get("forecast")))


def _days(rows: Any) -> tuple[Day, ...]:
    days = (
        row if isinstance(row, Day) else Day(**_known(Day, {**row, "on": row.get("date", row.get("on"))}))
        for row in rows or ()
    )
    return tuple(sorted(days, key=lambda day: day.on))


def _known(kind: type, given: Mapping[str, Any]) -> dict[str, Any]:
    names = {field.name for field in fields(kind)}
    return {name: _value(name, value) for name, value in given.items() if name in names}


def _value(name: str, value: Any) -> Any:
    if isinstance(value, str) and name in _DATES:
        return date.fromisoformat(value[:10])
    if isinstance(value, str) and name in _TIMES:
        return datetime.fromisoformat(value)
    return value
