"""Reminders: who asks for one gets one text, by day, when the plot is to be looked at; newer advice moves it, and it comes once."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from bot.quiet import earliest
from bot.talk.setup import plain
from bot.talk.supposing import day_ahead
from bot.talk.visit import Visit
from rules.terms import Advice

# These show what was said, and can't write first.
_CANT_WRITE = ("web", "console")
_ASKED = re.compile(
    r"\b(?:remind\w*|rmind|recuerd\w*|recordar\w*|recordatorio|avis\w*|text me|tell me|let me know)\b(?P<rest>.*)$"
)
_HOUR = re.compile(r"\b(?:at |a las )?(?P<hour>1[0-2]|[1-9])(?: [0-5]\d)? ?(?P<half>am|pm)\b")
_MORNING = time(8)


@dataclass(frozen=True)
class Reminder:
    """One text to come, of one plot or of all, at a local time; `fixed`: the person named the day."""

    plot: int | None
    at: datetime
    fixed: bool


def in_step(visit: Visit, advised: Sequence[Advice], asked: bool) -> list[str]:
    """Keep the reminders in step with what is advised now; what to say of it.

    Args:
        asked: whether this message asks for one.
    """
    if asked and visit.person.channel in _CANT_WRITE:
        return [visit.words.say("remind.cant")]
    waiting = list(_waiting(visit))
    named_at = _time_named(visit) if asked else None
    ids = {plot.name: plot.id for plot in visit.plots()}
    fresh = []
    for advice in advised:
        plot = ids.get(advice.plot or "")
        old = next((each for each in waiting if each.plot == plot), None)
        if plot is not None and (asked or (old and not old.fixed)):
            fresh.append(Reminder(plot, named_at or _look_at(visit, advice), fixed=named_at is not None))
    if named_at and not advised:
        fresh.append(Reminder(None, named_at, fixed=True))
    if not set(fresh) - set(waiting):
        return _told(visit, fresh) if asked else []
    renewed = {each.plot for each in fresh}
    _write(visit, [*(each for each in waiting if each.plot not in renewed), *fresh])
    return _told(visit, fresh)


def drop(visit: Visit, plot: int | None = None) -> None:
    """Take back the reminders of one plot, or all."""
    waiting = list(_waiting(visit))
    if waiting:
        _write(visit, [each for each in waiting if plot is not None and each.plot != plot])


def _told(visit: Visit, fresh: Sequence[Reminder]) -> list[str]:
    return [visit.words.say("remind.set", when=min(each.at for each in fresh).date())] if fresh else []


def _waiting(visit: Visit) -> Iterator[Reminder]:
    """The reminders that were not sent yet."""
    for each in visit.person.dialogue.get("reminders", ()):
        reminder = Reminder(each["plot"], datetime.fromisoformat(each["at"]), each["fixed"])
        if reminder.at > visit.now:
            yield reminder


def _look_at(visit: Visit, advice: Advice) -> datetime:
    """The morning of the day to look, tomorrow's at the soonest."""
    return _by_day(max(advice.date or visit.today, visit.today + timedelta(days=1)), _MORNING)


def _by_day(on: date, at: time) -> datetime:
    return earliest(datetime.combine(on, at))


def _time_named(visit: Visit) -> datetime | None:
    """The day, and perhaps the hour, for which the message asks."""
    asked = _ASKED.search(plain(visit.message.text))
    rest = asked["rest"] if asked else ""
    hour, words = _HOUR.search(rest), _HOUR.sub("", rest).split()
    context = visit.context(None)
    days = (day_ahead(" ".join(words[start:]), context) for start in range(len(words)))
    on = next((day for day in days if day), None)
    if on is None:
        return None
    at = time(int(hour["hour"]) % 12 + 12 * (hour["half"] == "pm")) if hour else _MORNING
    return _by_day(on, at)


def _write(visit: Visit, reminders: Sequence[Reminder]) -> None:
    """Put these into the post in the place of all that wait; those of one time are one text."""
    names = {plot.id: visit.words.plot(plot.name) for plot in visit.plots()}
    wanted = [each for each in reminders if each.plot is None or each.plot in names]
    visit.store.outbox.withdraw_reminders(visit.person)
    for at in sorted({each.at for each in wanted}):
        plots = [names[each.plot] for each in wanted if each.at == at and each.plot is not None]
        listed = visit.words.amounts.listed(plots)
        text = visit.words.say("remind.look", plots=listed) if plots else visit.words.say("remind.any")
        visit.store.outbox.put(
            visit.person.channel, visit.person.address, text, at=visit.line_now, due_at=_on_the_line(visit, at),
            kind="reminder", person=visit.person, language=visit.language,
        )  # fmt: skip
    visit.remember(reminders=[_as_json(each) for each in wanted])


def _on_the_line(visit: Visit, at: datetime) -> datetime:
    """A person's local time as the line's clock tells it."""
    if visit.line_now.tzinfo is None:
        return at
    return at.replace(tzinfo=ZoneInfo(visit.person.timezone)) if visit.person.timezone else at.astimezone()


def _as_json(reminder: Reminder) -> dict[str, Any]:
    return {"plot": reminder.plot, "at": reminder.at.isoformat(), "fixed": reminder.fixed}
