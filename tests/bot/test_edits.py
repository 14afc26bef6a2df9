"""A message whose words were changed: the new ones count, in the place of the old ones."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

import pytest
from dry_july import dry_weather

from bot.line import Line, Message, open_line
from bot.message import Reply

# Invented: a hot, dry July.
NOON = datetime(2026, 7, 14, 12, 0)
WEATHER = dry_weather(NOON, ahead=0)


class Talk:
    """One person's talk with a line whose clock is moved by hand."""

    def __init__(self) -> None:
        self.now, self.edits = NOON, 0
        self.line: Line = open_line(None, WEATHER, lambda: self.now)

    def __call__(self, text: str, id: str, *, edits: bool = False) -> list[Reply]:
        self.edits += edits
        more: dict[str, Any] = {"id": f"{id}/{self.edits}", "replaces": id} if edits else {"id": id}
        self.now += timedelta(minutes=1)
        return self.line.receive(
            Message(channel="telegram", sender="501", text=text, sent_at=self.now if not edits else NOON, **more)
        )

    def edit(self, id: str, text: str) -> str:
        return " ".join(each.text for each in self(text, id, edits=True))

    def record(self) -> list[tuple[str, Any]]:
        """Kind and value or minutes of what counts."""
        person = self.line.store.people.known("telegram", "501")
        assert person is not None
        history = self.line.store.log.history(person)
        return [(each.kind, each.slots.get("value") or each.slots.get("minutes")) for each in history if each.in_force]

    def facts(self) -> tuple[Any, Any, Any]:
        person = self.line.store.people.known("telegram", "501")
        assert person is not None
        (plot,) = self.line.store.plots.of(person)
        return plot.name, plot.facts.soil, plot.facts.method


@pytest.fixture
def talk() -> Talk:
    return Talk()


def test_an_edit_takes_the_place_of_what_was_told(talk: Talk) -> None:
    talk("tomatoes 45 cb at 12 in", "1")
    assert "Fixed: tomatoes on Tue Jul 14: 54 cb at 12 in. The old one is taken back." in talk.edit(
        "1", "tomatoes 54 cb at 12 in"
    )
    assert talk.record() == [("reading", 54.0)]


def test_an_edit_of_an_edit_leaves_only_the_last(talk: Talk) -> None:
    talk("tomatoes 45 cb at 12 in", "1")
    for value in (54, 55, 56):
        talk.edit("1", f"tomatoes {value} cb at 12 in")
    assert talk.record() == [("reading", 56.0)]


@pytest.mark.parametrize(
    "same", ["tomatoes 45 cb at 12 in", "Tomatoes  45 cb at 12 in!", "tomatoes 45 centibars at 12 inches"]
)
def test_an_edit_that_changes_nothing_does_nothing(talk: Talk, same: str) -> None:
    talk("tomatoes 45 cb at 12 in", "1")
    assert talk.edit("1", same) == ""
    assert talk.record() == [("reading", 45.0)]


def test_an_edit_that_arrives_twice_counts_once(talk: Talk) -> None:
    talk("tomatoes watered 30 min", "1")
    for _ in range(2):
        talk.line.receive(
            Message(channel="telegram", sender="501", text="tomatoes watered 40 min", id="1/9", replaces="1")
        )
    assert talk.record() == [("watering", 40.0)]


def test_what_was_told_since_stands(talk: Talk) -> None:
    talk("tomatoes 45 cb at 12 in", "1")
    talk("tomatoes watered 30 min", "2")
    talk.edit("1", "tomatoes 54 cb at 12 in")
    assert sorted(talk.record()) == [("reading", 54.0), ("watering", 30.0)]


def test_an_edit_is_of_the_day_on_which_the_old_words_were_written(talk: Talk) -> None:
    talk("tomatoes watered 30 min yesterday", "1")
    talk.now += timedelta(hours=20)  # the next morning
    assert "Mon Jul 13: 45 min of water" in talk.edit("1", "tomatoes watered 45 min yesterday")


def test_after_a_day_an_old_message_stays_as_it_is_and_the_person_is_told(talk: Talk) -> None:
    talk("tomatoes 45 cb at 12 in", "1")
    talk.now += timedelta(hours=25)
    assert "over a day old" in talk.edit("1", "tomatoes 54 cb at 12 in")
    assert talk.record() == [("reading", 45.0)]


def test_words_that_cannot_be_read_take_nothing_back(talk: Talk) -> None:
    talk("tomatoes 45 cb at 12 in", "1")
    assert "could not read" in talk.edit("1", "blorp zwix")
    assert talk.record() == [("reading", 45.0)]
    talk("SKIP", "2")  # answers what was asked before the edit
    talk("2", "3")
    assert talk.facts()[1] == "sandy_loam"


def test_words_that_could_not_be_read_can_be_set_right(talk: Talk) -> None:
    talk("qwrtz mnbv", "1")
    assert "Saved: tomatoes on Tue Jul 14: 45 cb at 12 in" in talk.edit("1", "tomatoes 45 cb at 12 in")


def test_an_edited_answer_answers_the_question_that_it_answered(talk: Talk) -> None:
    """Not the one that came after it: 3 would be a way of watering there."""
    talk("tomatoes", "1")
    talk("SKIP", "2")
    talk("2", "3")
    assert talk.facts() == ("tomatoes", "sandy_loam", None)
    said = talk.edit("3", "3")
    assert talk.facts() == ("tomatoes", "loam", None)
    assert "How do you water" in said


def test_an_edit_of_an_earlier_message_is_no_answer_to_what_was_asked_since(talk: Talk) -> None:
    talk("tomatoes 45 cb at 12 in", "1")
    talk("SKIP", "2")
    assert "What soil" not in talk.edit("1", "tomatoes 54 cb at 12 in")
    talk("2", "3")
    assert talk.facts() == ("tomatoes", "sandy_loam", None)


def test_a_question_about_a_plot_that_an_edit_took_back_is_asked_of_the_new_one(talk: Talk) -> None:
    talk("tomatoes", "1")
    talk("SKIP", "2")
    assert "What soil" in talk.edit("1", "peppers")
    talk("2", "3")
    assert talk.facts() == ("peppers", "sandy_loam", None)


def test_undo_takes_back_the_edit(talk: Talk) -> None:
    talk("tomatoes 45 cb at 12 in", "1")
    talk.edit("1", "tomatoes 54 cb at 12 in")
    talk("UNDO", "2")
    assert talk.record() == []


def test_an_edit_of_something_never_seen_is_read_as_new(talk: Talk) -> None:
    assert "Saved: tomatoes" in talk.edit("77", "tomatoes 54 cb at 12 in")
