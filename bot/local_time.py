"""The time where a person is."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from bot.store import Person


def local(time: datetime, person: Person) -> datetime:
    """A time where the person is, without a zone; one that has none is so already. Without a place: the machine's own."""
    if time.tzinfo is None:
        return time
    zone = ZoneInfo(person.timezone) if person.timezone else None
    return time.astimezone(zone).replace(tzinfo=None)
