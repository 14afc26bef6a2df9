"""Stories and dictation: what governs what, who says it, and where one report ends and the next begins.

All expectations follow the rules of reading: what others advise, what would be and what used to be is no report, "the other one"
of two plots is the one not just named, and a figure that runs on has the unit and the day of the one before it.
"""

from __future__ import annotations

from datetime import date, datetime

import pytest

from bot.understand import Context, Rain, Reading, Sign, Statement, Watering, read

_NOW = datetime(2026, 7, 15, 9, 30)
_TODAY, _YESTERDAY, _SUNDAY = date(2026, 7, 15), date(2026, 7, 14), date(2026, 7, 12)


def _told(text: str, *plots: str) -> tuple[Statement, ...]:
    return read(text, Context(now=_NOW, plots=plots, units="us", probe="tension")).statements


@pytest.mark.parametrize(
    "text",
    [
        "my neighbor says you should water roses twice a week",
        "they told me to give each one 15 gallons twice a week",
        "I used to water every day when I was young",
        "if it were up to my father he would water every day",
        "they tell me roses hate wet feet",
        "mi compadre dice que hay que regar diario",
        "antes regaba las rosas cada semana",
        "si fuera por mi padre regaría todos los días",
    ],
)
def test_what_others_advise_and_what_is_not_so_is_no_report(text: str) -> None:
    assert _told(text, "roses") == ()


def test_what_somebody_of_the_house_did_is_a_report() -> None:
    assert _told("my son says he watered the roses yesterday", "roses") == (Watering(on=_YESTERDAY, plot="roses"),)


@pytest.mark.parametrize(
    "text",
    [
        "i watered the roses sunday two hours it has not rained the leaves are drooping",
        "las rosas las regué el domingo dos horas no ha llovido las hojas están caídas",
    ],
)
def test_what_is_told_in_one_breath_parts_at_its_subjects(text: str) -> None:
    assert _told(text, "roses") == (
        Watering(on=_SUNDAY, minutes=120.0, plot="roses"),
        Rain(on=_TODAY, depth_mm=0.0),
        Sign(sign="wilting", plot="roses", on=_TODAY),
    )


def test_an_amount_that_runs_on_has_the_unit_and_the_day_before_it() -> None:
    assert _told("gave the roses 20 minutes last night and the lawn 10", "roses", "lawn") == (
        Watering(on=_YESTERDAY, minutes=20.0, plot="roses"),
        Watering(on=_YESTERDAY, minutes=10.0, plot="lawn"),
    )


def test_a_day_of_both_at_the_end_governs_what_stands_before() -> None:
    assert _told("roses 40, lawn 30, both yesterday", "roses", "lawn") == (
        Reading(quantity="tension", value=40.0, plot="roses", on=_YESTERDAY),
        Reading(quantity="tension", value=30.0, plot="lawn", on=_YESTERDAY),
    )


@pytest.mark.parametrize("text", ["roses are at 40. the other one is at 22", "las rosas marcan 40. el otro marca 22"])
def test_the_other_one_is_the_plot_not_just_named(text: str) -> None:
    assert [one.plot for one in _told(text, "roses", "lawn") if isinstance(one, Reading)] == ["roses", "lawn"]


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("roses are at thirty ate", 38.0),
        ("roses are at forty to", 42.0),
        ("roses forty five period no rain", 45.0),
        ("rosas cuarenta y dos punto no ha llovido", 42.0),
    ],
)
def test_numbers_and_marks_are_understood_as_they_were_spoken(text: str, value: float) -> None:
    assert [one.value for one in _told(text, "roses") if isinstance(one, Reading)] == [value]


@pytest.mark.parametrize(
    "word",
    ["waiting", "warning", "pointing", "horses", "manejando", "compadre", "dijeron", "mire", "llevar", "maestra"],
)
def test_an_everyday_word_is_not_mended_into_one_of_the_trade(word: str) -> None:
    assert _told(f"roses 40 and then {word}", "roses") == (
        Reading(quantity="tension", value=40.0, plot="roses", on=_TODAY),
    )


def test_another_plant_with_a_figure_of_its_own_is_another_plot() -> None:
    assert [one.plot for one in _told("peaches 45, tomatoes 32", "peaches") if isinstance(one, Reading)] == [
        "peaches",
        "tomatoes",
    ]
