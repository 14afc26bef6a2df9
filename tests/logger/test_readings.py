"""From a logger's cells to readings in SI, in order, each once, and what can't be read told with its line."""

from datetime import date

import pandas as pd
import pytest

from bot.errors import FileError
from bot.logger import readings, table
from bot.logger.columns import Column, Layout

ZONE = "America/Chicago"
NOW = pd.Timestamp("2026-12-01", tz="UTC")


def read(text: str, *, unit: str = "cb", order: str = "year first", daylight_saving: bool = True) -> readings.Series:
    frame = table.read(text)
    names = [str(name) for name in frame.columns][1:]
    layout = Layout(
        time=("Time",),
        order=order,
        columns=tuple(Column(name=name, unit=unit, depth_cm=30.0 * (n + 1)) for n, name in enumerate(names)),
        daylight_saving=daylight_saving,
    )
    return readings.read(frame, layout, ZONE, NOW)


@pytest.mark.parametrize(
    ("unit", "cell", "quantity", "value"),
    [
        ("cb", "45", "tension", 45.0),
        ("kPa", "-45", "tension", 45.0),
        ("bar", "0.45", "tension", 45.0),
        ("hPa", "450", "tension", 45.0),
        ("kohms", "2.5", "resistance", 2500.0),
        ("%", "22", "percent", 22.0),
        ("m3/m3", "0,22", "percent", 22.0),
    ],
)
def test_cells_come_out_in_si(unit: str, cell: str, quantity: str, value: float) -> None:
    found = read(f"Time;a\n2026-07-01 06:00;{cell}\n", unit=unit).frame
    assert found["quantity"].tolist() == [quantity]
    assert found["value"].tolist() == pytest.approx([value])


def test_times_are_those_of_the_place_in_utc() -> None:
    found = read("Time,a\n2026-07-01 06:00,20\n2026-01-01 06:00,20\n").frame
    assert [str(at) for at in found["at"]] == ["2026-01-01 12:00:00+00:00", "2026-07-01 11:00:00+00:00"]


def test_a_logger_that_keeps_winter_time_is_an_hour_behind_in_summer() -> None:
    found = read("Time,a\n2026-07-01 06:00,20\n", daylight_saving=False).frame
    assert str(found["at"].iloc[0]) == "2026-07-01 12:00:00+00:00"


def test_the_hour_that_autumn_repeats_keeps_its_order() -> None:
    rows = ["00:30,1", "01:00,2", "01:30,3", "01:00,4", "01:30,5", "02:00,6"]
    found = read("Time,a\n" + "\n".join(f"2026-11-01 {row}" for row in rows)).frame
    assert found["value"].tolist() == [1, 2, 3, 4, 5, 6]
    assert found["at"].is_monotonic_increasing
    assert found["at"].is_unique


def test_the_hour_that_spring_leaves_out_is_no_error() -> None:
    found = read("Time,a\n2026-03-08 01:30,1\n2026-03-08 02:30,2\n2026-03-08 03:30,3\n")
    assert found.frame["value"].tolist() == [1, 2, 3]
    assert found.odd == ()


def test_what_cannot_be_read_is_told_with_its_line_and_the_rest_is_kept() -> None:
    found = read(
        "Time,a,b\n2026-07-01 06:00,20,30\nyesterday,21,31\n2026-07-01 07:00,err,32\n"
        "2026-07-01 08:00,99999,33\n2031-01-01 08:00,20,30\n2026-07-01 09:00,,34\n"
    )
    assert [(each.line, each.cell) for each in found.odd] == [
        (3, "yesterday"), (4, "err"), (5, "99999"), (6, "2031-01-01 08:00"),
    ]  # fmt: skip
    assert found.frame["value"].tolist() == [20, 30, 32, 33, 34]


def test_a_reading_that_stands_twice_counts_once() -> None:
    found = read("Time,a\n2026-07-01 06:00,20\n2026-07-01 06:00,20\n2026-07-01 07:00,21\n")
    assert found.frame["value"].tolist() == [20, 21]
    assert found.repeated == 1


def test_mixed_forms_of_dates_are_read() -> None:
    found = read("Time,a\n7/1/2026 6:00 AM,20\n2026-07-01 19:00,21\n", order="month first").frame
    assert [str(at) for at in found["at"]] == ["2026-07-01 11:00:00+00:00", "2026-07-02 00:00:00+00:00"]


def test_days_before_months_where_the_file_writes_so() -> None:
    found = read("Time,a\n3/7/2026 06:00,20\n", order="day first").frame
    assert found["at"].dt.date.tolist() == [date(2026, 7, 3)]


def test_an_open_question_stops_the_reading() -> None:
    frame = table.read("Time,port\n2026-07-01 06:00,20\n")
    layout = Layout(time=("Time",), order="year first", columns=(Column(name="port", unit=None, depth_cm=30.0),))
    with pytest.raises(FileError, match="port"):
        readings.read(frame, layout, ZONE, NOW)


def test_a_day_is_told_by_its_early_morning() -> None:
    hours = "\n".join(f"2026-07-{day:02} {hour:02}:00,{day * 100 + hour}" for day in (1, 2) for hour in range(24))
    found = readings.daily(read(f"Time,a\n{hours}\n").frame, ZONE)
    assert found["on"].tolist() == [date(2026, 7, 1), date(2026, 7, 2)]
    assert found["value"].tolist() == [106, 206]


def test_a_day_without_a_morning_is_told_by_its_first_hours() -> None:
    found = readings.daily(read("Time,a\n2026-07-01 14:00,20\n2026-07-01 23:00,40\n").frame, ZONE)
    assert found["value"].tolist() == [20]
