"""The office's pages on a real line with an invented county, and colleagues who log in as people do."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from county import OFFICE, Clock
from flask import Flask
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from bot.line import Line
from bot.message import Message, Reply
from bot.office import House, pages
from bot.office.forecast import Forecast
from bot.office.passwords import hashed
from bot.office.seasons import Seasons
from bot.web import create_app
from bot.workers import Health

PASSWORD = "four words in a row"
HASHED = hashed(PASSWORD)
ANN, BEN, EVA = "+15550101", "+15550102", "+15550103"


@dataclass
class Desk:
    """An office at work: its line, its pages, and somebody at a browser."""

    line: Line
    clock: Clock
    app: Flask

    def browser(self, name: str = "", role: str = "keeper", desks: tuple[str, ...] = ("volunteer",)) -> Browser:
        """A browser, with a colleague of this name and role logged in if one is given."""
        browser = Browser(self.app.test_client())
        if name:
            if self.line.store.staff.named(name) is None:
                self.line.store.staff.add(name, role, HASHED, at=self.clock(), desks=desks)
            browser.log_in(name)
        return browser

    def texts(self, words: str, sender: str = ANN, **more: Any) -> list[Reply]:
        return self.line.receive(Message(channel="sms", sender=sender, text=words, **more))

    def person(self, sender: str = ANN) -> int:
        found = self.line.store.people.known("sms", sender)
        assert found is not None
        return found.id


@dataclass
class Browser:
    """A test client that fills in forms as a page shows them."""

    client: FlaskClient
    last: TestResponse | None = None

    def get(self, path: str) -> str:
        self.last = self.client.get(path)
        return self.last.text

    def post(self, path: str, page: str, **fields: Any) -> TestResponse:
        """Post a form of `page` to `path`, with the tokens that the page carries."""
        shown = self.get(page)
        self.last = self.client.post(path, data={"csrf": token(shown), **fields})
        return self.last

    def log_in(self, name: str, password: str = PASSWORD) -> TestResponse:
        return self.post("/office/login", "/office/login", name=name, password=password)

    @property
    def status(self) -> int:
        assert self.last is not None
        return self.last.status_code


def token(page: str) -> str:
    found = re.search(r'name="csrf" value="([^"]+)"', page)
    return found[1] if found else ""


def key(page: str) -> str:
    found = re.search(r'name="key" value="([^"]+)"', page)
    return found[1] if found else ""


def office_of(line: Line, clock: Clock, files: Mapping[str, Callable[[str], bytes | None]] | None = None) -> Desk:
    forecast = Forecast(line, OFFICE)
    forecast.look()

    def health() -> list[Health]:
        return [Health(part="store", well=True, says="0 letters wait"), forecast.health()]

    house = House(
        line=line,
        office=OFFICE,
        clock=clock,
        secure=False,
        health=health,
        forecast=forecast,
        seasons=Seasons(line),
        files=files or {},
    )
    app = create_app("a secret for tests", [pages(house)], health)
    app.config.update(TESTING=True)
    return Desk(line, clock, app)
