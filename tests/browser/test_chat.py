"""The web chat as people use it: typed, tapped, sent twice, without script, in two languages."""

from __future__ import annotations

import re
from datetime import date

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect
from served import NOON, Site

from bot.message import Message


def send(page: Page, text: str) -> None:
    """Type, send, and wait until the answer stands there."""
    shown = page.locator(".bubble").count()
    page.get_by_role("textbox").fill(text)
    page.locator("#send").click()
    expect(page.locator(".bubble").nth(shown + 1)).to_be_visible()


def last(page: Page) -> str:
    return page.locator(".bubble .words").last.inner_text()


def address(site: Site) -> str:
    """The one person of this channel."""
    people = [each.address for each in site.line.store.people.everyone() if each.channel == "web"]
    assert len(people) == 1
    return people[0]


def test_the_whole_set_up_goes_by_taps_and_texts_to_a_verdict(page: Page) -> None:
    for text in ("hi", "tomatoes", "75040"):
        send(page, text)
    assert "What soil is it" in last(page)
    send(page, "2")
    page.locator("#choices").get_by_role("button", name="drip", exact=True).click()
    expect(page.locator(".bubble strong").last).to_have_text("WATER")
    assert "tomatoes" in last(page)


def test_a_reading_shows_its_verdict_first_and_newest_at_the_bottom(page: Page) -> None:
    send(page, "tomatoes 60 cb at 12 in")
    said = page.locator(".bubble .words").all_inner_texts()
    assert said[0] == "tomatoes 60 cb at 12 in"
    assert any(each.startswith("WATER tomatoes") for each in said[1:])


def test_the_address_cannot_be_guessed_and_script_cannot_read_the_cookie(page: Page, site: Site) -> None:
    send(page, "hi")
    assert len(address(site)) >= 22  # 128 bits in letters of 6 bits
    assert page.evaluate("document.cookie") == ""


def test_who_comes_back_finds_the_conversation(page: Page, phone: BrowserContext, site: Site) -> None:
    send(page, "tomatoes 60 cb at 12 in")
    page.close()
    again = phone.new_page()
    again.goto(site.url)
    expect(again.locator(".bubble.person")).to_have_count(1)


def test_another_browser_sees_nothing_of_it(page: Page, browser: Browser, site: Site) -> None:
    send(page, "tomatoes 60 cb at 12 in")
    with browser.new_context() as other:
        theirs = other.new_page()
        theirs.goto(site.url)
        expect(theirs.locator(".bubble")).to_have_count(0)


def test_without_script_the_same_form_does_it_all(browser: Browser, site: Site) -> None:
    with browser.new_context(java_script_enabled=False, locale="en-US") as plain:
        page = plain.new_page()
        page.goto(site.url)
        send(page, "tomatoes 60 cb at 12 in")
        expect(page.locator(".bubble strong").first).to_have_text("WATER")
        page.get_by_role("button", name="WHY", exact=True).click()
        expect(page.locator(".bubble.person").last).to_contain_text("WHY")
        page.get_by_role("button", name="Español").click()
        expect(page.locator("html")).to_have_attribute("lang", "es")
        assert page.locator(".bubble").count() > 3


@pytest.mark.parametrize("script", [True, False])
def test_a_double_click_is_one_text(browser: Browser, site: Site, script: bool) -> None:
    with browser.new_context(java_script_enabled=script, locale="en-US") as context:
        page = context.new_page()
        page.goto(site.url)
        send(page, "tomatoes")
        page.get_by_role("textbox").fill("watered 30 min")
        page.locator("#send").dblclick()
        expect(page.locator(".bubble.person")).to_have_count(2)
        expect(
            page.locator(".bubble.person").last.locator("xpath=following::*[contains(@class, 'line')]").first
        ).to_be_visible()
    person = site.line.store.people.known("web", address(site))
    assert person is not None
    assert [each.slots["minutes"] for each in site.line.store.log.history(person)] == [30.0]


