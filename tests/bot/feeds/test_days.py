"""What is seen from which day, and how two lists of days become one. No outside source: these are our own rules."""

from datetime import date

import pytest

from bot.feeds.days import as_seen, chance_from_amount, filled, plausible
from rules.terms import Day, Weather


def on(day: int) -> date:
    return date(2031, 7, day)


def test_a_forecast_day_that_went_by_unobserved_stays_a_chance() -> None:
    weather = Weather(past=(Day(on=on(1), rain_mm=3.0),), forecast=(Day(on=on(2), rain_mm=9.0, pop=0.4), Day(on=on(3))))
    seen = as_seen(weather, on(3))
    assert seen.past == (Day(on=on(1), rain_mm=3.0), Day(on=on(2), rain_mm=9.0, pop=0.4))
    assert seen.forecast == (Day(on=on(3)),)


def test_an_observed_day_is_worth_more_than_its_forecast() -> None:
    weather = Weather(past=(Day(on=on(1), rain_mm=0.0),), forecast=(Day(on=on(1), rain_mm=9.0, pop=0.9, et0_mm=5.0),))
    assert as_seen(weather, on(2)).past == (Day(on=on(1), rain_mm=0.0, et0_mm=5.0),)


def test_a_day_observed_later_is_not_known_yet() -> None:
    weather = Weather(past=(Day(on=on(3), rain_mm=5.0), Day(on=on(1), rain_mm=1.0)))
    assert as_seen(weather, on(2)) == Weather(past=(Day(on=on(1), rain_mm=1.0),))


def test_gaps_are_filled_value_by_value_with_the_sources_of_both() -> None:
    first = Weather(past=(Day(on=on(1), tmax_c=30.0),), source="a", attribution="A")
    second = Weather(past=(Day(on=on(1), tmax_c=20.0, rain_mm=2.0), Day(on=on(2))), source="b", attribution="B")
    assert filled(first, second) == Weather(
        past=(Day(on=on(1), tmax_c=30.0, rain_mm=2.0), Day(on=on(2))), source="a; b", attribution="A; B"
    )


def test_a_chance_is_never_joined_to_another_amount() -> None:
    first = Weather(forecast=(Day(on=on(1), pop=0.9),))
    second = Weather(forecast=(Day(on=on(1), rain_mm=4.0, pop=0.2),))
    assert filled(first, second).forecast == (Day(on=on(1), rain_mm=4.0, pop=0.2),)
    dry = Weather(forecast=(Day(on=on(1), rain_mm=0.0, pop=0.1),))
    assert filled(dry, second) == dry


def test_a_second_source_that_adds_nothing_is_not_named() -> None:
    first = Weather(past=(Day(on=on(1), rain_mm=1.0),), source="a", attribution="A")
    assert filled(first, Weather(past=(Day(on=on(1), rain_mm=7.0),), source="b", attribution="B")) == first


@pytest.mark.parametrize(("rain_mm", "chance"), [(None, None), (0.0, 0.0), (0.9, 0.3), (1.0, 0.6), (40.0, 0.6)])
def test_an_amount_without_a_chance_is_never_taken_for_certain(rain_mm: float | None, chance: float | None) -> None:
    assert chance_from_amount(rain_mm) == chance


@pytest.mark.parametrize(
    "value",
    [None, "3", True, float("nan"), float("inf"), -0.1, 2001],
    ids=["None", "text", "bool", "nan", "inf", "low", "high"],
)
def test_what_cannot_be_rain_is_not_known(value: object) -> None:
    assert plausible("rain_mm", value) is None
