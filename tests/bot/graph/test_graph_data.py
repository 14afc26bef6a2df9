"""The picture's data is the rules' own, and what is read off it is so."""

from dataclasses import replace
from datetime import timedelta

import pytest
from graphs_drawn import GRAPHS, ON, PEACHES, THREE_DEPTHS, ago, every, made, weather

from rules import advise
from rules.terms import Advised, Reading, Verdict


@pytest.mark.parametrize("name", GRAPHS)
def test_the_days_end_today_and_the_outlook_begins_there(name):
    shown = GRAPHS[name]
    assert shown.today.on == ON
    assert shown.ahead[0].on == ON
    assert [day.on for day in shown.days] == [shown.first + timedelta(days=k) for k in range(len(shown.days))]


def test_today_is_the_advice():
    advice = advise(PEACHES, THREE_DEPTHS, weather(40, 5), ON)
    shown = GRAPHS["three depths"]
    assert round(shown.today.left, 3) == pytest.approx(advice.water_left, abs=1e-9)
    assert round(shown.today.limit, 3) == pytest.approx(advice.limit, abs=1e-9)
    assert (shown.verdict, shown.look_on, shown.passes_on) == (advice.verdict, advice.date, advice.stress_on)


def test_the_depths_come_shallow_first():
    assert GRAPHS["three depths"].depths_cm == [30.0, 60.0, 90.0]


def test_waterings_are_summed_as_far_as_they_are_known():
    """5 mm/h for 5 h, five times."""
    assert GRAPHS["nothing read"].water_mm == pytest.approx(125.0)
    assert len(GRAPHS["gaps"].waterings) == 6
    assert any(mm is None for _, mm in GRAPHS["gaps"].waterings)


def test_the_fall_begins_at_the_last_high_point():
    shown = made("p", PEACHES, every(100, 12), None)
    assert shown.fall.since == ago(12)
    assert shown.fall.from_share == pytest.approx({day.on: day.left for day in shown.days}[ago(12)])


def test_the_loss_of_a_dry_day_is_the_mean_fall_of_the_last_week():
    shown = made("p", PEACHES, every(100, 12), None)
    last = {day.on: day for day in shown.days}
    falls = [last[ago(k)].left - last[ago(k - 1)].dawn for k in range(7, 0, -1)]
    assert shown.loss_a_day == pytest.approx(sum(falls) / 7)


def test_days_without_weather_are_counted():
    assert GRAPHS["gaps"].unknown_days == 6
    assert GRAPHS["three depths"].unknown_days == 0


def test_readings_that_are_stuck_are_left_out_and_told():
    assert len(GRAPHS["stuck"].left_out) == 8


def test_a_reading_without_a_depth_is_where_the_probe_sits():
    plot = replace(PEACHES, probe_depth_cm=45.0)
    assert made("p", plot, [Reading(on=ago(1), quantity="tension", value=30.0)], None).depths_cm == [45.0]


def test_a_watering_that_was_advised_and_not_told_is_shown_as_that():
    shown = made("p", PEACHES, [*every(100, 20), Advised(on=ago(5), depth_mm=30.0)], None)
    assert [day.on for day in shown.days if day.advised_mm] == [ago(5)]
    assert shown.any_water


def test_the_verdict_goes_with_it():
    assert GRAPHS["empty"].verdict is Verdict.WATER
    assert GRAPHS["empty"].passed
