"""An exception for one plot: with a last day and who agreed, ended by itself, and both hear of it. People are invented."""

from __future__ import annotations

from datetime import timedelta

import pytest
from office_desk import ANN, BEN, Desk

from bot.endings import Endings

FORM = {"reason": "winery's plan (invented)", "agreed": "Ann, by telephone"}


def plot_page(office: Desk, sender: str = ANN) -> str:
    office.texts("tomatoes, loam, drip, 44.1, -103.2", sender)
    office.texts("44.1, -103.2", sender)
    (plot,) = office.line.store.plots.of(office.line.store.people.by_id(office.person(sender)))
    return f"/office/people/{office.person(sender)}/plots/{plot.id}"


def until(office: Desk, days: int = 3) -> str:
    return (office.clock().date() + timedelta(days=days)).isoformat()


def limit_of(office: Desk) -> float | None:
    told = office.texts("tomatoes?")
    return next(each.limit for each in told if each.verdict)


def test_it_changes_advice_on_this_plot_alone_until_its_last_day_and_ends_by_itself(office: Desk) -> None:
    page = plot_page(office)
    plot_page(office, BEN)
    rosa = office.browser("rosa", "specialist")
    usual = limit_of(office)
    rosa.post(f"{page}/exception", page, limit="35", until=until(office), **FORM)
    assert limit_of(office) == 0.35
    assert any("agreed for this plot with the office, until" in each.text for each in office.texts("why"))
    assert next(each.limit for each in office.texts("tomatoes?", BEN) if each.verdict) == usual
    office.clock.now += timedelta(days=4)
    assert limit_of(office) == usual


def test_its_end_is_told_to_the_person_and_to_the_office(office: Desk) -> None:
    page, rosa = plot_page(office), office.browser("rosa", "specialist")
    office.texts("START")
    rosa.post(f"{page}/exception", page, limit="35", let_off="yes", until=until(office), **FORM)
    endings = Endings(office.line, office.clock)
    endings.look()
    assert office.line.store.outbox.due("sms", office.clock(), 9) == []
    office.clock.now += timedelta(days=4)
    for _ in range(2):
        endings.look()
    (letter,) = office.line.store.outbox.due("sms", office.clock(), 9)
    assert "the limit agreed with the office is over" in letter.text
    assert "leave from the watering rules is over" in letter.text
    rosa.log_in("rosa")
    today = rosa.get("/office")
    assert "Exceptions near their end" in today
    assert "over, set by rosa" in today


def test_who_never_said_start_hears_of_the_end_with_the_next_advice(office: Desk) -> None:
    page, rosa = plot_page(office), office.browser("rosa", "specialist")
    rosa.post(f"{page}/exception", page, limit="35", until=until(office), **FORM)
    office.texts("tomatoes?")
    office.clock.now += timedelta(days=4)
    Endings(office.line, office.clock).look()
    assert office.line.store.outbox.due("sms", office.clock(), 9) == []
    assert any("the limit agreed with the office is over" in each.text for each in office.texts("tomatoes?"))
    assert not any("is over" in each.text for each in office.texts("tomatoes?"))


def test_a_colleague_ends_it_before_its_day(office: Desk) -> None:
    page, rosa = plot_page(office), office.browser("rosa", "specialist")
    usual = limit_of(office)
    rosa.post(f"{page}/exception", page, limit="35", until=until(office), **FORM)
    rosa.post(f"{page}/exception/end", page)
    assert limit_of(office) == usual
    assert "ended by rosa" in rosa.get(page)


def test_a_new_one_takes_the_place_of_the_one_that_stands(office: Desk) -> None:
    page, rosa = plot_page(office), office.browser("rosa", "specialist")
    for limit in ("35", "40"):
        rosa.post(f"{page}/exception", page, limit=limit, until=until(office), **FORM)
    assert limit_of(office) == 0.4


@pytest.mark.parametrize(
    "wrong",
    [
        {"limit": "", "let_off": ""},
        {"limit": "many"},
        {"limit": "0"},
        {"limit": "nan"},
        {"until": ""},
        {"until": "2031-07-14"},
        {"until": "2033-01-01"},
        {"reason": " "},
        {"agreed": ""},
    ],
    ids=str,
)
def test_a_form_that_lacks_something_changes_nothing(office: Desk, wrong: dict[str, str]) -> None:
    page, rosa = plot_page(office), office.browser("rosa", "specialist")
    rosa.post(f"{page}/exception", page, **{"limit": "35", "until": until(office), **FORM, **wrong})
    assert rosa.status == 400
    assert limit_of(office) != 0.35


def test_a_helper_and_a_forged_form_change_nothing(office: Desk) -> None:
    page = plot_page(office)
    office.texts("I want to talk to a person")
    helper, rosa = office.browser("hal", "helper"), office.browser("rosa", "specialist")
    assert "Agree on one" not in helper.get(page)
    form = {"limit": "35", "until": until(office), **FORM}
    helper.post(f"{page}/exception", "/office/account", **form)
    assert helper.status == 403
    assert rosa.client.post(f"{page}/exception", data={"csrf": "guess", **form}).status_code == 400
    assert office.line.store.exceptions.of(office.line.store.plots.by_id(int(page.rsplit("/", 1)[1]))) == []


def test_a_script_in_the_reason_is_shown_as_words(office: Desk) -> None:
    page, rosa = plot_page(office), office.browser("rosa", "specialist")
    rosa.post(f"{page}/exception", page, limit="35", until=until(office), reason="<script>x", agreed="<b>Ann")
    shown = rosa.get(page)
    assert "<script>x" not in shown
    assert "<b>Ann" not in shown
