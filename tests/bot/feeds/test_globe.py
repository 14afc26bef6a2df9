"""The global service's answers. The sample is invented; its shape is the service's (see fixtures/feeds/README.md)."""

import copy
from datetime import UTC, date, datetime
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from weather_services import Answer, Services, fixture

from bot.errors import FeedChanged, FeedDown
from bot.feeds.globe import ATTRIBUTION, GlobeService, day_chance, read
from bot.feeds.http import Http

SAMPLE = fixture("sample_openmeteo.json")
ON = date(2031, 7, 22)
NOW = datetime(2031, 7, 22, 12, 0, tzinfo=UTC)


def changed(key: str, value: Any) -> dict[str, Any]:
    answer = copy.deepcopy(SAMPLE)
    answer["daily"][key] = value
    return answer


def test_the_request_asks_for_local_days_and_the_answer_becomes_days(http: Http, services: Services) -> None:
    services.give("/v1/forecast", Answer(SAMPLE))
    weather = GlobeService(http, lambda: NOW, services.url).fetch(36.0, -96.0, ON)
    _, query, _ = services.asked[0]
    assert query["timezone"] == ["auto"]
    assert query["wind_speed_unit"] == ["ms"]
    assert len(query["daily"][0].split(",")) == 10  # more than ten would count as a heavier call
    assert (len(weather.past), len(weather.forecast)) == (7, 10)  # 17 dates in the sample, the eighth is ON
    assert weather.attribution == ATTRIBUTION == "Weather data by Open-Meteo.com"
    assert weather.as_of == datetime(2031, 7, 22, 7, 0)  # utc_offset_seconds -18000


def test_days_behind_are_observed_and_days_ahead_are_chances() -> None:
    weather = read(SAMPLE, ON, NOW)
    yesterday, rainy = weather.past[-1], weather.forecast[2]
    # Typed from the sample: 21 and 24 July; wind 14.0 km/h is 3.889 m/s at 10 m.
    assert (yesterday.rain_mm, yesterday.pop, yesterday.et0_mm, yesterday.tmax_c) == (0.9, None, 7.08, 33.7)
    assert yesterday.wind_m_s == pytest.approx(14.0 / 3.6)
    assert (rainy.rain_mm, rainy.et0_mm, rainy.rh_max, rainy.solar_mj_m2) == (11.4, 4.53, 90, 14.96)
    # Worked by hand: 77 % and 10 wet hours, k = 1 + 10/12, 1 - 0.23^1.8333 = 0.9324.
    assert rainy.pop == pytest.approx(0.9324, abs=5e-5)


def test_nulls_everywhere_leave_days_of_which_nothing_is_known() -> None:
    answer = copy.deepcopy(SAMPLE)
    for key in answer["daily"].keys() - {"time"}:
        answer["daily"][key] = [None] * 17
    weather = read(answer, ON, NOW)
    assert len(weather.forecast) == 10
    assert all(day.rain_mm is None and day.tmax_c is None and day.pop is None for day in weather.forecast)


def test_a_chance_left_out_is_taken_from_the_amount() -> None:
    weather = read(changed("precipitation_probability_max", [None] * 17), ON, NOW)
    assert [day.pop for day in weather.forecast[:3]] == [0.0, 0.3, 0.6]  # 0.0, 0.5 and 11.4 mm


def test_a_column_left_out_is_not_known() -> None:
    answer = copy.deepcopy(SAMPLE)
    del answer["daily"]["et0_fao_evapotranspiration"]
    assert read(answer, ON, NOW).forecast[0].et0_mm is None


def test_a_value_that_cannot_be_true_is_not_known() -> None:
    assert read(changed("temperature_2m_max", [999.0] * 17), ON, NOW).forecast[0].tmax_c is None


def test_inches_are_understood_and_other_units_refused() -> None:
    answer = copy.deepcopy(SAMPLE)
    answer["daily_units"]["precipitation_sum"] = "inch"
    assert read(answer, ON, NOW).forecast[2].rain_mm == pytest.approx(11.4 * 25.4)
    answer["daily_units"]["precipitation_sum"] = "cubits"
    with pytest.raises(FeedChanged, match="cubits"):
        read(answer, ON, NOW)


@pytest.mark.parametrize(
    "answer",
    [None, [], [SAMPLE], "x", {}, {"daily": 3}, changed("time", ["today"]), changed("precipitation_sum", [1.0])],
)
def test_another_shape_is_said_and_not_guessed_at(answer: Any) -> None:
    with pytest.raises(FeedChanged):
        read(answer, ON, NOW)


def test_the_services_errors_become_ours(http: Http, services: Services) -> None:
    service = GlobeService(http, lambda: NOW, services.url)
    for error in fixture("sample_errors.json")["openmeteo"]:
        services.give("/v1/forecast", Answer(error["body"], status=error["http_status"]))
        with pytest.raises(FeedChanged if error["http_status"] == 400 else FeedDown):
            service.fetch(36.0, -96.0, ON)


@given(st.floats(0, 1), st.floats(0, 24))
def test_a_days_chance_is_never_below_its_hours_nor_above_two_of_them(hourly: float, wet_h: float) -> None:
    chance = day_chance(hourly, wet_h)
    assert hourly - 1e-12 <= chance <= 1 - (1 - hourly) ** 2 + 1e-12


@given(st.floats(0, 1), st.floats(0, 24), st.floats(0, 24))
def test_more_wet_hours_never_make_rain_less_likely(hourly: float, one: float, other: float) -> None:
    assert day_chance(hourly, min(one, other)) <= day_chance(hourly, max(one, other))
