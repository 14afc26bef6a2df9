"""The feed of a running line: services asked in turn, one answer a place and hour, and the last good one kept."""

from __future__ import annotations

import logging
import threading
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from typing import NamedTuple, Protocol

from bot.errors import FeedDown, FeedError
from bot.feeds.days import as_seen, filled
from bot.feeds.feed import FORECAST, PAST, Service
from bot.feeds.file import read_text, write
from bot.feeds.http import time_budget, time_left_s
from rules.terms import Weather

log = logging.getLogger(__name__)

CELLS_A_DEGREE = 20  # 0.05 degrees, finer than most of the models behind the services
FRESH_FOR = timedelta(hours=1)
AGAIN_AFTER = timedelta(minutes=10)
BUDGET_S = 8.0
NEEDED_PAST_DAYS = 7  # a gap in these is worth asking another service

# How long an old forecast serves. Repeating last week's ET0 is published as 22 % off (Medina, Tian 2020, HESS 24:1011),
# while rain keeps little skill beyond the first days.
OLD_FORECAST_DAYS = 10
OLD_RAIN_DAYS = 3
KEPT_PAST_DAYS = 60

_EVERYWHERE = "everywhere"


class Shelf(Protocol):
    """Where answers outlast the process: one text a cell."""

    def get(self, cell: str) -> tuple[datetime, str] | None:
        """When the cell's text was put there, and the text; None when it never was."""
        ...

    def put(self, cell: str, at: datetime, body: str) -> None: ...


class MemoryShelf:
    """A shelf that lasts as long as the process."""

    def __init__(self) -> None:
        self._texts: dict[str, tuple[datetime, str]] = {}

    def get(self, cell: str) -> tuple[datetime, str] | None:
        return self._texts.get(cell)

    def put(self, cell: str, at: datetime, body: str) -> None:
        self._texts[cell] = at, body


class _Kept(NamedTuple):
    """What lies on the shelf for a cell, and since when; None when nothing of use does."""

    at: datetime | None
    weather: Weather


class CachedFeed:
    """Weather from the first services that have it.

    A service is asked only for what those before it could not give. One that failed is left alone for a while, for
    that cell or, when it is out of reach altogether, for all. A view takes no longer than its time budget; when nothing
    can be reached in it, the last good answer serves, as far as it still says anything.

    Args:
        choices: the services, best first.
        shelf: keeps the last good answer of each cell.
        clock: the time now, with its zone.
        budget_s: the longest that a view may take. [s]
    """

    def __init__(
        self, choices: Sequence[Service], shelf: Shelf, clock: Callable[[], datetime], budget_s: float = BUDGET_S
    ) -> None:
        self._choices, self._shelf, self._clock, self._budget_s = choices, shelf, clock, budget_s
        self._one_at_a_time = threading.Lock()
        self._left_alone_until: dict[tuple[str, str], datetime] = {}

    def view(self, latitude: float | None, longitude: float | None, on: date) -> Weather:
        """See `Feed`. The place is rounded to its cell first, so no service learns where a person lives."""
        if latitude is None or longitude is None:
            return Weather()
        north, east = (round(degrees * CELLS_A_DEGREE) / CELLS_A_DEGREE for degrees in (latitude, longitude))
        cell = f"{north:.2f},{east:.2f}"
        kept = self._kept(cell, on)
        if self._is_due(kept, on):
            with time_budget(self._budget_s):
                self._renew_in_turn(cell, north, east, on)
            kept = self._kept(cell, on)
        return as_seen(kept.weather, on)

    def _renew_in_turn(self, cell: str, north: float, east: float, on: date) -> None:
        """One fetch at a time: the services count calls that overlap as misuse."""
        if not self._one_at_a_time.acquire(timeout=time_left_s()):
            return
        try:
            kept = self._kept(cell, on)
            if self._is_due(kept, on):  # another thread may just have asked
                self._renew(kept, cell, north, east, on)
        finally:
            self._one_at_a_time.release()

    def _is_due(self, kept: _Kept, on: date) -> bool:
        if kept.at is None:
            return True
        lasts = AGAIN_AFTER if lacks(kept.weather, on) else FRESH_FOR
        return self._now() - kept.at >= lasts

    def _renew(self, kept: _Kept, cell: str, north: float, east: float, on: date) -> None:
        weather = Weather()
        for service in self._choices:
            if service.covers(north, east) and service.gives & lacks(weather, on):
                weather = filled(weather, self._asked(service, cell, north, east, on))
        if weather.past or weather.forecast:
            self._shelf.put(cell, self._now(), write(filled(weather, kept.weather)))

    def _asked(self, service: Service, cell: str, north: float, east: float, on: date) -> Weather:
        """The service's answer, or no weather. All but the last may use half of the time that is left."""
        now = self._now()
        if any(now < self._left_alone_until.get((service.name, where), now) for where in (cell, _EVERYWHERE)):
            return Weather()
        share = 1.0 if service is self._choices[-1] else 0.5
        try:
            with time_budget(share * time_left_s()):
                return service.fetch(north, east, on)
        except FeedError as error:
            log.warning("%s", error)
            self._leave_alone(service, cell, error)
            return Weather()

    def _leave_alone(self, service: Service, cell: str, error: FeedError) -> None:
        down = error if isinstance(error, FeedDown) else FeedDown(service.name, "")
        where = _EVERYWHERE if down.everywhere else cell
        self._left_alone_until[service.name, where] = self._now() + max(AGAIN_AFTER, timedelta(seconds=down.after_s))

    def _kept(self, cell: str, on: date) -> _Kept:
        found = self._shelf.get(cell)
        if found is None:
            return _Kept(None, Weather())
        try:
            return _Kept(found[0].astimezone(UTC), aged(read_text(found[1]), on))
        except FeedError as error:
            log.warning("an answer on the shelf: %s", error)
            return _Kept(None, Weather())

    def _now(self) -> datetime:
        return self._clock().astimezone(UTC)


def lacks(weather: Weather, on: date) -> set[str]:
    """Which halves have a gap: no forecast of rain at all, or one of the last days whose rain is not observed."""
    observed = {day.on for day in weather.past if day.rain_mm is not None and day.pop is None}
    wanted = {on - timedelta(days=back) for back in range(1, NEEDED_PAST_DAYS + 1)}
    ahead = any(day.rain_mm is not None and day.on >= on for day in weather.forecast)
    return ({PAST} if wanted - observed else set()) | (set() if ahead else {FORECAST})


def aged(weather: Weather, on: date) -> Weather:
    """What is still worth something of weather fetched earlier.

    A forecast of today is used whole. An older one serves ten days, and its rain only for the first three days that it
    was made for. Days behind are kept.
    """
    made = weather.as_of.date() if weather.as_of else min((day.on for day in weather.forecast), default=on)
    oldest = on - timedelta(days=KEPT_PAST_DAYS)
    past = tuple(day for day in weather.past if day.on >= oldest)
    if on <= made:
        return replace(weather, past=past)
    rain_until = made + timedelta(days=OLD_RAIN_DAYS)
    forecast = tuple(
        day if day.on < rain_until else replace(day, rain_mm=None, pop=None)
        for day in weather.forecast
        if day.on >= oldest and (day.on < on or (on - made).days <= OLD_FORECAST_DAYS)
    )
    return replace(weather, past=past, forecast=forecast)
