"""The register of the office's probes: a loan past its day shows, and a probe that moved keeps what was where. All invented."""

from __future__ import annotations

from datetime import timedelta

import pytest
from office_desk import ANN, BEN, Browser, Desk

from bot.store import StoredPlot

REGISTER = "/office/probes"


def planted(office: Desk, sender: str) -> StoredPlot:
    for words in ("tomatoes, loam, drip", "44.1, -103.2"):
        office.texts(words, sender)
    (plot,) = office.line.store.plots.of(office.line.store.people.by_id(office.person(sender)))
    return plot


def new_probe(rosa: Browser, label: str = "T-7") -> str:
    rosa.post(REGISTER, REGISTER, label=label, kind="tensiometer")
    assert rosa.last is not None
    return rosa.last.headers["Location"]


def page_of(plot: StoredPlot) -> str:
    return f"/office/people/{plot.person}/plots/{plot.id}"


def test_a_loan_shows_as_late_from_the_day_after_its_last_and_no_more_once_it_is_back(office: Desk) -> None:
    rosa = office.browser("rosa", "specialist")
    probe = new_probe(rosa)
    due = office.clock().date() + timedelta(days=14)
    rosa.post(probe, probe, do="move", place="Two Barns school garden", due=due.isoformat())
    for days, late in ((14, False), (1, True)):
        office.clock.now += timedelta(days=days)
        rosa = office.browser("rosa", "specialist")
        assert ("late:" in rosa.get(REGISTER)) is late
        assert ("should be back" in rosa.get("/office")) is late
    rosa.post(probe, probe, do="back")
    assert "late:" not in rosa.get(REGISTER)
    assert "should be back" not in rosa.get("/office")
    assert "Two Barns school garden" in rosa.get(probe), "the loan stays in its history"


def test_a_probe_that_moved_to_another_plot_stands_in_the_history_of_both(office: Desk) -> None:
    first, second = planted(office, ANN), planted(office, BEN)
    rosa = office.browser("rosa", "specialist")
    probe = new_probe(rosa)
    rosa.post(probe, f"{probe}?plot={first.id}", do="move", plot=first.id, place="row 2", depth="12", unit="in")
    rosa.post(probe, probe, do="fault", what="lost its water")
    office.clock.now += timedelta(days=3)
    rosa = office.browser("rosa", "specialist")
    rosa.post(probe, f"{probe}?plot={second.id}", do="move", plot=second.id, place="by the door", depth="45", unit="cm")
    stays = office.line.store.probes.stays(1)
    assert [(each.plot, each.depth_cm, (each.back_on or office.clock().date()) - each.since) for each in stays] == [
        (second.id, 45.0, timedelta(0)),
        (first.id, pytest.approx(12 * 2.54), timedelta(days=3)),
    ]
    for plot, place in ((first, "row 2"), (second, "by the door")):
        shown = rosa.get(page_of(plot))
        assert "T-7" in shown
        assert place in shown
    history = rosa.get(probe)
    assert all(each in history for each in ("row 2", "by the door", "lost its water"))


def test_a_fault_stands_until_it_is_mended_and_in_the_history_after(office: Desk) -> None:
    rosa = office.browser("rosa", "specialist")
    probe = new_probe(rosa)
    rosa.post(probe, probe, do="fault", what="wire chewed")
    assert ">fault<" in rosa.get(REGISTER)
    (fault,) = office.line.store.probes.faults(1)
    rosa.post(probe, probe, do="mended", fault=fault.id)
    assert ">fault<" not in rosa.get(REGISTER)
    assert "wire chewed" in rosa.get(probe)
    assert "mended" in rosa.get(probe)


def test_who_is_erased_takes_the_place_along_and_leaves_the_probe(office: Desk) -> None:
    plot = planted(office, ANN)
    rosa = office.browser("rosa", "specialist")
    probe = new_probe(rosa)
    rosa.post(probe, f"{probe}?plot={plot.id}", do="move", plot=plot.id, place="behind the blue house")
    office.line.store.holdings.forget(office.line.store.people.by_id(plot.person), office.clock())
    assert "behind the blue house" not in rosa.get(probe)
    assert rosa.status == 200
    assert rosa.get(REGISTER).count("T-7") == 1


def test_what_can_not_be_kept_is_said_and_changes_nothing(office: Desk) -> None:
    rosa = office.browser("rosa", "specialist")
    probe = new_probe(rosa)
    for wrong in (
        {"place": ""},
        {"place": "x", "depth": "deep"},
        {"place": "x", "depth": "-3"},
        {"place": "x", "due": "2001-01-01"},
    ):
        rosa.post(probe, probe, do="move", **wrong)
        assert rosa.status == 400
    rosa.post(REGISTER, REGISTER, label="t-7", kind="rod")
    assert rosa.status == 400, "one label, one probe"
    assert office.line.store.probes.stays(1) == []


def test_a_helper_lends_but_sees_no_plot_that_was_never_handed_to_a_desk(office: Desk) -> None:
    plot = planted(office, ANN)
    probe = new_probe(office.browser("rosa", "specialist"))
    hal = office.browser("hal", "helper")
    hal.get(f"{probe}?plot={plot.id}")
    assert hal.status == 403
    hal.post(probe, probe, do="move", place="front desk")
    assert office.line.store.probes.one(1).out is not None
    hal.post(REGISTER, REGISTER, label="X", kind="rod")
    assert hal.status == 403
