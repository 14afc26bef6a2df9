"""A plot's own full point on the page of its probes: offered after soaks, taken by a specialist, given back. All made up."""

from __future__ import annotations

import io
from datetime import timedelta

from office_desk import Browser, Desk, token

FULL = 0.31


def percents(office: Desk) -> bytes:
    """Hourly percents of three soaks: the ground drains to FULL in a day, and plants take one percent a day."""
    start = office.clock().replace(minute=0) - timedelta(days=28)
    theta, rows = FULL - 0.02, ["Time,12 in %"]
    for hour in range(24 * 28):
        if hour in (72, 288, 500):
            theta = FULL + 0.10
        theta -= max(theta - FULL, 0.0) / 8 + 0.01 / 24
        rows.append(f"{start + timedelta(hours=hour):%m/%d/%Y %H:%M},{100 * theta:.2f}")
    return "\n".join(rows).encode()


def probes_page(office: Desk, browser: Browser) -> str:
    for words in ("grapes, loam, drip", "36.1, -97.1"):
        office.texts(words)
    (plot,) = office.line.store.plots.of(office.line.store.people.by_id(office.person()))
    page = f"/office/people/{office.person()}/plots/{plot.id}/probes"
    form = {"csrf": token(browser.get(page)), "file": (io.BytesIO(percents(office)), "june.csv")}
    looked = browser.client.post(page, data=form, content_type="multipart/form-data").text
    upload = looked.partition("/looked-at/")[2].partition('"')[0]
    browser.post(
        f"{page}/looked-at/{upload}", page, per_cm="2.54", time="Time", order="month first", daylight_saving="yes",
        column="12 in %", **{"use-0": "yes", "unit-0": "%", "depth-0": "12", "do": "keep"},
    )  # fmt: skip
    return page


def in_use(office: Desk) -> float | None:
    (plot,) = office.line.store.plots.of(office.line.store.people.by_id(office.person()))
    return plot.facts.probe_full


def depth(page: str) -> str:
    return page.partition('name="depth_cm" value="')[2].partition('"')[0]


def test_it_is_offered_and_not_imposed_taken_and_given_back(office: Desk) -> None:
    rosa = office.browser("rosa", "specialist")
    page = probes_page(office, rosa)
    shown = rosa.get(page)
    assert "own full point" in shown
    assert "after 3 soaks" in shown
    assert in_use(office) is None
    rosa.post(f"{page}/full", page, depth_cm=depth(shown))
    taken = in_use(office)
    assert taken is not None
    assert abs(taken - FULL) <= 0.02  # the row's own bar: within 2 percent of volume
    assert "In use:" in rosa.get(page)
    rosa.post(f"{page}/full", page, do="end")
    assert in_use(office) is None


def test_what_is_not_offered_can_not_be_taken(office: Desk) -> None:
    rosa = office.browser("rosa", "specialist")
    page = probes_page(office, rosa)
    for chosen in ("99", "", "<script>"):
        rosa.post(f"{page}/full", page, depth_cm=chosen)
        assert rosa.status == 400
    assert in_use(office) is None


def test_a_helper_and_a_forged_form_take_nothing(office: Desk) -> None:
    rosa = office.browser("rosa", "specialist")
    page = probes_page(office, rosa)
    office.texts("I want to talk to a person")
    helper = office.browser("hal", "helper")
    shown = helper.get(page)
    assert "own full point" in shown
    assert "Take it as full" not in shown
    helper.post(f"{page}/full", page, depth_cm="30.48")
    assert helper.status == 403
    assert rosa.client.post(f"{page}/full", data={"csrf": "x", "depth_cm": "30.48"}).status_code == 400
    assert in_use(office) is None
