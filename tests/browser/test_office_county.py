"""The office's pages with a whole county behind them, each walked to in a real browser. DROPLINE_COUNTY says how many people."""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Iterator
from pathlib import Path
from threading import Thread

import pytest
from playwright.sync_api import Browser, Page, expect
from waitress.server import create_server

sys.path.insert(0, str(Path(__file__).parents[1] / "office"))

from county import open_county
from office_desk import HASHED, PASSWORD, Desk, office_of

PEOPLE = int(os.environ.get("DROPLINE_COUNTY", "100"))
NAME = "Ines"


@pytest.fixture(scope="module")
def county(browser: Browser) -> Iterator[tuple[Page, Desk]]:
    """A page of a colleague who is logged in, and the office that it shows."""
    line, clock = open_county(PEOPLE)
    desk = office_of(line, clock)
    line.store.staff.add(NAME, "keeper", HASHED, at=clock())
    server = create_server(desk.app, host="127.0.0.1", port=0, threads=4)
    serving = Thread(target=server.run, daemon=True)
    serving.start()
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    context.set_default_timeout(60_000)
    page = context.new_page()
    page.goto(f"http://127.0.0.1:{server.effective_port}/office")
    page.get_by_label("Name").fill(NAME)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Log in").click()
    yield page, desk
    context.close()
    server.close()
    serving.join(5)
    line.store.close()


def test_a_colleague_walks_from_today_to_a_verdicts_working(county: tuple[Page, Desk]) -> None:
    page, desk = county
    people = desk.line.store.people.everyone()
    advised = next(
        each for each in people for plot in desk.line.store.plots.of(each) if desk.line.store.advices.last(plot)
    )
    page.get_by_role("link", name="People", exact=True).click()
    expect(page.get_by_role("heading", level=1)).to_be_visible()
    page.goto(re.sub(r"/people.*", f"/people/{advised.id}", page.url))
    page.locator("a[href*='/advices/']").first.click()
    expect(page.locator("main")).to_contain_text("balance")


@pytest.mark.parametrize("name", ["Today", "Help desk", "People", "Answers", "Limits", "Notices", "Health", "Trail"])
def test_every_page_of_the_bar_opens(county: tuple[Page, Desk], name: str) -> None:
    page, _ = county
    page.get_by_role("navigation").get_by_role("link", name=name).click()
    expect(page.get_by_role("heading", level=1)).to_be_visible()
    assert "Traceback" not in page.content()


def test_a_search_finds_a_plot_among_all(county: tuple[Page, Desk]) -> None:
    page, desk = county
    page.get_by_role("link", name="People", exact=True).click()
    page.get_by_role("searchbox").first.fill("tomato")
    page.keyboard.press("Enter")
    expect(page.locator("main")).to_contain_text("tomato")
    assert len(desk.line.store.people.everyone()) == PEOPLE
