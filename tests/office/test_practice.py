"""Ten invented cases with a score, and a line to practise on from which nothing leaves the building."""

from __future__ import annotations

from county import OFFICE
from office_desk import Browser, Desk

from bot.practice import ANSWERS, cases, judged

PAGE = "/office/practice"


def right_answers(office: Desk) -> list[str]:
    tables = office.line.tables.current()
    return [judged(case, tables, OFFICE).answer for case in cases()]


def worked(browser: Browser, answers: list[str]) -> str:
    for number, answer in enumerate(answers):
        browser.post(PAGE, PAGE, do="answer", case=str(number), answer=answer)
    return browser.get(PAGE)


def test_there_are_ten_cases_and_each_kind_of_answer_is_right_for_one_of_them(office: Desk) -> None:
    answers = right_answers(office)
    assert len(answers) == 10
    assert set(answers) == set(ANSWERS)


def test_who_answers_as_the_line_does_scores_ten_and_who_errs_once_nine(office: Desk) -> None:
    right = right_answers(office)
    assert "10 of 10 as the line answers" in worked(office.browser("hal", "helper"), right)
    wrong_once = ["WAIT" if right[0] != "WAIT" else "WATER", *right[1:]]
    assert "9 of 10 as the line answers" in worked(office.browser("ivy", "helper"), wrong_once)
    assert [each.detail for each in office.line.store.deeds.last(20) if each.deed.startswith("worked")] == [
        "9 of 10 as the line answers",
        "10 of 10 as the line answers",
    ]


def test_a_case_is_answered_once_and_shown_before_its_answer(office: Desk) -> None:
    hal = office.browser("hal", "helper")
    first = hal.get(PAGE)
    assert cases()[0].text in first
    assert "The line:</b>" not in first
    assert "What the line says" not in first
    hal.post(PAGE, PAGE, do="answer", case="0", answer="WATER")
    hal.post(PAGE, PAGE, do="answer", case="0", answer="WAIT")
    assert "Case 2 of 10" in hal.get(PAGE)


def test_the_made_up_person_is_answered_and_nothing_of_it_reaches_the_line_or_its_post(office: Desk) -> None:
    hal = office.browser("hal", "helper")
    for words in ("tomatoes, loam, drip", "36.0, -96.0", "60 cb at 12 in", "I want to talk to a person"):
        hal.post(PAGE, PAGE, do="text", text=words)
    assert "WATER tomatoes" in hal.get(PAGE)
    store = office.line.store
    assert store.outbox.counts() == {}
    assert store.overview.waiting(None) == 0
    assert store.people.known("sms", "+15550199") is None
    assert "WATER tomatoes" not in office.browser("ivy", "helper").get(PAGE), "each has a room of their own"


def test_the_clock_is_turned_by_hand_and_the_line_then_speaks_by_itself(office: Desk) -> None:
    hal = office.browser("hal", "helper")
    for words in ("tomatoes, loam, drip", "36.0, -96.0", "15 cb at 12 in", "START", "remind me"):
        hal.post(PAGE, PAGE, do="text", text=words)
    before = hal.get(PAGE)
    assert "Thu Jul 8, 08:00 2032" in before
    for _ in range(3):
        hal.post(PAGE, PAGE, do="three days")
    after = hal.get(PAGE)
    assert "Sat Jul 17, 08:00 2032" in after
    assert after.count("<b>The line:</b>") > before.count("<b>The line:</b>"), "a reminder came due"
    hal.post(PAGE, PAGE, do="afresh")
    assert "Thu Jul 8, 08:00 2032" in hal.get(PAGE)


def test_the_page_says_that_all_is_invented_and_nobody_is_let_in_without_an_account(office: Desk) -> None:
    assert "Practice only." in office.browser("hal", "helper").get(PAGE)
    stranger = office.browser()
    stranger.get(PAGE)
    assert stranger.status in (302, 303)
