"""The season's record on the office's pages: sums, a stated baseline, files that run nothing, and sums that show nobody."""

from __future__ import annotations

import pytest
from office_desk import Browser, Desk

from bot.office.seasons import Seasons, _made_by
from bot.office.sheets import sheet


def lawn(office: Desk, sender: str = "+15550101") -> str:
    for words in ("lawn, loam, sprinkler 0.5 in/h", "36.1, -97.1", "45 cb at 6 in", "watered 60 min yesterday"):
        office.texts(words, sender)
    office.texts("water?", sender)
    person = office.line.store.people.by_id(office.person(sender))
    plot = office.line.store.plots.of(person)[0]
    return f"/office/people/{person.id}/plots/{plot.id}/season"


def baseline(browser: Browser, page: str, **changed: str) -> None:
    fields = {
        "mm_week": "2", "kind": "habit before", "source": "told by phone (invented)",
        "price_m3": "1.50", "lift_m": "30", "pump_efficiency": "60", **changed,
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
    for wrong in ({"mm_week": "lots"}, {"pump_efficiency": "600"}, {"source": " "}):
        baseline(rosa, page, **wrong)
        assert rosa.status == 400
    assert "No baseline is known" in rosa.get(page)


def test_what_was_typed_of_a_baseline_survives_a_refusal_and_what_stands_is_shown(office: Desk) -> None:
    page, rosa = lawn(office), office.browser("rosa", "specialist")
    baseline(rosa, page, mm_week="lots", source='he "said" so')
    assert rosa.last is not None
    shown = rosa.last.text
    assert 'value="lots"' in shown
    assert 'value="he &#34;said&#34; so"' in shown
    baseline(rosa, page, price_m3="3.785", lift_m="100")
    shown = rosa.get(page)
    assert 'name="lift_m" inputmode="decimal" value="100"' in shown
    # a thousand gallons are 3.785 m3 (NIST SP 811), a foot 0.3048 m
    (plot,) = office.line.store.plots.of(office.line.store.people.by_id(office.person()))
    held = office.line.store.baselines.of(plot)
    assert held is not None
    assert (held.mm_week, held.price_m3, held.lift_m) == pytest.approx((50.8, 1.0, 30.48), rel=1e-3)


def test_a_planner_finds_on_the_sheet_all_that_practice_449_asks_for(office: Desk) -> None:
    """Field, soil, crop, method, dates, amounts, readings, rain: NRCS job sheet 449, Idaho 2012."""
    page, rosa = lawn(office), office.browser("rosa", "specialist")
    office.texts("rained 0.4 in on sunday")
    office.texts("water?")
    shown = rosa.get(page)
    asked = ("36.1, -97.1", "Soil</dt><dd>loam", "Plant</dt><dd>lawn", "Watered by</dt><dd>not known", "in 1 watering")
    for told in (*asked, "45 cb at 6 in", "0.4 in of rain", "Signed:"):
        assert told in shown, told


def people(office: Desk, count: int, first: int = 101) -> list[str]:
    """So many people with a lawn each; the addresses of their sheets."""
    return [lawn(office, f"+1555{number:04}") for number in range(first, first + count)]


def test_a_formula_in_a_name_runs_in_no_spreadsheet(office: Desk) -> None:
    pages, rosa = people(office, 5), office.browser("rosa", "specialist")
    for person in office.line.store.people.everyone():
        (plot,) = office.line.store.plots.of(person)
        office.line.store.facts.set(plot, "plant", "=cmd|'/C calc'!A0", at=office.clock())
    for page in pages:
        baseline(rosa, page, kind="habit before")
    told = rosa.get("/office/record/file")
    assert rosa.status == 200
    assert "\n" in told
    assert ",'=cmd" in told
    assert ",=cmd" not in told
    assert "put_on_mm" in rosa.get(f"{pages[0]}/file")


def test_the_countys_sums_show_nobody(office: Desk) -> None:
    rosa = office.browser("rosa", "specialist")
    people(office, 4)
    assert "from 5 people on" in rosa.get("/office/record")
    rosa.get("/office/record/file")
    assert rosa.status == 303
    people(office, 1, first=105)
    shown = rosa.get("/office/record")
    assert "5, on 5 plots" in shown
    assert "fewer than 5 people" in shown
    told = rosa.get("/office/record/file")
    assert "+1555" not in told
    assert told.count(",lawn,") == 5


def test_no_plant_is_named_that_few_people_have(office: Desk) -> None:
    rosa = office.browser("rosa", "specialist")
    people(office, 5)
    for words in ("grapes, loam, drip", "36.1, -97.1", "45 cb at 12 in"):
        office.texts(words, "+15550150")
    told = rosa.get("/office/record/file").splitlines()[1:]
    assert sorted(row.split(",")[1] for row in told) == ["", *["lawn"] * 5]


def test_the_countys_sums_are_the_sums_of_its_sheets(office: Desk) -> None:
    """Counted again by hand: every sheet made anew from the log."""
    rosa = office.browser("rosa", "specialist")
    pages, store = people(office, 6), office.line.store
    plots = [plot for person in store.people.everyone() for plot in store.plots.of(person)]
    for number, (page, plot) in enumerate(zip(pages, plots, strict=True)):
        store.facts.set(plot, "area_m2", 100.0 + number, at=office.clock())
        if number:
            baseline(rosa, page, mm_week=f"{number}")
    rosa.get("/office/record")
    year, tables = office.clock().year, office.line.tables.current()
    sheets = [sheet(store, store.people.by_id(plot.person), store.plots.by_id(plot.id), year, tables) for plot in plots]
    found = [each.figures for each in sheets if each]
    sums = store.seasons.sums(year)
    assert (sums["people"], sums["plots"], sums["with_baseline"]) == (6, 6, 5)
    for name in ("waterings", "applied_m3", "needed_m3", "saved_m3", "money", "energy_kwh"):
        assert sums[name] == pytest.approx(sum(getattr(each, name) or 0.0 for each in found)), name


@pytest.mark.parametrize("change", ["advice", "fact", "baseline", "home", "tables"])
def test_whatever_a_sheet_hangs_on_changes_the_sums(office: Desk, change: str) -> None:
    rosa = office.browser("rosa", "specialist")
    (page,), store = people(office, 1), office.line.store
    person = store.people.by_id(office.person())
    (plot,) = store.plots.of(person)
    store.facts.set(plot, "area_m2", 100.0, at=office.clock())
    seasons = Seasons(office.line)
    assert seasons.add_up_some(office.clock().year) == 0
    before = store.seasons.sums(office.clock().year)
    match change:
        case "advice":
            office.texts("watered 30 min today")
        case "fact":
            store.facts.set(plot, "area_m2", 200.0, at=office.clock())
        case "baseline":
            baseline(rosa, page)
        case "home":
            store.facts.set(person, "latitude", -36.0, at=office.clock())
        case "tables":
            row = store.table_rows.propose("plants", "lawn", {"kc_mid": "0.9"}, "invented", "rosa", office.clock())
            store.table_rows.put_in_force(row, "ines", office.clock())
    assert store.seasons.blank(_made_by(office.line.tables.current()), 9) != []
    seasons.add_up_some(office.clock().year)
    assert (store.seasons.sums(office.clock().year) != before) is (change != "home")


def test_a_season_that_changes_while_it_is_added_up_is_added_up_again(office: Desk) -> None:
    people(office, 1)
    store, made_by = office.line.store, _made_by(office.line.tables.current())
    (blank,) = store.seasons.blank(made_by, 9)
    office.texts("watered 30 min today")
    store.seasons.add_up(blank, made_by, None)
    assert [each.plot for each in store.seasons.blank(made_by, 9)] == [blank.plot]


def test_a_helper_sees_no_record_of_the_county(office: Desk) -> None:
    helper = office.browser("hugo", "helper")
    for page in ("/office/record", "/office/record/file"):
        helper.get(page)
        assert helper.status == 403
