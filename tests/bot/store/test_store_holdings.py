from __future__ import annotations

import json
import random
from datetime import date, timedelta
from pathlib import Path

import pytest
from store_talk import MORNING, Talk, abandoned

from bot.errors import NoSuchPerson
from bot.store import Inputs, Store, database, open_store
from bot.store.baselines import Baseline
from bot.store.database import connect
from rules.terms import Advice, Day, Verdict, Weather

TODAY = MORNING.date()
MARK = "zinnia"  # a word that nothing else in the file has


def tell_everything(talk: Talk) -> None:
    """Fill every table that holds anything of a person, the mark in each."""
    store = talk.store
    message = talk.say(f"{MARK} 45 at 12", id=f"{MARK}-1")
    store.messages.replied(message, [f"WAIT on {MARK}"])
    store.facts.set(talk.person, "place", MARK, at=MORNING, message=message)
    store.people.ask(talk.person, {"about": MARK}, MORNING)
    store.people.set_dialogue(talk.person, {"topic": MARK})
    plot = store.plots.new(talk.person, MARK, at=MORNING, message=message)
    store.log.keep(message, "watering", {"minutes": 9.0}, plot=plot, on=TODAY, words=MARK)
    weather = Weather(past=(Day(on=TODAY, tmax_c=30.0),), source=MARK)
    inputs = Inputs(plot=plot.facts, observations=(), weather=weather, on=TODAY)
    advice = Advice(verdict=Verdict.WAIT, plot=MARK)
    store.advices.keep(plot, advice, inputs, at=MORNING, text=MARK, language="en", version="0", message=message)
    store.advices.caution(talk.person, MARK, MORNING, plot)
    store.calls.call_person(talk.person, MARK, MORNING, message)
    store.baselines.set(
        plot,
        Baseline(
            mm_week=30.0, kind=MARK, source=MARK, price_m3=None, lift_m=None, pump_efficiency=None, by=MARK, at=MORNING
        ),
    )
    store.exceptions.agree(plot, 0.4, True, TODAY + timedelta(days=9), MARK, MARK, MARK, MORNING)
    store.misses.note(message, "unread", MARK, MORNING)
    store.tokens.make(plot, MARK, MORNING)
    store.series.add(plot, message, [("tension", 30.0, 1782900000, 45.0)])
    store.series.keep_file(plot, message, MARK, MARK, MORNING, {"time": [MARK]}, {"new": 1})
    neighbor = store.people.person("sms", "+15550190", MORNING)
    lawn = store.plots.new(neighbor, f"lawn of {talk.person.id}", at=MORNING)
    store.shares.rename(store.shares.join(lawn, talk.person, MORNING), talk.person, f"{MARK} lawn")
    call = store.calls.of(talk.person)
    store.calls.note(call, MARK, by="Ines", at=MORNING)


def traces(path: Path) -> int:
    """How often the mark stands in the files on disk."""
    files = [file for file in path.parent.iterdir() if file.name.startswith(path.name)]
    return sum(file.read_bytes().count(MARK.encode()) for file in files)


def unswept(store: Store) -> list[int]:
    return [row["id"] for row in store._database.rows("SELECT id FROM erasures WHERE NOT swept")]


def test_the_state_tells_what_is_held(store: Store, talk: Talk) -> None:
    plot = talk.plot()
    for about, value in {
        "soil": "sandy_loam",
        "plant": "peach",
        "root_depth_cm": 90.0,
        "rate_mm_h": 3.0,
        "probe": "tension",
    }.items():
        store.facts.set(plot, about, value, at=MORNING)
    for about, value in {"language": "en", "units": "us", "place": "74059"}.items():
        store.facts.set(talk.person, about, value, at=MORNING)
    message = talk.say("peaches 55 at 12")
    reading = {"quantity": "tension", "value": 55.0, "depth_cm": 30.5}
    store.log.keep(message, "reading", reading, plot=plot, on=TODAY)
    store.log.keep(message, "rain", {"depth_mm": 900.0}, plot=None, on=TODAY, set_aside="more than any day had")
    told = {"is": "reading", **reading, "soil_temp_c": None, "plot": "peaches", "on": "2026-07-01", "in_force": True}
    assert store.holdings.state(talk.person) == {
        "stopped": False,
        "language": "en",
        "units": "us",
        "plots": [
            {
                "name": "peaches",
                "soil": "sandy_loam",
                "plant": "peach",
                "place": "74059",
                "root_depth_cm": 90.0,
                "rate_mm_h": 3.0,
                "probe": "tension",
            }
        ],
        "observations": [
            told,
            {"is": "rain", "depth_mm": 900.0, "plot": None, "on": "2026-07-01", "in_force": False},
        ],
    }
    store.corrections.undo(talk.person, talk.say("undo"))
    assert store.holdings.state(talk.person)["observations"][0] == {**told, "in_force": False}


