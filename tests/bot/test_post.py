"""The post: order, patience, STOP, and what becomes of texts that come late, shuffled and twice."""

from __future__ import annotations

import random
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from dry_july import dry_weather

from bot.line import Line, Message, open_line
from bot.post import Letter

ANN, BEN = "+15550101", "+15550102"
NOON = datetime(2026, 7, 14, 12, 0, tzinfo=UTC)
WEATHER = dry_weather(NOON, ahead=7)


class Clock:
    """Noon of an invented day, moved on by a test."""

    def __init__(self) -> None:
        self.now = NOON

    def __call__(self) -> datetime:
        return self.now

    def pass_(self, **time: float) -> None:
        self.now += timedelta(**time)


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def line(clock: Clock) -> Line:
    return open_line(None, WEATHER, clock)


def put(line: Line, clock: Clock, text: str, number: str = ANN, **more: Any) -> int:
    return line.store.outbox.put("sms", number, text, at=clock.now, **more)


def due(line: Line, channel: str = "sms") -> list[str]:
    return [letter.text for letter in line.post.due(channel)]


def only(line: Line) -> Letter:
    (letter,) = line.post.due("sms")
    return letter


def states(line: Line) -> dict[str, int]:
    return line.store.outbox.counts().get("sms", {})


# Order, and who gets what


def test_letters_come_in_order_and_stay_until_they_were_taken(line: Line, clock: Clock) -> None:
    for text in ("one", "two", "three"):
        put(line, clock, text)
    assert due(line) == due(line) == ["one", "two", "three"]
    line.post.took(line.post.due("sms")[0], "m1")
    assert due(line) == ["two", "three"]


def test_each_channel_gets_its_own(line: Line, clock: Clock) -> None:
    put(line, clock, "one")
    assert due(line, "telegram") == []


def test_a_letter_that_failed_holds_back_the_later_ones_to_its_address_alone(line: Line, clock: Clock) -> None:
    for text, number in (("one", ANN), ("two", ANN), ("other", BEN)):
        put(line, clock, text, number)
    line.post.failed(line.post.due("sms")[0], "no signal")
    assert due(line) == ["other"]
    clock.pass_(seconds=30)
    assert due(line) == ["one", "two", "other"]


def test_a_letter_put_in_for_later_holds_back_nobody(line: Line, clock: Clock) -> None:
    put(line, clock, "tomorrow", due_at=clock.now + timedelta(days=1))
    put(line, clock, "now")
    assert due(line) == ["now"]


def test_a_letter_taken_twice_is_taken_once(line: Line, clock: Clock) -> None:
    put(line, clock, "one")
    letter = only(line)
    line.post.took(letter, "m1")
    line.post.took(letter, "m2")
    line.post.reported("sms", "m1", True)
    assert states(line) == {"arrived": 1}


def test_the_text_of_a_letter_goes_with_it(line: Line, clock: Clock) -> None:
    put(line, clock, "one")
    line.post.took(only(line), "m1")
    assert line.store._database.rows("SELECT text FROM outbox")[0]["text"] == ""


# Patience


def test_the_waits_grow_to_an_hour(line: Line, clock: Clock) -> None:
    put(line, clock, "one")
    waits = []
    for _ in range(9):
        line.post.failed(only(line), "no signal")
        begun = clock.now
        while not due(line):
            clock.pass_(seconds=30)
        waits.append((clock.now - begun).total_seconds())
    assert waits == [30, 60, 120, 240, 480, 960, 1920, 3600, 3600]


def test_a_wait_that_the_network_asked_for_is_kept_up_to_an_hour(line: Line, clock: Clock) -> None:
    put(line, clock, "one")
    line.post.failed(only(line), "slow down", wait_s=7)
    clock.pass_(seconds=6)
    assert due(line) == []
    clock.pass_(seconds=1)
    line.post.failed(only(line), "slow down", wait_s=86_400)
    clock.pass_(hours=1)
    assert due(line) == ["one"]


def test_a_letter_dies_after_a_day_and_staff_still_sees_its_text(line: Line, clock: Clock) -> None:
    put(line, clock, "one")
    while due(line) and states(line).get("waiting"):
        line.post.failed(only(line), "no signal")
        clock.pass_(hours=1)
    assert states(line) == {"dead": 1}
    assert timedelta(days=1) < clock.now - NOON <= timedelta(days=1, hours=2)
    assert [(letter.text, letter.problem) for letter in line.store.outbox.dead()] == [("one", "no signal")]


