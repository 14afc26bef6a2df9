"""The web chat below the browser: whose form it is, what the cookie carries, what is refused, and what costs nothing."""

from __future__ import annotations

import html
import re
from datetime import datetime
from importlib.resources import files
from pathlib import Path

import pytest
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from bot import config
from bot.channels.web import Pages, chat_pages
from bot.channels.web.newcomers import Newcomers
from bot.line import Line, Office, open_line
from bot.serve import assemble
from bot.web import create_app
from bot.word import catalogue

NOON = datetime(2026, 7, 14, 12, 0)
WEB = files("bot.channels.web")


@pytest.fixture
def line() -> Line:
    return open_line(None, None, lambda: NOON)


def opened(line: Line, url: str = "http://localhost") -> FlaskClient:
    client = create_app("a secret of these tests", [chat_pages(line, Office(), url)], lambda: []).test_client()
    client.get("/chat")
    return client


def form(client: FlaskClient) -> str:
    """What the page's form carries along."""
    found = re.search(r'name="form" value="([^"]+)"', client.get("/chat").text)
    assert found
    return found.group(1)


def send(client: FlaskClient, text: str, signed: str | None = None) -> TestResponse:
    return client.post("/chat", data={"text": text, "form": signed or form(client)})


def texts(line: Line) -> list[str]:
    return [each.text for person in line.store.people.everyone() for each in line.store.messages.of(person)]


def test_a_look_at_the_page_leaves_nothing_in_the_store(line: Line) -> None:
    opened(line).get("/chat")
    assert line.store.people.everyone() == []


def test_the_root_leads_to_the_chat(line: Line) -> None:
    assert opened(line).get("/").headers["Location"] == "/chat"


