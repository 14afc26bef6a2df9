from __future__ import annotations

from datetime import timedelta
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st
from store_talk import MORNING, Talk

from bot.store import Store, open_store


def test_undo_goes_back_message_by_message_and_redo_forward_again(store: Store, talk: Talk) -> None:
    plot = talk.plot()
    for kpa in (40.0, 45.0, 50.0):
        talk.reads(plot, kpa)
    assert store.corrections.undo(talk.person, talk.say("undo"))
    assert store.corrections.undo(talk.person, talk.say("undo"))
    assert talk.counting(plot) == [40.0]
    assert store.corrections.redo(talk.person)
    assert talk.counting(plot) == [40.0, 45.0]
    assert store.corrections.redo(talk.person)
    assert talk.counting(plot) == [40.0, 45.0, 50.0]
    assert store.corrections.redo(talk.person) is None


def test_there_is_an_end_to_what_can_be_undone(store: Store, talk: Talk) -> None:
    plot = talk.plot()
    talk.reads(plot, 40.0)
    assert store.corrections.undo(talk.person, talk.say("undo"))
    assert store.corrections.undo(talk.person, talk.say("undo")) is None


def test_observations_and_facts_of_a_message_go_and_come_together(store: Store, talk: Talk) -> None:
    plot = talk.plot()
    store.facts.set(plot, "soil", "sand", at=MORNING)
    message = talk.reads(plot, 45.0)
    store.facts.set(plot, "soil", "clay", at=message.written_at, message=message)
    kept = store.corrections.undo(talk.person, talk.say("undo"))
    assert kept is not None
    assert [each.slots["value"] for each in kept.observations] == [45.0]
    assert [(each.about, each.value) for each in kept.facts] == [("soil", "clay")]
    assert (talk.counting(plot), store.plots.by_id(plot.id).facts.soil) == ([], "sand")
    store.corrections.redo(talk.person)
    assert (talk.counting(plot), store.plots.by_id(plot.id).facts.soil) == ([45.0], "clay")


def test_a_new_plot_is_undone_and_comes_back_with_its_history(store: Store, talk: Talk) -> None:
    message = talk.say("new plot pears, clay")
    pears = store.plots.new(talk.person, "pears", at=message.written_at, message=message)
    store.facts.set(pears, "soil", "clay", at=message.written_at, message=message)
    store.corrections.undo(talk.person, talk.say("undo"))
    assert store.plots.of(talk.person) == []
    store.corrections.redo(talk.person)
    (back,) = store.plots.of(talk.person)
    assert (back.id, back.name, back.facts.soil) == (pears.id, "pears", "clay")


def test_a_new_name_and_a_pause_are_undone(store: Store, talk: Talk) -> None:
    plot = talk.plot("pears")
    rename = talk.say("call pears lower pears")
    store.plots.rename(plot, "lower pears", at=rename.written_at, message=rename)
    pause = talk.say("pause pears")
    store.plots.pause(plot, at=pause.written_at, message=pause)
    store.corrections.undo(talk.person, talk.say("undo"))
    assert not store.plots.by_id(plot.id).paused
    store.corrections.undo(talk.person, talk.say("undo"))
    assert store.plots.by_id(plot.id).name == "pears"


def test_a_corrected_value_does_not_come_back_beside_its_correction(store: Store, talk: Talk) -> None:
    plot = talk.plot()
    talk.reads(plot, 45.0)
    correction = talk.say("sorry, 54 not 45")
    store.corrections.undo(talk.person, correction)
    reading = {"quantity": "tension", "value": 54.0}
    store.log.keep(correction, "reading", reading, plot=plot, on=correction.written_at.date())
    assert store.corrections.redo(talk.person) is None
    store.corrections.undo(talk.person, talk.say("undo"))
    assert talk.counting(plot) == []
    store.corrections.redo(talk.person)
    assert talk.counting(plot) == [54.0]
    assert store.corrections.redo(talk.person) is None


def test_a_new_report_leaves_nothing_to_redo(store: Store, talk: Talk) -> None:
    plot = talk.plot()
    talk.reads(plot, 45.0)
    store.corrections.undo(talk.person, talk.say("undo"))
    talk.reads(plot, 54.0)
    assert store.corrections.last_retracted(talk.person) is None


