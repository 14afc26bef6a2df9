from __future__ import annotations

from datetime import timedelta

import pytest
from store_talk import MORNING, Talk

from bot.errors import StoreError
from bot.store import Store, StoredPlot

TODAY = MORNING.date()
DAY = timedelta(days=1)


def test_the_shelf_holds_the_newest_of_each_cell(store: Store) -> None:
    assert store.shelf.get("36.1,-97.1") is None
    store.shelf.put("36.1,-97.1", MORNING, "{}")
    store.shelf.put("36.1,-97.1", MORNING + DAY, '{"past": []}')
    store.shelf.put("36.2,-97.1", MORNING, "[]")
    assert store.shelf.get("36.1,-97.1") == (MORNING + DAY, '{"past": []}')


@pytest.fixture
def plot(store: Store, talk: Talk) -> StoredPlot:
    """A plot with a checkpoint of today."""
    made = talk.plot()
    store.checkpoints.put(made, TODAY, b"older")
    store.checkpoints.put(made, TODAY, b"estimate")
    assert store.checkpoints.get(made) == b"estimate"
    return made


def test_a_later_report_leaves_the_checkpoint(store: Store, talk: Talk, plot: StoredPlot) -> None:
    store.log.keep(talk.say("words"), "watering", {}, plot=plot, on=TODAY + DAY)
    other = talk.plot("lawn")
    store.log.keep(talk.say("words"), "watering", {}, plot=other, on=TODAY - DAY)
    store.log.keep(talk.say("words"), "watering", {}, plot=plot, on=None)
    assert store.checkpoints.get(plot) == b"estimate"


@pytest.mark.parametrize("back", [0, 1, 30])
def test_a_report_of_its_day_or_before_overtakes_the_checkpoint(
    store: Store, talk: Talk, plot: StoredPlot, back: int
) -> None:
    store.log.keep(talk.say("words"), "watering", {}, plot=plot, on=TODAY - back * DAY)
    assert store.checkpoints.get(plot) is None


def test_rain_overtakes_the_checkpoints_of_all_plots_of_the_person(store: Store, talk: Talk, plot: StoredPlot) -> None:
    theirs = store.plots.new(store.people.person("sms", "+15550101", MORNING), "lawn", at=MORNING)
    store.checkpoints.put(theirs, TODAY, b"theirs")
    store.log.keep(talk.say("rain"), "rain", {}, plot=None, on=TODAY)
    assert store.checkpoints.get(plot) is None
    assert store.checkpoints.get(theirs) == b"theirs"


def test_undo_overtakes_the_checkpoint(store: Store, talk: Talk) -> None:
    plot = talk.plot()
    talk.reads(plot, 45.0)
    store.checkpoints.put(plot, TODAY, b"estimate")
    store.corrections.undo(talk.person, talk.say("undo"))
    assert store.checkpoints.get(plot) is None
    store.checkpoints.put(plot, TODAY, b"estimate")
    store.corrections.redo(talk.person)
    assert store.checkpoints.get(plot) is None


def test_a_fact_or_a_move_overtakes_the_checkpoint(store: Store, talk: Talk, plot: StoredPlot) -> None:
    store.facts.set(plot, "soil", "clay", at=MORNING)
    assert store.checkpoints.get(plot) is None
    store.checkpoints.put(plot, TODAY, b"estimate")
    store.facts.set(talk.person, "language", "es", at=MORNING)
    assert store.checkpoints.get(plot) == b"estimate"
    store.facts.set(talk.person, "latitude", 36.1, at=MORNING)
    assert store.checkpoints.get(plot) is None


def test_a_call_for_a_person_is_open_until_done(store: Store, talk: Talk) -> None:
    assert store.calls.of(talk.person) is None
    store.calls.call_person(talk.person, "asked", MORNING, talk.say("let me talk to somebody"))
    call = store.calls.of(talk.person)
    assert call is not None
    assert (call.reason, call.at, call.message, call.state) == ("asked", MORNING, 1, "open")
    store.calls.move(call, "taken", taken_by="volunteer")
    store.calls.move(call, "waiting")
    (waiting,) = store.calls.not_done()
    assert (waiting.state, waiting.taken_by) == ("waiting", "volunteer")
    store.calls.move(call, "done")
    assert store.calls.of(talk.person) is None
    assert store.calls.not_done() == []


def test_a_call_goes_to_no_unknown_state(store: Store, talk: Talk) -> None:
    store.calls.call_person(talk.person, "asked", MORNING)
    call = store.calls.of(talk.person)
    assert call is not None
    with pytest.raises(StoreError, match="CHECK"):
        store.calls.move(call, "lost")
