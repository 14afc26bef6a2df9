"""Hours at which nobody is written to unasked: 8 to 20, on Sundays from 12 (see bot/quiet.py for the law behind them)."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from bot.line import open_line
from bot.quiet import earliest

CHICAGO = ZoneInfo("America/Chicago")


@pytest.mark.parametrize(
    ("local", "soonest"),
    [
        ("2026-07-14T12:00", "2026-07-14T12:00"),  # Tuesday
        ("2026-07-14T07:59:59", "2026-07-14T08:00"),
        ("2026-07-14T08:00", "2026-07-14T08:00"),
        ("2026-07-14T19:59:59", "2026-07-14T19:59:59"),
        ("2026-07-14T20:00", "2026-07-15T08:00"),
        ("2026-07-14T00:00", "2026-07-14T08:00"),
        ("2026-07-18T23:00", "2026-07-19T12:00"),  # Saturday night: Sunday noon
        ("2026-07-19T11:59", "2026-07-19T12:00"),
        ("2026-07-19T12:00", "2026-07-19T12:00"),
        ("2026-07-19T20:00", "2026-07-20T08:00"),
        ("2026-12-31T22:00", "2027-01-01T08:00"),
    ],
)
def test_a_notice_goes_out_by_day(local, soonest):
    assert earliest(datetime.fromisoformat(local)) == datetime.fromisoformat(soonest)


# Clocks in the United States: forward on the second Sunday of March, back on the first of November, at 2 o'clock (15 USC 260a).
@pytest.mark.parametrize(
    ("local", "soonest_utc"),
    [
        ("2026-03-07T21:00-06:00", "2026-03-08T17:00"),  # Sunday noon is already summer time: 12:00-05:00
        ("2026-03-08T01:30-06:00", "2026-03-08T17:00"),
        ("2026-10-31T21:00-05:00", "2026-11-01T18:00"),  # and in autumn winter time again: 12:00-06:00
        ("2026-11-01T00:30-05:00", "2026-11-01T18:00"),
        ("2026-11-01T20:00-06:00", "2026-11-02T14:00"),
    ],
)
def test_the_hours_are_those_of_the_clock_on_the_wall_when_it_changes(local, soonest_utc):
    found = earliest(datetime.fromisoformat(local).astimezone(CHICAGO))
    assert found.astimezone(UTC).replace(tzinfo=None) == datetime.fromisoformat(soonest_utc)


@pytest.mark.parametrize("zone", [CHICAGO, UTC])
def test_it_is_never_before_now_never_at_night_and_never_later_than_noon_of_the_next_day(zone):
    begun = datetime(2026, 1, 1, 0, 30, tzinfo=UTC)
    for hour in range(2 * 365 * 24):
        local = (begun + timedelta(hours=hour)).astimezone(zone)
        soonest = earliest(local)
        assert soonest.astimezone(UTC) >= local.astimezone(UTC)
        assert (12 if soonest.weekday() == 6 else 8) <= soonest.hour < 20
        assert soonest.replace(tzinfo=None) - local.replace(tzinfo=None) <= timedelta(hours=16)
        assert earliest(soonest) == soonest


def test_a_notice_waits_in_the_post_for_the_day_and_an_answer_does_not():
    now = [datetime(2026, 7, 14, 22, 0, tzinfo=CHICAGO)]
    line = open_line(None, {"past": [], "forecast": []}, lambda: now[0])
    put = line.store.outbox.put
    put("sms", "+15550101", "frost tonight", at=now[0], due_at=earliest(now[0]), kind="notice")
    put("sms", "+15550102", "WAIT lawn", at=now[0])
    assert [letter.kind for letter in line.post.due("sms")] == ["answer"]
    now[0] = datetime(2026, 7, 15, 7, 59, tzinfo=CHICAGO)
    assert [letter.kind for letter in line.post.due("sms")] == ["answer"]
    now[0] = datetime(2026, 7, 15, 8, 0, tzinfo=CHICAGO)
    assert [letter.kind for letter in line.post.due("sms")] == ["notice", "answer"]
