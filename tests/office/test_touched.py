"""Who was advised by a row that was wrong for a day, and a correction to them. All people, rows and numbers are invented."""

from __future__ import annotations

import re
from datetime import timedelta
from typing import Any

import pytest
from office_desk import ANN, BEN, EVA, Browser, Desk

from rules.tables import base

DAN, FAY, GUS = "+15550104", "+15550105", "+15550106"
TEXTS = {"en": "We were wrong: look again.", "es": "Nos equivocamos: mire otra vez."}


def advised(office: Desk, sender: str, soil: str) -> None:
    office.texts(f"tomatoes, {soil}, drip", sender)
    office.texts("44.1, -103.2", sender)
    assert any(each.verdict for each in office.texts("60 cb at 12 in", sender))


def broken_for_a_day(office: Desk, fc: str = "0.16") -> tuple[Browser, str]:
    """Loam holds next to nothing for a day. Ann was advised before, Ben, Eva (on loam) and Dan (on clay) that day, Fay after."""
    rosa, ines = office.browser("rosa", "specialist"), office.browser("ines", "specialist")
    advised(office, ANN, "loam")
    office.clock.now += timedelta(hours=1)
    page = "/office/limits/soils/loam"
    rosa.post(page, page, do="propose", reason="a slip", fc=fc)
    assert rosa.last is not None
    change = rosa.last.headers["Location"]
    ines.post(change, change, do="agree")
    office.clock.now += timedelta(hours=1)
    for sender, soil in ((BEN, "loam"), (EVA, "loam"), (DAN, "clay")):
        advised(office, sender, soil)
    office.clock.now += timedelta(hours=8)
    rosa.post(change, change, do="end")
    office.clock.now += timedelta(hours=1)
    advised(office, FAY, "loam")
    found = re.search(r'href="(/office/touched[^"]+)">Who was advised while', rosa.get(change))
    assert found
    return rosa, found[1].replace("&amp;", "&")


def shown(page: str) -> set[str]:
    return set(re.findall(r"…(\d{4})", page))


def people_of_last_notice(office: Desk) -> set[str]:
    (told,) = office.line.store.notices.all(1)
    return {office.line.store.people.by_id(each).address for each in told.people or ()}


def draft(browser: Browser, page: str, **more: str) -> str:
    shown = browser.get(page)
    hidden = {
        name: found[1]
        for name in ("row", "since", "until")
        if (found := re.search(rf'type="hidden" name="{name}" value="([^"]*)"', shown))
    }
    browser.post("/office/touched", page, **hidden, **TEXTS, **more)
    assert browser.last is not None
    return browser.last.headers.get("Location", "")


def test_the_list_of_those_touched_by_a_row_that_was_broken_for_a_day_is_exact(office: Desk) -> None:
    rosa, page = broken_for_a_day(office)
    assert shown(rosa.get(page)) == {BEN[-4:], EVA[-4:]}
    draft(rosa, page, whom="all")
    assert people_of_last_notice(office) == {BEN, EVA}


def test_only_those_who_would_be_told_otherwise_now_are_corrected_unless_all_are_chosen(office: Desk) -> None:
    rosa, page = broken_for_a_day(office, fc=f"{base().soils['loam'].fc + 0.0001:g}")
    assert rosa.get(page).count(">the same<") == 2, "so small a slip changed nobody's advice"
    assert draft(rosa, page) == ""
    assert rosa.status == 400
    draft(rosa, page, whom="all")
    assert people_of_last_notice(office) == {BEN, EVA}


def test_who_would_be_told_otherwise_is_who_a_correction_is_for(office: Desk) -> None:
    rosa, page = broken_for_a_day(office)
    assert ">the same<" not in rosa.get(page)
    draft(rosa, page)
    assert people_of_last_notice(office) == {BEN, EVA}


def test_a_correction_goes_out_after_a_second_person_agreed_and_to_who_wants_texts(office: Desk) -> None:
    rosa, page = broken_for_a_day(office)
    office.texts("START", BEN)
    notice = draft(rosa, page, whom="all")
    looked_at = rosa.get(notice)
    assert "We were wrong" in looked_at
    assert "These get no text" in looked_at
    assert EVA[-4:] in looked_at
    rosa.post(notice, notice, do="agree")
    later = office.clock() + timedelta(days=2)
    assert office.line.store.outbox.due("sms", later, 9) == []
    ines = office.browser("ines", "specialist")
    ines.post(notice, notice, do="agree")
    assert [each.address for each in office.line.store.outbox.due("sms", later, 9)] == [BEN]


