"""Links to a graph: texted where the pages can be reached, opening one graph and no more, for a day."""

from __future__ import annotations

import re
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from flask.testing import FlaskClient

from bot import config, links, wire
from bot.channels.web import chat_pages, graph_pages
from bot.line import Line, Message, Office, open_line
from bot.links import Links
from bot.web import create_app

NOON = datetime(2026, 7, 14, 12, 0)
URL = "https://water.example"
# Invented: a hot, dry July.
WEATHER = {
    "past": [
        {"date": (NOON - timedelta(days=back)).date().isoformat(), "rain_mm": 0.0, "et0_mm": 6.0}
        for back in range(30, 0, -1)
    ],
    "forecast": [
        {"date": (NOON + timedelta(days=on)).date().isoformat(), "rain_mm": 0.0, "et0_mm": 6.0} for on in range(7)
    ],
}


def opened(url: str | None = URL) -> tuple[Line, FlaskClient]:
    made = Links("a secret of these tests", URL) if url else None
    line = open_line(None, WEATHER, lambda: NOON, links=made)
    parts = [chat_pages(line, Office(), URL)]
    if made:
        parts.append(graph_pages(line.drawings.by_id, made, Office()))
    return line, create_app("a secret of these tests", parts, lambda: []).test_client()


def texted(line: Line, *texts: str, channel: str = "sms") -> str:
    """The answers to the last of these."""
    replies = [line.receive(Message(channel=channel, sender="+15550101", text=each)) for each in texts]
    return " ".join(each.text for each in replies[-1])


def link(text: str) -> str:
    found = re.search(rf"{URL}(/g/[\w.-]+)", text)
    assert found
    return found.group(1)


def test_a_graph_by_text_message_comes_with_a_link_that_opens_it() -> None:
    line, client = opened()
    page = client.get(link(texted(line, "tomatoes 60 cb at 12 in", "graph")))
    assert page.status_code == 200
    assert "<h1>tomatoes</h1>" in page.text
    assert page.headers["Cache-Control"] == "no-store"
    assert "Set-Cookie" not in page.headers


def test_each_text_with_a_link_fits_one_segment() -> None:
    line, _ = opened()
    texted(line, "tomates 60 cb a 30 cm")
    replies = line.receive(Message(channel="sms", sender="+15550101", text="gráfica"))
    assert [each.segments for each in replies if "/g/" in each.text] == [1]


def test_the_drawing_is_a_picture_without_script() -> None:
    line, client = opened()
    picture = client.get(link(texted(line, "tomatoes 60 cb at 12 in", "graph")) + "/graph.svg")
    assert picture.mimetype == "image/svg+xml"
    assert picture.text.startswith("<svg")
    assert "script" not in picture.text


def test_without_a_way_to_the_pages_no_link_is_texted() -> None:
    line, _ = opened(url=None)
    assert "/g/" not in texted(line, "tomatoes 60 cb at 12 in", "graph")


def test_a_channel_with_pictures_gets_no_link() -> None:
    line, _ = opened()
    assert "/g/" not in texted(line, "tomatoes 60 cb at 12 in", "graph", channel="telegram")


@pytest.mark.parametrize("language", ["en", "es"])
def test_a_dead_link_says_so_kindly_in_both_languages(monkeypatch: pytest.MonkeyPatch, language: str) -> None:
    line, client = opened()
    there = link(texted(line, "tomatoes 60 cb at 12 in", "graph"))
    monkeypatch.setattr(links, "LASTS", timedelta(seconds=-1))
    page = client.get(there)
    assert page.status_code == 410
    assert f'<p lang="{language}">' in page.text
    assert "tomatoes" not in page.text
    assert client.get(there + "/graph.svg").status_code == 410


@pytest.mark.parametrize("signed", ["x", "WyJnIiwxXQ.aaaa.bbbb", "%2e%2e", "ñ"])
def test_a_link_that_nobody_made_opens_nothing(signed: str) -> None:
    line, client = opened()
    texted(line, "tomatoes 60 cb at 12 in", "graph")
    assert client.get(f"/g/{signed}").status_code == 410


def test_who_is_forgotten_is_behind_no_link() -> None:
    line, client = opened()
    there = link(texted(line, "tomatoes 60 cb at 12 in", "graph"))
    texted(line, "forget", "forget yes")
    assert client.get(there).status_code == 410


def test_a_graph_of_somebody_else_is_not_in_the_chat() -> None:
    line, client = opened()
    texted(line, "tomatoes 60 cb at 12 in", "graph")
    advice = line.store.advices.of(line.store.plots.of(line.store.people.everyone()[0])[0])[0]
    client.get("/chat")
    assert client.get(f"/chat/graph/{advice.id}.svg").status_code == 404
    assert client.get("/chat/graph/99999999999999999999.svg").status_code == 404


@pytest.mark.parametrize(("text", "linked"), [('[http]\nurl = "https://water.example"', True), ("", False)])
def test_links_are_texted_where_the_settings_say_how_the_pages_are_reached(
    tmp_path: Path, text: str, linked: bool
) -> None:
    (tmp_path / "weather.json").write_text('{"past": [], "forecast": []}', encoding="utf-8")
    (tmp_path / "dropline.toml").write_text('weather = "weather.json"\n' + text, encoding="utf-8")
    settings = config.read(tmp_path / "dropline.toml")
    line = wire.serving_line(settings, Links("a secret of these tests", settings.url))
    assert ("/g/" in texted(line, "tomatoes 60 cb at 12 in", "graph")) is linked
    line.store.close()
