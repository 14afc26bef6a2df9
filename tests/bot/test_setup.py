"""Which question comes next, and which choice a short answer names."""

import pytest

from bot.talk.setup import chosen, next_question, units_used
from rules.terms import Plot


def test_questions_come_in_the_order_of_what_they_decide():
    assert next_question(Plot(), False, []) == "plant"
    assert next_question(Plot(plant="peach"), False, []) == "place"
    assert next_question(Plot(plant="peach"), True, []) == "soil"
    assert next_question(Plot(plant="peach", soil="loam"), True, []) == "method"
    assert next_question(Plot(plant="peach", soil="loam", method="drip"), True, []) is None


def test_nothing_is_asked_twice_and_four_questions_are_the_most():
    asked: list[str] = []
    while (about := next_question(Plot(), False, asked)) is not None:
        asked.append(about)
    assert asked == ["plant", "place", "soil", "method"]


def test_a_pot_is_asked_neither_for_its_soil_nor_for_a_rate():
    assert next_question(Plot(plant="tomato", container_litres=19), True, []) is None


@pytest.mark.parametrize(
    ("text", "choices", "letters", "expected"),
    [
        ("2", ("sand", "loam"), False, "loam"),
        ("loam", ("sand", "loam"), False, "loam"),
        ("yes", ("yes", "no"), False, "yes"),
        ("Sí", ("yes", "no"), False, "yes"),
        ("nope", ("yes", "no"), False, "no"),
        ("C", ("wet", "moist", "slightly_moist", "dry"), True, "slightly_moist"),
        ("D powder", ("wet", "moist", "slightly_moist", "dry"), True, "dry"),
        ("the second one", ("sand", "loam"), False, "loam"),
        ("la primera", ("sand", "loam"), False, "sand"),
        ("the last one i think", ("sand", "loam", "clay"), False, "clay"),
        ("two", ("sand", "loam"), False, "loam"),
        ("the third one", ("sand", "loam"), False, None),
        ("3", ("sand", "loam"), False, None),
        ("a", ("sand", "loam"), False, None),
        ("45 at 12 on the peaches and the apples too", ("sand", "loam"), False, None),
    ],
)
def test_a_short_answer_names_a_choice_or_none(text, choices, letters, expected):
    assert chosen(text, choices, letters) == expected


@pytest.mark.parametrize(
    ("text", "units"),
    [
        ("the hose lies in the shade", None),
        ("45 at 12 in", "us"),
        ('6" down', "us"),
        ("20 mm", "metric"),
        ("12 in or 30 cm", None),
    ],
)
def test_units_are_taken_from_a_text_that_names_them_and_an_in_alone_is_no_inch(text, units):
    assert units_used(text) == units