def test_who_says_stop_before_it_went_out_gets_nothing(office: Desk) -> None:
    rosa, page = broken_for_a_day(office)
    office.texts("START", BEN)
    notice = draft(rosa, page, whom="all")
    office.browser("ines", "specialist").post(notice, notice, do="agree")
    office.texts("STOP", BEN)
    assert office.line.store.outbox.due("sms", office.clock() + timedelta(days=2), 9) == []


def test_without_a_row_everybody_who_was_advised_then_is_found(office: Desk) -> None:
    rosa, _ = broken_for_a_day(office)
    day = office.clock().date()
    page = rosa.get(f"/office/touched?row=&since={day}T00:00&until={day}T23:59")
    assert shown(page) == {each[-4:] for each in (ANN, BEN, EVA, DAN, FAY)}


def test_who_asked_about_a_shared_plot_is_the_one_who_was_told(office: Desk) -> None:
    advised(office, ANN, "loam")
    (plot,) = office.line.store.plots.of(office.line.store.people.by_id(office.person(ANN)))
    office.texts("hi", GUS)
    office.line.store.shares.join(plot, office.line.store.people.by_id(office.person(GUS)), office.clock())
    office.clock.now += timedelta(hours=1)
    since = office.clock()
    office.texts("tomatoes?", GUS)
    rosa = office.browser("rosa", "specialist")
    page = rosa.get(
        f"/office/touched?row=soils:loam&since={since.isoformat()}&until={(since + timedelta(hours=1)).isoformat()}"
    )
    assert shown(page) == {GUS[-4:]}


@pytest.mark.parametrize(
    "query",
    [
        "row=soils:nowhere&since=2031-07-15T00:00&until=2031-07-16T00:00",
        "row=people:1&since=2031-07-15T00:00&until=2031-07-16T00:00",
        "row=soils:loam&since=yesterday&until=2031-07-16T00:00",
        "row=soils:loam&since=2031-07-16T00:00&until=2031-07-15T00:00",
        "row=soils:loam&since=2031-07-15T00:00Z&until=2031-07-16T00:00Z",
        "row=%22%3Cscript%3E&since=2031-07-15T00:00&until=2031-07-16T00:00",
    ],
)
def test_what_can_not_be_looked_for_is_said_and_shows_nobody(office: Desk, query: str) -> None:
    advised(office, ANN, "loam")
    rosa = office.browser("rosa", "specialist")
    page = rosa.get(f"/office/touched?{query}")
    assert (rosa.status, shown(page)) == (200, set())
    assert 'role="alert"' in page
    assert "<script>" not in page.replace("<script src", "")


def test_a_helper_and_a_forged_form_get_nothing(office: Desk) -> None:
    advised(office, ANN, "loam")
    day = office.clock().date()
    form: dict[str, Any] = {"row": "", "since": f"{day}T00:00", "until": f"{day}T23:59", "whom": "all", **TEXTS}
    helper, rosa = office.browser("hal", "helper"), office.browser("rosa", "specialist")
    helper.get("/office/touched")
    assert helper.status == 403
    helper.post("/office/touched", "/office/account", **form)
    assert helper.status == 403
    assert rosa.client.post("/office/touched", data={"csrf": "guess", **form}).status_code == 400
    assert office.line.store.notices.all() == []


def test_a_page_looks_at_some_of_them_the_next_at_the_rest_and_a_correction_at_all(
    office: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("bot.office.touched._A_LOOK", 1)
    rosa, page = broken_for_a_day(office)
    first = rosa.get(page)
    assert shown(first) == {BEN[-4:]}
    assert "2 people, 2 plots" in first
    onward = re.search(r'href="([^"]+)">The next 1<', first)
    assert onward
    second = rosa.get(onward[1].replace("&amp;", "&"))
    assert shown(second) == {EVA[-4:]}
    assert "The next" not in second
    draft(rosa, page)
    assert people_of_last_notice(office) == {BEN, EVA}
