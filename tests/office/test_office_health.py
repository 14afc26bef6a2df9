"""What the office is told of the line itself."""

from __future__ import annotations

import io
from datetime import timedelta
from pathlib import Path

import pytest
from office_desk import ANN, Desk

from bot import config
from bot.cli import main
from bot.office.forecast import Forecast
from bot.office.passwords import fits
from bot.store import open_store
from bot.talk.visit import Office


def test_the_page_tells_of_parts_queue_dead_letters_and_the_last_text(office: Desk) -> None:
    office.texts("tomatoes 45 cb at 12 in")
    person = office.line.store.people.by_id(office.person())
    for text in ("WAIT", "WATER"):
        office.line.store.outbox.put("sms", ANN, text, at=office.clock(), person=person)
    office.line.post.refused(office.line.post.due("sms")[0], "the number is no telephone")
    page = office.browser("Sol", "specialist").get("/office/health")
    assert "the number is no telephone" in page
    assert "The last text came Tue Jul 15, 09:30" in page
    assert ANN not in page
    assert "the number is no telephone" in office.browser("Sol").get("/office")


def test_a_weather_service_that_falls_silent_is_told_with_since_when(office: Desk) -> None:
    forecast = Forecast(office.line, Office(places=({"name": "Dry Fork", "latitude": 44.0, "longitude": -103.0},)))
    forecast.look()
    assert forecast.health().well
    office.clock.now += timedelta(days=30)  # the file of weather ends before
    forecast.look()
    told = forecast.health()
    assert not told.well
    assert told.since == office.clock()


def test_without_a_place_of_the_office_the_weather_says_what_to_write(office: Desk) -> None:
    forecast = Forecast(office.line, Office())
    forecast.look()
    assert "[[office.places]]" in forecast.health().says


@pytest.fixture
def settings(tmp_path: Path) -> Path:
    path = tmp_path / "office.toml"
    path.write_text('database = "line.sqlite"\n', encoding="utf-8")
    return path


def add(settings: Path, name: str, password: str, monkeypatch: pytest.MonkeyPatch) -> int:
    monkeypatch.setattr("sys.stdin", io.StringIO(password + "\n"))
    return main(["staff", "add", name, "--role", "keeper", "--config", str(settings)])


def test_the_first_account_is_made_at_the_command_line(settings: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert add(settings, "Ines", "four words in a row", monkeypatch) == 0
    store = open_store(config.read(settings).database)
    made = store.staff.named("ines")
    assert made is not None
    assert (made.role, fits("four words in a row", made.password)) == ("keeper", True)
    assert [each.deed for each in store.deeds.last(5)] == ["made an account"]
    store.close()


@pytest.mark.parametrize(
    ("name", "password"), [("Ines", "short"), ("Ines", "aaaaaaaaaaaaaaaa"), ("Ines", "ines is my name!")]
)
def test_a_poor_password_makes_no_first_account(
    settings: Path, monkeypatch: pytest.MonkeyPatch, name: str, password: str
) -> None:
    assert add(settings, name, password, monkeypatch) == 2


def test_a_name_is_given_once(settings: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert add(settings, "Ines", "four words in a row", monkeypatch) == 0
    assert add(settings, "INES", "four other words there", monkeypatch) == 2
