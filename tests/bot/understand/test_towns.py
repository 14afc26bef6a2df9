"""A town told with its state, in the middle of anything else. The rules: a name after "in" or its like, and its state."""

from datetime import datetime

import pytest

from bot.understand import read
from bot.understand.statements import Context, Fact

JULY = Context(now=datetime(2026, 7, 19, 8), plots=("lawn",), units="us", probe="tension")


def places(text: str) -> list[str]:
    return [each.value for each in read(text, JULY).statements if isinstance(each, Fact) and each.about == "place"]


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("i have 12 tomato plants in a raised bed in stillwater ok", "stillwater ok"),
        ("40 peach trees near Perkins OK, clay loam", "Perkins OK"),
        ("my lawn is in Sand Springs, OK and its sandy", "Sand Springs, OK"),
        ("tengo 12 duraznos en perkins oklahoma", "perkins oklahoma"),
    ],
)
def test_a_town_with_its_state_is_a_place(text, place):
    assert places(text) == [place]


@pytest.mark.parametrize(
    "text",
    [
        "watered in the morning ok",
        "put it in, hi there",
        "was in, or out, 40 cb",
        "they are in bloom me too",
        "watered by hand in june or july",
    ],
)
def test_small_words_that_are_also_states_make_no_place(text):
    assert places(text) == []


def test_what_is_told_beside_a_place_is_not_lost():
    told = read("40 peach trees in 74059", JULY).statements
    assert [(each.about, each.value) for each in told if isinstance(each, Fact)] == [
        ("count", 40.0),
        ("place", "74059"),
    ]
