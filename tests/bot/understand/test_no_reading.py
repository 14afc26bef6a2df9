"""Figures beside a sign or a dry day: hours of the day are no readings, and what an instrument shows is no rain.

Source of the expected values: common sense of the trade, no published source; in doubt nothing is stored.
"""

from __future__ import annotations

from datetime import datetime

import pytest

from bot.understand import Context, Rain, Reading, Sign, Unclear, read

_NOW = datetime(2026, 7, 15, 9, 30)
_TENSION = Context(now=_NOW, probe="tension")


@pytest.mark.parametrize(
    "text",
    [
        "leaves folded by 9",
        "curling by nine this morning",
        "droopy by 3 every afternoon",
        "vines flagging around 11",
        "peaches wilting at 3",
        "marchitas para las 10",
        "las hojas se doblan a la 1",
    ],
)
def test_the_hour_at_which_leaves_wilt_is_no_reading(text: str) -> None:
    made = read(text, _TENSION).statements
    assert [type(one) for one in made] == [Sign]


@pytest.mark.parametrize("text", ["peaches droopy at 45", "droopy, probe says 45", "wilting by 9, 45 cb"])
def test_a_figure_that_is_no_hour_stays_a_reading_beside_the_sign(text: str) -> None:
    made = read(text, _TENSION).statements
    assert [one.value for one in made if isinstance(one, Reading)] == [45.0]


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("no llovio, marca 66", 66.0),
        ("no ha llovido y marca 80", 80.0),
        ("no rain, reads 60", 60.0),
        ("no rain, 66", 66.0),
        ("didn't rain here. says 70", 70.0),
    ],
)
def test_after_no_rain_a_figure_is_what_the_instrument_shows(text: str, value: float) -> None:
    rain, reading = read(text, _TENSION).statements
    assert isinstance(rain, Rain)
    assert rain.depth_mm == 0.0
    assert isinstance(reading, Reading)
    assert reading.value == value


@pytest.mark.parametrize("text", ["no rain 66", "llovio poquito, marca 66", "rained some, reads 70"])
def test_a_figure_of_rain_or_instrument_is_asked_about(text: str) -> None:
    assert read(text, _TENSION).statements == (Unclear(text=text),)


@pytest.mark.parametrize("text", ["not much rain, .2", "rained .2, not enough"])
def test_little_rain_keeps_its_depth(text: str) -> None:
    assert read(text, _TENSION).statements == (Rain(on=_NOW.date(), depth_mm=pytest.approx(5.08)),)
