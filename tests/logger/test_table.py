"""Files as loggers and spreadsheets write them. All of them are made up."""

import pytest

from bot.errors import FileError
from bot.logger import columns, table

PLAIN = "Time,12 in cb,24 in cb\n2026-07-01 06:00,40,20\n2026-07-01 07:00,41,20\n2026-07-01 08:00,41,20\n"


@pytest.mark.parametrize(
    "text",
    [
        PLAIN,
        PLAIN.replace(",", ";"),
        PLAIN.replace(",", "\t"),
        "Site Quail Hollow\nSerial 5, logger 3\n\n" + PLAIN,
        PLAIN.replace("\n", "\r\n") + ",,\r\n",
        PLAIN.replace(",", ";").replace("40", "40,5").replace("41", "41,5").replace("20\n", "20,5\n"),
    ],
    ids=["commas", "semicolons", "tabs", "lines above", "a spreadsheet's", "decimal commas"],
)
def test_the_columns_and_rows_are_found(text: str) -> None:
    frame = table.read(text)
    assert list(frame.columns) == ["Time", "12 in cb", "24 in cb"]
    assert len(frame) == 3


def test_a_row_knows_its_line_in_the_file() -> None:
    frame = table.read("made up\n\n" + PLAIN)
    assert frame.loc[4, "12 in cb"] == "40"


@pytest.mark.parametrize("data", [PLAIN.encode("utf-8-sig"), PLAIN.encode("utf-16"), PLAIN.encode("cp1252")])
def test_the_usual_encodings_are_read(data: bytes) -> None:
    assert table.read(table.decoded(data)).shape == (3, 3)


@pytest.mark.parametrize("text", ["", "hello", "one\ntwo\nthree", ",,,\n,,,\n"])
def test_what_is_no_table_is_said_to_be_none(text: str) -> None:
    with pytest.raises(FileError):
        table.read(text)


def test_what_is_no_text_is_said_to_be_none() -> None:
    with pytest.raises(FileError, match="CSV"):
        table.decoded(b"PK\x03\x04\x00\x00\x00")


@pytest.mark.parametrize(
    ("name", "unit", "depth_cm"),
    [
        ("Tension 12in (cb)", "cb", 30.5),
        ("kPa 30cm", "kPa", 30.0),
        ("VWC 24 inches [%]", "%", 61.0),
        ("WC_60cm_m3/m3", "m3/m3", 60.0),
        ("R1 2 ft kohms", "kohms", 61.0),
        ("humedad 15 cm", "%", 15.0),
        ("port 3", None, None),
    ],
)
def test_a_column_tells_unit_and_depth_by_its_name(name: str, unit: str | None, depth_cm: float | None) -> None:
    frame = table.read(f"Time;{name}\n2026-07-01 06:00;20\n2026-07-01 07:00;21\n")
    (column,) = columns.guessed(frame).columns
    assert (column.unit, column.depth_cm) == (unit, depth_cm)


def test_temperature_and_battery_are_no_readings() -> None:
    frame = table.read("Date,Time,cb 12 in,Soil temp C,Battery V\n7/13/2026,6:00,20,19,3.1\n7/13/2026,7:00,21,19,3.1\n")
    layout = columns.guessed(frame)
    assert layout.time == ("Date", "Time")
    assert [each.name for each in layout.columns] == ["cb 12 in"]


@pytest.mark.parametrize(
    ("dates", "order"),
    [
        (("7/13/2026", "7/14/2026"), "month first"),
        (("13/7/2026", "14/7/2026"), "day first"),
        (("2026-07-13",) * 2, "year first"),
    ],
)
def test_the_order_of_a_date_is_seen_by_a_part_beyond_twelve(dates: tuple[str, str], order: str) -> None:
    frame = table.read("Time,cb 12 in\n" + "\n".join(f"{each} 06:00,20" for each in dates))
    assert columns.guessed(frame).order == order


def test_what_was_settled_of_a_column_is_remembered() -> None:
    frame = table.read("Time,port 1,port 2\n2026-07-01 06:00,20,21\n2026-07-01 07:00,20,21\n")
    guess = columns.guessed(frame)
    assert guess.open_questions == ("port 1", "port 2")
    known = columns.Layout(
        time=("Time",), order="year first", columns=(columns.Column(name="port 1", unit="cb", depth_cm=30.0),)
    )
    assert columns.settled(guess, known).open_questions == ("port 2",)


def test_a_layout_comes_back_from_json_and_what_it_cannot_be_is_named() -> None:
    layout = columns.Layout(
        time=("Time",), order="year first", columns=(columns.Column(name="a", unit="cb", depth_cm=30.0),)
    )
    held = columns.as_json(layout)
    assert columns.from_json(held) == layout
    for wrong in ({"unit": "furlong"}, {"depth_cm": 900.0}):
        with pytest.raises(FileError, match="a:"):
            columns.from_json({**held, "columns": [{**held["columns"][0], **wrong}]})
