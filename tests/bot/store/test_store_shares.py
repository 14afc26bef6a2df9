"""Plots that several people water: one record, whoever tells it, and what becomes of it when one of them leaves."""

from __future__ import annotations

import json
from datetime import timedelta

import pytest
from store_talk import MORNING, Talk

from bot.errors import StoreError
from bot.store import Inputs, Store, StoredPlot
from rules.terms import Advice, Verdict

TODAY = MORNING.date()


@pytest.fixture
def other(store: Store) -> Talk:
    return Talk(store, store.people.person("sms", "+15550101", MORNING))


@pytest.fixture
def shared(store: Store, talk: Talk, other: Talk) -> StoredPlot:
    """The talk's peaches, which the other waters too."""
    store.shares.join(talk.plot(), other.person, MORNING)
    return next(iter(store.plots.of(talk.person)))


def theirs(store: Store, other: Talk) -> StoredPlot:
    return next(iter(store.plots.of(other.person)))


def waters(talk: Talk, plot: StoredPlot, minutes: float, text: str = "watered") -> None:
    message = talk.say(text)
    talk.store.log.keep(message, "watering", {"minutes": minutes}, plot=plot, on=TODAY, words=text)


def advise(talk: Talk, plot: StoredPlot, verdict: Verdict, text: str) -> None:
    inputs = Inputs(plot=plot.facts, observations=(), on=TODAY)
    advice, message = Advice(verdict=verdict, plot=plot.name), talk.say("when")
    talk.store.advices.keep(plot, advice, inputs, at=MORNING, text=text, language="en", version="0", message=message)


def minutes(store: Store, plot: StoredPlot) -> list[float]:
    return [each.slots["minutes"] for each in store.log.observations(plot) if each.kind == "watering"]


def test_a_code_lets_one_person_in_once_and_for_two_days(store: Store, talk: Talk, other: Talk) -> None:
    plot = talk.plot()
    old, code = store.shares.invite(plot, MORNING), store.shares.invite(plot, MORNING)
    assert store.shares.meant(old, MORNING) is None
    assert store.shares.meant(code, MORNING + timedelta(days=2, minutes=1)) is None
    assert store.shares.meant(code.lower(), MORNING + timedelta(days=2)) == plot
    store.shares.join(plot, other.person, MORNING)
    assert store.shares.meant(code, MORNING) is None


def test_both_hold_the_plot_and_what_each_tells_is_in_one_record(
    store: Store, talk: Talk, other: Talk, shared: StoredPlot
) -> None:
    waters(talk, shared, 30)
    waters(other, theirs(store, other), 40)
    assert minutes(store, shared) == minutes(store, theirs(store, other)) == [30, 40]
    assert [each.slots["minutes"] for each in store.log.history(other.person)] == [40]


def test_a_name_that_the_other_has_already_gets_a_number_and_is_theirs_to_change(
    store: Store, talk: Talk, other: Talk
) -> None:
    other.plot("peaches")
    joined = store.shares.join(talk.plot("peaches"), other.person, MORNING)
    assert joined.name == "peaches 2"
    store.shares.rename(joined, other.person, "duraznos")
    assert [plot.name for plot in store.plots.of(other.person)] == ["peaches", "duraznos"]
    assert [plot.name for plot in store.plots.of(talk.person)] == ["peaches"]


def test_who_does_not_share_a_plot_can_tell_nothing_of_it(store: Store, shared: StoredPlot) -> None:
    stranger = Talk(store, store.people.person("sms", "+15550102", MORNING))
    with pytest.raises(StoreError, match="FOREIGN KEY"):
        waters(stranger, shared, 10)


def test_each_takes_back_what_is_their_own(store: Store, talk: Talk, other: Talk, shared: StoredPlot) -> None:
    waters(talk, shared, 30)
    waters(other, shared, 40)
    store.corrections.undo(talk.person, talk.say("undo"))
    assert minutes(store, shared) == [40]
    assert store.corrections.undo(talk.person, talk.say("undo")) is None


def test_the_rain_of_a_day_told_by_both_falls_once(store: Store, talk: Talk, other: Talk, shared: StoredPlot) -> None:
    store.log.keep(talk.say("rain"), "rain", {"depth_mm": 10.0}, plot=None, on=TODAY)
    store.log.keep(other.say("rain"), "rain", {"depth_mm": 12.0}, plot=shared, on=TODAY)
    told = [each.slots["depth_mm"] for each in store.log.observations(shared) if each.kind == "rain"]
    assert told == [12.0]  # the gauge told last


