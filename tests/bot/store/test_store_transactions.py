from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from threading import Event

import pytest
from store_talk import MORNING, Talk, abandoned

from bot.store import Person, Store


def test_an_exception_takes_all_of_the_message_with_it(store: Store, talk: Talk) -> None:
    plot = talk.plot()
    with abandoned(store):
        talk.reads(plot, 45.0)
        store.people.ask(talk.person, {"about": "soil"}, MORNING)
    assert talk.counting(plot) == []
    assert store.messages.of(talk.person) == []
    assert store.people.by_id(talk.person.id).question is None


def test_an_exception_goes_on_to_whoever_opened_the_transaction(store: Store) -> None:
    with pytest.raises(ZeroDivisionError), store.transaction():
        _ = 1 / 0
    with store.transaction():  # and leaves the store fit for the next
        pass


def test_a_transaction_inside_another_rolls_back_alone(store: Store, talk: Talk) -> None:
    plot = talk.plot()
    with store.transaction():
        talk.reads(plot, 45.0)
        with abandoned(store):
            talk.reads(plot, 54.0)
        talk.reads(plot, 60.0)
    assert talk.counting(plot) == [45.0, 60.0]


def test_a_transaction_inside_another_goes_with_the_outer_one(store: Store, talk: Talk) -> None:
    plot = talk.plot()
    with abandoned(store), store.transaction():
        talk.reads(plot, 45.0)
    assert talk.counting(plot) == []


def test_what_a_transaction_has_read_is_read_again_once_it_is_another(store: Store, talk: Talk) -> None:
    plot = talk.plot()
    with store.transaction():
        assert talk.counting(plot) == []
        talk.reads(plot, 45.0)
        assert talk.counting(plot) == [45.0]
        store.corrections.undo(talk.person, talk.say("undo"))
        assert talk.counting(plot) == []
        store.corrections.redo(talk.person)
        assert talk.counting(plot) == [45.0]
        with abandoned(store):
            talk.reads(plot, 54.0)
            assert talk.counting(plot) == [45.0, 54.0]
        assert talk.counting(plot) == [45.0]


def test_plots_are_read_again_once_a_fact_is_another(store: Store, talk: Talk) -> None:
    plot = talk.plot()
    with store.transaction():
        assert [each.facts.soil for each in store.plots.of(talk.person)] == [None]
        store.facts.set(plot, "soil", "clay", at=MORNING)
        assert [each.facts.soil for each in store.plots.of(talk.person)] == ["clay"]
        with abandoned(store):
            store.facts.set(talk.person, "latitude", 36.1, at=MORNING)
            assert [each.facts.latitude for each in store.plots.of(talk.person)] == [36.1]
        assert [each.facts.latitude for each in store.plots.of(talk.person)] == [None]
        talk.plot("beans")
        assert [each.name for each in store.plots.of(talk.person)] == ["peaches", "beans"]
        store.plots.close(plot, at=MORNING)
        assert [each.name for each in store.plots.of(talk.person)] == ["beans"]


def test_nobody_sees_half_a_message(store: Store, talk: Talk) -> None:
    plot = talk.plot()
    half, seen = Event(), []

    def write() -> None:
        with store.transaction():
            talk.reads(plot, 45.0)
            half.set()
            Event().wait(0.05)
            talk.reads(plot, 50.0)

    def read() -> None:
        half.wait()
        seen.extend(talk.counting(plot))

    with ThreadPoolExecutor(2) as threads:
        for done in [threads.submit(write), threads.submit(read)]:
            done.result()
    assert seen == [45.0, 50.0]


def test_threads_lose_and_double_nothing(store: Store, person: Person) -> None:
    plot = store.plots.new(person, "peaches", at=MORNING)

    def deliver(number: int) -> bool:
        """Each of two threads delivers the same hundred messages."""
        with store.transaction():
            message = store.messages.keep(person, "45", MORNING + timedelta(minutes=number), id=str(number))
            if message:
                store.log.keep(message, "watering", {"minutes": float(number)}, plot=plot, on=MORNING.date())
        return message is not None

    with ThreadPoolExecutor(2) as threads:
        kept = list(threads.map(deliver, [number for number in range(100) for _ in range(2)]))
    assert sum(kept) == 100
    assert sorted(each.slots["minutes"] for each in store.log.observations(plot)) == [float(n) for n in range(100)]
