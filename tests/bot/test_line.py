"""The line as whoever builds on it uses it: opened in process, one message in, replies out."""

from __future__ import annotations

import sqlite3
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from dry_july import dry_weather

from bot.line import Line, Message, Office, open_line
from bot.message import Reply

# Invented: a hot, dry July, and people with numbers kept for fiction.
NOON = datetime(2026, 7, 14, 12, 0)
WEATHER = dry_weather(NOON, ahead=7)
ANN, BEN = "+15550101", "+15550102"


def text(line: Line, words: str, sender: str = ANN, **more: Any) -> list[Reply]:
    return line.receive(Message(channel="sms", sender=sender, text=words, **more))


def held(line: Line, sender: str = ANN) -> list[tuple[str, Any]]:
    """Kind and value or minutes of what counts."""
    person = line.store.people.known("sms", sender)
    assert person is not None
    known = line.store.log.history(person)
    return [(each.kind, each.slots.get("value") or each.slots.get("minutes")) for each in known if each.in_force]


@pytest.fixture
def line() -> Line:
    return open_line(None, WEATHER, lambda: NOON)


def test_a_reading_is_answered_with_a_verdict_and_its_figures(line: Line) -> None:
    advice = next(each for each in text(line, "tomatoes 60 cb at 12 in") if each.verdict)
    assert (advice.plot, advice.verdict) == ("tomatoes", "WATER")
    assert advice.date == NOON.date()
    assert advice.depth_mm is not None
    assert advice.depth_mm > 0


def test_the_greeting_goes_out_once_and_names_the_office() -> None:
    line = open_line(None, WEATHER, lambda: NOON, office=Office(name="Dry Fork desk"))
    first, second = text(line, "hi"), text(line, "lawn")
    assert "Dry Fork desk" in first[0].text
    assert not any("Dry Fork desk" in each.text for each in second)


def test_the_same_id_gets_no_second_answer_and_no_second_record(line: Line) -> None:
    assert text(line, "tomatoes watered 30 min", id="m1")
    assert text(line, "tomatoes watered 30 min", id="m1") == []
    assert held(line) == [("watering", 30.0)]


def test_two_people_may_have_messages_of_the_same_id(line: Line) -> None:
    assert text(line, "tomatoes 45 cb at 12 in", id="1")
    assert text(line, "tomatoes 45 cb at 12 in", BEN, id="1")


def test_a_late_message_that_arrives_twice_without_an_id_counts_once(line: Line) -> None:
    early = NOON - timedelta(hours=3)
    assert text(line, "tomatoes watered 30 min", sent_at=early)
    assert text(line, "tomatoes watered 30 min", sent_at=early) == []
    assert held(line) == [("watering", 30.0)]


def test_late_messages_make_the_same_record_in_any_order() -> None:
    week = [("tomatoes 50 cb at 12 in", 9), ("watered 30 min", 10), ("tomatoes 20 cb at 12 in", 11)]
    records = []
    for order in (week, week[::-1]):
        line = open_line(None, WEATHER, lambda: NOON)
        text(line, "tomatoes", sent_at=NOON.replace(hour=8))
        for words, hour in order:
            text(line, words, sent_at=NOON.replace(hour=hour))
        person = line.store.people.known("sms", ANN)
        assert person is not None
        records.append([each.slots for each in line.store.log.observations(line.store.plots.of(person)[0])])
    assert records[0] == records[1]


def test_a_message_of_tomorrow_is_taken_as_of_now(line: Line) -> None:
    text(line, "tomatoes watered 30 min", sent_at=NOON + timedelta(days=1))
    person = line.store.people.known("sms", ANN)
    assert person is not None
    assert line.store.log.history(person)[0].on == NOON.date()


@pytest.mark.parametrize(
    "sent", ["0001-01-01T00:00:00Z", "1970-01-01T00:00:01Z", "2025-04-01T12:00:00Z", "9999-12-31T23:59Z"]
)
def test_a_clock_that_is_out_of_all_measure_is_not_believed(line: Line, sent: str) -> None:
    assert "Saved" in text(line, "tomatoes watered 30 min", sent_at=datetime.fromisoformat(sent))[1].text
    person = line.store.people.known("sms", ANN)
    assert person is not None
    assert line.store.log.history(person)[0].on == NOON.date()