def test_going_back_and_sending_another_text_is_another_text(browser: Browser, site: Site) -> None:
    with browser.new_context(java_script_enabled=False, locale="en-US") as plain:
        page = plain.new_page()
        page.goto(site.url)
        send(page, "tomatoes")
        page.go_back()
        page.get_by_role("textbox").fill("HELP")
        page.locator("#send").click()
        expect(page.locator(".bubble.person")).to_have_count(2)


def test_markup_in_a_text_is_shown_as_text(page: Page) -> None:
    page.on("dialog", lambda dialog: pytest.fail("it ran"))
    send(page, "<script>alert(1)</script><img src=x onerror=alert(2)>")
    expect(page.locator(".bubble.person .words")).to_have_text("<script>alert(1)</script><img src=x onerror=alert(2)>")
    expect(page.locator(".bubble img, .bubble script")).to_have_count(0)
    page.reload()
    expect(page.locator(".bubble img, .bubble script")).to_have_count(0)


def test_stop_is_confirmed_then_nobody_answers_and_start_is_offered(page: Page) -> None:
    send(page, "tomatoes 60 cb at 12 in")
    send(page, "STOP")
    assert "START" in last(page)
    expect(page.get_by_role("status")).to_contain_text("nobody answers")
    page.get_by_role("textbox").fill("tomatoes 70 cb at 12 in")
    page.locator("#send").click()
    expect(page.locator(".bubble").last).to_have_class(re.compile("person"))
    page.locator("#choices").get_by_role("button", name="START").click()
    expect(page.locator(".bubble").last).to_have_class(re.compile("line"))


def test_spanish_from_the_first_tap_to_the_last(page: Page, site: Site) -> None:
    page.get_by_role("button", name="Español").click()
    expect(page.locator("html")).to_have_attribute("lang", "es")
    expect(page.get_by_role("button", name="Enviar")).to_be_visible()
    send(page, "tomates 60 cb a 30 cm")
    expect(page.locator(".bubble strong").first).to_have_text("RIEGUE")
    send(page, "ALTO")
    assert "INICIO" in last(page)
    spoken = page.locator(".bubble [lang]").evaluate_all("all => all.map(each => each.lang)")
    assert set(spoken) == {"es"}


def test_the_page_follows_the_language_that_a_person_writes(page: Page) -> None:
    send(page, "hola, ¿cuándo riego mis tomates?")
    expect(page.locator("html")).to_have_attribute("lang", "es")
    expect(page.get_by_role("button", name="Enviar")).to_be_visible()


def test_a_browser_set_to_spanish_is_met_in_spanish(browser: Browser, site: Site) -> None:
    with browser.new_context(locale="es-MX") as context:
        page = context.new_page()
        page.goto(site.url)
        expect(page.locator("html")).to_have_attribute("lang", "es")
        send(page, "tomates 60 cb 30 cm")
        expect(page.locator(".bubble strong").first).to_have_text("RIEGUE")


def test_who_writes_english_in_a_spanish_browser_is_answered_in_english(browser: Browser, site: Site) -> None:
    with browser.new_context(locale="es-MX") as context:
        page = context.new_page()
        page.goto(site.url)
        send(page, "when should I water my tomatoes?")
        expect(page.locator("html")).to_have_attribute("lang", "en")
        expect(page.get_by_role("button", name="Send")).to_be_visible()


def test_a_graph_is_seen_told_and_tabled(page: Page) -> None:
    send(page, "tomatoes 60 cb at 12 in")
    page.get_by_role("button", name="GRAPH", exact=True).click()
    graph = page.locator(".bubble.line img")
    expect(graph).to_be_visible()
    assert graph.evaluate("image => image.decode().then(() => image.naturalWidth)") > 0
    assert "tomatoes: " in (graph.get_attribute("alt") or "")
    assert "of the water left" in last(page)
    page.locator(".bubble summary").click()
    expect(page.get_by_role("columnheader").first).to_be_visible()
    assert page.get_by_role("rowheader").count() > 7  # the days of the outlook and today


