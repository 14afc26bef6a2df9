"""A records request answered: no number, place or name in the files, and what was left out is counted. All people are invented."""

from __future__ import annotations

import csv
import io
import re
import zipfile
from datetime import timedelta

from county import PLACES
from office_desk import ANN, BEN, Browser, Desk


def files(browser: Browser, first: str, last: str) -> dict[str, str]:
    page = f"/office/request?first={first}&last={last}"
    browser.post("/office/request", page, first=first, last=last, reference="request 12")
    assert browser.last is not None
    assert browser.status == 200, browser.last.text
    with zipfile.ZipFile(io.BytesIO(browser.last.data)) as packed:
        return {name: packed.read(name).decode() for name in packed.namelist()}


def month(office: Desk) -> tuple[str, str]:
    today = office.clock().date()
    return (today - timedelta(days=30)).isoformat(), today.isoformat()


def test_a_month_of_a_county_holds_no_number_address_place_or_coordinates(county: Desk) -> None:
    kim = county.browser("kim", "keeper")
    told = files(kim, *month(county))
    everything = "\n".join(told.values())
    people = county.line.store.people.everyone()
    assert len(people) > 50
    for person in people:
        assert person.address not in everything
        assert person.address[-6:] not in everything
    for place in PLACES:
        assert place.casefold() not in everything.casefold()
    assert re.search(r"-?\d+\.\d+, ?-\d+\.\d+", everything) is None
    assert re.search(r"\+?1?[-. (]*555[-. )]*\d{3,}", everything) is None
    texts = list(csv.DictReader(io.StringIO(told["texts.csv"])))
    assert len(texts) > 100
    assert any("cb at 12 in" in each["text"] for each in texts)


def test_what_was_left_out_is_counted_and_logged_with_why(office: Desk) -> None:
    office.texts("tomatoes, this is Zuleika Quibble at 555-0101 in Dry Fork, 44.1, -103.2")
    kim = office.browser("kim", "keeper")
    told = files(kim, *month(office))
    log = list(csv.DictReader(io.StringIO(told["left_out.csv"])))
    of_text = {each["what"]: int(each["how many"]) for each in log if (each["file"], each["row"]) == ("texts", "2")}
    assert of_text["coordinates"] >= 1
    assert of_text["place"] >= 1
    assert of_text["number"] >= 1
    assert of_text["word"] >= 2
    assert all(each["why"] for each in log)
    assert "times" in told["README.txt"]
    assert "Zuleika" not in "".join(told.values())
    shown = kim.get("/office/request?first={}&last={}".format(*month(office)))
    assert "Left out of" in shown


def test_a_colleagues_name_and_notes_stay_out(office: Desk) -> None:
    office.texts("I want to talk to a person")
    rosa, kim = office.browser("Zuleika", "specialist"), office.browser("kim", "keeper")
    page = "/office/limits/soils/loam"
    rosa.post(page, page, do="propose", reason="as Quibble says", fc="0.27")
    assert rosa.last is not None
    change = rosa.last.headers["Location"]
    kim.post(change, change, do="agree")
    office.texts("tomatoes, loam, drip, 44.1, -103.2")
    office.texts("44.1, -103.2")
    call = office.line.store.calls.of(office.line.store.people.by_id(office.person()))
    assert call
    office.line.store.calls.note(call, "Quibble is rude", by="Zuleika", at=office.clock())
    told = files(kim, *month(office))
    everything = "".join(told.values())
    assert "Quibble" not in everything
    assert "Zuleika" not in everything
    assert "(the office)" in told["advices.csv"]
    assert "note" in told["left_out.csv"]


def test_a_formula_in_a_text_is_no_formula_in_the_file(office: Desk) -> None:
    office.texts("=1+1")
    told = files(office.browser("kim", "keeper"), *month(office))
    assert not any(cell.startswith("=") for row in csv.reader(io.StringIO(told["texts.csv"])) for cell in row)


def test_two_files_can_not_be_laid_beside_each_other(office: Desk) -> None:
    office.texts("tomatoes 45 cb at 12 in", BEN)
    kim = office.browser("kim", "keeper")
    people = [
        {row["person"] for row in csv.DictReader(io.StringIO(files(kim, *month(office))["texts.csv"]))}
        for _ in range(2)
    ]
    assert len(people[0]) == 1
    assert people[0].isdisjoint(people[1])


def test_only_what_lies_in_the_days_is_in_it_and_the_trail_says_who_took_it(office: Desk) -> None:
    office.texts("tomatoes 45 cb at 12 in", ANN)
    kim = office.browser("kim", "keeper")
    told = files(kim, "2031-07-16", "2031-07-20")
    assert len(told["texts.csv"].splitlines()) == 1
    deed = office.line.store.deeds.last(1)[0]
    assert (deed.by, deed.deed) == ("kim", "answered a records request")
    assert "request 12" in deed.detail


def test_without_days_or_a_request_nothing_is_handed_out(office: Desk) -> None:
    kim = office.browser("kim", "keeper")
    page = "/office/request?first=2031-07-01&last=2031-07-31"
    for form in (
        {"first": "2031-07-01", "last": "2031-07-31", "reference": " "},
        {"first": "2031-07-31", "last": "2031-07-01", "reference": "12"},
        {"first": "x", "last": "y", "reference": "12"},
    ):
        kim.post("/office/request", page, **form)
        assert kim.status == 400


def test_only_a_keeper_takes_it_and_no_forged_form_does(office: Desk) -> None:
    form = {"first": "2031-07-01", "last": "2031-07-31", "reference": "12"}
    for role in ("helper", "specialist"):
        browser = office.browser(role, role)
        browser.get("/office/request")
        assert browser.status == 403
        browser.post("/office/request", "/office/account", **form)
        assert browser.status == 403
    kim = office.browser("kim", "keeper")
    assert kim.client.post("/office/request", data={"csrf": "guess", **form}).status_code == 400
