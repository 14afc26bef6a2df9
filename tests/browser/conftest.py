"""A real browser before a line that is really served. Without chromium on the machine these tests are skipped."""

from __future__ import annotations

import shutil
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect, sync_playwright
from served import Site, served

CHROMIUM = shutil.which("chromium")
# No sandbox, as tests may run as root; and nothing that the browser does for itself.
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
]


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    if CHROMIUM is None:
        pytest.skip("chromium is not installed")
    expect.set_options(timeout=20_000)  # a slow machine is no fault of the page
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield started
        started.close()


@pytest.fixture
def site() -> Iterator[Site]:
    with served() as there:
        yield there


@pytest.fixture
def phone(browser: Browser) -> Iterator[BrowserContext]:
    """Somebody's phone, with English set."""
    context = browser.new_context(viewport={"width": 360, "height": 740}, locale="en-US")
    context.set_default_timeout(10_000)
    yield context
    context.close()


@pytest.fixture
def page(phone: BrowserContext, site: Site) -> Page:
    """The chat, just opened; a fault in its script fails the test."""
    opened = phone.new_page()
    opened.on("pageerror", lambda fault: pytest.fail(f"the script failed: {fault}"))
    opened.goto(site.url)
    return opened
