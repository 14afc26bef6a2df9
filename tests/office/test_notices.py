"""Notices to many reach those who asked for texts, by day, once, and can be halted. People and notices are invented."""

from __future__ import annotations

from datetime import datetime, timedelta

from office_desk import Browser, Desk

ANN, BEN, EVA = "+15550101", "+15550102", "+15550103"


def people(office: Desk) -> None:
    """Ann waters tomatoes and asked for texts, Ben a lawn and asked, Eva never asked."""
    for sender, plant in ((ANN, "tomatoes"), (BEN, "lawn"), (EVA, "tomatoes")):
        office.texts(f"{plant}, loam, drip", sender)
        office.texts("36.1, -97.1", sender)
    for sender in (ANN, BEN):
        office.texts("START", sender)


def draft(browser: Browser, **group: str) -> str:
    browser.post(
        "/office/notices", "/office/notices", en="Save water this week.", es="Ahorre agua esta semana.", **group
    )
    assert browser.last is not None
    return browser.last.headers["Location"]


def letters(office: Desk, at: datetime | None = None) -> list[str]:
    return [each.address for each in office.line.store.outbox.due("sms", at or office.clock() + timedelta(days=2), 100)]


def test_only_who_asked_for_texts_gets_a_notice(office: Desk) -> None:
    people(office)
    rosa, ines = office.browser("rosa", "specialist"), office.browser("ines", "specialist")
    page = draft(rosa)
    assert "A notice to 2 people" in rosa.get(page)
    rosa.post(page, page, do="agree")
    assert letters(office) == []
    ines.post(page, page, do="agree")
    assert letters(office) == [ANN, BEN]


def test_a_group_is_picked_by_its_plots(office: Desk) -> None:
    people(office)
    rosa = office.browser("rosa", "specialist")
    page = draft(rosa, plant="lawn")
    rosa.post(page, page, do="agree")
    assert letters(office) == [BEN]


def test_who_shares_a_plot_of_the_group_is_in_it(office: Desk) -> None:
    people(office)
    (lawn,) = office.line.store.plots.of(office.line.store.people.by_id(office.person(BEN)))
    office.line.store.shares.join(lawn, office.line.store.people.by_id(office.person(ANN)), office.clock())
    rosa = office.browser("rosa", "specialist")
    page = draft(rosa, plant="lawn")
    rosa.post(page, page, do="agree")
    assert letters(office) == [ANN, BEN]


def test_agreeing_twice_sends_once(office: Desk) -> None:
    people(office)
    rosa = office.browser("rosa", "specialist")
    page = draft(rosa)
    for _ in range(2):
        rosa.post(page, page, do="agree")
    assert letters(office) == [ANN, BEN]


def test_who_says_stop_before_it_went_out_gets_nothing(office: Desk) -> None:
    people(office)
    rosa = office.browser("rosa", "specialist")
    page = draft(rosa)
    rosa.post(page, page, do="agree")
    office.texts("STOP", ANN)
    assert letters(office) == [BEN]


def test_a_halted_notice_goes_to_nobody_more(office: Desk) -> None:
    people(office)
    rosa = office.browser("rosa", "specialist")
    page = draft(rosa)
    rosa.post(page, page, do="agree")
    (first, *_) = office.line.post.due("sms", 1) or office.line.store.outbox.due(
        "sms", office.clock() + timedelta(days=2), 1
    )
    office.line.post.took(first)
    rosa.post(page, page, do="halt")
    assert letters(office) == []
    assert "1 gone" in rosa.get(page)


def test_at_night_a_notice_waits_for_the_morning(office: Desk) -> None:
    people(office)
    office.clock.now = office.clock().replace(hour=22, minute=30)
    rosa = office.browser("rosa", "specialist")
    page = draft(rosa)
    rosa.post(page, page, do="agree")
    assert letters(office, office.clock() + timedelta(hours=9)) == []
    assert letters(office, office.clock() + timedelta(hours=14)) == [ANN, BEN]


def test_a_notice_needs_both_languages(office: Desk) -> None:
    rosa = office.browser("rosa", "specialist")
    answer = rosa.post("/office/notices", "/office/notices", en="Save water.", es=" ")
    assert answer.status_code == 400
    assert office.line.store.notices.all() == []


def test_a_helper_sends_no_notice(office: Desk) -> None:
    helper = office.browser("hugo", "helper")
    helper.post("/office/notices", "/office/account", en="a", es="b")
    assert helper.status == 403
    assert office.line.store.notices.all() == []


def test_a_notice_to_five_hundred_is_halted_midway(office: Desk) -> None:
    store, at = office.line.store, office.clock()
    for number in range(500):
        who = store.people.person("sms", f"+1555{100 + number // 100:04d}{number:05d}", at)
        store.facts.set(who, "stopped", False, at=at)
    rosa = office.browser("rosa", "specialist")
    page = draft(rosa)
    rosa.post(page, page, do="agree")
    later = at + timedelta(days=2)
    for letter in store.outbox.due("sms", later, 200):
        office.line.post.took(letter)
    rosa.post(page, page, do="halt")
    assert store.outbox.due("sms", later, 500) == []
    (told,) = store.notices.all()
    assert (told.state, told.taken, told.waiting) == ("halted", 200, 0)
