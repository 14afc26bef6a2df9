"""Choosing a day's reference evapotranspiration, its bounds, and the usual figure for a season."""

import math
from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rules import evapotranspiration as et
from rules.terms import Day

JULY = date(2026, 7, 15)
WHOLE = Day(on=JULY, tmax_c=32, tmin_c=19, dewpoint_c=17, solar_mj_m2=25, wind_m_s=3)

# The same rule inland, as worked out by an independent program; monthly means printed to 0.1 mm/day.
USUAL_INLAND = [(24, 1, 2.7), (24, 7, 6.4), (36, 4, 3.8), (36, 7, 5.9), (36, 10, 2.7), (44, 7, 5.5), (44, 12, 0.6)]


def test_the_feeds_own_figure_comes_first() -> None:
    day = Day(on=JULY, et0_mm=6.1, tmax_c=32, tmin_c=19)
    assert et.reference_et_mm(day, 36.0, 300.0) == 6.1


@pytest.mark.parametrize("told", [-0.1, 15.1, 60.0, math.nan])
def test_a_figure_that_cannot_be_true_is_passed_over(told: float) -> None:
    day = Day(on=JULY, et0_mm=told, tmax_c=32, tmin_c=19)
    assert et.reference_et_mm(day, 36.0, 300.0) == et.reference_et_mm(Day(on=JULY, tmax_c=32, tmin_c=19), 36.0, 300.0)


@pytest.mark.parametrize("told", [0.0, 15.0])
def test_the_ends_of_the_believed_range_are_believed(told: float) -> None:
    assert et.reference_et_mm(Day(on=JULY, et0_mm=told), 36.0, 300.0) == told


def test_sun_wind_and_damp_count_where_they_are_known() -> None:
    hargreaves = et.reference_et_mm(Day(on=JULY, tmax_c=32, tmin_c=19), 36.0, 300.0)
    whole = et.reference_et_mm(WHOLE, 36.0, 300.0)
    assert whole is not None
    assert whole != hargreaves
    assert 4 < whole < 8


def test_humidity_serves_where_there_is_no_dewpoint() -> None:
    day = Day(on=JULY, tmax_c=32, tmin_c=19, rh_max=88, rh_min=41, solar_mj_m2=25, wind_m_s=3)
    assert et.reference_et_mm(day, 36.0, 300.0) == pytest.approx(et.reference_et_mm(WHOLE, 36.0, 300.0), rel=0.02)


@pytest.mark.parametrize(
    "day",
    [
        Day(on=JULY),
        Day(on=JULY, tmax_c=30),
        Day(on=JULY, tmax_c=15, tmin_c=20),
        Day(on=JULY, tmax_c=95, tmin_c=70),
        Day(on=JULY, tmax_c=math.nan, tmin_c=20),
    ],
)
def test_a_day_without_usable_temperatures_gives_nothing(day: Day) -> None:
    assert et.reference_et_mm(day, 36.0, 300.0) is None


def test_without_a_place_only_the_feeds_own_figure_serves() -> None:
    assert et.reference_et_mm(WHOLE, None, None) is None
    assert et.reference_et_mm(Day(on=JULY, et0_mm=4.0), None, None) == 4.0


def test_bitter_cold_asks_for_nothing_rather_than_for_less_than_nothing() -> None:
    assert et.reference_et_mm(Day(on=date(2026, 1, 5), tmax_c=-18, tmin_c=-30), 47.0, 300.0) == 0.0


@given(
    st.floats(-60, 60),
    st.floats(0, 30),
    st.floats(0, 40),
    st.floats(0, 40),
    st.floats(0, 30),
    st.floats(-90, 90),
    st.integers(0, 364),
)
def test_any_weather_gives_a_believable_figure_or_none(
    tmin_c: float, range_c: float, solar: float, drier_c: float, wind: float, latitude: float, day: int
) -> None:
    on = date.fromordinal(date(2026, 1, 1).toordinal() + day)
    weather = Day(
        on=on, tmax_c=tmin_c + range_c, tmin_c=tmin_c, dewpoint_c=tmin_c - drier_c, solar_mj_m2=solar, wind_m_s=wind
    )
    given_et = et.reference_et_mm(weather, latitude, 200.0)
    assert given_et is None or 0 <= given_et <= et.MOST_A_DAY_MM


@given(st.floats(5, 40), st.floats(2, 20), st.floats(0, 10))
def test_a_hotter_day_never_asks_less(mean_c: float, range_c: float, hotter_c: float) -> None:
    cooler = et.reference_et_hargreaves(mean_c, range_c, 40.0)
    assert et.reference_et_hargreaves(mean_c + hotter_c, range_c, 40.0) >= cooler


def test_an_array_of_days_gives_what_each_day_gives() -> None:
    days = np.array([10.0, 100.0, 200.0, 300.0])
    together = et.extraterrestrial_radiation(math.radians(38.0), days)
    assert together == pytest.approx([et.extraterrestrial_radiation(math.radians(38.0), day) for day in days])


def test_the_sun_stays_down_in_the_polar_night_and_up_under_the_midnight_sun() -> None:
    assert et.daylight_hours(math.radians(80.0), 355) == pytest.approx(0)
    assert et.daylight_hours(math.radians(80.0), 172) == pytest.approx(24)


@pytest.mark.parametrize(("latitude", "month", "mm"), USUAL_INLAND)
def test_the_usual_figure_of_a_month_matches_the_table_of_the_rule(latitude: float, month: int, mm: float) -> None:
    first = date(2026, month, 1).toordinal()
    days = [et.usual_et_mm(date.fromordinal(first + n), latitude) for n in range(28)]
    assert np.mean(days) == pytest.approx(mm, abs=0.2)  # 28 days of the month, and the table's own rounding


def test_the_south_has_its_summer_in_january() -> None:
    assert et.usual_et_mm(date(2026, 1, 15), -36.0) == pytest.approx(et.usual_et_mm(JULY, 36.0), rel=0.08)
    assert et.usual_et_mm(JULY, -36.0) < 2


@given(st.floats(-90, 90), st.integers(0, 365))
def test_the_usual_figure_is_believable_anywhere_on_any_day(latitude: float, day: int) -> None:
    on = date.fromordinal(date(2024, 1, 1).toordinal() + day)
    assert 0 <= et.usual_et_mm(on, latitude) <= 8
