"""Spanish words written by ear are read as they are spelled, and words of their own stay. Cases: common slips, from memory."""

from __future__ import annotations

from datetime import datetime

import pytest

from bot.understand import Context, Rain, Reading, Request, read
from bot.understand import words as lists
from bot.understand.by_sound import meant, sound

_CONTEXT = Context(now=datetime(2026, 7, 15, 9, 30), plots=("viña",), units="metric", probe="tension", language="es")


@pytest.mark.parametrize(
    ("written", "spelled"),
    [
        ("seka", "seca"),
        ("tiera", "tierra"),
        ("anoxe", "anoche"),
        ("umeda", "humeda"),
        ("nesesitan", "necesitan"),
        ("awa", "agua"),
    ],
)
def test_a_word_written_by_ear_is_known_by_its_sound(written: str, spelled: str) -> None:
    assert meant(written) == spelled


@pytest.mark.parametrize("written", ["casa", "mesa", "rama", "gente", "loma", "vaya", "sierra"])
def test_another_word_stays_as_written(written: str) -> None:
    assert meant(written) == written


def test_no_word_becomes_a_number_or_a_month() -> None:
    counting = {term.words[0] for term in lists.terms("es") if term.tag in ("small", "tens", "hundreds", "month")}
    assert meant("kinse") == "kinse"
    assert not {meant(sound(word)) for word in counting if sound(word) not in counting} & counting


def test_k_is_que_unless_it_follows_a_figure() -> None:
    (asked,) = read("k hago con la viña?", _CONTEXT).statements
    assert isinstance(asked, Request)
    (reading,) = read("2.1 k en la viña", _CONTEXT).statements
    assert isinstance(reading, Reading)
    assert reading.quantity == "resistance"


def test_whole_messages_written_by_ear_are_read() -> None:
    (rain,) = read("anoxe yovio 12 mm", _CONTEXT).statements
    assert isinstance(rain, Rain)
    assert (rain.on, rain.depth_mm) == (datetime(2026, 7, 14).date(), 12.0)
    (feel,) = read("la tiera de la vinia esta seka", _CONTEXT).statements
    assert isinstance(feel, Reading)
    assert (feel.value, feel.plot) == ("dry", "viña")
