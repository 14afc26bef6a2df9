"""Closing and opening the system: what speaks of it, and what only sounds like it. Common practice, no published source."""

from __future__ import annotations

import pytest

from bot.line import Message, open_line
from bot.talk.year import said_of_year


@pytest.mark.parametrize(
    ("text", "about"),
    [
        ("how do I winterize my sprinklers?", "close"),
        ("WINTERIZE", "close"),
        ("is it time for the last watering", "close"),
        ("last watering?", "close"),
        ("shut it off for the year?", "close"),
        ("when do i stop watering for the winter", "close"),
        ("close the season", "close"),
        ("como cierro el riego para el invierno", "close"),
        ("ultimo riego?", "close"),
        ("CERRAR", "close"),
        ("closed the system for the winter", "closed"),
        ("drained the lines today", "closed"),
        ("ya cerre el sistema", "closed"),
        ("what pressure for the blow out?", "blow_out"),
        ("can i blow out the lines with my compressor", "blow_out"),
        ("how do i start up the drip system this spring", "open"),
        ("last watering was tuesday 2 hours", None),
        ("last watered for the peaches: 2 h", None),
        ("ya cerre el riego", None),
        ("close peaches", None),
        ("when do I stop watering", None),
        ("the winter was dry", None),
        ("shut off the water", None),
    ],
)
def test_what_speaks_of_the_ends_of_a_season(text: str, about: str | None) -> None:
    assert said_of_year(text) == about


@pytest.mark.parametrize(
    "text",
    ["what psi for the blow out", "blow out the sprinklers how many psi", "que presion para soplar con compresor"],
)
def test_a_pressure_for_a_blow_out_is_never_given(text: str) -> None:
    line = open_line()
    said = " ".join(each.text for each in line.receive(Message(channel="sms", sender="+15550145", text=text)))
    assert "555-0142" in said
    assert not any(word in said.casefold() for word in (" psi", " bar ", "kpa"))
