"""A shared plot on the office's pages: who waters it, a code made on a person's word, and who may do that. All invented."""

from __future__ import annotations

import re

from office_desk import ANN, BEN, Browser, Desk


def plot_page(office: Desk) -> str:
    office.texts("peaches, loam, drip, 44.1, -103.2")
    (plot,) = office.line.store.plots.of(office.line.store.people.by_id(office.person()))
    return f"/office/people/{office.person()}/plots/{plot.id}"


def code_of(browser: Browser) -> str:
    assert browser.last is not None
    found = re.search(r"JOIN (\w{6})", browser.last.text)
    return found[1] if found else ""


def test_a_specialist_makes_a_code_on_the_persons_word_and_the_other_joins_by_text(office: Desk) -> None:
    page, rosa = plot_page(office), office.browser("rosa", "specialist")
    rosa.post(f"{page}/share", page)
    assert (rosa.status, code_of(rosa)) == (400, "")
    rosa.post(f"{page}/share", page, agreed="yes")
    office.texts(f"JOIN {code_of(rosa)}", BEN)
    office.texts("watered yesterday 2 hours", BEN)
    shown = rosa.get(page)
    assert "from …0102" in shown
    assert "watered yesterday 2 hours" in shown
    assert "shared</span>" in rosa.get(f"/office/people/{office.person(BEN)}")
    assert rosa.get(page).count("JOIN") == 0, "the code is shown once"
    deeds = [deed.deed for deed in office.line.store.deeds.last(9)]
    assert "made a code to share a plot, as its person asked" in deeds


def test_the_office_ends_the_sharing_and_each_is_told(office: Desk) -> None:
    page, rosa = plot_page(office), office.browser("rosa", "specialist")
    rosa.post(f"{page}/share", page, agreed="yes")
    office.texts(f"JOIN {code_of(rosa)}", BEN)
    rosa.post(f"{page}/share", page, do="end")
    assert office.line.store.plots.of(office.line.store.people.by_id(office.person(BEN))) == []
    (letter,) = [each for each in office.line.store.outbox.due("sms", office.clock(), 50) if each.address == BEN]
    assert "no more" in letter.text


def test_a_helper_or_a_forged_form_makes_no_code(office: Desk) -> None:
    page = plot_page(office)
    office.texts("I want to talk to a person")
    helper = office.browser("hal", "helper")
    assert "Make a code" not in helper.get(page)
    helper.post(f"{page}/share", page, agreed="yes")
    assert helper.status in (400, 403)
    rosa = office.browser("rosa", "specialist")
    forged = rosa.client.post(f"{page}/share", data={"agreed": "yes", "csrf": "guess"})
    assert (forged.status_code, "JOIN" in forged.text) == (400, False)


def test_a_name_with_a_script_is_shown_as_words(office: Desk) -> None:
    page, rosa = plot_page(office), office.browser("rosa", "specialist")
    office.texts("rename peaches to <script>alert(1)</script>")
    rosa.post(f"{page}/share", page, agreed="yes")
    office.texts(f"JOIN {code_of(rosa)}", BEN)
    for shown in (rosa.get(page), rosa.get(f"/office/people/{office.person(BEN)}")):
        assert "<script>alert" not in shown


def test_an_erased_person_leaves_the_plot_to_the_other_who_is_told(office: Desk) -> None:
    page, keeper = plot_page(office), office.browser("kim", "keeper")
    keeper.post(f"{page}/share", page, agreed="yes")
    office.texts(f"JOIN {code_of(keeper)}", BEN)
    person = f"/office/people/{office.person(ANN)}"
    keeper.post(f"{person}/forget", person, sure="FORGET")
    (plot,) = office.line.store.plots.of(office.line.store.people.by_id(office.person(BEN)))
    assert plot.name == "peaches"
    assert keeper.get(f"/office/people/{office.person(BEN)}/plots/{plot.id}")
    assert keeper.status == 200