@pytest.mark.parametrize("leaves", ["who made it", "who shares it"])
def test_whoever_is_erased_leaves_the_record_to_the_other(
    store: Store, talk: Talk, other: Talk, shared: StoredPlot, leaves: str
) -> None:
    gone, stays = (talk, other) if leaves == "who made it" else (other, talk)
    store.facts.set(talk.person, "place", "Dry Fork", at=MORNING)
    store.facts.set(talk.person, "latitude", 44.0, at=MORNING)
    store.facts.set(shared, "soil", "loam", at=MORNING, message=gone.say("loam, zinnia"))
    waters(gone, shared, 30, "zinnia")
    waters(stays, shared, 40)
    advise(gone, shared, Verdict.WATER, "zinnia")
    advise(stays, shared, Verdict.WAIT, "WAIT")
    store.corrections.undo(stays.person, stays.say("undo"))
    store.corrections.redo(stays.person)
    store.holdings.forget(gone.person, MORNING)
    (plot,) = store.plots.of(stays.person)
    assert (plot.id, plot.person, plot.facts.soil, plot.facts.latitude) == (shared.id, stays.person.id, "loam", 44.0)
    assert minutes(store, plot) == [30, 40]
    last = store.advices.last(plot)
    assert last
    assert (last.text, len(store.advices.of(plot))) == ("WAIT", 2)
    held = json.dumps(store.holdings.export(stays.person))
    assert "zinnia" not in held
    assert gone.person.address not in held
    assert store.corrections.undo(stays.person, stays.say("undo"))  # their own watering
    assert minutes(store, plot) == [30]


def test_advice_can_be_given_again_after_who_told_its_rain_was_erased(
    store: Store, talk: Talk, other: Talk, shared: StoredPlot
) -> None:
    second = store.shares.join(talk.plot("pears"), other.person, MORNING)
    store.log.keep(talk.say("rain"), "rain", {"depth_mm": 10.0}, plot=None, on=TODAY)
    reported = store.log.observations(second)
    inputs = Inputs(
        plot=second.facts,
        observations=tuple(each.term() for each in reported),
        on=TODAY,
        reported=tuple(each.id for each in reported),
    )
    advice = Advice(verdict=Verdict.WAIT, plot="pears")
    store.advices.keep(second, advice, inputs, at=MORNING, text="", language="en", version="0", message=other.say("?"))
    store.holdings.forget(talk.person, MORNING)
    plots = store.plots.of(other.person)
    told = [[each.slots["depth_mm"] for each in store.log.observations(plot)] for plot in plots]
    assert told == [[10.0], [10.0]]
    last = store.advices.last(plots[1])
    assert last
    assert store.advices.inputs(last) == inputs


def test_what_was_taken_back_by_who_is_erased_stays_taken_back(
    store: Store, talk: Talk, other: Talk, shared: StoredPlot
) -> None:
    waters(other, shared, 40)
    store.corrections.undo(other.person, other.say("undo"))
    store.holdings.forget(other.person, MORNING)
    assert minutes(store, shared) == []


def test_what_somebody_told_stays_after_they_left_and_were_erased(
    store: Store, talk: Talk, other: Talk, shared: StoredPlot
) -> None:
    waters(other, shared, 40)
    store.shares.leave(shared, other.person)
    assert store.plots.of(other.person) == []
    store.holdings.forget(other.person, MORNING)
    assert minutes(store, shared) == [40]


def test_silence_of_who_made_it_does_not_take_the_plot_from_the_other(
    store: Store, talk: Talk, other: Talk, shared: StoredPlot
) -> None:
    waters(talk, shared, 30)
    later = MORNING + timedelta(days=400)
    assert store.messages.keep(other.person, "45 cb", later)
    assert store.holdings.forget_silent(later - timedelta(days=300), later) == 1
    assert [plot.person for plot in store.plots.of(other.person)] == [other.person.id]


def test_the_export_of_one_has_no_word_of_the_other(store: Store, talk: Talk, other: Talk, shared: StoredPlot) -> None:
    waters(other, shared, 40, "zinnia")
    advise(other, shared, Verdict.WATER, "zinnia")
    waters(talk, shared, 30, "mine")
    export = store.holdings.export(talk.person)
    assert [(each["minutes"], each["words"]) for each in export["observations"]] == [(40, None), (30, "mine")]
    assert "zinnia" not in json.dumps(export)
    assert [each["words"] for each in store.holdings.export(other.person)["observations"]] == ["zinnia"]
    assert store.holdings.export(other.person)["plots"] == []