def test_an_older_entry_is_retracted_by_its_id_and_stays_in_the_history(store: Store, talk: Talk) -> None:
    plot = talk.plot()
    for kpa in (40.0, 45.0):
        talk.reads(plot, kpa)
    oldest = store.log.observations(plot)[0]
    entry = store.corrections.observation(talk.person, oldest.id)
    assert entry is not None
    by = talk.say("the 40 was the apples")
    store.corrections.retract([entry], by)
    assert talk.counting(plot) == [45.0]
    assert [each.retracted_by for each in store.log.history(talk.person)] == [by.id, None]
    assert store.corrections.redo(talk.person)
    assert talk.counting(plot) == [40.0, 45.0]


def test_what_was_retracted_first_by_another_message_stays_with_it(store: Store, talk: Talk) -> None:
    plot = talk.plot()
    talk.reads(plot, 40.0)
    (entry,) = store.log.observations(plot)
    first, second = talk.say("undo"), talk.say("undo")
    store.corrections.retract([entry], first)
    store.corrections.retract([entry], second)
    assert store.log.history(talk.person)[0].retracted_by == first.id


def test_an_impossible_value_is_what_undo_takes_back_first(store: Store, talk: Talk) -> None:
    plot = talk.plot()
    talk.reads(plot, 45.0)
    wrong = talk.say("545")
    reading = {"quantity": "tension", "value": 545.0}
    store.log.keep(wrong, "reading", reading, plot=plot, on=MORNING.date(), set_aside="over 250 kPa")
    store.corrections.undo(talk.person, talk.say("undo"))
    assert talk.counting(plot) == [45.0]


def test_stop_is_not_undone(store: Store, talk: Talk) -> None:
    plot = talk.plot()
    talk.reads(plot, 45.0)
    stop = talk.say("STOP")
    store.facts.set(talk.person, "stopped", True, at=stop.written_at, message=stop)
    store.corrections.undo(talk.person, talk.say("undo"))
    assert store.people.by_id(talk.person.id).stopped
    assert talk.counting(plot) == []
    assert store.corrections.redo(talk.person)


def test_facts_that_no_message_told_are_not_undone(store: Store, talk: Talk) -> None:
    store.facts.set(talk.person, "timezone", "America/Chicago", at=MORNING)
    assert store.corrections.last_kept(talk.person) is None


def test_undo_takes_what_was_written_last_not_what_arrived_last(store: Store, talk: Talk) -> None:
    plot = talk.plot()
    talk.reads(plot, 45.0)
    late = talk.say("40 yesterday evening", sent_at=MORNING - timedelta(hours=12))
    store.log.keep(late, "reading", {"quantity": "tension", "value": 40.0}, plot=plot, on=late.written_at.date())
    store.corrections.undo(talk.person, talk.say("undo"))
    assert talk.counting(plot) == [40.0]


def test_nobody_undoes_what_another_person_told(store: Store, talk: Talk) -> None:
    talk.reads(talk.plot(), 45.0)
    other = Talk(store, store.people.person("sms", "+15550101", MORNING))
    assert store.corrections.undo(other.person, other.say("undo")) is None
    assert store.corrections.observation(other.person, 1) is None


@settings(max_examples=60, deadline=None)
@given(st.lists(st.sampled_from(["report", "undo", "redo"]), max_size=25))
def test_undo_and_redo_are_two_stacks(moves: list[str]) -> None:
    store = open_store(None)
    talk = Talk(store, store.people.person("sms", "+15550100", MORNING))
    plot = talk.plot()
    done: list[float] = []
    undone: list[float] = []
    for place, move in enumerate(moves):
        if move == "report":
            talk.reads(plot, float(place))
            done, undone = [*done, float(place)], []
        elif move == "undo":
            assert bool(store.corrections.undo(talk.person, talk.say("undo"))) == bool(done)
            undone += [done.pop()] if done else []
        else:
            talk.say("redo")
            assert bool(store.corrections.redo(talk.person)) == bool(undone)
            done += [undone.pop()] if undone else []
        assert talk.counting(plot) == done
    store.close()


def test_undo_holds_after_the_store_is_opened_again(tmp_path: Path) -> None:
    store = open_store(tmp_path / "line.db")
    talk = Talk(store, store.people.person("sms", "+15550100", MORNING))
    plot = talk.plot()
    talk.reads(plot, 45.0)
    store.corrections.undo(talk.person, talk.say("undo"))
    store.close()
    again = open_store(tmp_path / "line.db")
    assert again.log.observations(plot) == []
    assert again.corrections.redo(talk.person)
    assert len(again.log.observations(plot)) == 1
    again.close()
