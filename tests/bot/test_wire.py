"""The office's own rows are laid over ours for every advice, and each advice records the row that it used."""

import json

import pytest

from bot.cli import main
from bot.errors import ConfigError
from bot.line import Message, open_line
from bot.wire import office_tables

WEATHER = {"past": [], "forecast": []}


def _told_rows(line):
    line.receive(Message(channel="sms", sender="+15550101", text="peaches 55 cb at 12 in, soil is sandy loam"))
    person = line.store.people.known("sms", "+15550101")
    advice = line.store.advices.last(line.store.plots.of(person)[0])
    assert advice is not None
    return advice.advice.rows


def test_a_row_of_the_office_stands_in_the_next_advice(tmp_path):
    (tmp_path / "soils.csv").write_text("id,fc,source\nsandy_loam,0.26,office sheet 7\n", encoding="utf-8")
    ours, theirs = (
        _told_rows(open_line(None, WEATHER)),
        _told_rows(open_line(None, WEATHER, tables=office_tables(tmp_path))),
    )
    assert not any("office" in row for row in ours)
    assert any("sandy_loam:fc=0.26 (office: office sheet 7)" in row for row in theirs)


def test_a_slip_in_a_row_is_named_with_its_place(tmp_path):
    (tmp_path / "soils.csv").write_text("id,fc,source\nsandy_loam,9,office sheet 7\n", encoding="utf-8")
    with pytest.raises(ConfigError, match=r"soils\.csv, line 2, column fc"):
        office_tables(tmp_path)


def test_a_folder_of_rows_that_is_not_there_is_named(tmp_path):
    with pytest.raises(ConfigError, match="rows is no folder"):
        office_tables(tmp_path / "rows")


def test_the_command_says_what_is_wrong_and_leaves(tmp_path, capsys):
    (tmp_path / "talk.json").write_text("not json", encoding="utf-8")
    assert main(["replay", str(tmp_path / "talk.json")]) == 2
    assert "can't be read" in capsys.readouterr().err


def test_a_conversation_of_another_shape_is_told_the_right_one(tmp_path, capsys):
    (tmp_path / "talk.json").write_text("[]", encoding="utf-8")
    assert main(["replay", str(tmp_path / "talk.json")]) == 2
    assert '"turns"' in capsys.readouterr().err


def test_parse_tells_which_line_it_cannot_read_and_how_one_looks(monkeypatch, capsys):
    for line in ("no json", '{"text": "45 cb"}', "[]"):
        monkeypatch.setattr("sys.stdin", ["\n", line])
        assert main(["parse"]) == 2
        said = capsys.readouterr().err
        assert "line 2 can't be read" in said
        assert '"now"' in said


def test_a_file_that_is_no_table_is_named_without_a_line(tmp_path):
    (tmp_path / "plant.csv").write_text("id,p,source\ntomato,0.4,office sheet 7\n", encoding="utf-8")
    with pytest.raises(ConfigError, match=r"plant\.csv: there is no such table"):
        office_tables(tmp_path)


def test_parse_reads_a_line_and_writes_a_line(monkeypatch, capsys):
    given = {"text": "45 cb at 12 in", "now": "2026-07-01T08:00", "plots": [], "units": "us", "probe": None}
    monkeypatch.setattr("sys.stdin", [json.dumps(given)])
    assert main(["parse"]) == 0
    said = json.loads(capsys.readouterr().out)
    assert said["statements"][0]["value"] == 45.0
