"""What the line asks of the weather, and what a weather service must offer to stand behind it."""

from __future__ import annotations

from datetime import date
from typing import Protocol

from rules.terms import Weather


class Feed(Protocol):
    """Weather as the line sees it."""

    def view(self, latitude: float | None, longitude: float | None, on: date) -> Weather:
        """The days before `on` and the forecast from `on`, as seen on that day, at a place. [degrees north, east]

        A place that is not known or a service that is out of reach is an ordinary answer: `Weather` with an empty
        `forecast`, or with no day at all. Never an exception.
        """
        ...


PAST, FORECAST = "past", "forecast"


class Service(Protocol):
    """One weather service. Unlike a feed it says when it fails, so that the next one can be asked.

    `gives` names the halves of the weather that it may have: `PAST`, `FORECAST`.
    """

    name: str
    gives: frozenset[str]

    def covers(self, latitude: float, longitude: float) -> bool:
        """Whether the service may have an answer for the place; costs nothing."""
        ...

    def fetch(self, latitude: float, longitude: float, on: date) -> Weather:
        """Ask the service now. `as_of` is when the forecast was made, in the place's own time, without a zone.

        A value that the service does not know is None; of a day of the forecast, too.

        Raises: FeedDown, when there is no answer worth using; FeedChanged, when the answer can't be read.
        """
        ...
