"""The words by which the office seeks people follow every change of what they repeat, and go with their person."""

from __future__ import annotations

from store_talk import MORNING, Talk

from bot.store import Store
from bot.store.overview import Search


def found(store: Store, word: str, *plants: str) -> int:
    return store.overview.people(Search(words=(word,), plants=(plants,)))[1]


def test_a_plot_is_sought_by_the_name_place_and_plant_that_it_has_now(store: Store, talk: Talk) -> None:
    plot = store.plots.new(talk.person, "Back bed", at=MORNING)
    store.facts.set(plot, "plant", "tomato", at=MORNING)
    store.facts.set(talk.person, "place", "Dry Fork", at=MORNING)
    store.facts.set(plot, "place", "Millrace", at=MORNING)
    assert [found(store, word) for word in ("back", "dry", "mill")] == [1, 1, 1]
    assert found(store, "jitomate", "tomato") == 1
    assert found(store, "jitomate", "tom") == 0
    store.plots.rename(plot, "Herbs", at=MORNING)
    store.facts.set(plot, "plant", "basil", at=MORNING)
    store.facts.set(talk.person, "place", None, at=MORNING)
    assert [found(store, word) for word in ("back", "dry", "herb")] == [0, 0, 1]
    assert found(store, "jitomate", "tomato") == 0


def test_a_closed_plot_is_sought_no_more_and_the_others_still_are(store: Store, talk: Talk) -> None:
    old, new = (store.plots.new(talk.person, name, at=MORNING) for name in ("Old bed", "New bed"))
    store.plots.close(old, at=MORNING)
    assert [found(store, word) for word in ("old", "new")] == [0, 1]
    assert new.person == talk.person.id


def test_nothing_to_seek_by_is_left_of_who_was_erased(store: Store, talk: Talk) -> None:
    store.plots.new(talk.person, "Back bed", at=MORNING)
    store.holdings.forget(talk.person, MORNING)
    assert store._database.rows("SELECT * FROM sought") == []


def test_a_word_of_a_search_is_only_a_word(store: Store, talk: Talk) -> None:
    store.plots.new(talk.person, "100% shade_bed", at=MORNING)
    assert [found(store, word) for word in ("100%", "shade_bed", "%", "_", "10%s", "shade?bed")] == [1, 1, 1, 1, 0, 0]


def test_whoever_keeps_a_shared_plot_is_sought_by_it(store: Store, talk: Talk) -> None:
    plot, heir = store.plots.new(talk.person, "Back bed", at=MORNING), store.people.person("sms", "+15550101", MORNING)
    store.shares.join(plot, heir, MORNING)
    store.holdings.forget(talk.person, MORNING)
    (row,), counted = store.overview.people(Search(words=("back",), plants=((),)))
    assert (row.person, counted) == (heir.id, 1)