def test_a_dead_letter_holds_back_nobody(line: Line, clock: Clock) -> None:
    put(line, clock, "one")
    put(line, clock, "two")
    line.post.refused(line.post.due("sms")[0], "no such number")
    assert due(line) == ["two"]


def test_a_report_of_loss_is_kept(line: Line, clock: Clock) -> None:
    put(line, clock, "one")
    line.post.took(only(line), "m1")
    line.post.reported("sms", "m1", False)
    assert states(line) == {"lost": 1}


def test_an_answer_does_not_wait_for_a_wrong_time_to_come_again(line: Line, clock: Clock) -> None:
    clock.pass_(days=400)
    put(line, clock, "WAIT lawn")
    put(line, clock, "the office is closed", kind="notice", due_at=clock.now + timedelta(hours=1))
    assert due(line) == ["WAIT lawn"]
    clock.pass_(days=-400)
    assert due(line) == ["WAIT lawn"]


# STOP


def test_what_nobody_asked_for_is_withheld_after_stop_and_the_confirmation_goes_out(line: Line, clock: Clock) -> None:
    line.take(Message(channel="sms", sender=ANN, text="tomatoes 45 cb at 12 in"))
    person = line.store.people.known("sms", ANN)
    for letter in line.post.due("sms"):
        line.post.took(letter)
    put(line, clock, "look at the tomatoes", kind="notice", person=person)
    line.take(Message(channel="sms", sender=ANN, text="STOP"))
    assert len(due(line)) == 1
    assert "look at the tomatoes" not in due(line)
    assert states(line)["withheld"] == 1


def test_a_person_who_blocked_the_line_has_stopped(line: Line, clock: Clock) -> None:
    line.take(Message(channel="sms", sender=ANN, text="tomatoes 45 cb at 12 in"))
    assert len(due(line)) > 1
    line.post.refused(line.post.due("sms")[0], "blocked", stopped=True)
    assert due(line) == []
    person = line.store.people.known("sms", ANN)
    assert person is not None
    assert person.stopped
    put(line, clock, "look at the tomatoes", kind="notice", person=person)
    assert "look at the tomatoes" not in due(line)


# Pictures


def test_a_letter_brings_the_picture_that_its_reply_showed_drawn_when_it_is_sent(line: Line) -> None:
    """The same letter of a twin line: what is drawn later is what would have been drawn at once."""
    texts = ["tomatoes 60 cb at 12 in, sandy loam", "watered 40 min", "graph"]
    for text in texts:
        line.take(Message(channel="telegram", sender="501", text=text))
    line.take(Message(channel="telegram", sender="501", text="tomatoes 20 cb at 12 in"))
    twin = open_line(None, WEATHER, lambda: NOON)
    shown = [twin.receive(Message(channel="telegram", sender="501", text=text)) for text in texts][-1]
    (expected,) = [reply.picture.draw() for reply in shown if reply.picture]
    assert [found for letter in line.post.due("telegram") if (found := line.post.picture(letter))] == [expected]


def test_a_graph_of_what_was_erased_since_goes_without_its_picture(line: Line) -> None:
    for text in ("tomatoes 60 cb at 12 in, sandy loam", "graph"):
        line.take(Message(channel="telegram", sender="501", text=text))
    (letter,) = [each for each in line.post.due("telegram") if each.advice]
    person = line.store.people.known("telegram", "501")
    assert person is not None
    line.store.holdings.forget(person, NOON.replace(tzinfo=None))
    assert line.post.picture(letter) is None


# Late, shuffled and doubled


# A week of one person, each day after the last; texts that hang on no question.
WEEK = [
    "tomatoes 30 cb at 12 in",
    "watered tomatoes 40 min",
    "lawn 45 cb at 6 in",
    "0.3 in rain",
    "tomatoes 52 cb at 12 in",
    "watered lawn 25 min",
    "tomatoes 60 cb at 12 in, loam",
    "lawn 70 cb at 6 in",
    "tomatoes 25 cb at 12 in",
    "watered tomatoes 1 hour",
]


def week() -> list[Message]:
    """Sent through a week that ended more than a day before NOON, all of them with ids of the network."""
    begun = NOON - timedelta(days=7, hours=2)
    return [
        Message(channel="sms", sender=ANN, text=text, id=f"m{number}", sent_at=begun + timedelta(hours=16 * number))
        for number, text in enumerate(WEEK)
    ]


