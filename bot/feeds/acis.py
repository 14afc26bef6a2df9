"""Rain and temperature observed, from the Regional Climate Centers' web service (RCC-ACIS): one point of a grid.

Facts from docs.rcc-acis.org and public client code. The grid asked for is PRISM (4 km, the 48 states), which is built
from gauges and asks to be named. Its day ends at 12 UTC, 4 to 7 in the morning, and is filed under the date on which
it ends. So a row's rain and maximum are those of the day before, and its minimum is that of the morning of its date.
The newest days are provisional.
"""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from datetime import date, timedelta
from typing import Any

from bot.errors import FeedChanged
from bot.feeds.days import plausible
from bot.feeds.feed import PAST
from bot.feeds.http import Http
from rules import units
from rules.terms import Day, Weather

NAME = "acis"
BASE_URL = "https://data.rcc-acis.org"
ATTRIBUTION = "Past weather: PRISM, Oregon State University"
PRISM_GRID = "21"
PAST_DAYS = 30
BOX = (24.0, -125.1, 50.0, -66.4)  # of the grid: south, west, north, east [degrees]
MISSING = -999
ELEMENTS = ("maxt", "mint", "pcpn")


class ObservedGrid:
    """Days observed, by place. What is known of the morning of `on` comes as the first day of the forecast."""

    name = NAME
    gives = frozenset({PAST})

    def __init__(self, http: Http, base_url: str = BASE_URL) -> None:
        self._http, self._base_url = http, base_url

    def covers(self, latitude: float, longitude: float) -> bool:
        south, west, north, east = BOX
        return south <= latitude <= north and west <= longitude <= east

    def fetch(self, latitude: float, longitude: float, on: date) -> Weather:
        """The last thirty days. Raises FeedDown, FeedChanged."""
        asked = {
            "loc": f"{longitude:g},{latitude:g}",
            "grid": PRISM_GRID,
            "sdate": (on - timedelta(days=PAST_DAYS)).isoformat(),
            "edate": on.isoformat(),
            "elems": [{"name": name} for name in ELEMENTS],
            "meta": "ll",
        }
        return read(self._http.json(self.name, f"{self._base_url}/GridData", {"params": json.dumps(asked)}), on)


def read(answer: Any, on: date) -> Weather:
    """Weather from the service's answer. Errors come with status 200. Raises FeedChanged."""
    try:
        if "error" in answer:
            raise FeedChanged(NAME, "refused the request")
        rows = [(date.fromisoformat(filed), list(values)) for filed, *values in answer["data"]]
        columns = [amounts([values[column] for _, values in rows]) for column in range(len(ELEMENTS))]
    except (KeyError, TypeError, ValueError, IndexError) as error:
        raise FeedChanged(NAME, f"an answer of another shape ({type(error).__name__})") from error
    days = _days([filed for filed, _ in rows], *columns)
    return Weather(
        past=tuple(day for day in days if day.on < on),
        forecast=tuple(day for day in days if day.on == on),
        source=NAME,
        attribution=ATTRIBUTION,
    )


def amounts(values: Sequence[Any]) -> list[float | None]:
    """Numbers of one element, oldest first, in the unit they came in. None is missing.

    `M` and -999 are missing; `T`, a trace, is 0; a run of `S` that ends in a number with `A` is one total of all those
    days, spread evenly here; an `S` that no total follows is missing. Raises ValueError on any other code.
    """
    numbers: list[float | None] = []
    held = 0
    for value in values:
        text = str(value).strip()
        number, held_after = _number(text), held + 1 if text == "S" else 0
        if held and text.endswith("A") and number is not None:
            share = number / (held + 1)
            numbers[-held:] = [share] * held
            number = share
        numbers.append(number)
        held = held_after
    return numbers


def _number(text: str) -> float | None:
    if text in ("M", "S", "", "None"):
        return None
    if text == "T":
        return 0.0
    number = float(text.removesuffix("A"))
    return None if number == MISSING or not math.isfinite(number) else number


def _days(
    filed: list[date], tmax_f: list[float | None], tmin_f: list[float | None], rain_in: list[float | None]
) -> list[Day]:
    """The rows of dates filed, as days of which anything is known."""
    values: dict[date, dict[str, float | None]] = {}
    for on, tmax, tmin, rain in zip(filed, tmax_f, tmin_f, rain_in, strict=True):
        before = values.setdefault(on - timedelta(days=1), {})
        before["tmax_c"] = None if tmax is None else plausible("tmax_c", units.celsius(tmax))
        before["rain_mm"] = None if rain is None else plausible("rain_mm", rain * units.MM_PER_INCH)
        values.setdefault(on, {})["tmin_c"] = None if tmin is None else plausible("tmin_c", units.celsius(tmin))
    return [Day(on=on, **known) for on, known in values.items() if any(v is not None for v in known.values())]
