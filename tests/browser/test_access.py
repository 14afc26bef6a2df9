"""Whoever comes can use the chat: with a keyboard, a screen reader, a small or zoomed window, by day and by night.

Numbers are those of the criteria of WCAG 2.2. What a machine can't tell (is the alternative text any good?) it doesn't.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect
from served import Site

from bot.message import Message

LEAST_TARGET_PX = 24  # 2.5.8
NARROW_PX = 320  # 1.4.10: 1280 px at 400 %
WIDTHS = (NARROW_PX, 360, 1280)
TALKS = {
    "en": ("hi", "tomatoes", "75040", "2", "drip", "tomatoes 60 cb at 12 in", "WHY"),
    "es": ("hola", "tomates", "75040", "franco", "goteo", "tomates 60 cb a 30 cm", "POR QUÉ"),
}
GRAPHS = {"en": "GRAPH", "es": "GRÁFICA"}
STOPS = {"en": "STOP", "es": "ALTO"}


def talk(page: Page, *texts: str) -> None:
    for text in texts:
        shown = page.locator(".bubble").count()
        page.get_by_role("textbox").fill(text)
        page.locator("#send").click()
        expect(page.locator(".bubble").nth(shown + 1)).to_be_visible()


def shown_at(path: Path, page: Page, name: str) -> None:
    """A picture for the eye, kept where DROPLINE_SHOTS says."""
    folder = Path(os.environ.get("DROPLINE_SHOTS", path))
    folder.mkdir(parents=True, exist_ok=True)
    page.screenshot(path=folder / f"{name}.png")


@pytest.fixture
def opened(browser: Browser, site: Site) -> Iterator[Callable[..., Page]]:
    contexts = []

    def open_page(language: str, width: int, scheme: str = "light") -> Page:
        context = browser.new_context(
            viewport={"width": width, "height": 740},
            locale=f"{language}-US",
            color_scheme=scheme,
            reduced_motion="reduce",
        )
        contexts.append(context)
        page = context.new_page()
        page.goto(site.url)
        return page

    yield open_page
    for context in contexts:
        context.close()


def faults(page: Page) -> list[str]:
    """What axe finds, the serious with the slight."""
    found = Axe().run(page).response["violations"]
    return [f"{each['impact']} {each['id']}: {each['nodes'][0]['html'][:200]}" for each in found]


def too_small(page: Page) -> list[str]:
    """Controls smaller than a finger needs; links inside a sentence are let off, as the criterion does."""
    return page.locator("button:visible, a:visible:not(.skip), summary:visible, textarea").evaluate_all(
        """(all, least) => all.map(each => [each.getBoundingClientRect(), each.outerHTML.slice(0, 80)])
        .filter(([box]) => box.width < least || box.height < least).map(([box, html]) => html)""",
        LEAST_TARGET_PX,
    )


def scrolls_sideways(page: Page) -> bool:
    return bool(page.evaluate("document.documentElement.scrollWidth > window.innerWidth"))


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("language", TALKS)
def test_no_state_of_the_page_has_a_fault_a_machine_can_find(
    opened: Callable[..., Page], tmp_path: Path, language: str, width: int, scheme: str
) -> None:
    page = opened(language, width, scheme)
    states = {"first": (), "talk": TALKS[language], "graph": (GRAPHS[language],), "stopped": (STOPS[language],)}
    for state, texts in states.items():
        talk(page, *texts)
        if state == "graph":
            page.locator(".data summary").click()
        shown_at(tmp_path, page, f"chat-{language}-{width}-{scheme}-{state}")
        assert faults(page) == []
        assert too_small(page) == []
        assert not scrolls_sideways(page)


@pytest.mark.parametrize("width", WIDTHS)
def test_the_page_behind_a_link_has_no_fault_either_alive_or_dead(
    opened: Callable[..., Page], site: Site, tmp_path: Path, width: int
) -> None:
    sender = {"channel": "sms", "sender": "+15550102"}
    site.line.receive(Message(text="tomates 60 cb a 30 cm", **sender))
    text = " ".join(reply.text for reply in site.line.receive(Message(text="gráfica", **sender)))
    page = opened("en", width)
    for name, path in {"alive": text[text.index("/g/") :].split()[0], "dead": "/g/x"}.items():
        page.goto(site.url + path)
        for summary in page.locator("summary").all():
            summary.click()
        shown_at(tmp_path, page, f"link-{width}-{name}")
        assert faults(page) == []
        assert too_small(page) == []
        assert not scrolls_sideways(page)


def test_by_keyboard_alone_a_text_is_sent_and_an_answer_tapped(opened: Callable[..., Page]) -> None:
    page = opened("en", 360)
    page.keyboard.press("Tab")
    expect(page.get_by_role("link", name="Skip to your text")).to_be_focused()
    page.keyboard.press("Enter")
    page.keyboard.type("tomatoes")
    page.keyboard.press("Enter")
    expect(page.locator(".bubble.line").last).to_be_visible()
    expect(page.get_by_role("textbox")).to_be_focused()
    page.keyboard.press("Shift+Tab")
    expect(page.locator("#choices button").last).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.locator(".bubble.person")).to_have_count(2)
    expect(page.get_by_role("textbox")).to_be_focused()  # not lost with the answer that was tapped


def test_what_has_the_focus_is_marked_and_not_covered(opened: Callable[..., Page]) -> None:
    """2.4.7 and 2.4.11, through the whole page, backwards too, where the bar at the bottom could hide it."""
    page = opened("en", 360)
    talk(page, *TALKS["en"][:4])
    controls = page.locator("button:visible, a:visible, summary:visible, textarea").count()
    for key in ("Tab", "Shift+Tab"):
        for _ in range(controls):
            page.keyboard.press(key)
            seen = page.evaluate("""() => {
                const at = document.activeElement, box = at.getBoundingClientRect();
                const top = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
                const outline = getComputedStyle(at);
                return [at.outerHTML.slice(0, 80), at === document.body || at.contains(top),
                    at === document.body || (outline.outlineStyle !== 'none' && parseFloat(outline.outlineWidth) >= 2)];
            }""")
            assert seen[1:] == [True, True], seen[0]


def test_texts_twice_as_large_still_fit(opened: Callable[..., Page]) -> None:
    """1.4.4: letters at 200 %."""
    page = opened("es", 360)
    talk(page, *TALKS["es"])
    page.evaluate("document.documentElement.style.fontSize = '200%'")
    assert not scrolls_sideways(page)


def test_each_text_says_whose_it_is_and_in_which_language(opened: Callable[..., Page]) -> None:
    page = opened("en", 360)
    talk(page, "tomatoes 60 cb at 12 in", "¿cuándo riego mis tomates otra vez, por favor?")
    spoken = page.locator(".bubble").evaluate_all(
        "all => all.map(each => [each.querySelector('.unseen').textContent, each.querySelector('.words').lang])"
    )
    assert {who for who, _ in spoken} <= {"You:", "Water line:", "Usted:", "Línea de riego:"}
    assert spoken[0][1] == "en"
    assert spoken[-1][1] == "es"
