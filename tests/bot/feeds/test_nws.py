"""The US forecast. The samples are invented, their shape is the service's (fixtures/feeds/README.md).

Expected values are added up by hand from the sample's blocks; its place keeps UTC-5 in July.
"""

import copy
from datetime import UTC, date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from weather_services import Answer, Services, fixture

from bot.errors import FeedChanged, FeedDown
from bot.feeds.blocks import days_of, layers_of, solar_under_cloud_mj_m2
from bot.feeds.http import Http
from bot.feeds.nws import NationalForecast

POINT = fixture("sample_nws_points.json")
GRID = fixture("sample_nws_gridpoint.json")
ON = date(2031, 7, 22)
NOW = datetime(2031, 7, 22, 12, 0, tzinfo=UTC)  # the sample's grid was made at 08:41 UTC
POINT_PATH, GRID_PATH = "/points/36,-96", "/gridpoints/ZZZ/41,17"


class Clock:
    def __init__(self) -> None:
        self.now = NOW

    def __call__(self) -> datetime:
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def forecast(http: Http, services: Services, clock: Clock) -> NationalForecast:
    services.give(POINT_PATH, Answer(POINT))
    services.give(GRID_PATH, Answer(GRID))
    return NationalForecast(http, clock, services.url)


def grid_with(layer: str, values: list[dict[str, Any]], uom: str | None = None) -> dict[str, Any]:
    grid = copy.deepcopy(GRID)
    grid["properties"][layer] = {"uom": uom or GRID["properties"][layer]["uom"], "values": values}
    return grid


def problem(title: str, status: int) -> Answer:
    return Answer({"title": title, "status": status}, status=status)


def test_a_point_leads_to_its_cell_and_the_cell_to_days(forecast: NationalForecast, services: Services) -> None:
    weather = forecast.fetch(36.0, -96.0, ON)
    assert services.paths() == [POINT_PATH, GRID_PATH]
    assert [day.on for day in weather.forecast] == [ON + timedelta(days=ahead) for ahead in range(8)]
    assert (weather.forecast[7].tmax_c, weather.forecast[7].rain_mm) == (None, None)  # the last minimum's morning
    assert weather.past == ()
    assert weather.as_of == datetime(2031, 7, 22, 3, 41, 7)
    assert weather.attribution is not None
    assert "based on National Weather Service data" in weather.attribution


def test_rain_is_summed_by_local_day_and_blocks_are_split_at_midnight(forecast: NationalForecast) -> None:
    days = {day.on.day: day for day in forecast.fetch(36.0, -96.0, ON).forecast}
    # Midnight is 05 UTC, so 5/6 of the block 00-06 UTC belong to the day before.
    # 23 July: 0.254 + 5/6 x 2.794 = 2.582. 24 July: 1/6 x 2.794 + 1.778 + 2.286 + 4.572 + 5/6 x 0.762 = 9.737.
    assert days[22].rain_mm == 0.0
    assert days[23].rain_mm == pytest.approx(2.582, abs=0.0005)
    assert days[24].rain_mm == pytest.approx(9.737, abs=0.0005)


def test_a_last_day_that_the_rain_layer_hardly_reaches_is_not_taken_for_dry(forecast: NationalForecast) -> None:
    grid = grid_with("quantitativePrecipitation", GRID["properties"]["quantitativePrecipitation"]["values"][:-3])
    days = days_of(layers_of(grid["properties"]), _zone(), 36.0, ON)
    assert (days[6].on, days[6].rain_mm) == (date(2031, 7, 28), None)
    assert days[5].rain_mm is not None


def test_a_days_chance_is_its_largest_block(forecast: NationalForecast) -> None:
    days = {day.on.day: day for day in forecast.fetch(36.0, -96.0, ON).forecast}
    assert [days[day].pop for day in (22, 23, 24, 25)] == pytest.approx([0.02, 0.12, 0.77, 0.34])


def test_a_nights_minimum_belongs_to_the_morning_after(forecast: NationalForecast) -> None:
    days = {day.on.day: day for day in forecast.fetch(36.0, -96.0, ON).forecast}
    assert days[23].tmin_c == pytest.approx(20.56, abs=0.005)  # the block from 22 July 19:00 to 23 July 09:00
    assert days[22].tmax_c == pytest.approx(33.89, abs=0.005)


def test_a_minimum_that_is_past_comes_from_the_hours_if_they_are_all_there(forecast: NationalForecast) -> None:
    assert forecast.fetch(36.0, -96.0, ON).forecast[0].tmin_c == pytest.approx(21.11, abs=0.005)  # 02:00 to 05:00
    grid = grid_with("temperature", GRID["properties"]["temperature"]["values"][12:])
    assert days_of(layers_of(grid["properties"]), _zone(), 36.0, ON)[0].tmin_c is None


