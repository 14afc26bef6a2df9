"""A logger's file by the office's pages: looked at, set right, kept, drawn, taken back. The files are made up."""

from __future__ import annotations

import io
import xml.etree.ElementTree as ET
from datetime import timedelta

import pytest
from office_desk import Browser, Desk, token


def grapes(office: Desk) -> str:
    """A plot with a place; the address of its probes' page."""
    for words in ("grapes, loam, drip", "36.1, -97.1"):
        office.texts(words)
    person = office.line.store.people.by_id(office.person())
    (plot,) = office.line.store.plots.of(person)
    return f"/office/people/{person.id}/plots/{plot.id}/probes"


def file(office: Desk, heads: str = "Time,12 in cb,24 in cb", days: int = 20) -> bytes:
    """Hourly readings that dry out, with one watering after ten days that only the upper probe sees; one broken cell."""
    start = office.clock().replace(tzinfo=None, minute=0) - timedelta(days=days)
    rows = [heads]
    for hour in range(24 * days):
        since = hour / 24 if hour < 240 else (hour - 240) / 24
        at = start + timedelta(hours=hour)
        rows.append(f"{at:%m/%d/%Y %H:%M},{12 + 4 * since:.1f},{15 + hour / 48:.1f}")
    rows[5] = rows[5].replace(",", ",err", 1)
    return "\n".join(rows).encode()


def hand_in(browser: Browser, page: str, data: bytes) -> str:
    shown = browser.get(page)
    form = {"csrf": token(shown), "file": (io.BytesIO(data), "july.csv")}
    browser.last = browser.client.post(page, data=form, content_type="multipart/form-data")
    return browser.last.text


def keep(browser: Browser, page: str, looked: str, **changed: str) -> str:
    upload = looked.partition("/looked-at/")[2].partition('"')[0]
    fields = {
        "per_cm": "2.54", "time": "Time", "order": "month first", "daylight_saving": "yes",
        "column": ["12 in cb", "24 in cb"], "use-0": "yes", "use-1": "yes", "unit-0": "cb", "unit-1": "cb",
        "depth-0": "12", "depth-1": "24", "do": "keep", **changed,
    }  # fmt: skip
    browser.post(f"{page}/looked-at/{upload}", page, **fields)
    return browser.get(page)


def test_a_file_is_looked_at_before_anything_is_kept(office: Desk) -> None:
    page, rosa = grapes(office), office.browser("rosa", "specialist")
    looked = hand_in(rosa, page, file(office))
    assert "479 readings" in looked
    assert "480 readings" in looked
    assert "err" in looked
    assert "No file yet" in rosa.get(page)


def test_a_kept_file_is_drawn_and_told_watering_by_watering(office: Desk) -> None:
    page, rosa = grapes(office), office.browser("rosa", "specialist")
    shown = keep(rosa, page, hand_in(rosa, page, file(office)))
    assert "Water came once" in shown
    assert "It reached 24 in never" in shown
    drawing = ET.fromstring(rosa.get(f"{page}/drawing"))
    assert drawing.tag.endswith("svg")
    texts = "".join(drawing.itertext())
    assert "12 in deep" in texts
    assert "24 in deep" in texts
    ET.fromstring(rosa.get(f"{page}/drawing?look=phone"))


def test_the_readings_reach_the_persons_next_advice(office: Desk) -> None:
    page, rosa = grapes(office), office.browser("rosa", "specialist")
    keep(rosa, page, hand_in(rosa, page, file(office)))
    (reply, *_) = office.texts("water?")
    assert reply.water_left is not None
    person = office.line.store.people.by_id(office.person())
    (plot,) = office.line.store.plots.of(person)
    given = office.line.store.advices.last(plot)
    assert given is not None
    kinds = {type(each).__name__ for each in office.line.store.advices.inputs(given).observations}
    assert "Reading" in kinds


def test_the_same_file_again_changes_nothing_and_is_told_so(office: Desk) -> None:
    page, rosa = grapes(office), office.browser("rosa", "specialist")
    keep(rosa, page, hand_in(rosa, page, file(office)))
    again = keep(rosa, page, hand_in(rosa, page, file(office)))
    assert "0 new readings" in again


def test_columns_without_unit_or_depth_are_asked_once(office: Desk) -> None:
    page, rosa = grapes(office), office.browser("rosa", "specialist")
    data = file(office, heads="Time,port 1,port 2")
    looked = hand_in(rosa, page, data)
    assert "Tell the unit and the depth of port 1, port 2" in looked
    keep(rosa, page, looked, column=["port 1", "port 2"])  # type: ignore[arg-type]
    assert "Tell the unit" not in hand_in(rosa, page, data)


def test_a_file_is_taken_back(office: Desk) -> None:
    page, rosa = grapes(office), office.browser("rosa", "specialist")
    shown = keep(rosa, page, hand_in(rosa, page, file(office)))
    back = shown.partition(f'action="{page}/')[2]
    number = shown.rpartition("/back")[0].rpartition("/")[2]
    assert back
    rosa.post(f"{page}/{number}/back", page)
    assert "taken back by rosa" in rosa.get(page)
    assert "No file yet" in rosa.get(page)


@pytest.mark.parametrize("data", [b"", b"hello", b"PK\x03\x04\x00\x00", b"a,b\n1,2\n"])
def test_what_is_no_table_of_a_logger_is_said_kindly(office: Desk, data: bytes) -> None:
    page, rosa = grapes(office), office.browser("rosa", "specialist")
    shown = hand_in(rosa, page, data)
    assert rosa.status == 400
    assert "problem" in shown
    assert "Traceback" not in shown


def test_a_script_in_a_cell_or_a_name_does_nothing(office: Desk) -> None:
    page, rosa = grapes(office), office.browser("rosa", "specialist")
    data = file(office).replace(b"err", b"<script>alert(1)</script>").replace(b"24 in cb", b"<b>24 in cb")
    assert "<script>alert" not in hand_in(rosa, page, data)


def test_a_helper_hands_no_file_in(office: Desk) -> None:
    page, helper = grapes(office), office.browser("hugo", "helper")
    shown = helper.get("/office/account")
    form = {"csrf": token(shown), "file": (io.BytesIO(file(office)), "july.csv")}
    assert helper.client.post(page, data=form, content_type="multipart/form-data").status_code == 403
