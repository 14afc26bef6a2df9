from __future__ import annotations

from dataclasses import fields
from datetime import date, timedelta
from typing import Any

import pytest
from store_talk import MORNING, Talk

from bot.errors import NoSuchPerson, StoreError
from bot.store import Person, Store
from rules.terms import Plot

DAY = timedelta(days=1)
FACTS: dict[str, Any] = {
    field.name: {"str": "a word", "float": 1.5, "bool": True, "date": date(2026, 4, 1), "tuple": ("mon", "thu")}[
        str(field.type).split(" |")[0].split("[")[0]
    ]
    for field in fields(Plot)
}


def test_a_person_is_made_at_the_first_contact_and_found_after(store: Store) -> None:
    first = store.people.person("sms", "+15550100", MORNING)
    assert store.people.person("sms", "+15550100", MORNING + DAY) == first
    assert store.people.person("telegram", "+15550100", MORNING).id != first.id
    assert first.created == MORNING
    assert len(store.people.everyone()) == 2


def test_nobody_is_found_by_a_wrong_id(store: Store) -> None:
    with pytest.raises(NoSuchPerson):
        store.people.by_id(77)


def test_the_open_question_is_asked_replaced_and_cleared(store: Store, person: Person) -> None:
    store.people.ask(person, {"about": "plant", "choices": []}, MORNING)
    store.people.ask(person, {"about": "soil", "choices": ["clay", "sand"]}, MORNING + DAY)
    asked = store.people.by_id(person.id)
    assert (asked.question, asked.asked_at) == ({"about": "soil", "choices": ["clay", "sand"]}, MORNING + DAY)
    store.people.clear_question(person)
    cleared = store.people.by_id(person.id)
    assert (cleared.question, cleared.asked_at) == (None, None)


def test_the_dialogue_is_kept(store: Store, person: Person) -> None:
    assert person.dialogue == {}
    store.people.set_dialogue(person, {"not_known": ["soil"], "greeted": True})
    assert store.people.by_id(person.id).dialogue == {"not_known": ["soil"], "greeted": True}


@pytest.mark.parametrize("about", FACTS)
def test_every_fact_of_a_plot_comes_back_as_it_was_told(store: Store, talk: Talk, about: str) -> None:
    plot = talk.plot()
    store.facts.set(plot, about, FACTS[about], at=MORNING)
    if about in ("longitude", "elevation_m"):  # of use only with a place of the plot's own
        store.facts.set(plot, "latitude", 36.1, at=MORNING)
    assert getattr(store.plots.by_id(plot.id).facts, about) == FACTS[about]


def test_the_fact_told_last_stands_whatever_arrives_late(store: Store, talk: Talk) -> None:
    plot = talk.plot()
    store.facts.set(plot, "soil", "clay", at=MORNING + DAY)
    person = store.people.by_id(plot.person)
    late = store.messages.keep(person, "the soil is sand", MORNING + 2 * DAY, sent_at=MORNING)
    store.facts.set(plot, "soil", "sand", at=MORNING, message=late)
    assert store.plots.by_id(plot.id).facts.soil == "clay"
    assert [fact.value for fact in store.facts.history(plot)] == ["peaches", "sand", "clay"]


def test_a_fact_can_be_known_no_longer(store: Store, talk: Talk) -> None:
    plot = talk.plot()
    store.facts.set(plot, "soil", "clay", at=MORNING)
    store.facts.set(plot, "soil", None, at=MORNING)
    assert store.plots.by_id(plot.id).facts.soil is None


@pytest.mark.parametrize("about", ["id", "person", "colour", "soil = 'x' --"])
def test_what_is_no_fact_is_refused(store: Store, talk: Talk, about: str) -> None:
    with pytest.raises(StoreError, match="is no fact"):
        store.facts.set(talk.plot(), about, "x", at=MORNING)
    with pytest.raises(StoreError, match="is no fact"):
        store.facts.set(talk.person, about, "x", at=MORNING)


def test_stop_and_start_are_both_remembered(store: Store, talk: Talk) -> None:
    stop = talk.say("STOP")
    store.facts.set(talk.person, "stopped", True, at=stop.written_at, message=stop)
    assert store.people.by_id(talk.person.id).stopped
    start = talk.say("START")
    store.facts.set(talk.person, "stopped", False, at=start.written_at, message=start)
    assert not store.people.by_id(talk.person.id).stopped
    assert [(fact.value, fact.message) for fact in store.facts.history(talk.person)] == [(1, stop.id), (0, start.id)]


def test_a_plot_lies_where_its_person_lives_until_it_has_a_place_of_its_own(store: Store, talk: Talk) -> None:
    plot = talk.plot()
    for about, value in {"place": "74059", "latitude": 36.1, "longitude": -97.0, "elevation_m": 290.0}.items():
        store.facts.set(talk.person, about, value, at=MORNING)
    home = store.plots.by_id(plot.id)
    assert (home.place, home.facts.latitude, home.facts.elevation_m) == ("74059", 36.1, 290.0)
    store.facts.set(plot, "latitude", 35.0, at=MORNING)
    away = store.plots.by_id(plot.id)
    assert (away.facts.latitude, away.facts.elevation_m) == (35.0, None)  # never half of one place and half of another


def test_a_new_name_keeps_the_history(store: Store, talk: Talk) -> None:
    plot = talk.plot("pears")
    talk.reads(plot, 45.0)
    store.plots.rename(plot, "lower pears", at=MORNING + DAY)
    (renamed,) = store.plots.of(talk.person)
    assert (renamed.id, renamed.name, renamed.facts.name) == (plot.id, "lower pears", "lower pears")
    assert talk.counting(renamed) == [45.0]


def test_two_open_plots_of_one_person_have_two_names(store: Store, talk: Talk) -> None:
    pears = talk.plot("pears")
    lawn = talk.plot("lawn")
    with pytest.raises(StoreError, match="of that name"):
        store.plots.new(talk.person, "Pears", at=MORNING)
    with pytest.raises(StoreError, match="of that name"):
        store.plots.rename(lawn, "pears", at=MORNING)
    store.plots.rename(pears, "Pears", at=MORNING + DAY)
    store.plots.close(pears, at=MORNING)
    store.plots.rename(lawn, "pears", at=MORNING + DAY)
    assert [plot.name for plot in store.plots.of(talk.person)] == ["pears"]


def test_paused_plots_are_listed_and_closed_ones_not(store: Store, talk: Talk) -> None:
    pears, lawn = talk.plot("pears"), talk.plot("lawn")
    store.plots.pause(pears, at=MORNING)
    store.plots.close(lawn, at=MORNING)
    (listed,) = store.plots.of(talk.person)
    assert (listed.name, listed.paused) == ("pears", True)
    assert store.plots.by_id(lawn.id).closed
    store.plots.resume(pears, at=MORNING + DAY)
    assert not store.plots.by_id(pears.id).paused
