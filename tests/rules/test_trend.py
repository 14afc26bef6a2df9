"""The ruler on the graph: a straight line through the readings, and the day on which it is at the limit."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from rules.history import history
from rules.soil import tension_kpa, water_content
from rules.tables import base
from rules.terms import Day, Plot, Rain, Reading, Watering, Weather
from rules.trend import limit_reading, trend

ON = date(2031, 7, 15)


def days(*values: float, last: date = ON) -> list[tuple[date, float]]:
    return [(last - timedelta(days=len(values) - 1 - index), value) for index, value in enumerate(values)]


def steady(et0_mm: float = 5.0) -> Weather:
    past = tuple(Day(on=ON - timedelta(days=back), rain_mm=0.0, et0_mm=et0_mm) for back in range(30, 0, -1))
    ahead = tuple(Day(on=ON + timedelta(days=k), rain_mm=0.0, et0_mm=et0_mm, pop=0.0) for k in range(10))
    return Weather(past=past, forecast=ahead)


def readings(*values: float, quantity: str = "tension", depth_cm: float = 30.0) -> list[Reading]:
    return [Reading(on=on, quantity=quantity, value=value, depth_cm=depth_cm) for on, value in days(*values)]


def test_thirty_thirtyfive_forty_are_at_sixty_in_four_days() -> None:
    """(60 - 40) / 5 = 4 days: by hand."""
    found = trend("tension", 30.0, days(30, 35, 40), 60.0)
    assert found is not None
    assert found.change_a_day == pytest.approx(5.0)
    assert found.reaches_on == ON + timedelta(days=4)


def test_percents_fall_to_their_limit() -> None:
    """(24 - 18) / 2 = 3 days: by hand."""
    found = trend("percent", 30.0, days(28, 26, 24), 18.0)
    assert found is not None
    assert (found.change_a_day, found.reaches_on) == (pytest.approx(2.0), ON + timedelta(days=3))


@pytest.mark.parametrize("values", [(30, 35), (40, 40, 40), (40, 38, 36), (30, 35, 40, 20)])
def test_too_few_days_or_no_drying_is_no_trend(values: tuple[float, ...]) -> None:
    assert trend("tension", 30.0, days(*values), 60.0) is None


def test_what_was_read_before_the_ground_was_wetter_does_not_count() -> None:
    found = trend("tension", 30.0, days(70, 80, 20, 24, 28), 60.0)
    assert found is not None
    assert found.change_a_day == pytest.approx(4.0)


@pytest.mark.parametrize(
    ("limit", "told"), [(40.0, False), (35.0, False), (41.0, True), (40.0 + 5 * 30, True), (400.0, False)]
)
def test_no_day_is_told_once_it_is_at_the_limit_or_when_that_is_far_off(limit: float, told: bool) -> None:
    found = trend("tension", 30.0, days(30, 35, 40), limit)
    assert found is not None
    assert (found.reaches_on is not None) is told


def test_the_limit_as_a_probe_shows_it_is_the_curve_of_the_soil() -> None:
    loam = base().soils["loam"]
    theta = loam.wp + 0.5 * (loam.fc - loam.wp)
    assert limit_reading("tension", 0.5, loam, None) == pytest.approx(
        float(tension_kpa(theta, loam.fc, loam.wp, loam.psi_fc))
    )
    assert limit_reading("percent", 0.5, loam, None) == pytest.approx(100 * theta)
    assert limit_reading("percent", 0.5, loam, loam.fc + 0.04) == pytest.approx(100 * theta + 4)


def test_each_depth_has_its_own_line_and_only_days_after_the_last_water_count() -> None:
    told = [*readings(30, 35, 40), *readings(20, 22, 24, depth_cm=60.0)]
    plot = Plot(name="p", plant="tomatoes", soil="loam")
    found = history(plot, told, steady(), ON).trends
    assert [(each.depth_cm, round(each.change_a_day, 6)) for each in found] == [(30.0, 5.0), (60.0, 2.0)]
    for water in (Watering(on=ON - timedelta(days=2), depth_mm=20.0), Rain(on=ON - timedelta(days=1), depth_mm=15.0)):
        assert history(plot, [*told, water], steady(), ON).trends == ()


def test_a_plot_whose_limit_is_sixty_centibars_is_there_by_its_readings_in_four_days() -> None:
    """As the first test, through the whole season: a limit of its own at the share of water that loam holds at 60 kPa."""
    loam = base().soils["loam"]
    theta = float(water_content(60.0, loam.fc, loam.wp, loam.psi_fc))
    share = (theta - loam.wp) / (loam.fc - loam.wp)
    plot = Plot(name="p", plant="tomatoes", soil="loam", own_limit=share, own_from=ON, own_until=ON)
    (found,) = history(plot, readings(30, 35, 40), steady(), ON).trends
    assert found.limit == pytest.approx(60.0, abs=0.1)
    assert found.reaches_on == ON + timedelta(days=4)