def test_a_graph_stays_as_it_was_when_it_was_given(page: Page) -> None:
    send(page, "tomatoes 60 cb at 12 in")
    send(page, "graph")
    before = page.locator(".bubble img").get_attribute("alt")
    send(page, "watered 3 hours")
    page.reload()
    assert page.locator(".bubble img").get_attribute("alt") == before


def test_a_link_in_a_text_message_opens_the_graph_alone(page: Page, site: Site) -> None:
    sender = {"channel": "sms", "sender": "+15550101"}
    site.line.receive(Message(text="tomatoes 60 cb at 12 in", **sender))
    texts = [reply.text for reply in site.line.receive(Message(text="graph", **sender))]
    link = re.search(r"/g/\S+", " ".join(texts))
    assert link
    page.goto(site.url + link.group())
    expect(page.get_by_role("heading", level=1)).to_have_text("tomatoes")
    assert page.locator("main img").evaluate("image => image.decode().then(() => image.naturalWidth)") > 0
    expect(page.get_by_role("textbox")).to_have_count(0)
    assert page.context.cookies(site.url + link.group()) == page.context.cookies(site.url)


def test_a_text_of_the_office_comes_in_by_itself_and_is_read_out(page: Page, site: Site) -> None:
    page.clock.install()
    page.reload()
    send(page, "tomatoes 60 cb at 12 in")
    site.line.from_office(address(site), "We looked at your photo: it is blossom end rot.")
    page.clock.fast_forward(60_000)
    news = page.get_by_role("log").locator(".bubble.office")
    expect(news).to_contain_text("blossom end rot")
    expect(news).to_contain_text("Staff:")
    assert page.get_by_role("log").get_attribute("aria-live") in (None, "polite")  # what the role says by itself


def test_start_over_forgets_and_gives_another_address(page: Page, site: Site) -> None:
    send(page, "tomatoes 60 cb at 12 in")
    before = address(site)
    page.get_by_role("button", name="Start over").click()
    expect(page.locator(".bubble .words").last).to_contain_text("FORGET YES")
    page.get_by_role("textbox").fill("forget yes")
    page.locator("#send").click()
    expect(page.get_by_role("status")).to_contain_text("erased")
    expect(page.locator(".bubble")).to_have_count(0)
    assert site.line.store.people.everyone() == []
    send(page, "hi")
    assert address(site) != before


def test_when_the_line_is_out_of_reach_the_text_stays_and_the_page_says_so(page: Page, phone: BrowserContext) -> None:
    send(page, "tomatoes")
    phone.set_offline(True)
    page.get_by_role("textbox").fill("loam")
    page.locator("#send").click()
    expect(page.get_by_role("status")).to_contain_text("did not go out")
    expect(page.get_by_role("textbox")).to_have_value("loam")
    phone.set_offline(False)
    page.locator("#send").click()
    expect(page.locator(".bubble.person").last).to_contain_text("loam")


def test_a_long_conversation_shows_its_end_and_leads_to_what_came_before(page: Page, site: Site) -> None:
    send(page, "tomatoes")
    person = site.line.store.people.known("web", address(site))
    assert person is not None
    for number in range(60):
        site.line.store.messages.keep(person, f"note {number}", NOON, author="office", language="en")
    page.reload()
    expect(page.get_by_text("note 59", exact=True)).to_be_visible()
    expect(page.get_by_text("note 9", exact=True)).to_have_count(0)
    page.get_by_role("link", name="Show earlier texts").click()
    expect(page.get_by_text("note 9", exact=True)).to_be_visible()
    send(page, "loam")
    expect(page.get_by_text("note 59", exact=True)).to_be_visible()


def test_each_day_has_its_heading(page: Page, site: Site) -> None:
    send(page, "tomatoes")
    assert page.get_by_role("log").locator("section").evaluate_all("all => all.map(each => each.id)") == [
        f"d{date(2026, 7, 14)}"
    ]
    expect(page.get_by_text("today", exact=True)).to_be_visible()
