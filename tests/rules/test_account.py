"""The account of a season, by hand on made-up days, and pumping energy against a published figure."""

from datetime import date, timedelta

import pytest

from rules.account import Account, account, pumping_kwh, saving
from rules.tables import base
from rules.terms import Day, Plot, Rain, Watering, Weather

FIRST = date(2026, 7, 1)
PLOT = Plot(plant="lawn", soil="loam", method="sprinkler", rate_mm_h=12.0, rate_source="measured", area_m2=100.0)


def days(count: int = 14, rain_mm: float = 0.0) -> Weather:
    return Weather(past=tuple(Day(on=FIRST + timedelta(days=n), et0_mm=6.0, rain_mm=rain_mm) for n in range(count)))


def season(*events: Watering | Rain, weather: Weather | None = None) -> Account:
    return account(PLOT, events, weather or days(), FIRST, FIRST + timedelta(days=13), base())


def test_waterings_are_added_up_as_they_were_put_on() -> None:
    told = season(Watering(on=FIRST, minutes=60.0), Watering(on=FIRST + timedelta(days=3), depth_mm=10.0))
    assert [each.gross_mm for each in told.waterings] == pytest.approx([12.0, 10.0])
    assert told.applied_mm == pytest.approx(22.0)
    assert told.litres(told.applied_mm) == pytest.approx(2200.0)  # 1 mm on 1 m2 is 1 L


def test_a_watering_without_an_amount_is_counted_apart() -> None:
    told = season(Watering(on=FIRST), Watering(on=FIRST + timedelta(days=3), minutes=30.0))
    assert (told.unknown, told.applied_mm) == (1, pytest.approx(6.0))


def test_what_lies_outside_of_the_season_counts_for_nothing() -> None:
    told = season(Watering(on=FIRST - timedelta(days=1), minutes=60.0))
    assert (told.applied_mm, told.waterings) == (0.0, ())


def test_a_watering_on_the_day_of_the_account_counts_although_its_weather_is_not_known_yet() -> None:
    told = season(Watering(on=FIRST + timedelta(days=13), minutes=60.0), weather=days(13))
    assert told.applied_mm == pytest.approx(12.0)
    assert told.last == FIRST + timedelta(days=12)


def test_rain_by_the_persons_gauge_counts_before_the_stations() -> None:
    told = season(Rain(on=FIRST, depth_mm=20.0), weather=days(rain_mm=0.0))
    assert told.rain_mm == pytest.approx(20.0)
    assert 0 < told.entered_mm < 20.0


def test_what_rain_brings_is_not_needed_from_the_hose() -> None:
    dry, wet = season(), season(weather=days(rain_mm=5.0))
    assert wet.needed_mm < dry.needed_mm
    assert dry.demand_mm == pytest.approx(wet.demand_mm)
    assert dry.needed_mm > dry.demand_mm  # the losses of the way of watering come on top


def test_saving_is_before_less_now_with_the_range_of_the_rate() -> None:
    told = season(Watering(on=FIRST, depth_mm=20.0))
    saved = saving(told, 25.0)
    assert saved.saved_mm == pytest.approx(2 * 25.0 - 20.0)
    assert (saved.low_mm, saved.high_mm) == pytest.approx(
        (28.0, 32.0)
    )  # a measured rate is good to a tenth: our judgement


def test_more_than_before_is_a_loss_and_said_so() -> None:
    assert saving(season(Watering(on=FIRST, depth_mm=80.0)), 25.0).saved_mm < 0


def test_pumping_an_acre_foot_a_foot_high_takes_a_kilowatt_hour() -> None:
    """1.02 kWh per acre-foot and foot of lift at 100 percent: the usual figure of pumping-plant sheets."""
    acre_foot_m3, foot_m = 1233.48, 0.3048
    assert pumping_kwh(acre_foot_m3, foot_m, 1.0) == pytest.approx(1.02, abs=0.01)
    assert pumping_kwh(acre_foot_m3, foot_m, 0.5) == pytest.approx(2.05, abs=0.01)
