from __future__ import annotations

from datetime import date, datetime, timedelta

import pytest
from store_talk import MORNING, Talk

from bot.errors import StoreError
from bot.store import Store
from bot.store.database import Database
from rules.terms import Rain, Reading, Sign, Watering

TODAY = MORNING.date()
DAY = timedelta(days=1)


@pytest.mark.parametrize(
    ("kind", "slots", "term"),
    [
        (
            "reading",
            {"quantity": "tension", "value": 45.0, "depth_cm": 30.5, "soil_temp_c": 21.0},
            Reading(on=TODAY, at=MORNING, quantity="tension", value=45.0, depth_cm=30.5, soil_temp_c=21.0),
        ),
        (
            "reading",
            {"quantity": "feel", "value": "slightly_moist"},
            Reading(on=TODAY, at=MORNING, quantity="feel", value="slightly_moist"),
        ),
        ("watering", {"minutes": 120.0}, Watering(on=TODAY, at=MORNING, minutes=120.0)),
        ("watering", {"litres_each": 18.9}, Watering(on=TODAY, at=MORNING, litres_each=18.9)),
        ("rain", {"depth_mm": 0.0}, Rain(on=TODAY, at=MORNING, depth_mm=0.0)),
        ("rain", {}, Rain(on=TODAY, at=MORNING)),
        ("sign", {"sign": "wilting"}, Sign(on=TODAY, at=MORNING, sign="wilting")),
    ],
)
def test_an_observation_comes_back_as_the_rules_take_it(
    store: Store, talk: Talk, kind: str, slots: dict[str, object], term: Reading | Watering | Rain | Sign
) -> None:
    plot = talk.plot()
    store.log.keep(talk.say("words"), kind, slots, plot=plot, on=TODAY, at=MORNING)
    assert [each.term() for each in store.log.observations(plot)] == [term]


@pytest.mark.parametrize(
    ("kind", "slots"), [("frost", {}), ("rain", {"minutes": 5.0}), ("reading", {"value) --": 1.0})]
)
def test_an_unknown_kind_or_slot_is_refused(store: Store, talk: Talk, kind: str, slots: dict[str, object]) -> None:
    with pytest.raises(StoreError, match="has the slots"):
        store.log.keep(talk.say("words"), kind, slots, plot=None, on=TODAY)


@pytest.mark.parametrize("table", ["observations", "facts", "messages", "advices"])
def test_what_is_kept_is_never_edited(store: Store, talk: Talk, table: str) -> None:
    plot = talk.plot()
    talk.reads(plot, 45.0)
    database: Database = store._database
    database.write(
        """INSERT INTO advices (person, plot, day, at, advice, inputs, version, language, text, sent_by)
        VALUES (?, ?, '2026-07-01', '2026-07-01', '{}', '{}', '1', 'en', 'WAIT', 'line')""",
        (talk.person.id, plot.id),
    )
    # what comes with the answer
    free = {"retracted_by", "replies"} | ({"language", "drawn"} if table == "messages" else set())
    columns = database.rows(f"SELECT name FROM pragma_table_info('{table}')")
    for name in {row["name"] for row in columns} - free:
        with pytest.raises(StoreError, match="never edited"):
            database.write(f"UPDATE {table} SET {name} = {name}")


def test_rain_falls_on_all_plots_of_the_person_and_on_nobody_elses(store: Store, talk: Talk) -> None:
    peaches, lawn = talk.plot("peaches"), talk.plot("lawn")
    other = store.people.person("sms", "+15550101", MORNING)
    theirs = store.plots.new(other, "lawn", at=MORNING)
    store.log.keep(talk.say("rain 1 in"), "rain", {"depth_mm": 25.4}, plot=None, on=TODAY)
    assert [len(store.log.observations(plot)) for plot in (peaches, lawn, theirs)] == [1, 1, 0]


def test_a_reading_of_no_known_plot_counts_for_none(store: Store, talk: Talk) -> None:
    plot = talk.plot()
    store.log.keep(talk.say("45"), "reading", {"quantity": "tension", "value": 45.0}, plot=None, on=TODAY)
    assert store.log.observations(plot) == []
    assert len(store.log.history(talk.person)) == 1


def test_what_is_impossible_or_undated_is_held_and_does_not_count(store: Store, talk: Talk) -> None:
    plot = talk.plot()
    wet = {"quantity": "percent", "value": 140.0}
    store.log.keep(talk.say("140%"), "reading", wet, plot=plot, on=TODAY, set_aside="over 100 percent")
    store.log.keep(talk.say("watered a few days ago"), "watering", {}, plot=plot, on=None)
    assert store.log.observations(plot) == []
    assert store.log.last(plot) is None
    assert store.log.is_empty(plot)
    impossible, undated = store.log.history(talk.person)
    assert (impossible.in_force, impossible.set_aside) == (False, "over 100 percent")
    assert (undated.in_force, undated.on) == (True, None)


def test_observations_come_in_the_order_of_the_days_and_times_they_are_about(store: Store, talk: Talk) -> None:
    plot = talk.plot()
    days: list[tuple[date, datetime | None]] = [
        (TODAY, MORNING + timedelta(hours=3)),
        (TODAY - DAY, None),
        (TODAY, MORNING),
        (TODAY - 2 * DAY, None),
    ]
    for place, (on, at) in enumerate(days):
        store.log.keep(talk.say("words"), "watering", {"minutes": float(place)}, plot=plot, on=on, at=at)
    assert [each.slots["minutes"] for each in store.log.observations(plot)] == [3.0, 1.0, 2.0, 0.0]
    assert store.log.last(plot) == store.log.observations(plot)[-1]
    assert not store.log.is_empty(plot)
