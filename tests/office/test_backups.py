"""Backups that were really brought back, the night's work, and what is kept no longer."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path
from threading import Event, Thread

import pytest
from county import TODAY, address, open_county
from office_desk import ANN, BEN

from bot import config
from bot.cli import main
from bot.config import Config
from bot.errors import StoreError
from bot.keeping import Keeping, Rules, rules
from bot.line import Line, Message
from bot.store import open_store
from bot.store.copies import copy, restore


def everything(path: Path) -> dict[str, list[dict[str, object]]]:
    """All that is held on everybody, and whose advice was which."""
    store = open_store(path)
    held = {each.address: store.holdings.export(each) for each in store.people.everyone()}
    store.close()
    return json.loads(json.dumps(held, sort_keys=True))


@pytest.fixture
def settings(tmp_path: Path) -> Path:
    path = tmp_path / "office.toml"
    path.write_text('database = "line.sqlite"\n[office]\nname = "Sage County water desk"\n', encoding="utf-8")
    return path


@pytest.fixture
def line(settings: Path) -> Iterator[Line]:
    opened, _ = open_county(6, database=config.read(settings).database)
    yield opened
    opened.store.close()


def text(line: Line, words: str, sender: str = ANN) -> None:
    line.receive(Message(channel="sms", sender=sender, text=words))


def test_a_backup_brought_back_elsewhere_holds_the_same_of_everybody(
    line: Line, settings: Path, tmp_path: Path
) -> None:
    database = config.read(settings).database
    assert main(["backup", "--config", str(settings), str(tmp_path / "usb" / "copy.sqlite")]) == 0
    other = tmp_path / "other" / "office.toml"
    other.parent.mkdir()
    other.write_text(settings.read_text(), encoding="utf-8")
    assert main(["restore", "--config", str(other), str(tmp_path / "usb" / "copy.sqlite")]) == 0
    before, after = everything(database), everything(config.read(other).database)
    assert len(before) == 6
    assert after == before


def test_a_backup_taken_while_people_text_is_whole_as_of_one_moment(line: Line, settings: Path, tmp_path: Path) -> None:
    database, stop = config.read(settings).database, Event()

    def keep_texting() -> None:
        while not stop.is_set():
            text(line, "tomatoes 45 cb at 12 in", BEN)

    writer = Thread(target=keep_texting)
    writer.start()
    try:
        for number in range(3):
            copy(database, tmp_path / f"{number}.sqlite")
    finally:
        stop.set()
        writer.join()
    for number in range(3):
        (tmp_path / f"{number}.sqlite").chmod(0o600)
        held = everything(tmp_path / f"{number}.sqlite")
        # a message is one transaction: each that is there has its answer
        assert all(json.dumps(each["replies"]) != "[]" for each in held.get(BEN, {"messages": []})["messages"])


def test_a_line_goes_on_with_what_was_restored_under_it(line: Line, settings: Path, tmp_path: Path) -> None:
    database = config.read(settings).database
    copy(database, tmp_path / "copy.sqlite")
    text(line, "roses 20 cb at 8 in", ANN)
    kept = restore(tmp_path / "copy.sqlite", database)
    assert line.store.people.known("sms", ANN) is None
    assert line.store.people.known("sms", address(0)) is not None
    text(line, "peppers 30 cb at 8 in", BEN)
    assert line.store.people.known("sms", BEN) is not None
    assert kept is not None
    assert ANN in everything(kept)


@pytest.mark.parametrize("broken", ["text", "empty", "another program's", "cut"])
def test_what_is_no_sound_backup_is_refused_and_changes_nothing(
    line: Line, settings: Path, tmp_path: Path, broken: str
) -> None:
    database, bad = config.read(settings).database, tmp_path / "bad.sqlite"
    if broken == "text":
        bad.write_text("not a database at all")
    elif broken == "empty":
        bad.touch()
    elif broken == "another program's":
        with sqlite3.connect(bad) as other:
            other.execute("CREATE TABLE people (name TEXT)")
    else:
        copy(database, bad)
        bad.write_bytes(bad.read_bytes()[:-8192])
    before = everything(database)
    with pytest.raises(StoreError):
        restore(bad, database)
    assert main(["restore", "--config", str(settings), str(bad)]) == 2
    assert everything(database) == before


def test_a_backup_that_fails_leaves_the_older_one(line: Line, settings: Path, tmp_path: Path) -> None:
    target = tmp_path / "copy.sqlite"
    copy(config.read(settings).database, target)
    kept = target.read_bytes()
    with pytest.raises(StoreError):
        copy(tmp_path / "not there.sqlite", target)
    assert target.read_bytes() == kept


# The night


class Night:
    """A clock at a quarter past three."""

    def __init__(self) -> None:
        self.now = datetime(2031, 7, 16, 3, 15)

    def __call__(self) -> datetime:
        return self.now


def keeping(line: Line, settings: Config, kept: Rules) -> tuple[Keeping, Night]:
    night = Night()
    return Keeping(line.store, settings, kept, night), night


def test_each_night_leaves_a_backup_and_no_more_than_so_many(line: Line, settings: Path, tmp_path: Path) -> None:
    worker, clock = keeping(line, config.read(settings), Rules(backups=tmp_path / "nights", copies=3))
    for _ in range(5):
        worker.night()
        clock.now += timedelta(days=1)
    assert sorted(path.name for path in (tmp_path / "nights").iterdir()) == [
        "dropline-2031-07-18.sqlite",
        "dropline-2031-07-19.sqlite",
        "dropline-2031-07-20.sqlite",
    ]
    assert everything(tmp_path / "nights" / "dropline-2031-07-20.sqlite") == everything(config.read(settings).database)


def test_a_backup_that_is_missing_or_old_is_told(line: Line, settings: Path, tmp_path: Path) -> None:
    worker, clock = keeping(line, config.read(settings), Rules(backups=tmp_path / "nights"))
    assert "there is none" in worker.health().says
    worker.night()
    made = datetime.fromtimestamp(next((tmp_path / "nights").iterdir()).stat().st_mtime)
    clock.now = made + timedelta(hours=10)
    assert worker.health().well
    clock.now = made + timedelta(hours=40)
    assert not worker.health().well
    assert "40 hours old" in worker.health().says


def lost_folder(tmp_path: Path) -> Path:
    """Where a folder should be there is a file, as where a disk is gone."""
    gone = tmp_path / "nights"
    gone.write_text("no folder")
    return gone


def warned(line: Line, clock: Night) -> list[tuple[str, str]]:
    """Who was texted, with the last words; what was read waits no more."""
    told = line.store.outbox.due("sms", clock(), 50)
    for letter in told:
        line.post.took(letter)
    return [(letter.address, letter.text.rpartition(": ")[2][:25]) for letter in told]


def test_a_backup_that_fails_is_told_by_health_and_by_text_once_a_day_and_when_it_works_again(
    line: Line, settings: Path, tmp_path: Path
) -> None:
    kim = line.store.staff.add("kim", "keeper", "x", at=TODAY)
    line.store.staff.set_telephone(kim, "+15550177")
    folder = lost_folder(tmp_path)
    worker, clock = keeping(line, config.read(settings), Rules(backups=folder))
    worker.look()
    assert not worker.health().well
    assert "the backup failed" in worker.health().says
    assert warned(line, clock) == [("+15550177", "the nightly backup failed")]
    for _ in range(4):
        clock.now += timedelta(hours=2)
        worker.look()
    assert warned(line, clock) == []
    clock.now += timedelta(days=1)
    worker.look()
    assert warned(line, clock) == [("+15550177", "the nightly backup failed")]
    folder.unlink()
    clock.now += timedelta(hours=2)
    worker.look()
    assert warned(line, clock) == [("+15550177", "the nightly backup works ")]
    assert len(list(folder.iterdir())) == 1


def test_a_failed_backup_is_tried_again_within_the_hour_and_the_night_is_done_once(
    line: Line, settings: Path, tmp_path: Path
) -> None:
    folder = lost_folder(tmp_path)
    worker, clock = keeping(line, config.read(settings), Rules(backups=folder))
    worker.look()
    folder.unlink()
    clock.now += timedelta(minutes=30)
    worker.look()
    assert not folder.exists()
    clock.now += timedelta(minutes=31)
    worker.look()
    assert everything(next(folder.iterdir())) == everything(config.read(settings).database)


def test_nobody_is_texted_who_left_took_the_number_out_said_stop_or_is_a_helper(
    line: Line, settings: Path, tmp_path: Path
) -> None:
    staff = line.store.staff
    for number, (name, role) in enumerate(
        (("kim", "keeper"), ("rosa", "specialist"), ("hal", "helper"), ("ines", "keeper"))
    ):
        staff.set_telephone(staff.add(name, role, "x", at=TODAY), f"+1555017{number}")
    known = {each.name: each for each in staff.everyone()}
    staff.change(known["ines"], left_at=TODAY)
    staff.set_telephone(known["kim"], None)
    staff.set_telephone(staff.add("noe", "keeper", "x", at=TODAY), "+15550174")
    text(line, "STOP", "+15550174")
    worker, clock = keeping(line, config.read(settings), Rules(backups=lost_folder(tmp_path)))
    worker.look()
    assert [address for address, _ in warned(line, clock)] == ["+15550171"]


def test_without_a_folder_the_health_says_that_nothing_is_backed_up(line: Line, settings: Path) -> None:
    worker, _ = keeping(line, config.read(settings), Rules())
    worker.night()
    assert "no backups are set" in worker.health().says


def test_who_was_silent_for_so_long_is_erased_and_who_said_stop_stays_stopped(line: Line, settings: Path) -> None:
    worker, clock = keeping(line, config.read(settings), Rules(forget_after_days=400))
    text(line, "tomatoes 45 cb at 12 in", ANN)
    text(line, "roses 45 cb at 12 in", BEN)
    text(line, "STOP", BEN)
    clock.now = TODAY + timedelta(days=399)
    worker.night()
    assert line.store.people.known("sms", ANN) is not None
    clock.now = TODAY + timedelta(days=402)
    worker.night()
    assert [(each.address, each.stopped) for each in line.store.people.everyone()] == [(BEN, True)]
    ben = line.store.people.known("sms", BEN)
    assert ben is not None
    assert line.store.messages.of(ben) == []
    assert b"roses" not in config.read(settings).database.read_bytes()
    worker.night()
    again = line.store.people.known("sms", BEN)
    assert again is not None
    assert again.id == ben.id


def test_nobody_who_waits_for_the_office_is_erased(line: Line, settings: Path) -> None:
    worker, clock = keeping(line, config.read(settings), Rules(forget_after_days=30))
    text(line, "can I talk to a person", ANN)
    clock.now = TODAY + timedelta(days=60)
    worker.night()
    assert [each.address for each in line.store.people.everyone()] == [ANN]


def test_letters_that_wait_no_more_are_dropped_after_a_month(line: Line, settings: Path) -> None:
    worker, clock = keeping(line, config.read(settings), Rules())
    for number in range(2):
        line.store.outbox.put("sms", address(number), "WAIT", at=TODAY)
    (first, _) = line.post.due("sms")
    line.post.took(first)
    clock.now = TODAY + timedelta(days=31)
    worker.night()
    assert line.store.outbox.counts() == {"sms": {"waiting": 1}}


def test_the_settings_of_keeping_are_read(settings: Path) -> None:
    settings.write_text('[keeping]\nbackups = "nights"\ncopies = 5\nforget_after_days = 900\n', encoding="utf-8")
    found = rules(config.read(settings).file.table("keeping"))
    assert found == Rules(backups=settings.parent / "nights", copies=5, forget_after_days=900)
