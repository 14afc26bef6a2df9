"""EXPORT really gives the data: a link to a page of one's own, for a day, that nobody can guess or change."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from county import OFFICE, open_county
from flask.testing import FlaskClient
from office_desk import ANN, BEN

from bot import config
from bot.line import Line, Message
from bot.links import Links
from bot.message import Reply
from bot.serve import assemble
from bot.web import create_app, mine

URL = "https://water.example"


@pytest.fixture
def line() -> Iterator[Line]:
    opened, _ = open_county(0, links=Links("a secret", URL))
    yield opened
    opened.store.close()


@pytest.fixture
def browser(line: Line) -> FlaskClient:
    pages = mine.own_pages(line, Links("a secret", URL), OFFICE)
    return create_app("a secret", [pages], list).test_client()


def text(line: Line, words: str, sender: str = ANN) -> list[Reply]:
    return line.receive(Message(channel="sms", sender=sender, text=words))


def export_of(line: Line) -> str:
    text(line, "EXPORT")
    return " ".join(each.text for each in text(line, "EXPORT YES"))


def link(line: Line, sender: str = ANN, ask: str = "EXPORT", yes: str = "EXPORT YES") -> str:
    text(line, ask, sender)
    found = re.search(rf"{URL}(\S+)", " ".join(each.text for each in text(line, yes, sender)))
    assert found is not None
    return found[1]


def test_export_sends_a_link_to_every_plot_observation_advice_and_text(line: Line, browser: FlaskClient) -> None:
    text(line, "tomatoes 45 cb at 12 in")
    text(line, "watered tomatoes 30 min yesterday")
    page = browser.get(link(line)).text
    assert "45 cb at 12 in" in page
    assert "30 min" in page
    person = line.store.people.known("sms", ANN)
    assert person is not None
    for given in line.store.advices.of(line.store.plots.of(person)[0]):
        assert given.text in page.replace("&#39;", "'")
    assert "watered tomatoes 30 min yesterday" in page


def test_the_link_fits_two_segments(line: Line) -> None:
    text(line, "tomatoes 45 cb at 12 in")
    text(line, "EXPORT")
    (reply,) = text(line, "EXPORT YES")
    assert reply.segments <= 2


def test_the_file_holds_every_row(line: Line, browser: FlaskClient) -> None:
    text(line, "tomatoes 45 cb at 12 in")
    address = link(line)
    person = line.store.people.known("sms", ANN)
    assert person is not None
    assert browser.get(f"{address}/file").json == line.store.holdings.export(person)


def test_the_page_speaks_the_persons_language_and_units(line: Line, browser: FlaskClient) -> None:
    text(line, "duraznos 45 centibares a 30 cm, gracias")
    page = browser.get(link(line, ask="EXPORTAR", yes="EXPORTAR SI")).text
    assert '<html lang="es">' in page
    assert "Lo que usted dijo" in page
    assert "45 cb a 30 cm" in page


def test_a_link_that_was_changed_or_made_up_opens_nothing(line: Line, browser: FlaskClient) -> None:
    text(line, "tomatoes 45 cb at 12 in")
    text(line, "roses 20 cb at 8 in", BEN)
    address = link(line)
    signed = address.rsplit("/", 1)[1]
    other = Links("another secret", URL).make("mine", 2).rsplit("/", 1)[1]
    of_other_page = Links("a secret", URL).make("graph", 1).rsplit("/", 1)[1]
    for forged in (signed[:-2] + "xx", "1", other, of_other_page, signed.upper()):
        response = browser.get(f"/mine/{forged}")
        assert response.status_code == 404
        assert "Text EXPORT for a new one" in response.text
        assert browser.get(f"/mine/{forged}/file").status_code == 404


def test_after_forget_the_link_opens_nothing(line: Line, browser: FlaskClient) -> None:
    text(line, "tomatoes 45 cb at 12 in")
    address = link(line)
    text(line, "FORGET")
    text(line, "FORGET YES")
    text(line, "tomatoes 45 cb at 12 in")
    assert browser.get(address).status_code == 404


def test_nobody_on_the_way_keeps_the_page(line: Line, browser: FlaskClient) -> None:
    text(line, "tomatoes 45 cb at 12 in")
    headers = browser.get(link(line)).headers
    assert (headers["Cache-Control"], headers["Referrer-Policy"]) == ("no-store", "no-referrer")


def test_what_a_person_wrote_is_never_taken_for_the_page(line: Line, browser: FlaskClient) -> None:
    text(line, "<script>alert(1)</script>")
    text(line, "tomatoes 45 cb at 12 in")
    assert "<script>" not in browser.get(link(line)).text


@pytest.mark.parametrize(("url", "has"), [(URL, True), ("", False)])
def test_a_line_has_own_pages_only_where_a_phone_can_reach_them(tmp_path: Path, url: str, has: bool) -> None:
    (tmp_path / "weather.json").write_text("{}", encoding="utf-8")
    settings = tmp_path / "office.toml"
    http = f'[http]\nurl = "{url}"\n' if url else ""
    settings.write_text(f'database = "line.sqlite"\nweather = "weather.json"\n{http}', encoding="utf-8")
    running = assemble(config.read(settings))
    assert ("https://water.example/mine/" in export_of(running.line)) == has
    assert {rule.rule for rule in running.app.url_map.iter_rules()} >= {"/office", "/mine/<signed>"}
    running.line.store.close()


def test_without_own_pages_the_counts_are_told() -> None:
    opened, _ = open_county(0)
    text(opened, "tomatoes 45 cb at 12 in")
    text(opened, "EXPORT")
    (reply,) = text(opened, "EXPORT YES")
    assert "1 plot and 1 entry" in reply.text
    opened.store.close()
