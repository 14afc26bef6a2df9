"""The month in counts: calls by telephone stand in it, and no figure of fewer than five people."""

from __future__ import annotations

import re

from office_desk import Desk

PAGE = "/office/record/month"


def cells(page: str, name: str) -> tuple[int, int] | None:
    found = re.search(rf'<th scope="row">{name}</th><td class="number">(\d+)</td><td class="number">(\d+)</td>', page)
    return (int(found[1]), int(found[2])) if found else None


def test_texts_of_five_people_are_counted_as_by_hand_and_of_four_are_not_shown(office: Desk) -> None:
    rosa = office.browser("rosa", "specialist")
    for number in range(4):
        office.texts("tomatoes, loam, drip", f"+1555010{number}")
    assert cells(rosa.get(PAGE), "English") is None
    assert "of fewer than 5 people" in rosa.get(PAGE)
    office.texts("tomatoes, loam, drip", "+15550104")
    office.texts("60 cb at 12 in", "+15550104")
    assert cells(rosa.get(PAGE), "English") == (6, 5)
    assert cells(rosa.get(f"{PAGE}?month=2031-06"), "English") is None


def test_calls_logged_by_telephone_are_in_the_month(office: Desk) -> None:
    rosa = office.browser("rosa", "specialist")
    for number in range(5):
        rosa.post(
            "/office/desk/log", "/office/desk/log",
            origin="phone", desk="volunteer", number=f"+1 555 555 011{number}", reason="how often for roses", done="yes",
        )  # fmt: skip
    assert cells(rosa.get(PAGE), "by telephone") == (5, 5)


def test_a_helper_sees_no_month(office: Desk) -> None:
    hal = office.browser("hal", "helper")
    hal.get(PAGE)
    assert hal.status == 403
