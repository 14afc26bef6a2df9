"""Conversations played from start to end: `talks/*.json`, in the form that `replay` plays, with what each turn must bring.

Everyone in them is invented. A turn's `expect` may hold:

    replies     how many texts go out; without it at least one must, and never more than four (a greeting and three)
    verdict, plot, asks, person_called, depth_mm, minutes, date    of any one of the replies; null: of none of them
    date_after  a day; the date of every advice must be a later one
    has, lacks  words that the replies together must and must not have
    plots       the names of the plots then held
    holds       observations in force, in order, each with the slots to look at

`because` says where the expectation comes from.
"""

from __future__ import annotations

import json
from collections import defaultdict
from pathlib import Path
from typing import Any

import pytest

from bot.replay import played

HERE = Path(__file__).parent
FIGURES = ("verdict", "plot", "asks", "person_called", "depth_mm", "minutes", "date")
MOST_TEXTS = 4


def play(talk: dict[str, Any]) -> tuple[dict[int, list[dict[str, Any]]], dict[int, dict[str, Any]]]:
    """The replies and the state after each turn."""
    weather = str(HERE / "weather" / talk["weather"]) if talk["weather"] else None
    replies: dict[int, list[dict[str, Any]]] = defaultdict(list)
    states: dict[int, dict[str, Any]] = {}
    for line in played({**talk, "weather": weather}, as_json=True, with_state=True):
        said = json.loads(line)
        if "state" in said:
            states[said["turn"]] = said["state"]
        else:
            replies[said["turn"]].append(said)
    return replies, states


def in_force(state: dict[str, Any], wanted: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The observations that count, with the slots that are wanted of them."""
    held = [each for each in state["observations"] if each["in_force"]]
    slots = [sorted(each) for each in wanted] + [[]] * len(held)
    return [{slot: _rounded(each.get(slot)) for slot in names} for each, names in zip(held, slots, strict=False)]


def _rounded(value: Any) -> Any:
    """Lengths of other units come out to the millimetre."""
    return round(value, 1) if isinstance(value, float) else value


def check(expect: dict[str, Any], replies: list[dict[str, Any]], state: dict[str, Any] | None) -> None:
    """One turn against its expectation."""
    text = "\n".join(each["text"] for each in replies)
    assert len(replies) == expect["replies"] if "replies" in expect else 1 <= len(replies) <= MOST_TEXTS, text
    for figure in FIGURES:
        if figure in expect:
            found = [each[figure] for each in replies if each[figure]]
            assert expect[figure] in found if expect[figure] else not found, (figure, found, text)
    assert sum(each["asks"] is not None for each in replies) <= 1, "one question at a time"
    assert all(each["date"] > expect.get("date_after", "") for each in replies if each["date"]), text
    for words in expect.get("has", ()):
        assert words.casefold() in text.casefold(), text
    for words in expect.get("lacks", ()):
        assert words.casefold() not in text.casefold(), text
    if "plots" in expect:
        assert state is not None
        assert [each["name"] for each in state["plots"]] == expect["plots"]
    if "holds" in expect:
        assert state is not None
        assert in_force(state, expect["holds"]) == expect["holds"]


@pytest.mark.parametrize("path", sorted(HERE.glob("*.json")), ids=lambda path: path.stem)
def test_the_talk_goes_as_it_should(path: Path) -> None:
    talk = json.loads(path.read_text())
    replies, states = play(talk)
    for number, turn in enumerate(talk["turns"]):
        try:
            check(turn.get("expect", {}), replies[number], states.get(number))
        except AssertionError as error:
            raise AssertionError(f"{path.stem}, turn {number} ({turn['text'][:60]!r}): {error}") from error
