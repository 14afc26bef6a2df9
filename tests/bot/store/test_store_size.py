from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

import pytest
from store_talk import MORNING, Talk

from bot.store import Store, open_store

PEOPLE, REPORTS = 500, 200  # 100,000 observations


@pytest.fixture(scope="module")
def county() -> Iterator[Store]:
    """A county's worth of reports, two hundred from each of five hundred people."""
    store = open_store(None)
    with store.transaction():
        for number in range(PEOPLE):
            fill(Talk(store, store.people.person("sms", f"county-{number}", MORNING)))
    yield store
    store.close()


def fill(talk: Talk) -> None:
    plot = talk.plot()
    for back in range(REPORTS):
        if back % 20 == 0:
            message = talk.say("45", id=str(back))
        reading = {"quantity": "tension", "value": float(back % 80), "depth_cm": 30.5}
        talk.store.log.keep(message, "reading", reading, plot=plot, on=(MORNING - timedelta(days=back)).date())


def test_a_full_store_finds_the_reports_of_one_by_an_index(county: Store) -> None:
    person = county.people.person("sms", "county-250", MORNING)
    (plot,) = county.plots.of(person)
    assert len(county.log.observations(plot)) == REPORTS
    plan = county._database.rows(
        "EXPLAIN QUERY PLAN SELECT * FROM observations WHERE person = ? AND plot = ?", (person.id, plot.id)
    )
    assert plan[0]["detail"].startswith("SEARCH")


def test_forgetting_one_of_many_touches_only_that_one(county: Store) -> None:
    """Erasing follows the indexes of every table that refers to another; a missing one would show here as seconds."""
    plans = []
    for table, key in county._database.rows(
        """SELECT m.name, f."from" FROM sqlite_schema AS m, pragma_foreign_key_list(m.name) AS f
        WHERE m.type = 'table'"""
    ):
        plan = county._database.rows(f"EXPLAIN QUERY PLAN SELECT 1 FROM {table} WHERE {key} = 1")
        plans.append((table, key, plan[0]["detail"]))
    scans = [(table, key) for table, key, detail in plans if detail.startswith("SCAN")]
    assert len(plans) > 15
    assert [(table, key) for table, key in scans if key != "plot"] == []  # plot is the second half of (person, plot)