@pytest.mark.parametrize(("url", "secure"), [("https://water.example", True), ("http://localhost", False)])
def test_the_cookie_is_kept_from_script_and_other_sites_and_from_plain_lines_where_it_can_be(
    line: Line, url: str, secure: bool
) -> None:
    cookie = opened(line, url).get("/chat").headers["Set-Cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=Lax" in cookie
    assert ("Secure" in cookie) is secure


def test_a_cookie_that_somebody_made_up_is_nobody(line: Line) -> None:
    client = opened(line)
    send(client, "tomatoes")
    client.set_cookie("dropline_chat", "WyJhIixudWxsXQ.AAAA")
    assert 'class="bubble' not in client.get("/chat").text


def test_a_form_without_a_signature_or_of_somebody_else_sends_nothing(line: Line) -> None:
    client, stranger = opened(line), opened(line)
    for signed in ("", "forged", form(stranger)):
        answer = send(client, "STOP", signed or "none")
        assert answer.status_code == 400
        assert "STOP</textarea>" in answer.text  # the text is not lost
    assert texts(line) == []


def test_a_form_sent_from_elsewhere_leaves_the_cookie_alone(line: Line) -> None:
    """The browser leaves the cookie out of it; an answer that set a new one would lose the person their conversation."""
    app = opened(line).application
    for path in ("/chat", "/chat/language"):
        answer = app.test_client().post(path, data={"text": "hi", "language": "es", "form": "forged"})
        assert "Set-Cookie" not in answer.headers


def test_the_same_form_twice_is_answered_once(line: Line) -> None:
    client = opened(line)
    signed = form(client)
    assert [send(client, "tomatoes", signed).status_code for _ in range(2)] == [303, 303]
    assert texts(line) == ["tomatoes"]


def test_forget_sent_twice_makes_nobody_anew(line: Line) -> None:
    client = opened(line)
    send(client, "tomatoes")
    send(client, "forget")
    signed = form(client)
    cookie = client.get_cookie("dropline_chat")
    assert cookie
    send(client, "forget yes", signed)
    client.set_cookie("dropline_chat", cookie.value)
    assert "erased" in send(client, "forget yes", signed).text
    assert line.store.people.everyone() == []


def test_an_empty_text_is_no_text(line: Line) -> None:
    assert send(opened(line), "  \n ").status_code == 303
    assert texts(line) == []


def test_a_text_beyond_all_measure_is_cut(line: Line) -> None:
    send(opened(line), "x" * 100_000)
    assert [len(each) for each in texts(line)] == [1000]


@pytest.mark.parametrize("text", ["\ud800 cb", "\x00\x1b[31m", "🌵" * 50, "' OR 1=1 --", "{{ 7*7 }}"])
def test_any_text_is_answered_with_the_page(line: Line, text: str) -> None:
    client = opened(line)
    answer = client.post("/chat", data={"text": text.encode("utf-8", "surrogatepass"), "form": form(client)})
    assert answer.status_code == 303
    assert client.get("/chat").status_code == 200


@pytest.mark.parametrize("number", ["0", "-1", "x", "9" * 30, "1.5", ""])
def test_a_made_up_number_in_an_address_breaks_nothing(line: Line, number: str) -> None:
    client = opened(line)
    send(client, "tomatoes")
    assert client.get(f"/chat?before={number}").status_code == 200
    assert client.get(f"/chat/news?after={number}").status_code == 200
    assert client.get(f"/chat/graph/{number}.svg").status_code == 404


def test_news_is_empty_until_there_is_some(line: Line) -> None:
    client = opened(line)
    assert client.get("/chat/news?after=0").status_code == 204
    send(client, "tomatoes")
    newest = re.search(r'data-last="(\d+)"', client.get("/chat").text)
    assert newest
    assert client.get(f"/chat/news?after={newest.group(1)}").status_code == 204
    line.from_office("all", "Rain is near.")
    assert "Rain is near." in client.get(f"/chat/news?after={newest.group(1)}").text


def test_a_flood_is_answered_with_why_and_then_not_at_all(line: Line) -> None:
    client = opened(line)
    for number in range(16):
        send(client, f"qwxz{'v' * number}")
    assert client.get("/chat").text.count("could not read the last ones") == 1


def test_more_new_people_than_a_county_has_are_asked_to_come_later() -> None:
    now_s = 0.0
    door = Newcomers(at_most=2, clock_s=lambda: now_s)
    assert [door.let_in() for _ in range(3)] == [True, True, False]
    now_s = 3601.0
    assert door.let_in()


def test_the_conversation_is_not_kept_by_the_browser_or_on_the_way(line: Line) -> None:
    assert opened(line).get("/chat").headers["Cache-Control"] == "no-store"


def test_when_the_store_is_gone_the_page_says_to_come_again_in_both_languages(tmp_path: Path) -> None:
    line = open_line(tmp_path / "line.sqlite", None, lambda: NOON)
    client = opened(line)
    line.store.close()
    page = client.get("/chat")
    assert page.status_code == 503
    assert "in a minute" in page.text
    assert "minuto" in page.text


def test_letters_to_the_page_have_arrived_once_the_line_has_them(line: Line) -> None:
    send(opened(line), "tomatoes")
    assert line.store.outbox.counts()["web"].keys() == {"waiting"}
    post = Pages(line.post)
    for letter in line.post.due("web"):
        line.post.took(letter)
    assert line.store.outbox.counts()["web"].keys() == {"taken"}
    assert post.health().well


@pytest.mark.parametrize(("text", "there"), [("[web]\n", True), ("", False)])
def test_the_settings_open_the_chat(tmp_path: Path, text: str, there: bool) -> None:
    path = tmp_path / "dropline.toml"
    path.write_text(text, encoding="utf-8")
    running = assemble(config.read(path))
    assert (running.app.test_client().get("/chat").status_code == 200) is there
    running.line.store.close()


def test_what_the_page_weighs() -> None:
    """Its own HTML, CSS and script, as sent, for somebody at the end of a thin line."""
    own = [WEB / "static" / "chat.css", WEB / "static" / "chat.js", WEB / "templates" / "web" / "chat.html"]
    assert sum(len(each.read_bytes()) for each in own) < 30_000


@pytest.mark.parametrize("language", catalogue.LANGUAGES)
def test_the_words_on_the_buttons_are_texts_that_the_line_reads(line: Line, language: str) -> None:
    line.know("web", "me", language=language)
    client = opened(line)
    words = catalogue.text("page.words.list", language).split(", ")
    for word in ["tomatoes 60 cb at 12 in", *words[:-1], catalogue.text("page.forget", language), words[-1]]:
        send(client, word)
    assert "I could not read" not in client.get("/chat").text
    assert "No entendí" not in client.get("/chat").text
    person = line.store.people.everyone()[-1]
    assert person.stopped
    send(client, catalogue.text("page.start", language))
    assert not line.store.people.by_id(person.id).stopped


@pytest.mark.parametrize("language", catalogue.LANGUAGES)
def test_the_examples_on_the_first_page_are_texts_that_the_line_reads(line: Line, language: str) -> None:
    client = opened(line)
    client.post("/chat/language", data={"language": language, "form": form(client)})
    for example in re.findall(r'name="choice" value="([^"]+)"', client.get("/chat").text):
        visitor = opened(line)
        visitor.post("/chat/language", data={"language": language, "form": form(visitor)})
        send(visitor, html.unescape(example))
        person = line.store.people.everyone()[-1]
        assert person.language == language
        assert [plot.facts.plant for plot in line.store.plots.of(person)] != [None]
