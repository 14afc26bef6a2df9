"""Weather that was fetched beforehand for one place and day; any other place is asked for."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bot.feeds.feed import Feed
from rules.terms import Weather


@dataclass(frozen=True)
class Seen:
    """One answer of a feed."""

    latitude: float | None
    longitude: float | None
    on: date
    weather: Weather


@dataclass(frozen=True)
class SeenFeed:
    """A feed with one answer at hand."""

    inner: Feed
    seen: Seen | None

    def view(self, latitude: float | None, longitude: float | None, on: date) -> Weather:
        """As `Feed.view`."""
        seen = self.seen
        if seen is not None and (seen.latitude, seen.longitude, seen.on) == (latitude, longitude, on):
            return seen.weather
        return self.inner.view(latitude, longitude, on)
