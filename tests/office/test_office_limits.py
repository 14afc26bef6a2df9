"""Limits of the office's own: looked at, put forward, agreed by a second person, and ended. All numbers here are made up."""

from __future__ import annotations

import re

import pytest
from office_desk import Browser, Desk

from bot.office.column_names import column_names
from bot.office.limits import TABLES
from rules.tables import KINDS, base, columns

TRIAL = "county trial (invented)"


def dry_tomatoes(office: Desk) -> None:
    for words in ("tomatoes, loam, drip", "36.1, -97.1", "45 cb at 12 in"):
        office.texts(words)


def forward(browser: Browser, table: str = "plants", row: str = "tomato", **cells: str) -> int:
    page = f"/office/limits/{table}/{row}"
    browser.post(page, page, do="propose", reason=TRIAL, **cells)
    assert browser.last is not None
    return int(browser.last.headers["Location"].rpartition("/")[2])


def move(browser: Browser, change: int, do: str) -> None:
    browser.post(f"/office/limits/changes/{change}", f"/office/limits/changes/{change}", do=do)


def p_of_tomato(office: Desk) -> float:
    return office.line.tables.current().plants["tomato"].p


def test_a_change_has_no_effect_before_a_second_person_agreed(office: Desk) -> None:
    rosa, ines = office.browser("rosa", "specialist"), office.browser("ines", "specialist")
    change = forward(rosa, p="0.2")
    assert p_of_tomato(office) == base().plants["tomato"].p
    move(rosa, change, "agree")
    assert p_of_tomato(office) == base().plants["tomato"].p
    move(ines, change, "agree")
    assert p_of_tomato(office) == 0.2


def test_an_office_of_one_specialist_agrees_alone_and_the_record_says_so(office: Desk) -> None:
    rosa = office.browser("rosa", "specialist")
    change = forward(rosa, p="0.2")
    move(rosa, change, "agree")
    assert p_of_tomato(office) == 0.2
    assert "(alone)" in rosa.get(f"/office/limits/changes/{change}")


def test_ending_a_change_brings_back_what_lies_below(office: Desk) -> None:
    rosa = office.browser("rosa", "specialist")
    change = forward(rosa, p="0.2")
    move(rosa, change, "agree")
    move(rosa, change, "end")
    assert p_of_tomato(office) == base().plants["tomato"].p


def test_the_next_advice_names_the_new_row_and_the_old_advice_keeps_its_own(office: Desk) -> None:
    dry_tomatoes(office)
    rosa = office.browser("rosa", "specialist")
    move(rosa, forward(rosa, "soils", "loam", fc="0.33"), "agree")
    office.texts("water?")
    person = office.line.store.people.by_id(office.person())
    (plot,) = office.line.store.plots.of(person)
    new, *_, old = office.line.store.advices.of(plot)
    assert any(f"office: {TRIAL}" in row and "fc=0.33" in row for row in new.advice.rows)
    assert not any("office" in row for row in old.advice.rows)


def test_a_look_shows_who_would_have_been_advised_otherwise_and_changes_nothing(office: Desk) -> None:
    dry_tomatoes(office)
    rosa = office.browser("rosa", "specialist")
    page = "/office/limits/plants/tomato"
    shown = rosa.post(page, page, do="look", reason=TRIAL, p="0.06").text
    assert "1 plot was advised by this row. Of number 1 to 1, the newest first, 1 would have been advised" in shown
    same = rosa.post(page, page, do="look", reason=TRIAL, names_en="tomato; love apple").text
    assert "none would have been advised otherwise" in same
    assert office.line.store.table_rows.all() == []


