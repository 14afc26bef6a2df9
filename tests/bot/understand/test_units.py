"""Units and compounds to SI. Expected values: exact definitions (25.4 mm an inch, 3.785411784 L a US gallon)."""

from __future__ import annotations

from datetime import datetime
from typing import Any

import pytest

from bot.understand import Context, Fact, Reading, Watering, can_depths_mm, read

_NOW = datetime(2026, 7, 15, 9, 30)


def _only(text: str, units: str = "us", probe: str | None = None) -> Any:
    (statement,) = read(text, Context(now=_NOW, units=units, probe=probe)).statements
    return statement


@pytest.mark.parametrize(
    ("said", "quantity", "value"),
    [
        ("45 cb", "tension", 45.0),
        ("45 centibars", "tension", 45.0),
        ("-40 kPa", "tension", 40.0),
        ("0.4 bar", "tension", 40.0),
        ("0.04 MPa", "tension", 40.0),
        ("6 psi", "tension", 41.37),
        ("2.1k", "resistance", 2100.0),
        ("2.1 kohm", "resistance", 2100.0),
        ("2100 ohms", "resistance", 2100.0),
        ("22%", "percent", 22.0),
        ("22 por ciento", "percent", 22.0),
        ("vwc 0.22", "percent", 22.0),
        ("meter says 3", "dial", 3.0),
        ("3 out of 10", "dial", 3.0),
        ("3/10", "dial", 3.0),
        ("140 percent", "percent", 140.0),
    ],
)
def test_a_reading_keeps_its_quantity(said: str, quantity: str, value: float) -> None:
    found = _only(said)
    assert isinstance(found, Reading)
    assert (found.quantity, found.value) == (quantity, pytest.approx(value, abs=0.01))


@pytest.mark.parametrize(
    ("said", "units", "depth_cm"),
    [
        ("45 cb at 12", "us", 30.48),
        ("45 cb at 12", "metric", 12.0),
        ('45 cb at 12"', "us", 30.48),
        ("45 cb 1 ft down", "us", 30.48),
        ("45 cb a un pie", "us", 30.48),
        ("45 cb a 2,5 cm", "metric", 2.5),
        ("12in 45 cb", "us", 30.48),
        ("45 cb half a foot deep", "us", 15.24),
    ],
)
def test_a_depth_is_in_cm(said: str, units: str, depth_cm: float) -> None:
    assert _only(said, units).depth_cm == pytest.approx(depth_cm)


@pytest.mark.parametrize(
    ("said", "slot", "value"),
    [
        ("put on half an inch yesterday", "depth_mm", 12.7),
        ("watered 12 mm", "depth_mm", 12.0),
        ("watered 20 gallons", "litres", 75.708),
        ("gave 5 gal per tree", "litres_each", 18.927),
        ("2 cubetas a cada arbol", "litres_each", 37.854),
        ("watered 30 litros", "litres", 30.0),
        ("two 5 gallon buckets on each tree", "litres_each", 37.854),
    ],
)
def test_an_amount_of_water_is_in_si(said: str, slot: str, value: float) -> None:
    found = _only(said)
    assert isinstance(found, Watering)
    assert getattr(found, slot) == pytest.approx(value, abs=0.001)


@pytest.mark.parametrize(
    ("said", "about", "value"),
    [
        ("the sprinklers put on 0.5 in/hr", "rate_mm_h", 12.7),
        ("18 gpm on 2000 sq ft", "rate_mm_h", 22.0),  # 96.25 x gpm / sq ft = 0.866 in/h
        ("1/8 1/8 1/4 1/8 1/4 1/8 in 15 min", "rate_mm_h", 16.93),  # mean 1/6 in, four times an hour
        ("drippers are 1 gph", "flow_l_h", 3.785),
        ("the hose puts out 6 gallons a minute", "flow_l_h", 1362.75),
        ("the bed is 4 x 8 ft", "area_m2", 2.973),
        ("max 500 gal/day", "most_litres_a_day", 1892.7),
        ("the trunk is 2 inches", "trunk_cm", 5.08),
        ("roots go to 3 feet", "root_depth_cm", 91.44),
    ],
)
def test_a_measure_of_equipment_is_in_si(said: str, about: str, value: float) -> None:
    found = _only(said)
    assert isinstance(found, Fact)
    assert (found.about, found.value) == (about, pytest.approx(value, abs=0.05))


def test_a_flow_with_a_time_is_a_watering_and_a_flow() -> None:
    watering, flow = read("2 gph for 3 h", Context(now=_NOW)).statements
    assert isinstance(watering, Watering)
    assert watering.minutes == 180.0
    assert flow == Fact(about="flow_l_h", value=pytest.approx(7.571, abs=0.001))


def test_the_catches_of_a_can_test_are_told_apart() -> None:
    assert can_depths_mm("1/8 1/8 1/4 1/8 in 15 min", "us") == pytest.approx((3.175, 3.175, 6.35, 3.175))
    assert can_depths_mm("6 cans: 5, 6, 4, 5, 7, 6 mm in 20 min", "metric") == pytest.approx((5, 6, 4, 5, 7, 6))
    assert can_depths_mm("45 at 12, 30 at 24", "us") is None
