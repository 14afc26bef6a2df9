"""Quiet hours: what nobody asked for arrives by day.

From 8 to 20 o'clock where the person is, on Sundays from noon: narrower than the hours that 47 CFR 64.1200(c)(1) leaves for calls
(8 to 21) and than what several states ask of senders. Answers go out at any hour.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from bot.store import Person

_OPENS, _OPENS_ON_SUNDAY, _CLOSES = 8, 12, 20
_SUNDAY = 6


def earliest(local: datetime) -> datetime:
    """When a notice may go out at the soonest, given the person's local time; both without a zone, or both with."""
    opens = local.replace(hour=_opening(local), minute=0, second=0, microsecond=0)
    if local < opens:
        return opens
    if local.hour < _CLOSES:
        return local
    tomorrow = local + timedelta(days=1)
    return tomorrow.replace(hour=_opening(tomorrow), minute=0, second=0, microsecond=0)


def by_day(now: datetime, person: Person) -> datetime:
    """The first time from now on that is no quiet hour where the person is."""
    if now.tzinfo is None:
        return earliest(now)
    return earliest(now.astimezone(ZoneInfo(person.timezone)) if person.timezone else now)


def _opening(local: datetime) -> int:
    return _OPENS_ON_SUNDAY if local.weekday() == _SUNDAY else _OPENS
