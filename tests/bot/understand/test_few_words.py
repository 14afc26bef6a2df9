"""Plantings, what stops roots, equipment and figures told in few words, as people text them."""

from __future__ import annotations

from datetime import datetime

import pytest

from bot.understand import Context, Fact, Rain, Reading, Unclear, Watering, read

CONTEXT = Context(now=datetime(2026, 7, 15, 9, 30), plots=("peaches", "tomatoes"), units="us", probe="tension")


def facts(text: str) -> list[tuple[str, object, str | None]]:
    return [(one.about, one.value, one.plot) for one in read(text, CONTEXT).statements if isinstance(one, Fact)]


@pytest.mark.parametrize(
    ("text", "expected"),  # the middle of a month, as the midpoint of any range: the rules of reading
    [
        ("peaches planted march 2021", ("planted_on", "2021-03-15", "peaches")),
        ("peaches planted last july", ("planted_on", "2025-07-15", "peaches")),
        ("los duraznos se plantaron en marzo del 2021", ("planted_on", "2021-03-15", "peaches")),
        ("new sod laid yesterday", ("planted_on", "2026-07-14", None)),
        ("hardpan at 18 in", ("root_depth_cm", 45.72, None)),
        ("theres a hardpan at 18 inches under the peaches", ("root_depth_cm", 45.72, "peaches")),
        ("peach harvest is done", ("stage", "harvest is done", "peaches")),
        ("pop up heads", ("method", "sprinkler", None)),
        ("i have pop-ups", ("method", "sprinkler", None)),
        ("i use a bucket", ("method", "can", None)),
        ("riego con cubeta", ("method", "can", None)),
    ],
)
def test_a_fact_told_in_few_words_is_a_fact(text: str, expected: tuple[str, object, str | None]) -> None:
    assert facts(text) == [expected]


def test_two_plantings_with_days_of_their_own_are_asked_about() -> None:
    told = read("planted the tomatoes in may 2025 and the peaches 2 weeks ago", CONTEXT).statements
    assert [type(one) for one in told] == [Unclear]


def test_rain_that_still_falls_is_no_rain_beside_a_watering() -> None:
    told = read("its raining now, watered 20 min yesterday", CONTEXT).statements
    assert [type(one) for one in told] == [Watering]
    assert [type(one) for one in read("it's raining right now!", CONTEXT).statements] == [Rain]


def test_an_amount_told_once_for_two_days_is_that_of_either() -> None:
    told = read("the peaches got 20 min tues and thurs", CONTEXT).statements
    assert [one.minutes for one in told if isinstance(one, Watering)] == [20.0, 20.0]


def test_a_day_told_for_both_plots_at_the_end_is_no_further_watering() -> None:
    told = read("tomatoes 15 min, peaches 2 hr, both yesterday", CONTEXT).statements
    assert [(one.plot, one.minutes) for one in told if isinstance(one, Watering)] == [
        ("tomatoes", 15.0),
        ("peaches", 120.0),
    ]
    assert len(told) == 2


@pytest.mark.parametrize(
    ("text", "values"),  # what the probe shows now; what it showed before, at no day told, is no reading of today
    [
        ("peaches went from 40 to 55", [55.0]),
        ("los duraznos pasaron de 40 a 55", [55.0]),
        ("was 45 now 52", [52.0]),
        ("was 60 yesterday now 35", [60.0, 35.0]),
        ("the 12 inch was showing 48 and the 24 was at 30", [48.0, 30.0]),
        ("el sensor 1 da 40 y el sensor 2 da 55", [40.0, 55.0]),
    ],
)
def test_a_figure_counts_for_what_it_is(text: str, values: list[float]) -> None:
    assert [one.value for one in read(text, CONTEXT).statements if isinstance(one, Reading)] == values


def test_work_on_the_equipment_is_no_watering() -> None:
    assert not any(
        isinstance(one, Watering)
        for one in read("took me 45 minutes to fix the drip on the peaches", CONTEXT).statements
    )
