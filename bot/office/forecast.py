"""The weather at the office, looked up beside the pages so that none of them waits for a weather service."""

from __future__ import annotations

from datetime import datetime
from threading import Event

from bot import places
from bot.line import Line
from bot.talk.visit import Office
from bot.workers import Health
from rules.terms import Day, Weather

# The line's feed asks the services once an hour at most; to look often costs nothing and tells soon when they fail.
_EVERY_S = 240.0


class Forecast:
    """A worker that knows the office's weather."""

    name = "weather"

    def __init__(self, line: Line, office: Office) -> None:
        self._line, self._office = line, office
        self._seen: Weather | None = None
        self._changed: datetime | None = None

    @property
    def days(self) -> tuple[Day, ...]:
        """The days to come, as last looked up."""
        return self._seen.forecast[:7] if self._seen else ()

    @property
    def attribution(self) -> str | None:
        """Whom the forecast is owed to."""
        return self._seen.attribution if self._seen else None

    def run(self, stop: Event) -> None:
        """Look the weather up again and again."""
        while not stop.is_set():
            self.look()
            stop.wait(_EVERY_S)

    def look(self) -> None:
        """Look the weather up once."""
        found = (
            places.find(str(self._office.places[0].get("name") or ""), self._office.places)
            if self._office.places
            else []
        )
        if not found:
            return
        before = bool(self.days)
        self._seen = self._line.weather_at(found[0].latitude, found[0].longitude)
        if bool(self.days) != before or self._changed is None:
            self._changed = self._line.time()

    def health(self) -> Health:
        """Whether there is a forecast."""
        if not self._office.places:
            return Health(part=self.name, well=True, says="no place is set for the office: write [[office.places]]")
        if self.days:
            by = self._seen.source if self._seen else None
            return Health(part=self.name, well=True, says=f"forecast from {by or 'the services'}", since=self._changed)
        return Health(
            part=self.name,
            well=False,
            says="no forecast can be had; advice goes on without rain to come. Is the machine's network up?",
            since=self._changed,
        )
