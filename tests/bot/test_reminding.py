"""Reminders in the post: at eight where the person is, none after STOP, and none of a plot at rest."""

from __future__ import annotations

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from bot.line import Line, Message, open_line

OFFICE, THERE = ZoneInfo("America/New_York"), ZoneInfo("America/Los_Angeles")
ASKED = ("peaches", "37.3, -120.5", "loam", "drip", "30 cb at 18 in", "remind me friday")


class Clock:
    """An aware clock that is set by hand."""

    now = datetime(2026, 7, 14, 8, 0, tzinfo=OFFICE)

    def __call__(self) -> datetime:
        return self.now


def talked(clock: Clock, *texts: str, channel: str = "sms") -> tuple[Line, str]:
    """A line after these texts of one person, and the last answer."""
    line, said = open_line(None, None, clock), ""
    for text in texts:
        clock.now += timedelta(minutes=2)
        said = "\n".join(each.text for each in line.receive(Message(channel=channel, sender="+15550145", text=text)))
    return line, said


def reminders(line: Line, clock: Clock, at: datetime) -> list[str]:
    clock.now = at
    return [letter.text for letter in line.post.due("sms") if letter.kind == "reminder"]


def test_it_goes_out_at_eight_where_the_person_is() -> None:
    clock = Clock()
    line, said = talked(clock, *ASKED)
    assert "remind you Fri Jul 17" in said
    assert reminders(line, clock, datetime(2026, 7, 17, 7, 59, tzinfo=THERE)) == []
    assert len(reminders(line, clock, datetime(2026, 7, 17, 8, 0, tzinfo=THERE))) == 1


def test_it_goes_out_at_the_hour_that_was_named_but_in_no_quiet_hour() -> None:
    clock = Clock()
    line, _ = talked(clock, *ASKED[:-1], "remind me friday at 5 pm")
    assert reminders(line, clock, datetime(2026, 7, 17, 16, 59, tzinfo=THERE)) == []
    assert len(reminders(line, clock, datetime(2026, 7, 17, 17, 0, tzinfo=THERE))) == 1
    clock = Clock()
    line, _ = talked(clock, *ASKED[:-1], "remind me friday at 11 pm")
    assert reminders(line, clock, datetime(2026, 7, 18, 7, 59, tzinfo=THERE)) == []
    assert len(reminders(line, clock, datetime(2026, 7, 18, 8, 0, tzinfo=THERE))) == 1


@pytest.mark.parametrize("last", ["stop", "pause peaches", "close peaches", "no more reminders", "no me recuerde mas"])
def test_none_goes_out_after_it_was_declined(last: str) -> None:
    clock = Clock()
    line, _ = talked(clock, *ASKED, last)
    assert reminders(line, clock, datetime(2026, 7, 18, 12, 0, tzinfo=THERE)) == []


def test_no_more_reminders_is_no_stop() -> None:
    line, _ = talked(Clock(), *ASKED, "please stop reminding me")
    person = line.store.people.known("sms", "+15550145")
    assert person is not None
    assert not person.stopped


def test_it_is_told_once_and_again_only_when_asked_anew() -> None:
    clock = Clock()
    line, _ = talked(clock, *ASKED)
    clock.now = datetime(2026, 7, 17, 9, 0, tzinfo=THERE)
    for letter in line.post.due("sms"):
        line.post.took(letter)
    line.receive(Message(channel="sms", sender="+15550145", text="35 cb at 18 in"))
    assert reminders(line, clock, datetime(2026, 7, 30, 12, 0, tzinfo=THERE)) == []


def test_a_page_says_that_it_cannot_write_first() -> None:
    _, said = talked(Clock(), *ASKED, channel="web")
    assert "note the day" in said
    assert "remind you" not in said


def test_a_letter_that_no_network_takes_is_given_up_after_a_day_and_not_before() -> None:
    """Its age counts from its own time: it was put in days before."""
    clock = Clock()
    line, _ = talked(clock, *ASKED)
    clock.now = datetime(2026, 7, 17, 8, 0, tzinfo=THERE)
    (letter,) = line.post.due("sms")
    line.post.failed(letter, "no signal")
    assert line.store.outbox.dead() == []
    for _ in range(40):
        clock.now += timedelta(hours=1)
        for each in line.post.due("sms"):
            line.post.failed(each, "no signal")
    assert len(line.store.outbox.dead()) == 1
