"""FORGET: asked once more, then all is gone, what the law keeps is locked with its day, and the trail tells whom to erase again."""

from __future__ import annotations

import re
from datetime import date, datetime
from pathlib import Path

import pytest

from bot.line import Line, Message, Office, open_line

NOW = datetime(2026, 7, 14, 8, 0)
MARK = "zinnias"
ANN = "+15550101"


def opened(path: Path, keep_texts_days: int | None = None) -> Line:
    line = open_line(path, {"past": [], "forecast": []}, lambda: NOW, office=Office(keep_texts_days=keep_texts_days))
    said(line, f"{MARK} 45 cb at 12 in")
    return line


def said(line: Line, text: str) -> str:
    return " ".join(reply.text for reply in line.receive(Message(channel="sms", sender=ANN, text=text)))


@pytest.mark.parametrize("text", ["forget", "olvidar", "forget everything about me", "FORGET YES"])
def test_one_text_alone_erases_nobody(tmp_path: Path, text: str) -> None:
    line = opened(tmp_path / "line.sqlite")
    said(line, text)
    assert line.store.people.known("sms", ANN) is not None
    assert MARK in said(line, "list")


def test_all_tables_and_the_file_itself_are_without_whoever_was_erased(tmp_path: Path) -> None:
    path = tmp_path / "line.sqlite"
    line = opened(path)
    line.take(Message(channel="sms", sender=ANN, text=f"{MARK} 50 cb", id="2"))
    said(line, "forget")
    assert "texts are erased" in said(line, "forget yes")
    line.store.close()
    left = b"".join(each.read_bytes() for each in tmp_path.iterdir())
    assert MARK.encode() not in left
    assert ANN.encode() not in left


def test_texts_that_a_law_keeps_are_locked_and_the_person_hears_until_when(tmp_path: Path) -> None:
    line = opened(tmp_path / "line.sqlite", keep_texts_days=365)
    assert "By law" in said(line, "forget")
    assert re.search(r"locked until \w+ Jul 14 2027", said(line, "forget yes"))
    rows = line.store._database.rows("SELECT DISTINCT locked_until FROM locked_texts")
    assert [row["locked_until"] for row in rows] == [date(2027, 7, 14).isoformat()]
    assert line.store.people.known("sms", ANN) is None


def test_the_trail_tells_whom_to_erase_again_from_a_backup(tmp_path: Path) -> None:
    line = opened(tmp_path / "line.sqlite")
    person = line.store.people.known("sms", ANN)
    assert person is not None
    said(line, "forget")
    said(line, "forget yes")
    (deed,) = line.store.deeds.last(1)
    assert (deed.person, deed.by, deed.detail) == (person.id, "the person", "")
