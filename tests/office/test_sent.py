"""Staff look at what people sent; whatever is no picture is handed over, never shown in a page."""

from __future__ import annotations

import pytest
from county import open_county
from office_desk import Desk, office_of

from bot.message import Message

PHOTO, PAGE = b"\xff\xd8\xff a photo", b"<html><script>alert(1)</script>"


def office_with(given: bytes) -> tuple[Desk, str]:
    """An office that was sent a photo on Telegram, and where its page is."""
    line, clock = open_county(0)
    office = office_of(line, clock, {"telegram": {"p1": given}.get})
    line.receive(Message(channel="telegram", sender="501", text="", id="1", media="photo:p1"))
    person = line.store.people.known("telegram", "501")
    assert person is not None
    return office, f"/office/people/{person.id}"


def test_a_photo_can_be_opened_from_the_talk() -> None:
    office, page = office_with(PHOTO)
    browser = office.browser("Ines")
    assert f'<a href="{page}/sent/1">photo</a>' in browser.get(page)
    shown = browser.client.get(f"{page}/sent/1")
    assert (shown.data, shown.mimetype) == (PHOTO, "image/jpeg")


def test_what_is_no_picture_is_handed_over() -> None:
    office, page = office_with(PAGE)
    browser = office.browser("Ines")
    browser.get(f"{page}/sent/1")
    assert browser.last is not None
    assert browser.last.mimetype == "application/octet-stream"
    assert browser.last.headers["Content-Disposition"] == "attachment"


@pytest.mark.parametrize("message", [2, 999])
def test_where_nothing_was_sent_there_is_nothing(message: int) -> None:
    office, page = office_with(PHOTO)
    office.line.receive(Message(channel="telegram", sender="501", text="lawn", id="2"))
    browser = office.browser("Ines")
    browser.get(f"{page}/sent/{message}")
    assert browser.status == 404


def test_nobody_gets_in_without_a_login() -> None:
    office, page = office_with(PHOTO)
    assert office.app.test_client().get(f"{page}/sent/1").status_code == 303
