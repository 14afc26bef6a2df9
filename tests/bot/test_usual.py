"""A watering told as the usual one. 15 July 2026 is a Wednesday; medians are worked by hand."""

from __future__ import annotations

from datetime import date, datetime

import pytest

from bot.store import StoredObservation
from bot.talk.usual import as_usual, usual
from bot.understand.statements import Context

CONTEXT = Context(now=datetime(2026, 7, 15, 9, 30), plots=("peaches", "lawn"), probe="tension")

TOLD = [
    ("same as usual", 15, None, False),
    ("watered the usual amount", 15, None, False),
    ("gave them the usual", 15, None, False),
    ("did the usual yesterday", 14, None, False),
    ("gave the peaches their usual", 15, "peaches", False),
    ("same as usual on the lawn last night", 14, "lawn", False),
    ("ran it yesterday same as last time", 14, None, True),
    ("lo de siempre", 15, None, False),
    ("regué como siempre", 15, None, False),
    ("ayer le di lo de siempre", 14, None, False),
    ("el domingo les di lo de siempre a los duraznos", 12, "peaches", False),
    ("lo mismo que la vez pasada", 15, None, True),
]
NOT_TOLD = [
    "dry as usual",
    "leaves wilting as usual",
    "they look the same as last time",
    "45 cb same as last time",
    "same as usual?",
    "should i water the usual",
    "i watered 20 min as usual",
    "water the usual amount tomorrow",
    "didnt water as usual",
    "usual",
]


@pytest.mark.parametrize(("text", "day", "plot", "last"), TOLD)
def test_the_usual_is_told_with_its_day_and_plot(text: str, day: int, plot: str | None, last: bool) -> None:
    found = as_usual(text, CONTEXT)
    assert found is not None
    assert (found.watering.on, found.watering.plot, found.last) == (date(2026, 7, day), plot, last)


@pytest.mark.parametrize("text", NOT_TOLD)
def test_what_only_looks_as_usual_is_no_watering(text: str) -> None:
    assert as_usual(text, CONTEXT) is None


def _told(count: int, **slots: float) -> StoredObservation:
    return StoredObservation(
        id=count, person=1, plot=1, kind="watering", on=date(2026, 7, count), at=None, slots=dict(slots), message=count,
        words=None, set_aside=None, retracted_by=None,
    )  # fmt: skip


def test_the_usual_amount_is_the_middle_of_the_last_ones_told_alike() -> None:
    minutes = [_told(day, minutes=amount) for day, amount in enumerate((10.0, 45.0, 30.0, 50.0), start=1)]
    assert usual(minutes, last=False) == ("minutes", 37.5, 4)
    assert usual(minutes, last=True) == ("minutes", 50.0, 1)
    assert usual([*minutes, _told(5, litres=40.0)], last=False) == ("minutes", 37.5, 4)
    assert usual([_told(1, minutes=200.0), *minutes[:1] * 5], last=False) == ("minutes", 10.0, 5)


def test_without_an_amount_ever_told_there_is_no_usual() -> None:
    assert usual([], last=False) is None
    assert usual([_told(1)], last=False) is None
