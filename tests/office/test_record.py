"""The season's record on the office's pages: sums, a stated baseline, files that run nothing, and sums that show nobody."""

from __future__ import annotations

from office_desk import Browser, Desk


def lawn(office: Desk, sender: str = "+15550101") -> str:
    for words in ("lawn, loam, sprinkler 0.5 in/h", "36.1, -97.1", "45 cb at 6 in", "watered 60 min yesterday"):
        office.texts(words, sender)
    office.texts("water?", sender)
    person = office.line.store.people.by_id(office.person(sender))
    plot = office.line.store.plots.of(person)[0]
    return f"/office/people/{person.id}/plots/{plot.id}/season"


def baseline(browser: Browser, page: str, **changed: str) -> None:
    fields = {
        "per_mm": "25.4", "mm_week": "2", "kind": "habit before", "source": "told by phone (invented)",
        "price_m3": "1.50", "lift_m": "30", "pump_percent": "60", **changed,
    }  # fmt: skip
    browser.post(page, page, **fields)


def test_without_a_baseline_nothing_is_saved_and_the_sheet_says_why(office: Desk) -> None:
    page, rosa = lawn(office), office.browser("rosa", "specialist")
    shown = rosa.get(page)
    assert "No baseline is known" in shown
    assert "in 1 watering," in shown


def test_with_a_baseline_the_saving_has_a_range_and_names_its_source(office: Desk) -> None:
    page, rosa = lawn(office), office.browser("rosa", "specialist")
    baseline(rosa, page)
    shown = rosa.get(page)
    assert "told by phone (invented)" in shown
    assert "Saved against before" in shown
    assert "no volume: the watered area is not known" in shown


def test_a_number_that_cannot_be_is_refused(office: Desk) -> None:
    page, rosa = lawn(office), office.browser("rosa", "specialist")
    for wrong in ({"mm_week": "lots"}, {"pump_percent": "600"}, {"source": " "}):
        baseline(rosa, page, **wrong)
        assert rosa.status == 400
    assert "No baseline is known" in rosa.get(page)


def test_a_formula_in_a_name_runs_in_no_spreadsheet(office: Desk) -> None:
    page, rosa = lawn(office), office.browser("rosa", "specialist")
    person = office.line.store.people.by_id(office.person())
    plot = office.line.store.plots.of(person)[0]
    office.line.store.facts.set(plot, "plant", "=cmd|'/C calc'!A0", at=office.clock())
    told = rosa.get("/office/record/file")
    assert rosa.status == 200
    assert "\n" in told
    assert ",=cmd" not in told
    assert "put_on_mm" in rosa.get(f"{page}/file")


def test_the_countys_sums_show_nobody(office: Desk) -> None:
    rosa = office.browser("rosa", "specialist")
    lawn(office)
    assert "from 5 people on" in rosa.get("/office/record")
    for number in range(102, 106):
        lawn(office, f"+1555{number:04}")
    shown = rosa.get("/office/record")
    assert "5, on 5 plots" in shown
    assert "+1555" not in rosa.get("/office/record/file")


def test_a_helper_sees_no_record_of_the_county(office: Desk) -> None:
    helper = office.browser("hugo", "helper")
    for page in ("/office/record", "/office/record/file"):
        helper.get(page)
        assert helper.status == 403