def handed(order: list[Message]) -> tuple[Line, Clock, list[str]]:
    """A known line after it was handed these; and all that it put into the post for them."""
    clock = Clock()
    line = open_line(None, WEATHER, clock)
    for text in ("tomatoes, loam, 74059", "also a lawn"):
        line.take(Message(channel="sms", sender=ANN, text=text))
    for letter in line.post.due("sms"):
        line.post.took(letter)
    for message in order:
        line.take(message)
        clock.pass_(seconds=1)
    clock.pass_(minutes=2)
    return line, clock, due(line)


def record(line: Line) -> dict[str, Any]:
    """What is held in the end, in the order of the days."""
    person = line.store.people.known("sms", ANN)
    assert person is not None
    state = line.store.holdings.state(person)
    state["observations"].sort(key=lambda each: sorted((key, str(value)) for key, value in each.items()))
    state["plots"].sort(key=lambda plot: str(plot["name"]))
    return state


@pytest.mark.parametrize("seed", range(10))
def test_a_week_shuffled_and_doubled_leaves_the_same_record_and_no_double_reply(seed: int) -> None:
    straight, _, _ = handed(week())
    chance = random.Random(seed)
    mixed = week() + chance.choices(week(), k=6)
    chance.shuffle(mixed)
    line, _, replies = handed(mixed)
    assert record(line) == record(straight)
    person = line.store.people.known("sms", ANN)
    assert person is not None
    messages = [message for message in line.store.messages.of(person) if str(message.their_id).startswith("m")]
    assert [message.text for message in messages] == WEEK
    assert len(replies) == len(set(replies)) <= 2


def test_texts_older_than_a_day_get_one_joint_reply() -> None:
    """After an outage of days: a person wants to know where they stand, not to read old advice."""
    _, _, replies = handed(week())
    assert len(replies) == len(set(replies)) <= 2
    assert sum("tomatoes" in reply or "lawn" in reply for reply in replies) == 1


def test_the_joint_reply_waits_until_no_more_comes_but_the_greeting_does_not(line: Line, clock: Clock) -> None:
    old = NOON - timedelta(days=3)
    for number in range(5):
        line.take(Message(channel="sms", sender=ANN, text=f"tomatoes {30 + number} cb at 12 in", sent_at=old))
        clock.pass_(seconds=20)
        (greeting,) = due(line)
        assert "a computer answers" in greeting
    clock.pass_(seconds=60)
    assert len(due(line)) > 1


def test_a_late_text_that_wants_no_answer_takes_nothing_back(line: Line, clock: Clock) -> None:
    line.take(Message(channel="sms", sender=ANN, text="tomatoes 60 cb at 12 in", sent_at=NOON - timedelta(days=3)))
    line.take(Message(channel="sms", sender=ANN, text="thanks", sent_at=NOON - timedelta(days=2)))
    clock.pass_(minutes=2)
    assert any("tomatoes" in text for text in due(line))


def test_the_joint_reply_tells_of_every_plot_and_keeps_the_greeting(line: Line, clock: Clock) -> None:
    for text in ("tomatoes 60 cb at 12 in", "lawn 20 cb at 6 in", "0.1 in rain on the lawn"):
        line.take(Message(channel="sms", sender=ANN, text=text, sent_at=NOON - timedelta(days=3)))
    clock.pass_(minutes=2)
    greeting, *joint = due(line)
    assert "a computer answers" in greeting
    assert "tomatoes" in joint[0]
    assert "lawn" in joint[0]
    assert not any("WATER" in text or "WAIT" in text for text in joint[1:])


def test_a_part_of_a_text_is_read_and_the_missing_part_named(line: Line) -> None:
    line.take(Message(channel="sms", sender=ANN, text="tomatoes 60 cb at 12 in, and the", media="part"))
    assert any("Part of your text is missing" in text for text in due(line))
    assert any("60 cb" in text for text in due(line))


def test_a_new_text_is_answered_at_once_and_takes_the_place_of_the_joint_reply(line: Line, clock: Clock) -> None:
    line.take(Message(channel="sms", sender=ANN, text="tomatoes 30 cb at 12 in", sent_at=NOON - timedelta(days=3)))
    line.take(Message(channel="sms", sender=ANN, text="tomatoes 60 cb at 12 in"))
    now = due(line)
    assert now
    clock.pass_(hours=1)
    assert due(line) == now
