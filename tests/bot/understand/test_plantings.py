"""When things were planted, what stops roots, how they are watered, and other facts told in few words."""

from __future__ import annotations

from datetime import datetime

import pytest

from bot.understand import Context, Fact, Rain, Unclear, Watering, read

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
