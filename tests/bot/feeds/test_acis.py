"""Observed days. The sample is invented, its shape is the service's (fixtures/feeds/README.md).

Fahrenheit and inches are exact by definition: 93 F = 33.89 C, 0.25 in = 6.35 mm.
"""

import copy
import json
from datetime import date
from typing import Any

import pytest
from weather_services import Answer, Services, fixture

from bot.errors import FeedChanged
from bot.feeds.acis import ObservedGrid, amounts, read
from bot.feeds.http import Http

SAMPLE = fixture("sample_acis.json")
GRID = SAMPLE["GridData"]["response"]
ON = date(2031, 7, 21)


def test_the_request_puts_longitude_first_and_asks_for_today_as_well(http: Http, services: Services) -> None:
    services.give("/GridData", Answer(GRID))
    weather = ObservedGrid(http, services.url).fetch(36.0, -96.05, ON)
    asked = json.loads(services.asked[0][1]["params"][0])
    assert (asked["loc"], asked["grid"], asked["sdate"], asked["edate"]) == (
        "-96.05,36",
        "21",
        "2031-06-21",
        "2031-07-21",
    )
    assert weather.attribution is not None
    assert "PRISM" in weather.attribution


def test_a_row_tells_the_afternoon_and_rain_of_the_day_before_and_its_own_morning() -> None:
    # PRISM's day ends 12 UTC (PRISM Climate Group, "PRISM day"): 20 July's afternoon stands in the row of 21 July.
    answer = copy.deepcopy(GRID)
    answer["data"][-1] = ["2031-07-21", 93, 71, 0.25]
    weather = read(answer, ON)
    yesterday = weather.past[-1]
    assert yesterday.on == date(2031, 7, 20)
    assert yesterday.tmax_c == pytest.approx(33.89, abs=0.005)
    assert yesterday.tmin_c == pytest.approx((70 - 32) / 1.8)  # from the row of the 20th
    assert yesterday.rain_mm == pytest.approx(6.35)
    assert yesterday.pop is None
    assert [day.on for day in weather.forecast] == [ON]
    assert weather.forecast[0].tmin_c == pytest.approx((71 - 32) / 1.8)
    assert weather.forecast[0].rain_mm is None


def test_missing_rain_is_not_known_and_never_nought() -> None:
    weather = read(GRID, ON)  # the sample's last row has -999
    assert weather.past[-1].rain_mm is None
    assert weather.past[-2].rain_mm == 0.0


@pytest.mark.parametrize(
    ("values", "read_as"),
    [
        (["0.00", "T", "0.04"], [0.0, 0.0, 0.04]),
        (["M", -999, "-999", None, "0.1"], [None, None, None, None, 0.1]),
        (["S", "0.83A"], [0.415, 0.415]),
        (["0.2", "S", "S", "0.90A", "0.1"], [0.2, 0.3, 0.3, 0.3, 0.1]),
        (["S", "0.10", "0.2"], [None, 0.10, 0.2]),
        (["0.40A"], [0.40]),
        (["S", "S"], [None, None]),
    ],
)
def test_codes_are_read_as_the_service_documents_them(values: list[Any], read_as: list[float | None]) -> None:
    assert amounts(values) == pytest.approx(read_as)


def test_an_error_with_status_200_is_an_error(http: Http, services: Services) -> None:
    for error in fixture("sample_errors.json")["acis"]:
        services.give("/GridData", Answer(error["body"]))
        with pytest.raises(FeedChanged):
            ObservedGrid(http, services.url).fetch(36.0, -96.0, ON)


@pytest.mark.parametrize(
    "answer",
    [
        None,
        [],
        {},
        {"data": 3},
        {"data": [["2031-07-20", 87]]},
        {"data": [["today", 1, 2, 3]]},
        {"data": [["2031-07-20", "x", 1, 2]]},
    ],
)
def test_another_shape_is_said_and_not_guessed_at(answer: Any) -> None:
    with pytest.raises(FeedChanged):
        read(answer, ON)


def test_a_grid_that_ends_before_the_place_knows_nothing() -> None:
    weather = read({"data": [["2031-07-20", -999, -999, -999], ["2031-07-21", -999, -999, -999]]}, ON)
    assert weather.past == weather.forecast == ()


def test_only_the_48_states_are_covered(http: Http) -> None:
    grid = ObservedGrid(http)
    assert grid.covers(36.0, -96.0)
    assert not grid.covers(21.3, -157.8)  # the latitude and longitude of Hawaii
    assert not grid.covers(51.5, 0.0)