def test_the_state_names_the_plot_of_an_observation_though_it_is_closed_or_undone(store: Store, talk: Talk) -> None:
    closed = talk.plot("pears")
    talk.reads(closed, 45.0)
    store.plots.close(closed, at=MORNING)
    message = talk.say("new plot lawn, 50")
    lawn = store.plots.new(talk.person, "lawn", at=MORNING, message=message)
    store.log.keep(message, "reading", {"quantity": "tension", "value": 50.0}, plot=lawn, on=TODAY)
    store.corrections.undo(talk.person, talk.say("undo"))
    state = store.holdings.state(talk.person)
    assert state["plots"] == []
    assert [(each["plot"], each["in_force"]) for each in state["observations"]] == [("pears", True), ("lawn", False)]


def test_the_export_has_every_table_and_is_json(store: Store, talk: Talk) -> None:
    tell_everything(talk)
    export = store.holdings.export(talk.person)
    assert [subject for subject, rows in export.items() if not rows] == []
    assert export["person"][0]["question"] == {"about": MARK}
    assert export["advices"][0]["weather"]["source"] == MARK
    json.dumps(export, allow_nan=False)


def test_the_export_holds_nothing_of_anybody_else(store: Store, talk: Talk) -> None:
    tell_everything(Talk(store, store.people.person("sms", "+15550101", MORNING)))
    export = store.holdings.export(talk.person)
    assert [subject for subject, rows in export.items() if rows] == ["person"]
    assert MARK not in json.dumps(export)


def test_what_is_forgotten_is_gone_and_the_rest_stays(store: Store, talk: Talk) -> None:
    other = Talk(store, store.people.person("sms", "+15550101", MORNING))
    tell_everything(other)
    before = store.holdings.export(other.person)
    tell_everything(talk)
    store.holdings.forget(talk.person, MORNING)
    assert store.people.known("sms", "+15550100") is None
    with pytest.raises(NoSuchPerson):
        store.people.by_id(talk.person.id)
    assert not any(store.holdings.export(talk.person).values())
    assert store.holdings.state(talk.person)["plots"] == []
    assert store.holdings.export(other.person) == before
    assert store.people.person("sms", "+15550100", MORNING).id != talk.person.id


def test_what_is_forgotten_leaves_no_trace_in_the_files(tmp_path: Path) -> None:
    """Among rows that grew after others were laid beside them, so that pages were split and cells moved.

    With the sweep taken out of the store, copies of the forgotten words stay in the file.
    """
    path = tmp_path / "line.db"
    store = open_store(path)
    chance = random.Random(2)
    talks = [Talk(store, store.people.person("sms", f"+155501{number:02}", MORNING)) for number in range(20)]
    with store.transaction():
        said = []
        for _ in range(3000):
            talk = chance.choice(talks)
            text = MARK if talk is talks[7] else "other"
            said.append(talk.say(text + "." * chance.randrange(200), id=f"{chance.random()}{text}"))
            store.messages.replied(chance.choice(said), ["." * chance.randrange(2000)])
    tell_everything(talks[7])
    assert traces(path) > 0
    store.holdings.forget(talks[7].person, MORNING)
    assert traces(path) == 0
    assert unswept(store) == []
    store.close()


def test_a_sweep_that_others_hold_up_is_done_at_the_next_opening(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(database, "BUSY_S", 0.05)
    path = tmp_path / "line.db"
    store = open_store(path)
    talk = Talk(store, store.people.person("sms", "+15550100", MORNING))
    tell_everything(talk)
    reader = connect(path)
    reader.execute("BEGIN")
    reader.execute("SELECT count(*) FROM people").fetchall()
    store.holdings.forget(talk.person, MORNING)
    assert store.people.known("sms", "+15550100") is None
    assert unswept(store) == [1]
    reader.close()
    store.close()
    again = open_store(path)
    assert (unswept(again), traces(path)) == ([], 0)
    again.close()


def test_forgetting_that_is_rolled_back_forgets_nothing(store: Store, talk: Talk) -> None:
    tell_everything(talk)
    before = store.holdings.export(talk.person)
    with abandoned(store):
        store.holdings.forget(talk.person, MORNING)
    assert store.holdings.export(talk.person) == before


def test_texts_that_the_law_keeps_are_locked_until_their_day(store: Store, talk: Talk) -> None:
    tell_everything(talk)
    until = date(2029, 7, 1)
    store.holdings.forget(talk.person, MORNING, texts_locked_until=until)
    assert not any(store.holdings.export(talk.person).values())
    held = "SELECT address, text, replies, locked_until FROM locked_texts"
    assert [tuple(row) for row in store._database.rows(held)] == [
        ("+15550100", f"{MARK} 45 at 12", f'["WAIT on {MARK}"]', "2029-07-01")
    ]
    store.holdings.drop_locked_texts(until, MORNING)
    assert len(store._database.rows(held)) == 1
    store.holdings.drop_locked_texts(until + timedelta(days=1), MORNING)
    assert store._database.rows(held) == []