def test_a_minimum_of_nought_degrees_is_a_minimum(forecast: NationalForecast) -> None:
    grid = grid_with("minTemperature", [{"validTime": "2031-07-22T06:00:00+00:00/PT8H", "value": 0}])
    assert days_of(layers_of(grid["properties"]), _zone(), 36.0, ON)[0].tmin_c == 0.0


def test_wind_is_averaged_over_the_day_and_given_in_metres_a_second(forecast: NationalForecast) -> None:
    # 22 July, four blocks of six local hours: 9.26, 12.964, 16.668, 12.964 km/h.
    assert forecast.fetch(36.0, -96.0, ON).forecast[0].wind_m_s == pytest.approx(12.964 / 3.6)


def test_sunshine_under_cloud_published() -> None:
    # FAO-56, Example 10 (p. 50): 22.9 S, 15 May, 7.1 of 10.9 h of sunshine, 14.5 MJ/m2. Half the last printed digit.
    assert solar_under_cloud_mj_m2(-22.9, date(2015, 5, 15), 1 - 7.1 / 10.9) == pytest.approx(14.5, abs=0.05)


def test_cloud_at_night_does_not_count_against_the_sun(forecast: NationalForecast) -> None:
    night = [
        {"validTime": "2031-07-22T05:00:00+00:00/PT7H", "value": 100},
        {"validTime": "2031-07-22T12:00:00+00:00/PT12H", "value": 0},
    ]
    day = days_of(layers_of(grid_with("skyCover", night)["properties"]), _zone(), 36.0, ON)[0]
    assert day.solar_mj_m2 == pytest.approx(solar_under_cloud_mj_m2(36.0, ON, 0.0))


def test_nulls_and_empty_layers_are_not_known(forecast: NationalForecast) -> None:
    grid = copy.deepcopy(GRID)
    for name, layer in grid["properties"].items():
        if isinstance(layer, dict) and "uom" in layer and name != "maxTemperature":
            layer["values"] = [entry | {"value": None} for entry in layer["values"]]
    grid["properties"]["quantitativePrecipitation"] = {"values": []}  # an office may leave it out
    days = days_of(layers_of(grid["properties"]), _zone(), 36.0, ON)
    assert days[0].tmax_c is not None
    assert (days[0].rain_mm, days[0].pop, days[0].tmin_c, days[0].solar_mj_m2) == (None, None, None, None)


def test_a_grid_without_any_layer_is_no_forecast(forecast: NationalForecast, services: Services) -> None:
    bare = {key: GRID["properties"][key] for key in ("updateTime", "elevation", "gridId")}
    services.give(GRID_PATH, Answer(GRID | {"properties": bare}))
    assert forecast.fetch(36.0, -96.0, ON).forecast == ()


def test_fahrenheit_is_understood_and_an_unknown_unit_refused() -> None:
    block = [{"validTime": "2031-07-22T12:00:00+00:00/PT13H", "value": 86}]
    grid = grid_with("maxTemperature", block, "nwsUnit:degF")
    assert days_of(layers_of(grid["properties"]), _zone(), 36.0, ON)[0].tmax_c == pytest.approx(30.0)
    with pytest.raises(FeedChanged, match="degR"):
        layers_of(grid_with("maxTemperature", block, "wmoUnit:degR")["properties"])


@pytest.mark.parametrize("valid_time", ["2031-07-22", "2031-07-22T12:00:00+00:00/1 day", "soon/PT1H"])
def test_a_stretch_of_time_that_cannot_be_read_is_another_shape(valid_time: str) -> None:
    with pytest.raises(FeedChanged):
        layers_of(grid_with("skyCover", [{"validTime": valid_time, "value": 3}])["properties"])


def test_days_of_more_than_24_hours_are_read() -> None:
    block = [{"validTime": "2031-07-22T05:00:00+00:00/P1DT6H", "value": 50}]
    days = days_of(layers_of(grid_with("probabilityOfPrecipitation", block)["properties"]), _zone(), 36.0, ON)
    assert [day.pop for day in days[:2]] == [0.5, 0.5]


def test_the_cell_of_a_point_is_asked_for_once_a_week(
    forecast: NationalForecast, services: Services, clock: Clock
) -> None:
    forecast.fetch(36.0, -96.0, ON)
    forecast.fetch(36.0, -96.0, ON)
    assert services.paths() == [POINT_PATH, GRID_PATH, GRID_PATH]
    clock.now += timedelta(days=8)
    services.give(GRID_PATH, Answer(_made_at(clock.now)))
    forecast.fetch(36.0, -96.0, ON)
    assert services.paths()[3:] == [POINT_PATH, GRID_PATH]


