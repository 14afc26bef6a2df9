"""Numbers in figures and words, and numbers rendered and read back. Expected values: arithmetic."""

from __future__ import annotations

from datetime import datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.understand import Context, Reading, Watering, read

_CONTEXT = Context(now=datetime(2026, 7, 15, 9, 30), probe="tension")
_ONES = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen"
    " sixteen seventeen eighteen nineteen"
)
_TENS = "twenty thirty forty fifty sixty seventy eighty ninety"
_UNOS = (
    "cero uno dos tres cuatro cinco seis siete ocho nueve diez once doce trece catorce quince"
    " dieciseis diecisiete dieciocho diecinueve"
)
_DIECES = "veinte treinta cuarenta cincuenta sesenta setenta ochenta noventa"


def _value(text: str) -> object:
    (statement,) = read(text, _CONTEXT).statements
    assert isinstance(statement, Reading)
    return statement.value


def _minutes(text: str) -> object:
    (statement,) = read(text, _CONTEXT).statements
    assert isinstance(statement, Watering)
    return statement.minutes


@pytest.mark.parametrize(
    ("said", "value"),
    [
        ("45", 45.0),
        ("2,100", 2100.0),
        ("2,5", 2.5),
        ("2.5", 2.5),
        (".4", 0.4),
        ("0,125", 0.125),
        ("1 1/2", 1.5),
        ("1-1/2", 1.5),
        ("1½", 1.5),
        ("forty five", 45.0),
        ("forty-five", 45.0),
        ("a hundred", 100.0),
        ("one hundred and twenty", 120.0),
        ("twenty one hundred", 2100.0),
        ("two point one", 2.1),
        ("ciento veinte", 120.0),
        ("treinta y cinco", 35.0),
        ("mil doscientos", 1200.0),
        ("30-40", 35.0),
        ("30 to 40", 35.0),
        ("between 30 and 40", 35.0),
        ("entre 30 y 40", 35.0),
        ("about 40", 40.0),
        ("~40", 40.0),
        ("como 40", 40.0),
    ],
)
def test_a_number_is_read(said: str, value: float) -> None:
    assert _value(f"{said} cb") == pytest.approx(value)


@pytest.mark.parametrize(
    ("said", "minutes"),
    [
        ("1 1/2 hrs", 90.0),
        ("an hour and a half", 90.0),
        ("two and a half hours", 150.0),
        ("2 h 15 min", 135.0),
        ("2h30", 150.0),
        ("half an hour", 30.0),
        ("three quarters of an hour", 45.0),
        ("3 x 20 min", 60.0),
        ("20 min x 3", 60.0),
        ("3 cycles of 20 minutes", 60.0),
        ("20 minutes twice", 40.0),
        ("from 6 to 8 am", 120.0),
        ("from 11 pm to 1 am", 120.0),
        ("6:30-7:15", 45.0),
    ],
)
def test_an_english_duration_is_in_minutes(said: str, minutes: float) -> None:
    assert _minutes(f"watered {said}") == pytest.approx(minutes)


@pytest.mark.parametrize(
    ("said", "minutes"),
    [
        ("hora y media", 90.0),
        ("media hora", 30.0),
        ("2 horas y cuarto", 135.0),
        ("dos horas y media", 150.0),
        ("2 tandas de 25 min", 50.0),
        ("dos veces 30 minutos", 60.0),
        ("de 6 a 8 de la mañana", 120.0),
    ],
)
def test_a_spanish_duration_is_in_minutes(said: str, minutes: float) -> None:
    assert _minutes(f"regue {said}") == pytest.approx(minutes)


@settings(deadline=None)
@given(st.integers(0, 400), st.integers(0, 9))
def test_a_figure_is_read_back(whole: int, tenth: int) -> None:
    assert _value(f"{whole}.{tenth} cb") == pytest.approx(whole + tenth / 10)


@settings(deadline=None)
@given(st.integers(1, 999))
def test_thousands_are_read_back(thousand: int) -> None:
    assert _value(f"{thousand},{thousand:03d} ohms") == pytest.approx(thousand * 1001)


@settings(deadline=None)
@given(st.integers(21, 99).filter(lambda number: number % 10))
def test_number_words_are_read_back(number: int) -> None:
    tens, ones = divmod(number, 10)
    assert _value(f"{_TENS.split()[tens - 2]} {_ONES.split()[ones]} centibars") == number
    if tens > 2:
        assert _value(f"{_DIECES.split()[tens - 2]} y {_UNOS.split()[ones]} centibares") == number


@settings(deadline=None)
@given(st.integers(2, 19))
def test_small_number_words_are_read_back(number: int) -> None:
    assert _value(f"{_ONES.split()[number]} centibars") == number
    assert _value(f"{_UNOS.split()[number]} centibares") == number