def test_a_time_with_a_zone_is_brought_to_where_the_person_is() -> None:
    """05:30 UTC is 23:30 of the day before at 105 degrees west in July (mountain daylight time, UTC-6)."""
    line = open_line(None, WEATHER, lambda: datetime(2026, 7, 15, 5, 30, tzinfo=UTC))
    text(line, "tomatoes")
    text(line, "39.9, -105.1")
    text(line, "watered 30 min today")
    person = line.store.people.known("sms", ANN)
    assert person is not None
    assert str(line.store.log.history(person)[0].on) == "2026-07-14"


def test_what_is_said_once_the_place_is_known_counts_at_once_though_its_clock_is_behind() -> None:
    """The machine's zone is UTC; in July the place is six hours behind it (mountain daylight time)."""
    line = open_line(None, WEATHER, lambda: datetime(2026, 7, 15, 18, 30, tzinfo=UTC))
    for words in ("START", "tomatoes, loam", "39.9, -105.1", "the soil is clay", "ESPANOL", "STOP"):
        text(line, words)
    person = line.store.people.known("sms", ANN)
    assert person is not None
    assert (person.stopped, person.language) == (True, "es")
    assert line.store.plots.of(person)[0].facts.soil == "clay"
    assert [message.text for message in line.store.messages.latest(person, 2)] == ["ESPANOL", "STOP"]
    assert text(line, "tomatoes 70 cb at 12 in") == []


def test_who_said_stop_still_gets_a_person_who_asks_for_one(line: Line) -> None:
    text(line, "tomatoes, loam")
    text(line, "STOP")
    assert text(line, "tomatoes 70 cb") == []
    (reply,) = text(line, "PERSON")
    assert reply.person_called
    assert len(line.store.calls.not_done()) == 1


@pytest.mark.parametrize(
    "words",
    [
        "",
        " \n",
        "\x00\x01\x1b[2J",
        "🌵" * 400,
        "\ud800 cb",
        "x" * 10_000,
        "'; DROP TABLE people; --",
        "%s %(a)s {0}",
        "nan cb",
    ],
)
def test_no_text_breaks_the_line_or_is_kept_as_an_observation(line: Line, words: str) -> None:
    text(line, "hi")
    replies = text(line, words)
    assert 1 <= len(replies) <= 2
    assert not any("broke" in each.text for each in replies)
    assert held(line) == []


def test_what_breaks_is_answered_with_an_apology_in_the_persons_language(
    line: Line, monkeypatch: pytest.MonkeyPatch
) -> None:
    line.know("sms", ANN, language="es")

    def broken(*_: Any, **__: Any) -> None:
        raise ValueError("secret detail")

    monkeypatch.setattr("bot.talk.answers.Recorder.keep", broken)
    (reply,) = text(line, "hola")
    assert "secret" not in reply.text
    assert reply.text.startswith("Disculpe")


def test_what_breaks_is_kept_and_handed_to_a_person(line: Line, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: Any, **__: Any) -> None:
        raise ValueError

    monkeypatch.setattr("bot.talk.answers.Recorder.keep", broken)
    text(line, "45 cb at 12 in")
    person = line.store.people.known("sms", ANN)
    assert person is not None
    assert [each.text for each in line.store.messages.of(person)] == ["45 cb at 12 in"]
    assert line.store.calls.of(person) is not None


def test_what_was_told_is_on_the_disk_when_the_reply_goes_out(tmp_path: Path) -> None:
    database = tmp_path / "line.db"
    text(open_line(database, WEATHER, lambda: NOON), "tomatoes 45 cb at 12 in")
    with sqlite3.connect(database) as other:
        assert other.execute("SELECT count(*) FROM observations").fetchone() == (1,)


def test_the_staff_reach_everyone_but_those_who_stopped(line: Line) -> None:
    text(line, "tomatoes")
    text(line, "tomatoes", BEN)
    text(line, "STOP", BEN)
    assert [each.to for each in line.from_office("all", "Meter fair on Friday")] == [ANN]


def test_several_plots_come_in_one_text_with_their_parts(line: Line) -> None:
    text(line, "tomatoes 45 cb at 12 in")
    text(line, "peaches 45 cb at 12 in")
    advice = next(each for each in text(line, "should i water") if each.parts)
    assert [part["plot"] for part in advice.parts] == ["tomatoes", "peaches"]
