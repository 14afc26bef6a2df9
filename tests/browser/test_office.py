"""The office's pages as colleagues use them: a real browser, the keyboard alone, a phone, no script, a checker of access."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from threading import Thread

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, BrowserContext, Page, expect
from waitress.server import create_server

sys.path.insert(0, str(Path(__file__).parents[1] / "office"))

from county import open_county
from office_desk import HASHED, PASSWORD, Desk, office_of

NAME = "Ines"
SERIOUS = ("serious", "critical")


@dataclass
class Open:
    """An office at work and where its pages are."""

    desk: Desk
    url: str


@pytest.fixture(scope="module")
def office() -> Iterator[Open]:
    """An office of a few people, one of whom waits for an answer."""
    line, clock = open_county(12)
    desk = office_of(line, clock)
    line.store.staff.add(NAME, "keeper", HASHED, at=clock())
    desk.texts("tomatoes 45 cb at 12 in")
    desk.texts("can I talk to a person")
    day = clock().date().replace(year=2032)
    line.store.table_rows.propose("soils", "loam", {"fc": "0.31"}, "county trial (invented)", NAME, clock())
    line.store.notices.draft("Save water.", "Ahorre agua.", "", "", "", NAME, clock())
    line.store.canned.keep(
        None, title="Look again", en="Look at {plot}.", es="Mire {plot}.", by=NAME, at=clock(), expires_on=day
    )
    server = create_server(desk.app, host="127.0.0.1", port=0, threads=4)
    serving = Thread(target=server.run, daemon=True)
    serving.start()
    yield Open(desk, f"http://127.0.0.1:{server.effective_port}/office")
    server.close()
    serving.join(5)
    line.store.close()


def log_in(page: Page, office: Open) -> None:
    page.goto(office.url)
    page.get_by_label("Name").fill(NAME)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Log in").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("July")


@pytest.fixture(scope="module")
def colleague(browser: Browser, office: Open) -> Iterator[BrowserContext]:
    """A browser that is logged in."""
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    context.set_default_timeout(20_000)
    page = context.new_page()
    log_in(page, office)
    page.close()
    yield context
    context.close()


@pytest.fixture
def page(colleague: BrowserContext) -> Iterator[Page]:
    opened = colleague.new_page()
    faults: list[str] = []
    opened.on("pageerror", lambda fault: faults.append(str(fault)))
    opened.on("console", lambda said: faults.append(said.text) if said.type == "error" else None)
    yield opened
    opened.close()
    assert [fault for fault in faults if "404" not in fault] == []  # one address is of no page, on purpose


def person(office: Open) -> str:
    return f"/people/{office.desk.person()}"


def addresses(office: Open) -> list[str]:
    """A page of each kind."""
    one = person(office)
    plot = office.desk.line.store.plots.of(office.desk.line.store.people.by_id(office.desk.person()))[0]
    given = office.desk.line.store.advices.of(plot)[0]
    return [
        "", "/desk", "/desk?state=done", "/desk/log", "/people", "/people/late", "/people/check", one, f"{one}/consent",
        f"{one}/plots/{plot.id}", f"{one}/plots/{plot.id}/probes", f"{one}/plots/{plot.id}/season",
        "/limits", "/limits/soils", "/limits/soils/loam", "/limits/restrictions/new", "/limits/changes/1", "/notices",
        "/notices/1", "/record", f"{one}/advices/{given.id}", "/answers", "/health", "/accounts", "/account", "/trail",
        "/misses", f"/misses/check?week={office.desk.clock().date()}", "/request?first=2031-07-01&last=2031-07-31",
        "/touched?row=soils:loam&since=2031-07-01T00:00&until=2031-07-16T00:00",
        "/nowhere",
    ]  # fmt: skip


def test_no_page_has_a_serious_fault_of_access_wide_or_narrow_by_day_or_night(page: Page, office: Open) -> None:
    found: dict[str, list[str]] = {}
    for width, scheme in ((1280, "light"), (360, "dark")):
        page.set_viewport_size({"width": width, "height": 900})
        page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
        for address in addresses(office):
            page.goto(office.url + address)
            page.evaluate("document.querySelectorAll('details').forEach(each => each.open = true)")
            faults = Axe().run(page).response["violations"]
            serious = [f"{each['id']}: {each['nodes'][0]['html']}" for each in faults if each["impact"] in SERIOUS]
            if serious:
                found[f"{address} {scheme}"] = serious
    assert found == {}


def test_the_login_has_no_serious_fault_and_takes_a_paste(browser: Browser, office: Open) -> None:
    context = browser.new_context()
    page = context.new_page()
    page.goto(office.url)
    assert [each for each in Axe().run(page).response["violations"] if each["impact"] in SERIOUS] == []
    field = page.get_by_label("Password")
    assert field.get_attribute("autocomplete") == "current-password"
    field.evaluate("(field, text) => { field.focus(); document.execCommand('insertText', false, text) }", PASSWORD)
    assert field.input_value() == PASSWORD
    context.close()


def test_no_page_scrolls_sideways_on_a_phone(page: Page, office: Open) -> None:
    page.set_viewport_size({"width": 320, "height": 700})  # WCAG 2.2, 1.4.10
    for address in addresses(office):
        page.goto(office.url + address)
        assert page.evaluate("document.documentElement.scrollWidth") <= 320, address


def test_targets_are_large_enough_for_a_thumb(page: Page, office: Open) -> None:
    """WCAG 2.2, 2.5.8: 24 by 24, but for links inside a sentence."""
    page.set_viewport_size({"width": 360, "height": 700})
    small = """[...document.querySelectorAll('button, input:not([type=hidden]), select, summary, nav a')]
        .filter(each => !['radio', 'checkbox'].includes(each.type))
        .map(each => [each.outerHTML, each.getBoundingClientRect()])
        .filter(([_, box]) => box.width && (box.width < 24 || box.height < 24))
        .map(([html, box]) => `${html.slice(0, 80)} ${box.width}x${box.height}`)"""
    for address in addresses(office):
        page.goto(office.url + address)
        assert page.evaluate(small) == [], address


def test_a_call_is_taken_answered_and_closed_by_keyboard_alone(page: Page, office: Open) -> None:
    page.goto(f"{office.url}/desk")
    page.get_by_role("link", name="talk to a person").focus()
    page.keyboard.press("Enter")
    page.get_by_role("button", name="Take this call").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("status").first).to_contain_text("This call is yours")
    page.get_by_label("Your words").focus()
    page.keyboard.type("Hello, what do you see?")
    expect(page.locator(".length")).to_have_text(
        "One text. Goes out as: Sage County water desk staff: Hello, what do you see?"
    )
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.get_by_role("status").first).to_have_text("Sent.")
    expect(page.locator(".said-by.staff .bubble")).to_have_text("Sage County water desk staff: Hello, what do you see?")
    page.get_by_role("button", name="Close it").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="No open call")).to_be_visible()


def test_a_half_written_answer_outlives_a_reload_and_is_gone_once_sent(page: Page, office: Open) -> None:
    page.goto(office.url + person(office))
    page.get_by_label("Your words").fill("Half a sentence")
    page.reload()
    expect(page.get_by_label("Your words")).to_have_value("Half a sentence")
    page.get_by_role("button", name="Send as the office").click()
    expect(page.get_by_role("status").first).to_have_text("Sent.")
    expect(page.get_by_label("Your words")).to_have_value("")


def test_an_answer_kept_ready_is_put_in_with_its_blanks_filled(page: Page, office: Open) -> None:
    page.goto(office.url + person(office))
    page.get_by_role("button", name="Put it in").click()
    expect(page.get_by_label("Your words")).to_have_value("Look at tomatoes.")


def test_the_note_looks_and_is_called_unlike_an_answer(page: Page, office: Open) -> None:
    office.desk.texts("can I talk to a person")
    page.goto(office.url + person(office))
    note, answer = page.locator(".notes"), page.locator(".write")
    looks = "(each) => [getComputedStyle(each).backgroundColor, getComputedStyle(each).borderStyle]"
    assert all(one != other for one, other in zip(note.evaluate(looks), answer.evaluate(looks), strict=True))
    expect(note).to_contain_text("never sent")


def test_a_fact_is_changed_and_its_change_told(page: Page, office: Open) -> None:
    page.goto(office.url + person(office))
    page.get_by_role("link", name="tomatoes", exact=True).click()
    page.get_by_label("Soil", exact=True).select_option("clay_loam")
    page.get_by_role("button", name="Keep the changes").click()
    expect(page.get_by_role("status").first).to_have_text("Kept.")
    history = page.get_by_role("region", name="How the facts came").get_by_role("listitem").first
    expect(history).to_contain_text("clay_loam")
    expect(history).to_contain_text(NAME)


def test_the_graph_has_words_and_a_table(page: Page, office: Open) -> None:
    page.goto(office.url + person(office))
    page.get_by_role("link", name="tomatoes", exact=True).click()
    drawing = page.get_by_role("img")
    assert "tomatoes" in (drawing.get_attribute("alt") or "")
    assert drawing.evaluate("each => each.naturalWidth") > 0
    page.get_by_text("The same as a table").click()
    assert page.get_by_role("region", name="The picture as a table").get_by_role("row").count() > 5


def test_what_can_not_be_undone_is_asked_for_first(page: Page, office: Open) -> None:
    page.goto(office.url + person(office) + "/consent")
    page.once("dialog", lambda asked: asked.dismiss())
    page.get_by_role("button", name="stop the texts").click()
    assert not office.desk.line.store.people.by_id(office.desk.person()).stopped


def test_everything_works_without_script(browser: Browser, office: Open) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(office.url)
    page.fill("#name", NAME)
    page.fill("#password", PASSWORD)
    page.click("main button")
    page.goto(office.url + person(office))
    page.fill("#text", "Without script. " * 12)
    page.click("text=Send as the office")
    assert "goes out as 2 texts" in page.content()
    page.click("text=Send 2 texts")
    assert "Sent." in page.content()
    context.close()
