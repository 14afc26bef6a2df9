"""When a rate that was told long ago should be tested again."""

from __future__ import annotations

from datetime import datetime

from bot.line import open_line
from bot.message import Message

ASKS = "test it again"


class _Clock:
    now = datetime(2026, 4, 1, 8)

    def __call__(self) -> datetime:
        return self.now


def test_a_rate_over_a_year_old_is_asked_for_once_in_spring() -> None:
    clock = _Clock()
    line = open_line(None, None, clock)

    def said(at: str, text: str) -> str:
        clock.now = datetime.fromisoformat(at)
        message = Message(channel="sms", sender="+15550123", text=text, id=at, sent_at=clock.now)
        return " ".join(reply.text for reply in line.receive(message))

    for minute, text in enumerate(["lawn", "skip", "loam", "sprinkler", "rate 0.5 in/h"]):
        said(f"2026-04-01T08:{minute:02}", text)
    assert ASKS not in said("2027-03-20T08:00", "soil feels dry")
    assert ASKS in said("2027-04-20T08:00", "soil feels dry")
    assert ASKS not in said("2027-05-20T08:00", "soil feels dry")
    assert ASKS not in said("2027-08-20T08:00", "soil feels dry")
    assert ASKS in said("2028-03-20T08:00", "soil feels dry")
    said("2028-03-21T08:00", "rate 0.5 in/h")
    assert ASKS not in said("2029-03-15T08:00", "soil feels dry")
