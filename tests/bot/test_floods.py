"""Floods of texts: all are kept, few are answered, and STOP ends it. The bounds are common practice, no published source."""

from __future__ import annotations

import random
from datetime import datetime, timedelta

import pytest

from bot.line import Line, Message, open_line

ANN = "+15550101"
NOON = datetime(2026, 7, 14, 12, 0)
WEATHER = {"past": [], "forecast": []}


class Clock:
    """Noon of an invented day, moved on by a test."""

    def __init__(self) -> None:
        self.now = NOON

    def __call__(self) -> datetime:
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def line(clock: Clock) -> Line:
    return open_line(None, WEATHER, clock)


def take(line: Line, text: str, number: str = ANN) -> list[str]:
    """What is put into the post for this text, and taken by the channel."""
    line.take(Message(channel="sms", sender=number, text=text))
    letters = line.post.due("sms")
    for letter in letters:
        line.post.took(letter)
    return [letter.text for letter in letters]


def junk(seed: int) -> str:
    chance = random.Random(seed)
    return " ".join("".join(chance.choices("bcfghjklmnpqstvwxz", k=7)) for _ in range(chance.randrange(1, 6)))


@pytest.mark.parametrize("apart_s", [1, 80])
def test_a_thousand_junk_texts_cost_ten_replies_at_most(line: Line, clock: Clock, apart_s: int) -> None:
    """80 s apart they take most of a day: the bound is one of a day, not of a burst."""
    said = []
    for seed in range(1000):
        said += take(line, junk(seed))
        clock.now += timedelta(seconds=apart_s)
    assert 1 <= len(said) <= 10
    assert "555-0142" in said[-1]  # the last says whom to call
    person = line.store.people.known("sms", ANN)
    assert person is not None
    assert len(line.store.messages.of(person)) == 1000


def test_a_flood_of_readable_texts_is_bounded_by_the_hour_and_starts_afresh(line: Line, clock: Clock) -> None:
    said = []
    for number in range(150):
        said += take(line, f"tomatoes {20 + number % 50} cb at {6 + number % 30} in")
        clock.now += timedelta(seconds=20)
    assert len(said) <= 60
    clock.now += timedelta(hours=2)
    assert take(line, "tomatoes 45 cb at 12 in")


def test_a_flood_does_not_silence_danger_or_a_call_for_a_person(line: Line) -> None:
    for seed in range(60):
        take(line, junk(seed))
    assert take(line, junk(61)) == []
    assert take(line, "the pump gave me a shock")
    assert take(line, "let me talk to a person")


def test_a_flood_of_one_number_leaves_the_others_answered(line: Line) -> None:
    for seed in range(100):
        take(line, junk(seed))
    assert take(line, junk(101), "+15550102")


def test_junk_from_very_many_numbers_is_bounded_together(line: Line) -> None:
    """Beyond 600 an hour it is an attack or a broken machine."""
    said = sum(len(take(line, junk(number), f"+1555{number:05}")) for number in range(700))
    assert said <= 600


def test_stop_ends_everything(line: Line, clock: Clock) -> None:
    for seed in range(40):
        take(line, junk(seed))
    confirmed = take(line, "STOP")
    assert len(confirmed) == 1
    for seed in range(1000):
        clock.now += timedelta(seconds=100)
        assert take(line, junk(seed) if seed % 2 else "tomatoes 45 cb at 12 in") == []
