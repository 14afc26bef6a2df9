"""Rain that falls as the person writes, told apart from rain that fell."""

from __future__ import annotations

import pytest

from bot.talk.raining import raining_now

NOW = [
    "its raining now",
    "It's raining!",
    "it is raining here right now",
    "raining hard",
    "finally raining",
    "it started raining",
    "esta lloviendo",
    "Está lloviendo ahorita",
    "ya esta lloviendo fuerte",
    "hola, está lloviendo",
    "ya empezó a llover",
    "llueve",
]
ELSE = [
    "it rained",
    "rained hard",
    "raining 0.4 in",
    "its raining on the lawn and i watered",
    "is it raining",
    "is it raining?",
    "lluvia 10 mm",
    "it's not raining",
    "no esta lloviendo",
    "llovio",
    "will it be raining tomorrow",
]


@pytest.mark.parametrize("text", NOW)
def test_rain_that_falls_now_is_seen(text: str) -> None:
    assert raining_now(text)


@pytest.mark.parametrize("text", ELSE)
def test_rain_that_fell_or_is_asked_about_is_read_as_any_text(text: str) -> None:
    assert not raining_now(text)
