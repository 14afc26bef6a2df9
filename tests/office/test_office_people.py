"""Lists and the person's page: found, shown as it was, and safe whatever a person wrote."""

from __future__ import annotations

from datetime import timedelta

import pytest
from office_desk import ANN, BEN, Desk

SCRIPT = "<script>alert(1)</script>"


def test_a_person_is_found_by_plot_plant_place_and_last_digits(office: Desk) -> None:
    office.texts("tomatoes 45 cb at 12 in")
    office.line.store.facts.set(office.line.store.people.by_id(office.person()), "place", "Dry Fork", at=office.clock())
    office.texts("lawn 20 cb at 6 in", BEN)
    browser = office.browser("Ines")
    for words in ("tomat", "jitomate", "dry fork", "0101", "tomatoes fork"):
        page = browser.get(f"/office/people?q={words}")
        assert "1 person" in page, words
        assert "…0101" in page, words
    assert "0 people" in browser.get("/office/people?q=tomatoes+0102")


@pytest.mark.parametrize("words", ["%", "_", "\\", "'", '"', "<script>", "a" * 3000, "1 2 3 4 5 6 7 8", "*", "?"])
def test_any_words_can_be_searched_for(office: Desk, words: str) -> None:
    office.texts("tomatoes 45 cb at 12 in")
    browser = office.browser("Ines")
    browser.client.get("/office/people", query_string={"q": words, "sort": "'; DROP TABLE people", "page": "-3"})
    assert "1 person" in browser.get("/office/people")


def test_a_helper_finds_only_people_of_the_own_desks(office: Desk) -> None:
    office.texts("tomatoes 45 cb at 12 in")
    office.texts("can I talk to a person")
    office.texts("lawn 20 cb at 6 in", BEN)
    helper = office.browser("Walt", "helper", desks=("volunteer",))
    assert "1 person" in helper.get("/office/people")
    helper.get(f"/office/people/{office.person(BEN)}")
    assert helper.status == 403
    assert "talk to a person" in helper.get(f"/office/people/{office.person(ANN)}")
    other = office.browser("Flora", "helper", desks=("farm",))
    other.get(f"/office/people/{office.person(ANN)}")
    assert other.status == 403


def test_the_conversation_is_shown_as_it_was_with_both_languages_marked(office: Desk) -> None:
    replies = office.texts("duraznos 45 centibares a 12 pulgadas, gracias")
    page = office.browser("Ines").get(f"/office/people/{office.person()}")
    assert "duraznos 45 centibares a 12 pulgadas, gracias" in page
    assert all(reply.text.replace("'", "&#39;").replace('"', "&#34;") in page for reply in replies)
    assert 'lang="es"' in page


def test_what_a_person_writes_is_never_taken_for_the_page(office: Desk) -> None:
    office.texts(SCRIPT)
    office.texts("tomatoes 45 cb at 12 in")
    person = office.line.store.people.by_id(office.person())
    plot = office.line.store.plots.of(person)[0]
    office.line.store.facts.set(plot, "name", SCRIPT, at=office.clock())
    office.line.store.facts.set(person, "place", SCRIPT, at=office.clock())
    office.line.store.calls.call_person(person, SCRIPT, office.clock())
    browser = office.browser("Ines")
    given = office.line.store.advices.of(plot)[0].id
    paths = ["", "/people", "/desk", f"/people/{person.id}", f"/people/{person.id}/consent"]
    paths += [f"/people/{person.id}/plots/{plot.id}", f"/people/{person.id}/advices/{given}"]
    for path in paths:
        page = browser.get("/office" + path)
        assert browser.status == 200, path
        assert SCRIPT not in page, path


def test_an_advice_shows_its_whole_working(office: Desk) -> None:
    office.texts("tomatoes 45 cb at 12 in")
    person = office.line.store.people.by_id(office.person())
    given = office.line.store.advices.of(office.line.store.plots.of(person)[0])[0]
    page = office.browser("Ines").get(f"/office/people/{person.id}/advices/{given.id}")
    for reason in given.advice.reasons:
        assert reason.rule.replace("_", " ") in page
    for row in given.advice.rows:
        assert row.replace("&", "&amp;").replace("'", "&#39;").replace(">", "&gt;").replace("<", "&lt;") in page
    assert given.text in page.replace("&#39;", "'").replace("&#34;", '"')


def test_an_advice_of_somebody_else_is_not_at_this_address(office: Desk) -> None:
    office.texts("tomatoes 45 cb at 12 in")
    office.texts("lawn 45 cb at 6 in", BEN)
    browser = office.browser("Ines")
    browser.get(f"/office/people/{office.person(BEN)}/advices/1")
    assert browser.status == 404
    browser.get(f"/office/people/{office.person(BEN)}/plots/1")
    assert browser.status == 404


def test_facts_are_changed_with_who_did_it_and_shown_in_the_persons_units(office: Desk) -> None:
    office.texts("tomatoes 45 cb at 12 in")
    person = office.line.store.people.by_id(office.person())
    plot = office.line.store.plots.of(person)[0]
    page = f"/office/people/{person.id}/plots/{plot.id}"
    browser = office.browser("Sol", "specialist")
    response = browser.post(
        page, page, root_depth_cm="18", soil="clay_loam", rate_mm_h="0.5", water_days=["mon", "fri"]
    )
    assert response.status_code == 303
    facts = office.line.store.plots.by_id(plot.id).facts
    # 1 in is 2.54 cm, 0.5 in/h is 12.7 mm/h (exact by definition)
    assert facts.root_depth_cm == pytest.approx(45.72)
    assert (facts.soil, facts.rate_mm_h, facts.water_days) == ("clay_loam", pytest.approx(12.7), ("mon", "fri"))
    changed = {each.about: each.by for each in office.line.store.facts.history(plot) if each.by}
    assert changed == dict.fromkeys(("root_depth_cm", "soil", "rate_mm_h", "rate_on", "water_days"), "Sol")
    again = browser.post(page, page, root_depth_cm="18", soil="clay_loam", rate_mm_h="0.5", water_days=["mon", "fri"])
    assert "rate_on" not in {each.about for each in office.line.store.facts.history(plot)[len(changed) + 20 :]}
    assert again.status_code == 303


