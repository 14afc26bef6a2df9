"""The second door agrees with the first, and tells each day as it was."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from drawn_seasons import drawn
from dry_spell import MONDAY, ago, spell, tomato

from rules import advise
from rules.history import history
from rules.terms import History, Observation, Plot, Rain, Reading, Watering, Weather
from rules.verdict import WATER_ABOVE


def of(plot: Plot, *observations: Observation, weather: Weather | None = None) -> History:
    return history(plot, observations, spell() if weather is None else weather, MONDAY)


@pytest.mark.parametrize("seed", range(12))
def test_the_last_day_is_what_the_advice_speaks_of(seed: int) -> None:
    """The advice rounds its shares to three places; beyond that they are one estimate."""
    season = drawn(seed)
    given = (season.plot, season.observations, season.weather, season.on)
    advice, today = advise(*given), history(*given).days[-1]
    shown = [round(share, 3) for share in (today.left, today.low, today.high, today.limit)]
    assert today.on == season.on
    assert shown == pytest.approx(
        [advice.water_left, advice.water_left_low, advice.water_left_high, advice.limit], abs=1e-9
    )


@pytest.mark.parametrize("seed", range(12))
def test_no_day_is_missing(seed: int) -> None:
    days = history(drawn(seed).plot, drawn(seed).observations, drawn(seed).weather, drawn(seed).on).days
    assert [day.on for day in days] == [days[0].on + timedelta(days=count) for count in range(len(days))]
    assert all(0 <= day.low <= day.high <= 1 and 0 <= day.left <= 1 for day in days)


def test_a_day_with_nothing_reported_is_the_same_before_and_after() -> None:
    days = of(tomato(), Watering(on=ago(6), depth_mm=20.0)).days
    changed = [day.on for day in days if day.left != day.dawn]
    assert changed == [ago(6)]


def test_without_rain_or_water_less_is_left_each_evening() -> None:
    lefts = [day.left for day in of(tomato(), Watering(on=ago(3), depth_mm=20.0)).ahead]
    assert lefts == sorted(lefts, reverse=True)
    assert lefts[-1] < lefts[0]


@pytest.mark.parametrize("seed", range(8))
def test_the_days_ahead_pass_the_limit_when_the_advice_says_so(seed: int) -> None:
    """More than WATER_ABOVE of the members beyond a limit that itself varies: the mean lies within a tenth of it."""
    season = drawn(seed)
    given = (replace(season.plot, plant="lawn_cool"), season.observations, season.weather, season.on)
    advice, found = advise(*given), history(*given)
    crossing = next((day for day in found.ahead if day.on == advice.stress_on), None)
    assert (crossing is None) == (advice.stress_on is None)
    assert crossing is None or crossing.left < found.days[-1].limit + 0.1, WATER_ABOVE


def test_the_upper_line_is_where_water_is_too_soon() -> None:
    """Two fifths of what may be used: 1 - 0.4 (1 - limit), the rule of the verdict."""
    for day in of(tomato()).days:
        assert day.upper == pytest.approx(1 - 0.4 * (1 - day.limit), abs=1e-12)


def test_a_watering_is_told_as_it_was_put_on() -> None:
    """3 h at 8 mm/h; a watering of which nobody said how much has no depth."""
    days = of(
        tomato(rate_mm_h=8.0, rate_source="measured", method="sprinkler"),
        Watering(on=ago(5), minutes=180.0),
        Watering(on=ago(2)),
    ).days
    told = {day.on: day.waterings for day in days if day.waterings}
    assert told[ago(5)] == pytest.approx((24.0,))
    assert told[ago(2)] == (None,)


def test_the_persons_own_gauge_comes_before_the_weather_service() -> None:
    days = of(tomato(), Rain(on=ago(4), depth_mm=7.5), Watering(on=ago(8))).days
    assert {day.on: day.rain_mm for day in days}[ago(4)] == 7.5


def test_days_of_which_the_weather_is_not_known_are_told_apart_from_dry_ones() -> None:
    known = spell()
    gap = replace(known, past=tuple(day for day in known.past if day.on not in (ago(3), ago(2))))
    days = of(tomato(), Watering(on=ago(8)), weather=gap).days
    assert [day.on for day in days[:-1] if day.rain_mm is None] == [ago(3), ago(2)]


def test_a_reading_that_is_stuck_is_shown_and_not_counted() -> None:
    """The same number on five days of a week is odd (`rules.doubt`): all but its first are left out."""
    stuck = [Reading(on=ago(back), quantity="tension", value=44.0, depth_cm=30.0) for back in (6, 5, 3, 1, 0)]
    assert [heard.counted for heard in of(tomato(), *stuck).readings] == [True, False, False, False, False]


def test_what_was_taken_back_leaves_the_history() -> None:
    wet = Watering(on=ago(5), depth_mm=25.0, in_force=False)
    read = Reading(on=ago(4), quantity="percent", value=30.0, in_force=False)
    found = of(tomato(), wet, read, Watering(on=ago(9), depth_mm=10.0))
    assert [day.on for day in found.days if day.waterings] == [ago(9)]
    assert found.readings == ()


def test_a_plot_of_which_nothing_was_reported_has_a_history_too() -> None:
    found = history(tomato(), (), None, MONDAY)
    assert found.days[-1].on == MONDAY
    assert found.readings == ()
    assert np.isfinite([day.left for day in found.days]).all()


def test_the_limit_follows_the_stage() -> None:
    """Oranges may use a third from flowering to fruit set (FSHS97 in the limits table), 0.5 in other stages (FAO-56 Table 22)."""
    plot = Plot(plant="orange", planted_on=date(2010, 3, 1), latitude=33.0)
    days = history(plot, (Watering(on=ago(200)),), spell(past=200), MONDAY).days
    assert {round(day.limit, 2) for day in days} == {0.67, 0.5}
