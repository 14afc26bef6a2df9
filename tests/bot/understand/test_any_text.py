"""Any text at all gives an answer, in time that grows with its length, and the same answer every time."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.understand import Asked, Context, read, statements, understood_to_json

_NOW = datetime(2026, 7, 15, 9, 30)
_CONTEXT = Context(now=_NOW, plots=("peaches", "tomatoes"), probe="tension")
_ASKED = Context(now=_NOW, plots=("peaches",), asked=Asked(about="soil", plot="peaches", choices=("loam", "clay")))
_TRADE = (
    "peaches tomatoes 45 12 in inches at cb kPa watered yesterday 2 hours no not rain .5 1/2 6/28 tuesday should i water"
    " ? . , and regue ayer duraznos a pulgadas hora y media sorry wait stop all each gal per x from to 6 am % 3/10 roots"
    " soil clay new plot zip - ½ k 5:30 the 4th"
)
_WORDS = _TRADE.split()
_PIECES = [
    "watered peaches 2 hrs, 45 cb at 12. ",
    "45 ",
    "1/8 ",
    "x",
    "? ",
    "how much ",
    "no wait 45 ",
    "((",
    "1-2-",
    "á",
]


@settings(deadline=None)
@given(st.text(max_size=200))
def test_any_text_is_read(text: str) -> None:
    assert read(text, _CONTEXT).language in ("en", "es")
    read(text, _ASKED)


@settings(deadline=None)
@given(st.lists(st.sampled_from(_WORDS), max_size=25).map(" ".join))
def test_any_row_of_trade_words_is_read_and_written_as_json(text: str) -> None:
    understood = read(text, _CONTEXT)
    form = understood_to_json(understood)
    again = tuple(statements.statement_from_json(one) for one in form["statements"])
    assert [type(one) for one in again] == [type(one) for one in understood.statements]
    assert understood_to_json(replace(understood, statements=again)) == form  # numbers are written to a tenth


@settings(deadline=None)
@given(st.lists(st.sampled_from(_WORDS), max_size=15).map(" ".join))
def test_reading_twice_gives_the_same(text: str) -> None:
    assert read(text, _CONTEXT) == read(text, _CONTEXT)


@pytest.mark.parametrize(
    "piece",
    [
        "watered peaches 2 hrs, 45 cb at 12. ",
        "45 ",
        "1/8 ",
        "x",
        "? ",
        "how much ",
        "no wait 45 ",
        "one hundred ",
        "((",
        "1-2-",
        "á",
        "1 ft ",
        "roses and ",
        "el blorb esta en ",
    ],
)
def test_a_very_long_text_is_read_to_its_end(piece: str) -> None:
    """A square law or a runaway pattern would keep this test from ending; the bench measures the time."""
    assert isinstance(read(piece * (100_000 // len(piece)), _CONTEXT).statements, tuple)
