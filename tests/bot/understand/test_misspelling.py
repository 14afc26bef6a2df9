"""Misspelt words are mended, and never into a number, a unit or a month that nobody wrote. Cases: common slips, from memory."""

from __future__ import annotations

from datetime import datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.understand import Context, Fact, Rain, Reading, Watering, read
from bot.understand import words as lists
from bot.understand.lexicon import mended, mended_unit, unit_forms

_COUNTING = ("small", "tens", "hundreds", "scale", "part", "month")
_NUMBER_WORDS = {
    word
    for language in lists.LANGUAGES
    for term in lists.terms(language)
    if term.tag in _COUNTING
    for word in term.words
}
_UNITS = {word for term in lists.units() for word in term.words} - {"meter", "meters"}  # an instrument's name too
_CONTEXT = Context(now=datetime(2026, 7, 15, 9, 30), plots=("peaches",), probe="tension")


@pytest.mark.parametrize(
    ("written", "meant"),
    [("irrigatd", "irrigated"), ("tensiometr", "tensiometer"), ("sprinlkers", "sprinklers"), ("meetr", "meter")],
)
def test_a_near_miss_is_mended(written: str, meant: str) -> None:
    assert mended(written) == meant


@pytest.mark.parametrize("written", ["wander", "marge", "lomm", "twently"])
def test_a_word_just_too_far_stays_as_written(written: str) -> None:
    assert mended(written) == written


@pytest.mark.parametrize(("written", "meant"), [("hors", "hours"), ("galonez", "galones"), ("gallns", "gallons")])
def test_a_long_unit_is_mended_by_one_slip(written: str, meant: str) -> None:
    assert mended_unit(written) == meant


@pytest.mark.parametrize("written", ["hrrs", "mintss", "gllns", "points", "hosts"])
def test_a_unit_two_slips_away_or_a_word_of_its_own_is_not(written: str) -> None:
    assert mended_unit(written) == written


def test_a_unit_is_mended_only_after_a_number() -> None:
    (watering,) = read("watered 2 hors", _CONTEXT).statements
    assert isinstance(watering, Watering)
    assert watering.minutes == 120.0
    assert not [one for one in read("hors peaches", _CONTEXT).statements if isinstance(one, Watering)]


def test_two_letters_changed_about_make_no_unit_where_nothing_was_counted() -> None:
    assert mended("dasy") == "dasy"


@settings(deadline=None)
@given(st.text(st.sampled_from("abcdefghilmnoprstuvy"), min_size=4, max_size=12))
def test_mending_never_makes_a_number_a_unit_or_a_month(word: str) -> None:
    assert mended(word) == word or mended(word) not in _NUMBER_WORDS | _UNITS


@settings(deadline=None)
@given(st.text(st.sampled_from("aeiourstnlmdc "), max_size=60))
def test_a_text_without_figures_or_number_words_gives_no_amount(text: str) -> None:
    said = set(text.split())
    if said & _NUMBER_WORDS or said & set(unit_forms()):
        return
    for one in read(text, _CONTEXT).statements:
        assert not isinstance(one, Reading) or isinstance(one.value, str)
        assert not isinstance(one, Watering) or (one.minutes, one.depth_mm, one.litres) == (None, None, None)
        assert not isinstance(one, Rain) or one.depth_mm in (None, 0.0)
        assert not isinstance(one, Fact) or not isinstance(one.value, float)
