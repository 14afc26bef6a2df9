"""The office's pages as somebody who means harm tries them: another role, a forged form, a script in a word, odd addresses."""

from __future__ import annotations

import csv
import io
import re
import xml.etree.ElementTree as ET
from datetime import timedelta

import pytest
from office_desk import PASSWORD, Desk, token

from bot.office.routes import ROUTES, Route
from bot.store.staff import ROLES

MARK = "<img src=x onerror=alert(1)>"
NEEDS_MORE = [(route, role) for route in ROUTES for role in ROLES if ROLES.index(role) < ROLES.index(route.role)]
FORMS = [route for route in ROUTES if route.method == "POST"]


def named(each: object) -> str:
    return f"{each.method} {each.rule}" if isinstance(each, Route) else str(each)


def address(route: Route, **parts: object) -> str:
    """An address of the rule; what is not named is 1."""
    return "/office" + re.sub(r"<(?:.*?:)?(\w+)>", lambda found: str(parts.get(found[1], "1")), route.rule)


def held(office: Desk) -> dict[str, list[tuple[object, ...]]]:
    """Every row of the store, but for who is logged in and what was tried."""
    database = office.line.store._database
    tables = [row["name"] for row in database.rows("SELECT name FROM sqlite_schema WHERE type = 'table'")]
    beside = ("sittings", "deeds", "wrong_passwords", "sqlite_sequence")
    return {
        name: [tuple(row) for row in database.rows(f"SELECT * FROM {name}")] for name in tables if name not in beside
    }


@pytest.fixture
def busy(office: Desk) -> Desk:
    """An office with one of everything, each word of it a script."""
    store, at = office.line.store, office.clock()
    for words in ("grapes, loam, drip", "36.1, -97.1", "45 cb at 12 in", f"can I talk to a person {MARK}"):
        office.texts(words)
    person = store.people.by_id(office.person())
    (plot,) = store.plots.of(person)
    store.plots.rename(plot, f"..\r\nX-Bad: 1{MARK}", at=at)
    store.facts.set(person, "place", MARK, at=at)
    call = store.calls.of(person)
    assert call is not None
    store.calls.note(call, MARK, by=MARK, at=at)
    store.canned.keep(None, title=MARK, en=MARK, es=MARK, by=MARK, at=at, expires_on=at.date())
    store.notices.draft(MARK, MARK, MARK, "", "", MARK, at)
    store.table_rows.propose("soils", "loam", {"name_en": MARK}, MARK, MARK, at)
    store.staff.add(MARK, "helper", "none", at=at)
    store.deeds.add(MARK, MARK, at, detail=MARK)
    office.browser("Ines")
    return office


# Roles and forms


@pytest.mark.parametrize(("route", "role"), NEEDS_MORE, ids=named)
def test_nobody_gets_what_needs_another_role(office: Desk, route: Route, role: str) -> None:
    browser = office.browser("Hugo", role)
    before = held(office)
    if route.method == "POST":
        browser.post(address(route), "/office/account", do="end", sure="FORGET", agreed="yes", name="x", role="keeper")
    else:
        browser.get(address(route))
    assert browser.status == 403
    assert held(office) == before


@pytest.mark.parametrize("route", FORMS, ids=named)
def test_no_form_does_anything_without_the_token_of_its_sitting(busy: Desk, route: Route) -> None:
    mine, other = busy.browser("Ines"), busy.browser("Otto")
    stolen = token(other.get("/office/account"))
    before = held(busy)
    for forged in ("", stolen, stolen[:-1]):
        assert mine.client.post(address(route), data={"csrf": forged, "sure": "FORGET"}).status_code == 400
    assert held(busy) == before


def test_a_form_of_a_sitting_that_is_over_does_nothing(busy: Desk) -> None:
    browser = busy.browser("Ines")
    person = busy.person()
    csrf = token(browser.get(f"/office/people/{person}"))
    cookie = browser.client.get_cookie("dropline_office", path="/office")
    assert cookie is not None
    browser.post("/office/logout", "/office/account")
    before = held(busy)
    again = busy.browser()
    again.client.set_cookie("dropline_office", cookie.value, path="/office")
    answer = again.client.post(f"/office/people/{person}/forget", data={"csrf": csrf, "sure": "FORGET"})
    assert answer.headers["Location"].endswith("/office/login")
    assert held(busy) == before


# Words


def test_no_word_of_anybody_is_run_on_any_page(busy: Desk) -> None:
    browser = busy.browser("Ines")
    person = busy.person()
    (plot,) = busy.line.store.plots.of(busy.line.store.people.by_id(person))
    shown = 0
    for route in ROUTES:
        if route.method == "GET" and not route.rule.endswith(("/file", "graph.svg", "/drawing")):
            wanted = {"id": 1, "plot": plot.id, "table": "soils", "row": "loam", "which": "late", "kind": "CHECK"}
            page = browser.get(address(route, **wanted))
            assert "<img src=x" not in page, route.rule
            assert browser.last is not None
            assert "default-src 'self'" in browser.last.headers["Content-Security-Policy"], route.rule
            shown += "&lt;img src=x" in page
    assert shown > 8
    advice = busy.line.store.advices.of(plot)[0].id
    picture = ET.fromstring(browser.get(f"/office/people/{person}/advices/{advice}/graph.svg"))
    assert {each.tag.rpartition("}")[2] for each in picture.iter()} <= {
        "svg", "title", "desc", "rect", "path", "text", "circle", "g", "tspan", "line", "polygon",
    }  # fmt: skip


