"""One question at a time: its choices have numbers, it can be skipped, and it says what is then taken."""

from datetime import date

import pytest

from bot.word.asking import CHOICES
from bot.word.say import Words

TODAY = date(2026, 7, 1)
VOICES = [Words(language, units, "sms", TODAY) for language in ("en", "es") for units in ("us", "metric")]
EN = VOICES[0]
ABOUT = (
    "plant", "place", "soil", "method", "rate", "probe", "quantity", "depth", "plot", "amount", "date", "feel",
    "root_depth_cm", "rate_mm_h", "stage", *(about for about in CHOICES if about.startswith("texture")),
)  # fmt: skip


@pytest.mark.parametrize("words", VOICES, ids=lambda words: f"{words.language}-{words.units}")
@pytest.mark.parametrize("about", ABOUT)
def test_a_question_can_be_skipped_and_fits_one_segment(about, words):
    said = words.question(about, plot="lower pears", value=25.0)
    assert "SKIP" in said or "SALTAR" in said
    assert words.segments(said) == 1, said


@pytest.mark.parametrize("words", VOICES, ids=lambda words: f"{words.language}-{words.units}")
@pytest.mark.parametrize("about", sorted(CHOICES))
def test_every_choice_is_named_with_its_mark(about, words):
    said = words.question(about, value=25.0)
    marks = "ABCD" if about == "feel" else "123456789"
    assert words.choices(about) == CHOICES[about]
    assert all(f"{mark} " in said for mark in marks[: len(CHOICES[about])])


def test_choices_of_the_caller_come_first():
    assert "1 peaches, 2 lower pears?" in EN.question("plot", offered=["peaches", "lower pears"])
    assert "1 sandy loam, 2 clay?" in EN.question("soil", "peaches", offered=["sandy_loam", "clay"])


def test_more_than_one_place_is_asked_by_name():
    said = EN.question("place", offered=["Dry Fork, north", "Dry Fork, south"])
    assert "1 Dry Fork, north, 2 Dry Fork, south" in said


def test_what_is_taken_can_be_named():
    assert EN.question("soil", assumed="clay").endswith("Or SKIP: I take clay.")
    assert EN.question("soil").endswith("Or SKIP: I take loam.")


def test_a_bare_number_is_asked_back_as_it_was_told():
    assert EN.question("quantity", value=25.0).startswith("25 what? 1 centibars on a gauge, 2 percent on a meter,")


def test_too_many_choices_still_fit_and_show_that_there_are_more():
    said = EN.question("plot", offered=[f"block number {number}" for number in range(40)])
    assert EN.segments(said) <= 2
    assert ", .." in said
    assert said.endswith("SKIP: I leave it out.")


@pytest.mark.parametrize("words", VOICES, ids=lambda words: f"{words.language}-{words.units}")
def test_ribbon_lengths_are_those_of_the_tree(words):
    said = words.question("texture.length")
    assert ("1 in" in said or "1 pulg" in said) == (words.units == "us")
    assert ("2.5 cm" in said and "5 cm" in said) == (words.units == "metric")
