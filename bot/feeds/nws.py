"""The forecast of the US National Weather Service: a point's grid cell, and the cell's raw numbers made into days.

Facts from the service's own documentation repository (weather-gov/api, commit 694ed0f, May 2024) and its threads.
Public domain. Only the US and its territories.
"""

from __future__ import annotations

import logging
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

from bot.errors import FeedChanged, FeedDown
from bot.feeds.blocks import days_of, layers_of
from bot.feeds.feed import FORECAST
from bot.feeds.http import Http
from rules.terms import Weather

log = logging.getLogger(__name__)

NAME = "nws"
BASE_URL = "https://api.weather.gov"
ATTRIBUTION = "Forecast based on National Weather Service data"  # they ask that changed data not be called theirs
OLDEST_GRID = timedelta(hours=24)  # older answers have come from the service's cache servers as if they were new
POINT_KEPT = timedelta(days=7)  # offices redraw their grids without notice
# South, west, north, east of the 48 states, Alaska, Hawaii, Puerto Rico with the Virgin Islands, Guam with the Northern
# Marianas. Wide boxes: the service itself says where its grid ends. [degrees]
BOXES = (
    (24.4, -125.0, 49.5, -66.8),
    (51.0, -180.0, 71.6, -129.9),
    (18.7, -160.4, 22.4, -154.7),
    (17.5, -67.5, 18.7, -64.4),
    (13.1, 144.5, 20.7, 146.2),
)
NEAR_DEG = 0.05  # two grid cells; a forecast cell may lie that far from the place before it is taken for redrawn


@dataclass(frozen=True)
class Cell:
    """The grid cell of a place."""

    path: str
    zone: ZoneInfo


class NationalForecast:
    """Forecasts by place. The cell of each place is kept for a week, and that there is none, too."""

    name = NAME
    gives = frozenset({FORECAST})

    def __init__(self, http: Http, clock: Callable[[], datetime], base_url: str = BASE_URL) -> None:
        self._http, self._clock, self._base_url = http, clock, base_url
        self._cells: dict[tuple[float, float], tuple[datetime, Cell | None]] = {}

    def covers(self, latitude: float, longitude: float) -> bool:
        return any(south <= latitude <= north and west <= longitude <= east for south, west, north, east in BOXES)

    def fetch(self, latitude: float, longitude: float, on: date) -> Weather:
        """The forecast from `on`, about seven days. Raises FeedDown, also for a place off the grid; FeedChanged."""
        cell, is_new = self._cell(latitude, longitude)
        try:
            return self._forecast(cell, latitude, longitude, on)
        except FeedDown as down:
            if is_new or down.status != 404:
                raise
            log.info("%s; asking for the cell again", down)
        del self._cells[latitude, longitude]
        cell, _ = self._cell(latitude, longitude)
        return self._forecast(cell, latitude, longitude, on)

    def _cell(self, latitude: float, longitude: float) -> tuple[Cell, bool]:
        now = self._clock().astimezone(UTC)
        asked, cell = self._cells.get((latitude, longitude), (None, None))
        is_new = asked is None or now - asked > POINT_KEPT
        if is_new:
            cell = self._asked_cell(latitude, longitude)
            self._cells[latitude, longitude] = now, cell
        if cell is None:
            raise FeedDown(NAME, "no grid cell at that place", status=404)
        return cell, is_new

    def _asked_cell(self, latitude: float, longitude: float) -> Cell | None:
        try:
            answer = self._http.json(NAME, f"{self._base_url}/points/{_degrees(latitude)},{_degrees(longitude)}")
        except FeedDown as down:
            if down.status == 404:
                return None
            raise
        try:
            point = answer["properties"]
            path = f"{point['gridId']}/{int(point['gridX'])},{int(point['gridY'])}"
            return Cell(path, ZoneInfo(point["timeZone"]))
        except (KeyError, TypeError, ValueError) as error:  # an unknown time zone is a KeyError
            raise FeedChanged(NAME, f"a point of another shape ({type(error).__name__})") from error

    def _forecast(self, cell: Cell, latitude: float, longitude: float, on: date) -> Weather:
        answer = self._http.json(NAME, f"{self._base_url}/gridpoints/{cell.path}")
        try:
            corners = answer["geometry"]["coordinates"][0]
            properties = answer["properties"]
            made = datetime.fromisoformat(properties["updateTime"]).astimezone(UTC)
            near = _is_near(corners, latitude, longitude)
        except (KeyError, TypeError, ValueError, IndexError) as error:
            raise FeedChanged(NAME, f"a grid of another shape ({type(error).__name__})") from error
        if not near:
            raise FeedDown(NAME, "a grid cell that lies elsewhere", status=404)
        self._check_age(made)
        return Weather(
            forecast=days_of(layers_of(properties), cell.zone, latitude, on),
            source=NAME,
            attribution=ATTRIBUTION,
            as_of=made.astimezone(cell.zone).replace(tzinfo=None),
        )

    def _check_age(self, made: datetime) -> None:
        age = self._clock().astimezone(UTC) - made
        if age > OLDEST_GRID:
            raise FeedDown(NAME, f"a grid that is {age / timedelta(hours=1):.0f} h old")


def _is_near(corners: list[list[float]], latitude: float, longitude: float) -> bool:
    """Whether the place lies in the box around the cell, widened a little."""
    longitudes, latitudes = [corner[0] for corner in corners], [corner[1] for corner in corners]
    return (
        min(latitudes) - NEAR_DEG <= latitude <= max(latitudes) + NEAR_DEG
        and min(longitudes) - NEAR_DEG <= longitude <= max(longitudes) + NEAR_DEG
    )


def _degrees(degrees: float) -> str:
    """At most four decimals and no zeros at the end: the service refuses more."""
    return f"{degrees:.4f}".rstrip("0").rstrip(".")