def test_a_cell_that_turned_to_sea_is_asked_for_again(forecast: NationalForecast, services: Services) -> None:
    forecast.fetch(36.0, -96.0, ON)
    moved = copy.deepcopy(POINT)
    moved["properties"]["gridX"] = 42
    services.give(POINT_PATH, Answer(moved))
    services.give(GRID_PATH, problem("Marine Forecast Not Supported", 404))
    services.give("/gridpoints/ZZZ/42,17", Answer(GRID))
    assert forecast.fetch(36.0, -96.0, ON).forecast
    assert services.paths()[2:] == [GRID_PATH, POINT_PATH, "/gridpoints/ZZZ/42,17"]


def test_a_cell_that_lies_elsewhere_is_asked_for_again_once_and_then_not_believed(
    forecast: NationalForecast, services: Services
) -> None:
    forecast.fetch(36.0, -96.0, ON)
    elsewhere = copy.deepcopy(GRID)
    elsewhere["geometry"]["coordinates"] = [[[lon + 1, lat] for lon, lat in GRID["geometry"]["coordinates"][0]]]
    services.give(GRID_PATH, Answer(elsewhere))
    with pytest.raises(FeedDown, match="elsewhere"):
        forecast.fetch(36.0, -96.0, ON)
    assert services.paths()[2:] == [GRID_PATH, POINT_PATH, GRID_PATH]


def test_a_place_off_the_grid_is_remembered(forecast: NationalForecast, services: Services) -> None:
    services.give(POINT_PATH, problem("Data Unavailable For Requested Point", 404))
    for _ in range(2):
        with pytest.raises(FeedDown) as caught:
            forecast.fetch(36.0, -96.0, ON)
        assert caught.value.status == 404
    assert services.paths() == [POINT_PATH]


@pytest.mark.parametrize(("age_h", "usable"), [(0, True), (23.9, True), (24.1, False), (89, False)])
def test_a_grid_of_more_than_a_day_is_not_used(
    forecast: NationalForecast, services: Services, clock: Clock, age_h: float, usable: bool
) -> None:
    services.give(GRID_PATH, Answer(_made_at(clock.now - timedelta(hours=age_h))))
    if usable:
        assert forecast.fetch(36.0, -96.0, ON).forecast
        return
    with pytest.raises(FeedDown, match="h old"):
        forecast.fetch(36.0, -96.0, ON)


def test_the_services_errors_become_ours(forecast: NationalForecast, services: Services) -> None:
    for error in fixture("sample_errors.json")["nws"]:
        body = error["body"] if "body" in error else error["body_text"].encode()
        services.give(GRID_PATH, Answer(body, status=error["http_status"]))
        with pytest.raises(FeedChanged if error["http_status"] == 403 else FeedDown):
            forecast.fetch(36.0, -96.0, ON)


@pytest.mark.parametrize("body", [None, [], {}, {"properties": {}}, {"properties": {"gridId": "Z", "gridX": "a"}}])
def test_a_point_of_another_shape_is_said(forecast: NationalForecast, services: Services, body: Any) -> None:
    services.give(POINT_PATH, Answer(body))
    with pytest.raises(FeedChanged):
        forecast.fetch(36.0, -96.0, ON)


@pytest.mark.parametrize("body", [None, [], {}, {"properties": {}}, GRID | {"geometry": None}])
def test_a_grid_of_another_shape_is_said(forecast: NationalForecast, services: Services, body: Any) -> None:
    services.give(GRID_PATH, Answer(body))
    with pytest.raises(FeedChanged):
        forecast.fetch(36.0, -96.0, ON)


def test_coordinates_are_sent_with_at_most_four_decimals(http: Http, services: Services, clock: Clock) -> None:
    services.give("/points/36.1235,-96.05", Answer(POINT))
    services.give(GRID_PATH, Answer(GRID))
    with pytest.raises(FeedDown, match="elsewhere"):  # the sample's cell is not there
        NationalForecast(http, clock, services.url).fetch(36.123456, -96.05, ON)
    assert services.paths()[0] == "/points/36.1235,-96.05"


@pytest.mark.parametrize(
    ("latitude", "longitude", "covered"),
    [(36.0, -96.0, True), (61.0, -150.0, True), (20.0, -156.0, True), (18.3, -66.0, True), (51.5, 0.0, False)],
)
def test_the_us_and_its_territories_are_covered(
    forecast: NationalForecast, latitude: float, longitude: float, covered: bool
) -> None:
    assert forecast.covers(latitude, longitude) is covered


def _zone() -> ZoneInfo:
    return ZoneInfo("America/Chicago")


def _made_at(made: datetime) -> dict[str, Any]:
    grid: dict[str, Any] = copy.deepcopy(GRID)
    grid["properties"]["updateTime"] = made.isoformat()
    return grid