@pytest.mark.parametrize(
    ("field", "value"),
    [("root_depth_cm", "9000"), ("rate_mm_h", "a lot"), ("soil", "cheese"), ("planted_on", "soon"), ("count", "nan")],
)
def test_a_fact_that_can_not_be_is_refused_and_told(office: Desk, field: str, value: str) -> None:
    office.texts("tomatoes 45 cb at 12 in")
    person = office.line.store.people.by_id(office.person())
    plot = office.line.store.plots.of(person)[0]
    page = f"/office/people/{person.id}/plots/{plot.id}"
    response = office.browser("Sol", "specialist").post(page, page, **{field: value})
    assert response.status_code == 400
    assert 'role="alert"' in response.text
    assert office.line.store.plots.by_id(plot.id).facts == plot.facts


def test_consent_is_told_with_words_time_and_channel(office: Desk) -> None:
    office.texts("tomatoes 45 cb at 12 in")
    office.texts("STOP")
    office.texts("start")
    browser = office.browser("Ines")
    page = browser.get(f"/office/people/{office.person()}/consent")
    assert "“STOP”" in page
    assert "“start”" in page
    assert page.index("Texts stopped") < page.index("Texts wanted again")
    browser.post(f"/office/people/{office.person()}/stop", "/office")
    assert office.line.store.people.by_id(office.person()).stopped
    assert "Ines, as the person asked" in browser.get(f"/office/people/{office.person()}/consent")


def test_a_keeper_hands_out_all_that_is_held(office: Desk) -> None:
    office.texts("tomatoes 45 cb at 12 in")
    person = office.line.store.people.by_id(office.person())
    response = office.browser("Ines").post(f"/office/people/{person.id}/export", "/office")
    assert response.json == office.line.store.holdings.export(person)
    assert office.line.store.deeds.last(1)[0].deed == "handed the data out"


def test_a_keeper_erases_a_person_only_with_the_word(office: Desk) -> None:
    office.texts("tomatoes 45 cb at 12 in")
    person = office.person()
    browser = office.browser("Ines")
    assert browser.post(f"/office/people/{person}/forget", "/office", sure="yes").status_code == 400
    assert office.line.store.people.known("sms", ANN)
    browser.post(f"/office/people/{person}/forget", "/office", sure="forget")
    assert office.line.store.people.known("sms", ANN) is None
    browser.get(f"/office/people/{person}")
    assert browser.status == 404


def test_who_was_told_to_water_and_did_not_is_late_until_they_tell(office: Desk) -> None:
    office.texts("tomatoes 95 cb at 12 in")
    browser = office.browser("Ines")
    assert "0 plots" in browser.get("/office/people/late")
    office.clock.now += timedelta(days=2)
    browser = office.browser("Ines")
    assert "1 plot" in browser.get("/office/people/late")
    assert "tomatoes" in browser.get("/office")
    office.line.store.log.keep(
        office.line.store.messages.of(office.line.store.people.by_id(1))[0],
        "watering",
        {"minutes": 30.0},
        plot=office.line.store.plots.by_id(1),
        on=office.clock().date(),
    )
    assert "0 plots" in browser.get("/office/people/late")


def test_a_reading_that_can_not_be_is_to_be_checked(office: Desk) -> None:
    for _ in range(9):  # the same number nine days running: the trade tells it of chewed wires
        office.texts("tomatoes 45 cb at 12 in")
        office.clock.now += timedelta(days=1)
    verdict = office.line.store.advices.of(office.line.store.plots.by_id(1))[0].advice.verdict
    browser = office.browser("Ines")
    assert ("1 plot" if verdict == "CHECK" else "0 plots") in browser.get("/office/people/check")
    assert verdict == "CHECK"


def test_what_was_typed_survives_a_form_that_is_refused(office: Desk) -> None:
    office.texts("tomatoes 45 cb at 12 in")
    person = office.line.store.people.by_id(office.person())
    (plot,) = office.line.store.plots.of(person)
    browser = office.browser("Ines")
    page = f"/office/people/{person.id}/plots/{plot.id}"
    shown = browser.post(page, page, plant="tomato", name="Back bed", area_m2="a lot", water_days=["mon"]).text
    assert 'value="Back bed"' in shown
    assert 'value="a lot"' in shown
    assert 'value="mon" checked' in shown
    shown = browser.post("/office/answers", "/office/answers", title="Look", en="Look at it.", es="").text
    assert 'value="Look"' in shown
    assert ">Look at it.</textarea>" in shown
    shown = browser.post("/office/accounts", "/office/accounts", name="Walt", role="helper", password="short").text
    assert 'value="Walt"' in shown
    assert "short" not in shown.partition("<main")[2].partition("problem")[0]


def test_what_was_told_of_a_plot_shows_its_values_and_few_at_once(office: Desk) -> None:
    for number in range(35):
        office.texts(f"tomatoes {20 + number} cb at 12 in")
    person = office.person()
    shown = office.browser("Ines").get(f"/office/people/{person}/plots/1").partition('id="told"')[2]
    assert "54 cb at 12 in" in shown
    assert shown.index("54 cb at 12 in") < shown.index("<details>") < shown.index("20 cb at 12 in")
