"""Where the line falls short, by week; a fix made from the list shows fewer the week after. People and texts are invented."""

from __future__ import annotations

import re
from datetime import timedelta

import pytest
from office_desk import ANN, BEN, Desk

from bot.office.misses import SAYS
from bot.store.misses import KINDS


def counts(office: Desk, page: str) -> dict[str, list[int]]:
    rows = re.findall(r'<tr><th scope="row">(.*?)</th>(.*?)</tr>', page)
    return {name: [int(n) for n in re.findall(r">(\d+)</(?:a|span)>", cells)] for name, cells in rows}


def of(office: Desk, kind: str, week: int = 0) -> int:
    rosa = office.browser("rosa", "specialist")
    return counts(office, rosa.get("/office/misses"))[SAYS[kind].replace("'", "&#39;")][week]


def settled(office: Desk, sender: str = ANN) -> None:
    office.texts("tomatoes, loam, drip, 44.1, -103.2", sender)
    office.texts("44.1, -103.2", sender)


def test_every_kind_has_its_name_and_its_row() -> None:
    assert set(SAYS) == set(KINDS)


def test_a_text_that_was_not_understood_is_counted_and_opens(office: Desk) -> None:
    settled(office)
    office.texts("the flurble is gronked")
    assert of(office, "unread") == 1
    rosa = office.browser("rosa", "specialist")
    (link,) = re.findall(r'href="(/office/misses/unread[^"]+)"', rosa.get("/office/misses"))
    assert "the flurble is gronked" in rosa.get(link)


def test_what_was_understood_is_no_miss(office: Desk) -> None:
    settled(office)
    before = {kind: of(office, kind) for kind in KINDS}
    office.texts("45 cb at 12 in")
    office.texts("thanks")
    assert {kind: of(office, kind) for kind in KINDS} == before


def test_a_plant_that_was_unknown_and_is_named_in_the_table_is_missed_no_more_next_week(office: Desk) -> None:
    settled(office)
    office.texts("add plot snozzberries")
    office.texts("plant is snozzberries")
    assert of(office, "plant") == 1
    rosa = office.browser("rosa", "specialist")
    page = "/office/limits/plants/blueberry"
    rosa.post(page, page, do="propose", reason="asked for (invented)", names_en="snozzberries; snozzberry")
    assert rosa.last is not None
    change = rosa.last.headers["Location"]
    rosa.post(change, change, do="agree")
    office.clock.now += timedelta(days=7)
    settled(office, BEN)
    office.texts("add plot snozzberries", BEN)
    office.texts("plant is snozzberries", BEN)
    rosa.log_in("rosa")
    assert (of(office, "plant", 0), of(office, "plant", 1)) == (0, 1)


def test_a_reading_that_is_not_believed_a_complaint_and_a_call_are_counted(office: Desk) -> None:
    settled(office)
    office.texts("tensiometer 60 cb at 12 in")
    office.clock.now += timedelta(days=2)
    office.texts("2 cb at 12 in")
    office.texts("I want to talk to a person", BEN)
    assert of(office, "check") == 1
    assert of(office, "handed over") == 1


def test_who_was_told_to_wait_and_watered_is_counted_once(office: Desk) -> None:
    settled(office)
    office.texts("watered 10 hours today")
    office.texts("tomatoes?")
    office.clock.now += timedelta(days=1)
    office.texts("watered 2 hours today")
    assert of(office, "watered all the same") == 1


def test_who_was_told_to_water_and_told_of_none_is_counted_after_three_days(office: Desk) -> None:
    office.clock.now -= timedelta(days=1)  # a Monday, so that all is one week
    settled(office)
    office.texts("70 cb at 12 in")
    assert of(office, "not watered") == 0
    office.clock.now += timedelta(days=5)
    office.browser("rosa", "specialist")
    office.browser("rosa", "specialist").log_in("rosa")
    assert of(office, "not watered") == 1
    office.texts("watered on tuesday 5 hours")
    assert of(office, "not watered") == 0


def test_a_question_asked_once_more_is_counted(office: Desk) -> None:
    office.texts("tomatoes 45 cb at 12 in")
    for words in ("hm what", "watered 10 minutes"):
        office.texts(words)
    assert of(office, "asked again") >= 1


def test_a_script_in_a_text_is_shown_as_words(office: Desk) -> None:
    settled(office)
    office.texts("<script>alert(1)</script> gronk")
    rosa = office.browser("rosa", "specialist")
    monday = office.clock().date() - timedelta(days=office.clock().weekday())
    assert "<script>alert" not in rosa.get(f"/office/misses/unread?week={monday}")


@pytest.mark.parametrize(
    "path", ["/office/misses/nothing?week=2031-07-14", "/office/misses/unread?week=soon", "/office/misses/unread"]
)
def test_what_there_is_no_list_of_is_not_here(office: Desk, path: str) -> None:
    rosa = office.browser("rosa", "specialist")
    rosa.get(path)
    assert rosa.status == 404


def test_a_helper_sees_none_of_it(office: Desk) -> None:
    helper = office.browser("hal", "helper")
    for path in ("/office/misses", "/office/misses/unread?week=2031-07-14"):
        helper.get(path)
        assert helper.status == 403
