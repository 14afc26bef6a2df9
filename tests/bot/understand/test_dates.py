"""Days as people name them. Expected values: the calendar of July 2026, in which the 15th is a Wednesday."""

from __future__ import annotations

from datetime import date, datetime

import pytest

from bot.understand import Context, Unclear, Watering, read

_NOW = datetime(2026, 7, 15, 9, 30)


def _read(text: str, units: str = "us") -> object:
    (statement,) = read(text, Context(now=_NOW, units=units)).statements
    return statement


@pytest.mark.parametrize(
    ("said", "day"),
    [
        ("", "2026-07-15"),
        ("today", "2026-07-15"),
        ("this morning", "2026-07-15"),
        ("just now", "2026-07-15"),
        ("yesterday", "2026-07-14"),
        ("last night", "2026-07-14"),
        ("yesterday evening", "2026-07-14"),
        ("the day before yesterday", "2026-07-13"),
        ("tues", "2026-07-14"),
        ("last Tuesday", "2026-07-14"),
        ("on Wednesday", "2026-07-08"),
        ("satrday", "2026-07-11"),
        ("Sunday morning", "2026-07-12"),
        ("3 days ago", "2026-07-12"),
        ("three days ago", "2026-07-12"),
        ("a week ago", "2026-07-08"),
        ("two weeks ago", "2026-07-01"),
        ("an hour ago", "2026-07-15"),
        ("on the 4th", "2026-07-04"),
        ("on the 20th", "2026-06-20"),
        ("6/28", "2026-06-28"),
        ("on 6/28", "2026-06-28"),
        ("6/28/26", "2026-06-28"),
        ("2026-06-28", "2026-06-28"),
        ("28 June", "2026-06-28"),
        ("June 28", "2026-06-28"),
        ("June 28th", "2026-06-28"),
        ("on the 28th of June", "2026-06-28"),
        ("7/15", "2026-07-15"),
    ],
)
def test_an_english_day_is_the_latest_past_one(said: str, day: str) -> None:
    assert _read(f"watered {said}") == Watering(on=date.fromisoformat(day))


@pytest.mark.parametrize(
    ("said", "day"),
    [
        ("hoy", "2026-07-15"),
        ("esta mañana", "2026-07-15"),
        ("ayer", "2026-07-14"),
        ("anoche", "2026-07-14"),
        ("ayer por la tarde", "2026-07-14"),
        ("antier", "2026-07-13"),
        ("antes de ayer", "2026-07-13"),
        ("el martes", "2026-07-14"),
        ("el martes pasado", "2026-07-14"),
        ("el miercoles", "2026-07-08"),
        ("el sábado", "2026-07-11"),
        ("hace tres dias", "2026-07-12"),
        ("hace una semana", "2026-07-08"),
        ("el 4 de julio", "2026-07-04"),
        ("el dia 4", "2026-07-04"),
        ("el 28 de junio", "2026-06-28"),
    ],
)
def test_a_spanish_day_is_the_latest_past_one(said: str, day: str) -> None:
    assert _read(f"regué {said}") == Watering(on=date.fromisoformat(day))


@pytest.mark.parametrize(("units", "said"), [("us", "7/5"), ("metric", "5/7")])
def test_figures_are_month_first_in_us_and_day_first_in_metric(units: str, said: str) -> None:
    assert _read(f"watered {said}", units) == Watering(on=date(2026, 7, 5))
    assert _read(f"regue el {said}", units) == Watering(on=date(2026, 7, 5))


@pytest.mark.parametrize("said", ["a few days ago", "the other day", "recently", "last week", "days ago", "in June"])
def test_a_vague_day_is_left_open(said: str) -> None:
    assert _read(f"watered {said}") == Watering(on=None)


@pytest.mark.parametrize("said", ["7/20", "12/3", "on December 3rd", "next Friday", "tomorrow", "7/20/2027"])
def test_a_day_ahead_or_long_past_makes_a_report_unclear(said: str) -> None:
    assert isinstance(_read(f"watered {said}"), Unclear)