def test_a_reviewer_walks_through_all_plots_of_the_last_week(office: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("bot.office.limits._A_LOOK", 2)
    for number in range(5):
        for words in ("tomatoes, loam, drip", "36.1, -97.1", "45 cb at 12 in"):
            office.texts(words, f"+1555{110 + number:04}")
    rosa = office.browser("rosa", "specialist")
    page = f"/office/limits/changes/{forward(rosa, p='0.06')}"
    seen = [rosa.get(page)]
    while found := re.search(r'href="(\?after=\d+)">Look at the next', seen[-1]):
        seen.append(rosa.get(page + found[1]))
    assert [int(each) for shown in seen for each in re.findall(r"Of number (\d+)", shown)] == [1, 3, 5]
    told = {each for shown in seen for each in re.findall(r"/plots/(\d+)", shown)}
    assert len(told) == 5
    assert "Newer ones" in seen[-1]
    rosa.get(f"{page}?after=-9")
    assert rosa.status == 200


@pytest.mark.parametrize(
    ("cells", "said"),
    [
        ({"p": "7"}, "outside"),
        ({"p": "half"}, "number"),
        ({"p": "0,4"}, "point"),
        ({"root_young_cm": "149"}, "roots"),
        ({}, "Nothing was changed"),
        ({"p": "0.3", "reason": " "}, "Say why"),
    ],
)
def test_what_cannot_stand_is_refused_in_plain_words(office: Desk, cells: dict[str, str], said: str) -> None:
    rosa = office.browser("rosa", "specialist")
    page = "/office/limits/plants/tomato"
    answer = rosa.post(page, page, **{"do": "propose", "reason": TRIAL, **cells})
    assert answer.status_code == 400
    assert said in answer.text
    assert office.line.store.table_rows.all() == []


def test_a_rule_of_a_place_is_a_row_like_any_other(office: Desk) -> None:
    dry_tomatoes(office)
    rosa = office.browser("rosa", "specialist")
    page = "/office/limits/restrictions/new"
    cells = {
        "id": "summer", "place": "*", "by_date": "yes", "starts": "2020-01-01", "read_on": "2026-07-01", "hours": "6 pm to 10 am",
    }  # fmt: skip
    rosa.post(page, page, do="propose", reason="invented notice", **cells)
    assert rosa.last is not None
    move(rosa, int(rosa.last.headers["Location"].rpartition("/")[2]), "agree")
    assert office.line.tables.current().restrictions["summer"].by_date


def test_a_rule_whose_notice_nobody_has_read_for_a_month_is_shown_to_be_read_again(office: Desk) -> None:
    rosa, helper = office.browser("rosa", "specialist"), office.browser("hugo", "helper")
    for row, read_on, ends in (
        ("old", "2031-06-10", ""),
        ("fresh", "2031-06-20", ""),
        ("over", "2031-05-01", "2031-06-30"),
    ):
        cells = {"place": "Dry Fork", "by_date": "yes", "starts": "2031-05-01", "ends": ends, "read_on": read_on}
        told = {name: cell for name, cell in cells.items() if cell}
        change = office.line.store.table_rows.propose("restrictions", row, told, "invented", "ines", office.clock())
        office.line.store.table_rows.put_in_force(change, "rosa", office.clock())
    for page in ("/office", "/office/limits"):
        shown = rosa.get(page)
        assert "/office/limits/restrictions/old" in shown
        assert "restrictions/fresh" not in shown.partition("Changes</h2>")[0]
        assert "restrictions/over" not in shown.partition("Changes</h2>")[0]
    assert "restrictions/old" not in helper.get("/office")


@pytest.mark.parametrize("table", TABLES)
def test_every_column_that_an_office_may_change_has_a_name_in_words(table: str) -> None:
    assert set(columns(KINDS[table])) <= set(column_names())
    assert all(told.label and told.label != name for name, told in column_names().items())


def test_what_was_typed_survives_a_refusal(office: Desk) -> None:
    rosa = office.browser("rosa", "specialist")
    page = "/office/limits/plants/tomato"
    shown = rosa.post(page, page, do="look", reason=TRIAL, p="0,4", name_es="jitomate <b>").text
    assert 'value="0,4"' in shown
    assert 'value="jitomate &lt;b&gt;"' in shown
    assert f'value="{TRIAL}"' in shown


def test_a_helper_changes_no_limits(office: Desk) -> None:
    helper = office.browser("hugo", "helper")
    helper.get("/office/limits")
    assert helper.status == 403
    answer = helper.post("/office/limits/plants/tomato", "/office/account", do="propose", reason=TRIAL, p="0.2")
    assert answer.status_code == 403
    assert office.line.store.table_rows.all() == []


def test_every_table_and_row_has_a_page(office: Desk) -> None:
    rosa = office.browser("rosa", "specialist")
    for table, row in (
        ("soils", "loam"),
        ("delivery", "drip.efficiency"),
        ("plants", "tomato"),
        ("restrictions", "new"),
    ):
        assert row in rosa.get(f"/office/limits/{table}") or row == "new"
        rosa.get(f"/office/limits/{table}/{row}")
        assert rosa.status == 200
    for missing in ("/office/limits/sources", "/office/limits/soils/cheese", "/office/limits/changes/99"):
        rosa.get(missing)
        assert rosa.status == 404


def test_everything_done_stands_in_the_trail(office: Desk) -> None:
    rosa = office.browser("rosa", "specialist")
    change = forward(rosa, p="0.2")
    move(rosa, change, "agree")
    move(rosa, change, "end")
    deeds = [each.deed for each in office.line.store.deeds.last(10) if "limits" in each.deed]
    assert deeds == ["ended a change of limits", "put a change of limits in force", "put a change of limits forward"]
