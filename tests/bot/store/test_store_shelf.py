from __future__ import annotations

from datetime import timedelta

import pytest
from store_talk import MORNING, Talk

from bot.errors import StoreError
from bot.store import Store

DAY = timedelta(days=1)


def test_the_shelf_holds_the_newest_of_each_cell(store: Store) -> None:
    assert store.shelf.get("36.1,-97.1") is None
    store.shelf.put("36.1,-97.1", MORNING, "{}")
    store.shelf.put("36.1,-97.1", MORNING + DAY, '{"past": []}')
    store.shelf.put("36.2,-97.1", MORNING, "[]")
    assert store.shelf.get("36.1,-97.1") == (MORNING + DAY, '{"past": []}')


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
