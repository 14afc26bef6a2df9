"""A plot's own full point, found again from drain-downs whose truth is known. The grounds are made up, drawn from a seed."""

from __future__ import annotations

from datetime import date

import numpy as np
import pandas as pd
import pytest

from rules import advise, traces
from rules.full_point import full_point
from rules.tables import base
from rules.terms import Plot, Reading, Weather

ON = date(2026, 7, 14)
LOAM = base().soils["loam"]


def ground(
    full: float, surplus: float, drains_h: float, use_mm: float, roots_mm: float, soaks: dict[int, float], seed: int = 1
) -> pd.DataFrame:
    """Hourly percents of a ground that drains towards full and is drunk from by day; `soaks`: m3/m3 that come in at seven."""
    drawn, theta, rows = np.random.default_rng(seed), full - 0.03, []
    for hour, at in enumerate(pd.date_range("2026-06-01", periods=24 * 30, freq="h")):
        if hour % 24 == 7:
            theta = min(theta + soaks.get(hour // 24, 0.0), full + surplus)
        theta -= max(theta - full, 0.0) / drains_h
        theta -= max(np.sin(np.pi * (hour % 24 - 6) / 12), 0.0) * np.pi / 24 * use_mm / roots_mm
        rows.append((at, 100 * theta + drawn.normal(0, 0.2)))
    frame = pd.DataFrame(rows, columns=["at", "value"]).assign(depth_cm=30.0)
    return frame.assign(left=traces.shares_left(Plot(soil="loam"), "percent", frame["value"], base()))


def test_it_is_found_within_two_percent_of_volume_in_grounds_of_all_kinds() -> None:
    """Surplus drains to a third within 6 to 20 hours, so that two days later hardly any is left, as the definition has it."""
    drawn = np.random.default_rng(20)
    off = []
    for seed in range(40):
        full = drawn.uniform(0.12, 0.38)
        frame = ground(
            full, drawn.uniform(0.06, 0.15), drawn.uniform(6, 20), drawn.uniform(2, 8), drawn.uniform(350, 900),
            {3: 0.3, 11: 0.3, 20: 0.3}, seed,
        )  # fmt: skip
        found = full_point(frame, 30.0)
        assert found is not None
        off.append(found.percent - 100 * full)
    assert max(map(abs, off)) <= 2, off


def test_one_soak_is_not_enough() -> None:
    assert full_point(ground(0.28, 0.12, 10, 5, 600, {5: 0.3}), 30.0) is None


def test_waterings_that_fill_nothing_say_nothing_of_full() -> None:
    assert full_point(ground(0.28, 0.12, 10, 6, 400, {8: 0.06, 16: 0.06, 24: 0.06}), 30.0) is None


def test_a_soak_that_is_followed_by_water_within_three_days_does_not_count() -> None:
    assert full_point(ground(0.28, 0.12, 10, 5, 600, dict.fromkeys(range(3, 29, 2), 0.3)), 30.0) is None


def test_a_probe_of_another_depth_says_nothing() -> None:
    assert full_point(ground(0.28, 0.12, 10, 5, 600, {5: 0.3, 15: 0.3}), 60.0) is None


def test_once_taken_the_probe_is_full_where_it_settled() -> None:
    shown = LOAM.fc + 0.06
    plot = Plot(soil="loam", probe_full=shown)
    assert traces.shares_left(plot, "percent", 100 * shown, base()) == pytest.approx(1.0)
    assert traces.shares_left(Plot(soil="loam"), "percent", 100 * shown, base()) > 1.2


def test_once_taken_a_reading_is_held_against_it_and_the_advice_says_so() -> None:
    told = (Reading(on=ON, quantity="percent", value=100 * LOAM.fc, depth_cm=30.0),)
    usual = advise(Plot(plant="tomato", soil="loam"), told, Weather(), ON)
    own = advise(Plot(plant="tomato", soil="loam", probe_full=LOAM.fc + 0.06), told, Weather(), ON)
    assert own.water_left is not None
    assert usual.water_left is not None
    assert own.water_left < usual.water_left - 0.1
    assert any(row.startswith("plot:probe_full") for row in own.rows)
    assert not any(row.startswith("plot:") for row in usual.rows)
