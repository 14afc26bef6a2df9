"""Weather from a file. Values are the test's own; the shape is the one that `bot.feeds.file` documents."""

import json
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path
from typing import Any

import pytest

from bot.errors import FeedError
from bot.feeds.days import as_seen
from bot.feeds.file import FileFeed, read, read_text, write
from rules.terms import Day, Weather

WEATHER = {
    "past": [
        {"date": "2026-06-30", "tmax_c": 31, "tmin_c": 18, "rain_mm": None, "et0_mm": 6.1, "seen_by": "nobody"},
        {"date": "2026-06-29", "tmax_c": 30, "rain_mm": 2.5},
    ],
    "forecast": [{"date": "2026-07-01", "tmax_c": 33, "tmin_c": 21, "rain_mm": 4.0, "pop": 0.4, "et0_mm": 6.8}],
    "remark": "not for us",
}


def test_rows_become_days_oldest_first_and_unknown_keys_and_nulls_are_no_trouble() -> None:
    seen = FileFeed(WEATHER).view(None, None, date(2026, 7, 1))
    assert seen.past == (
        Day(on=date(2026, 6, 29), tmax_c=30, rain_mm=2.5),
        Day(on=date(2026, 6, 30), tmax_c=31, tmin_c=18, et0_mm=6.1),
    )
    assert seen.forecast == (Day(on=date(2026, 7, 1), tmax_c=33, tmin_c=21, rain_mm=4.0, pop=0.4, et0_mm=6.8),)


def test_the_day_after_the_forecast_has_gone_by_and_is_still_a_chance() -> None:
    seen = FileFeed(WEATHER).view(36.0, -96.0, date(2026, 7, 2))
    assert seen.forecast == ()
    assert seen.past[-1] == Day(on=date(2026, 7, 1), tmax_c=33, tmin_c=21, rain_mm=4.0, pop=0.4, et0_mm=6.8)


def test_a_path_serves_like_the_object(tmp_path: Path) -> None:
    path = tmp_path / "weather.json"
    path.write_text(json.dumps(WEATHER), encoding="utf-8")
    on = date(2026, 7, 1)
    assert FileFeed(path).view(None, None, on) == FileFeed(str(path)).view(None, None, on)
    assert FileFeed(path).view(None, None, on) == FileFeed(WEATHER).view(None, None, on)


@pytest.mark.parametrize("nothing", [None, {}, {"past": None, "forecast": []}])
def test_no_weather_is_an_ordinary_answer(nothing: dict[str, Any] | None) -> None:
    assert FileFeed(nothing).view(36.0, -96.0, date(2026, 7, 1)) == Weather()


def test_forecast_rain_without_a_chance_gets_one() -> None:
    weather = read({"forecast": [{"date": "2026-07-01", "rain_mm": 12}, {"date": "2026-07-02"}]})
    assert [day.pop for day in weather.forecast] == [0.6, None]


def test_a_row_of_the_past_is_observed_whatever_chance_it_carries() -> None:
    assert read({"past": [{"date": "2026-06-01", "rain_mm": 3, "pop": 0.2}]}).past[0].pop is None


@pytest.mark.parametrize(
    ("weather", "said"),
    [
        ([], '"past" and "forecast"'),
        ({"past": {"date": "2026-06-01"}}, '"past" of the weather should be a list'),
        ({"past": [{"date": "2026-06-01"}, 7]}, "Row 2 of past"),
        ({"past": [{"tmax_c": 30}]}, 'Row 1 of past needs a "date"'),
        ({"past": [{"date": "June 1"}]}, "'June 1'"),
        ({"past": [{"date": 20260601}]}, "20260601"),
        ({"forecast": [{"date": "2026-07-01", "rain_mm": "a lot"}]}, 'Row 1 of forecast: "rain_mm"'),
        ({"forecast": [{"date": "2026-07-01", "pop": 40}]}, "from 0 to 1; it is 40"),
        ({"forecast": [{"date": "2026-07-01", "rain_mm": True}]}, '"rain_mm" should be a number'),
        ({"past": [{"date": "2026-06-01", "tmax_c": float("nan")}]}, '"tmax_c" should be a number'),
        ({"as_of": "soon"}, '"as_of"'),
    ],
)
def test_what_cannot_be_used_is_named_by_row_and_key(weather: Any, said: str) -> None:
    with pytest.raises(FeedError) as caught:
        FileFeed(weather)
    assert said in str(caught.value)


def test_a_file_that_is_missing_or_no_json_is_said_at_the_start(tmp_path: Path) -> None:
    with pytest.raises(FeedError, match="can't be opened"):
        FileFeed(tmp_path / "none.json")
    for content in (b'{"past": [', b"\xff\xfe\x00"):
        (tmp_path / "broken.json").write_bytes(content)
        with pytest.raises(FeedError):
            FileFeed(tmp_path / "broken.json")


def test_what_is_written_is_read_again_the_same() -> None:
    on = date(2026, 7, 3)
    weather = as_seen(
        Weather(
            past=(Day(on=date(2026, 7, 1), rain_mm=0.0, solar_mj_m2=20.0),),
            forecast=(
                Day(on=date(2026, 7, 2), rain_mm=3.0, pop=0.5),
                Day(on=on, rain_mm=1.0, pop=0.2, rh_max=90.0, rh_min=40.0, wind_m_s=2.0, dewpoint_c=15.0),
            ),
            source="a",
            attribution="A",
            as_of=datetime(2026, 7, 3, 5, 30),
        ),
        on,
    )
    assert as_seen(read_text(write(weather)), on) == weather
    assert read_text(write(replace(weather, as_of=None))).as_of is None
