"""A logger's file on a real line: looked at, kept once, used by the estimate, taken back."""

from datetime import datetime, timedelta
from pathlib import Path

import pytest

from bot.errors import FileError
from bot.line import Line, Message, open_line
from bot.logger import columns
from bot.logger.intake import Intake
from bot.store import Person, StoredPlot

NOW = datetime(2026, 7, 20, 8, 0)
ANN = "555-0101"


def weather() -> dict[str, object]:
    days = [(NOW - timedelta(days=n)).date().isoformat() for n in range(40, 0, -1)]
    return {"past": [{"date": day, "tmax_c": 31, "tmin_c": 18, "rain_mm": 0.0} for day in days], "forecast": []}


def file(first: int, last: int, kpa: float, per_day: float = 1.0) -> bytes:
    """A made-up file of July: a reading an hour at two depths, the tension rising day by day."""
    rows = ["Logger of an invented vineyard", "Time,12 in cb,24 in cb"]
    for day in range(first, last + 1):
        dry = kpa + per_day * (day - first)
        rows += [f"2026-07-{day:02} {hour:02}:00,{dry:.1f},{dry / 2:.1f}" for hour in range(24)]
    return "\n".join(rows).encode()


@pytest.fixture
def line(tmp_path: Path) -> Line:
    line = open_line(tmp_path / "line.sqlite", weather(), lambda: NOW)
    for text in ("grapes, loam, drip", "36.1, -97.1"):
        line.receive(Message(channel="sms", sender=ANN, text=text))
    return line


def planted(line: Line) -> tuple[Person, StoredPlot]:
    person = line.store.people.known("sms", ANN)
    assert person is not None
    (plot,) = line.store.plots.of(person)
    return person, plot


def taken_in(line: Line, data: bytes) -> dict[str, int]:
    person, plot = planted(line)
    intake = Intake(line.store, lambda: NOW)
    layout = intake.preview(person, plot, data).layout
    taken = intake.keep(person, plot, data, layout, "july.csv", by="rosa")
    return {"new": taken.new, "known": taken.known, "days": taken.days, "odd": taken.odd_count}


def test_a_preview_shows_what_would_be_read_and_keeps_nothing(line: Line) -> None:
    person, plot = planted(line)
    preview = Intake(line.store, lambda: NOW).preview(person, plot, file(1, 3, 20))
    assert preview.head[0] == ["Time", "12 in cb", "24 in cb"]
    assert {depth: each["count"] for depth, each in preview.found.items()} == {30.5: 72, 61.0: 72}
    assert line.store.series.span(plot) is None


def test_a_file_gives_its_readings_and_one_a_day_and_depth_to_the_estimate(line: Line) -> None:
    assert taken_in(line, file(1, 10, 20)) == {"new": 480, "known": 0, "days": 20, "odd": 0}
    _, plot = planted(line)
    rows = line.store.series.of(plot, datetime(2026, 7, 1), datetime(2026, 8, 1))
    assert len(rows) == 480
    assert sum(each.kind == "reading" for each in line.store.log.observations(plot)) == 20


def test_the_same_file_again_changes_nothing(line: Line) -> None:
    taken_in(line, file(1, 10, 20))
    assert taken_in(line, file(1, 10, 20)) == {"new": 0, "known": 480, "days": 0, "odd": 0}


def test_an_overlapping_file_adds_only_what_is_new(line: Line) -> None:
    taken_in(line, file(1, 10, 20))
    assert taken_in(line, file(6, 12, 25)) == {"new": 96, "known": 240, "days": 4, "odd": 0}


def test_what_the_probes_say_is_what_the_person_is_told(line: Line) -> None:
    taken_in(line, file(1, 20, 5, per_day=0.2))
    wet = line.receive(Message(channel="sms", sender=ANN, text="water?"))
    left = wet[0].water_left
    taken_back(line)
    taken_in(line, file(1, 20, 80, per_day=4))
    dry = line.receive(Message(channel="sms", sender=ANN, text="water?"))
    assert left is not None
    assert dry[0].water_left is not None
    assert dry[0].water_left < left


def taken_back(line: Line) -> None:
    person, plot = planted(line)
    (newest, *_) = line.store.series.files(plot)
    Intake(line.store, lambda: NOW).take_back(person, plot, newest["id"], by="rosa")


def test_a_file_that_was_taken_back_counts_no_more_and_may_come_again(line: Line) -> None:
    taken_in(line, file(1, 10, 20))
    taken_back(line)
    _, plot = planted(line)
    assert line.store.series.span(plot) is None
    assert line.store.log.observations(plot) == []
    assert taken_in(line, file(1, 10, 20))["days"] == 20


def test_undo_by_text_takes_back_what_was_texted_and_no_file(line: Line) -> None:
    line.receive(Message(channel="sms", sender=ANN, text="watered 30 min"))
    taken_in(line, file(1, 3, 20))
    line.receive(Message(channel="sms", sender=ANN, text="undo"))
    _, plot = planted(line)
    assert {each.kind for each in line.store.log.observations(plot)} == {"reading"}


def test_units_and_depths_are_asked_once_a_plot(line: Line) -> None:
    person, plot = planted(line)
    intake = Intake(line.store, lambda: NOW)
    data = file(1, 3, 20).replace(b"12 in cb", b"port 1").replace(b"24 in cb", b"port 2")
    guess = intake.preview(person, plot, data).layout
    assert guess.open_questions == ("port 1", "port 2")
    held = columns.as_json(guess)
    for each, depth_cm in zip(held["columns"], (30.0, 60.0), strict=True):
        each.update(unit="cb", depth_cm=depth_cm)
    intake.keep(person, plot, data, columns.from_json(held), "july.csv", by="rosa")
    assert intake.preview(person, plot, data).layout.open_questions == ()


def test_a_file_for_somebody_without_a_place_asks_for_the_place(line: Line) -> None:
    line.receive(Message(channel="sms", sender="555-0102", text="tomatoes"))
    person = line.store.people.known("sms", "555-0102")
    assert person is not None
    (plot,) = line.store.plots.of(person)
    with pytest.raises(FileError, match="where"):
        Intake(line.store, lambda: NOW).preview(person, plot, file(1, 2, 20))


def test_forgetting_a_person_forgets_the_series(line: Line) -> None:
    taken_in(line, file(1, 3, 20))
    person, plot = planted(line)
    assert len(line.store.holdings.export(person)["series"]) == 144
    line.store.holdings.forget(person, NOW)
    assert line.store.series.span(plot) is None
