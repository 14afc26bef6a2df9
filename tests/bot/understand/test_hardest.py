"""The hardest ambiguities: two readings of a text compete, so nothing of it is stored and its words are asked about.

Source of the expected values: the rule that nothing is guessed (DEVELOPERS.md). Each row tells the two readings that compete.
"""

from __future__ import annotations

from datetime import datetime

import pytest

from bot.understand import Context, Fact, Rain, Reading, Request, Sign, Unclear, Watering, read

_NOW = datetime(2026, 7, 15, 9, 30)  # a Wednesday
_PLOTS = ("peaches", "tomatoes", "lawn")
_STORED = (Reading, Watering, Rain, Fact, Sign)

# text, the instrument of the person, what is asked about
_ASKED: list[tuple[str, str | None, str]] = [
    # 40 minutes, or 40 centibars
    ("watered tomatoes 20 min peaches 40", "tension", "watered tomatoes 20 min peaches 40"),
    # two values, or a depth and its value
    ("peaches 18 45", "tension", "peaches 18 45"),
    # two ranges, or two depths with their values
    ("12-40 24-33", "tension", "12-40 24-33"),
    # the day's heat, or a tension
    ("its 104", "tension", "its 104"),
    # a water content, or a tension from somebody who has no such instrument
    ("moisture reads 24", "tension", "moisture reads 24"),
    # depths, or values beside a third
    ("12 and 24 both say 45", "tension", "12 and 24 both say 45"),
    # the depth of either day is not told
    ("rain sunday and monday, an inch total", None, "rain sunday and monday, an inch total"),
    # a part of ten, or the tenth of July
    ("1 inch 7/10", None, "1 inch 7/10"),
    # fifteen of what
    ("watered lawn 2x15", None, "watered lawn 2x15"),
    # snow is no depth of water
    ("snowed 4 inches", None, "snowed 4 inches"),
    # a texture that nobody named
    ("its a mix of clay and sand", None, "its a mix of clay and sand"),
    # a day ahead, or one nearly a year back
    ("watered 7/20", None, "watered 7/20"),
    # the rain gauge, or the gauge of a tensiometer
    ("the gauge is dry", None, "the gauge is dry"),
    # inches since Sunday in hundredths, or a reading
    ("an inch thirty since sunday", None, "an inch thirty since sunday"),
    # nine inches of what, in an hour of when
    ("9 in an hour", None, "9 in an hour"),
    # what is done every other day is not what was done today
    ("i usually water the peaches every other day for 20 min", None, "i usually water the peaches every other day"),
    # the catches of a can test whose minutes are missing
    ("1/8 1/8 1/4 1/8 1/4 1/8", None, "1/8 1/8 1/4 1/8 1/4 1/8"),
    # every third day is not today
    ("riego cada tercer dia 20 min", None, "riego cada tercer dia 20 min"),
]


def _read(text: str, probe: str | None = None, plots: tuple[str, ...] = _PLOTS) -> tuple[object, ...]:
    return read(text, Context(now=_NOW, plots=plots, probe=probe)).statements


@pytest.mark.parametrize(("text", "probe", "asked"), _ASKED)
def test_of_two_readings_neither_is_stored_and_the_words_are_asked_about(
    text: str, probe: str | None, asked: str
) -> None:
    statements = _read(text, probe)
    assert not [one for one in statements if isinstance(one, _STORED)]
    assert any(isinstance(one, Unclear) and asked in one.text for one in statements)


def test_a_correction_that_is_half_told_keeps_what_is_sure_and_asks_about_the_rest() -> None:
    kept, asked = _read("peaches 45, no tomatoes 45", "tension")
    assert isinstance(kept, Reading)
    assert asked == Unclear(text="no tomatoes 45")


def test_all_but_one_plot_are_the_others_and_a_question_where_there_are_none() -> None:
    watered = _read("everything but the peaches got watered yesterday")
    assert [one.plot for one in watered if isinstance(one, Watering)] == ["tomatoes", "lawn"]
    (asked,) = _read("everything but the peaches got watered yesterday", plots=("peaches",))
    assert isinstance(asked, Unclear)


@pytest.mark.parametrize(
    "text",
    [
        "should have watered sunday",
        "almost watered yesterday but it looked fine",
        "i'll run the lawn tonight 3 hours",
        "its supposed to rain 2 inches saturday",
        "hope it rains",
        "no rain in the forecast",
        "voy a regar los duraznos el jueves",
        "ojala llueva",
    ],
)
def test_what_was_meant_wished_or_foretold_is_not_stored(text: str) -> None:
    assert not [one for one in _read(text) if isinstance(one, _STORED)]


@pytest.mark.parametrize(
    ("text", "wants"),
    [
        ("delete my last entry", ["undo"]),  # not forget: that cannot be taken back
        ("de donde saca eso", ["why"]),  # "saca eso" alone would take the last entry back
        ("when do i stop watering?", ["when"]),
        ("parale", ["stop"]),
        ("oops 54", ["undo"]),
    ],
)
def test_of_two_orders_the_one_that_can_be_mended_is_carried_out(text: str, wants: list[str]) -> None:
    assert [one.want for one in _read(text) if isinstance(one, Request)] == wants
