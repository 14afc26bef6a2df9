"""A water meter's two readings, and a meter that moves by itself. 1 gal = 3.785411784 L and 1 ft3 = 28.316846592 L."""

from __future__ import annotations

import pytest

from bot.talk.meter import leaks, metered


@pytest.mark.parametrize(
    ("text", "units", "litres", "minutes"),
    [
        ("meter went from 4500 to 4590 gallons in 5 min", "us", 340.687, 5),
        ("meter 4,500 then 4,590 in 5 minutes", "us", 340.687, 5),
        ("water meter read 812 and 824 cubic feet, 10 min", "us", 339.802, 10),
        ("medidor 100 y 100.34 m3 en 5 minutos", "metric", 340.0, 5),
        ("el medidor iba en 1200 y quedo en 1540 litros, 5 min", "metric", 340.0, 5),
    ],
)
def test_two_readings_and_the_minutes_between_are_an_amount(
    text: str, units: str, litres: float, minutes: float
) -> None:
    found = metered(text, units)
    assert found is not None
    assert (found.litres, found.minutes) == (pytest.approx(litres, rel=1e-5), minutes)


@pytest.mark.parametrize(
    "text", ["meter says 4, tree is sad", "moisture meter 3 at 6 in", "watered 45 min", "meter 4590 then 4500 in 5 min"]
)
def test_other_meters_and_other_numbers_are_none(text: str) -> None:
    assert metered(text, "us") is None


@pytest.mark.parametrize(
    "text",
    [
        "the meter moves with everything off",
        "meter still spins with all the taps closed",
        "el medidor se mueve con todo cerrado",
    ],
)
def test_a_meter_that_moves_with_all_closed_is_a_leak(text: str) -> None:
    assert leaks(text)


@pytest.mark.parametrize("text", ["the meter moves", "all taps closed", "meter says 4"])
def test_a_meter_that_only_moves_is_none(text: str) -> None:
    assert not leaks(text)
