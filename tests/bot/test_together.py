"""Messages that come at once share a commit, keep their order, and fail together or not at all."""

from __future__ import annotations

import threading
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

import pytest

from bot.line import open_line
from bot.message import Message
from bot.together import Together

NOON = datetime(2026, 7, 1, 12)


def message(number: int, sender: str = "555-0101") -> Message:
    return Message(channel="sms", sender=sender, text=f"watered {number} min", id=str(number))


def at_once(together: Together, count: int) -> list[Exception]:
    """Bring so many messages from as many threads; the errors that came back."""
    errors: list[Exception] = []

    def bring(number: int) -> None:
        try:
            together.bring(message(number))
        except OSError as error:
            errors.append(error)

    threads = [threading.Thread(target=bring, args=(number,)) for number in range(count)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(60)
    assert not any(thread.is_alive() for thread in threads)
    return errors


def test_what_comes_while_others_are_kept_goes_with_the_next_pile() -> None:
    piles: list[list[str]] = []
    first, go = threading.Event(), threading.Event()

    def keep(pile: Sequence[Message]) -> None:
        piles.append([each.text for each in pile])
        first.set()
        go.wait(60)

    together = Together(keep)
    leader = threading.Thread(target=together.bring, args=(message(0),))
    leader.start()
    first.wait(60)
    others = [threading.Thread(target=together.bring, args=(message(number),)) for number in (1, 2, 3)]
    for other in others:
        other.start()
    while len(together._pile) < 3:
        pass
    go.set()
    for thread in (leader, *others):
        thread.join(60)
    assert [len(pile) for pile in piles] == [1, 3]


def test_everybody_is_kept_once_however_many_come() -> None:
    kept: list[str] = []
    assert at_once(Together(lambda pile: kept.extend(each.text for each in pile)), 120) == []
    assert sorted(kept) == sorted(f"watered {number} min" for number in range(120))


def test_whose_pile_could_not_be_kept_is_told() -> None:
    def full(_: Sequence[Message]) -> None:
        raise OSError("the disk is full")

    assert len(at_once(Together(full), 7)) == 7


def test_a_pile_with_one_that_breaks_keeps_all_and_hands_that_one_to_a_person(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    line = open_line(tmp_path / "line.sqlite", None, lambda: NOON)

    def broken(self: object, statements: object) -> None:
        raise ValueError

    line._take_all([message(10, "555-0101")])
    with monkeypatch.context() as patched:
        patched.setattr("bot.talk.answers.Recorder.keep", broken)
        line._take_all([message(20, "555-0102"), message(30, "555-0103")])
    for sender in ("555-0101", "555-0102", "555-0103"):
        person = line.store.people.known("sms", sender)
        assert person is not None
        assert len(line.store.messages.of(person)) == 1
        assert (line.store.calls.of(person) is None) == (sender == "555-0101")