def test_the_name_of_a_plot_is_no_part_of_a_path_or_of_the_answers_head(busy: Desk) -> None:
    browser = busy.browser("Ines")
    browser.get(f"/office/people/{busy.person()}/plots/1/season/file")
    assert browser.last is not None
    assert "X-Bad" not in browser.last.headers
    name = browser.last.headers["Content-Disposition"].partition("filename=")[2]
    assert re.fullmatch(r"[\w.-]+\.csv", name)


@pytest.mark.parametrize("cell", ["=1+1", "+1", "-1+1", "@SUM(A1)", "\t=1", "\r=1"])
def test_no_cell_that_goes_out_is_a_formula(office: Desk, cell: str) -> None:
    rosa = office.browser("rosa", "specialist")
    for number in range(101, 106):
        sender = f"+1555{number:04}"
        for words in ("lawn, loam, sprinkler 0.5 in/h", "36.1, -97.1", "watered 60 min yesterday"):
            office.texts(words, sender)
        (plot,) = office.line.store.plots.of(office.line.store.people.by_id(office.person(sender)))
        office.line.store.facts.set(plot, "plant", cell, at=office.clock())
    told = rosa.get("/office/record/file")
    cells = [each for row in csv.reader(io.StringIO(told, newline="")) for each in row]
    assert cells.count(f"'{cell}") == 5
    assert [each for each in cells if each.startswith(("=", "+", "-", "@", "\t", "\r"))] == []


# Addresses and sizes


@pytest.mark.parametrize(
    "path",
    [
        "/people/99999999999999999999", "/people/1/plots/99999999999999999999", "/people?page=99999999999999999999",
        "/trail?before=99999999999999999999", "/record?year=99999999999999999999", "/record?year=0000",
        "/people/1/advices/99999999999999999999", "/limits/..%2F..%2Fetc/passwd", "/limits/soils/..%2F..%2Fx",
        "/people/1/sent/..%2F1", "/static/..%2F..%2Froutes.py", "/static/../routes.py", "/people?q=%00%ff&sort=%00",
        "/limits/changes/99999999999999999999", "/notices/99999999999999999999", "/desk?desk=%27%20OR%201=1",
        "/people?sort=id;drop%20table%20people", "/people/1?answer=99999999999999999999", "/misses/..%2Fx",
    ],
)  # fmt: skip
def test_an_odd_address_is_a_page_or_none_and_never_a_fault(office: Desk, path: str) -> None:
    office.app.config.update(PROPAGATE_EXCEPTIONS=False, TESTING=False)
    office.texts("tomatoes 45 cb at 12 in")
    browser = office.browser("Ines")
    browser.client.get(f"/office{path}")
    shown = browser.client.get(f"/office{path}")
    assert shown.status_code in (200, 404)
    assert "from __future__" not in shown.text


def test_too_large_a_file_is_refused_in_plain_words_and_nothing_is_kept(busy: Desk) -> None:
    browser = busy.browser("Ines")
    page = f"/office/people/{busy.person()}/plots/1/probes"
    csrf = token(browser.get(page))
    before = held(busy)
    head = f'--x\r\nContent-Disposition: form-data; name="csrf"\r\n\r\n{csrf}\r\n--x\r\n'
    head += 'Content-Disposition: form-data; name="file"; filename="huge.csv"\r\n\r\n'
    for megabytes, status in ((25, 400), (33, 413)):
        body = head.encode() + b"1,2\n" * (megabytes * 2**18) + b"\r\n--x--\r\n"
        answer = browser.client.post(page, data=body, content_type="multipart/form-data; boundary=x")
        assert answer.status_code == status
        assert "24 MB" in answer.text
    assert held(busy) == before


def test_a_form_of_endless_fields_or_words_is_cut_or_refused(busy: Desk) -> None:
    browser = busy.browser("Ines")
    person = busy.person()
    csrf = token(browser.get(f"/office/people/{person}"))
    call = busy.line.store.calls.of(busy.line.store.people.by_id(person))
    assert call is not None
    browser.client.post(f"/office/desk/{call.id}/note", data={"csrf": csrf, "note": "long " * 100_000})
    assert max(len(each.text) for each in busy.line.store.calls.notes(call)) <= 4000
    many = {"csrf": csrf} | {f"field{number}": "x" for number in range(20_000)}
    assert browser.client.post(f"/office/people/{person}/plots/1", data=many).status_code in (303, 400, 413)


# Guessing


def test_whoever_tries_many_names_from_one_address_waits_too(office: Desk) -> None:
    browser = office.browser()
    office.browser("Ines")
    for number in range(20):
        browser.log_in(f"colleague {number}", "a wrong password")
        assert browser.status == 401
    browser.log_in("Ines")
    assert browser.status == 429
    office.clock.now += timedelta(minutes=16)
    browser.log_in("Ines")
    assert browser.status == 303
    assert PASSWORD not in str(office.line.store._database.rows("SELECT * FROM wrong_passwords"))
