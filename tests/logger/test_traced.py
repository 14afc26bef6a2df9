"""The traces of a season on which the clocks were changed: every morning is told, before the change and after it."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from bot.logger.traced import traced
from bot.store import open_store
from rules.tables import base


@pytest.mark.parametrize("changed_on", [datetime(2026, 3, 8, tzinfo=UTC), datetime(2026, 11, 1, tzinfo=UTC)])
def test_no_morning_is_lost_where_the_clocks_are_changed(changed_on: datetime) -> None:
    store = open_store(None)
    at = changed_on - timedelta(days=10)
    person = store.people.person("sms", "+15550100", at)
    store.facts.set(person, "timezone", "America/Chicago", at=at)
    person = store.people.by_id(person.id)
    plot = store.plots.new(person, "grapes", at=at)
    message = store.messages.keep(person, "a logger's file", at)
    assert message is not None
    hours = [int((at + timedelta(hours=hour)).timestamp()) for hour in range(24 * 20)]
    store.series.add(plot, message, [("tension", 30.0, hour, 10.0 + count / 24) for count, hour in enumerate(hours)])
    found = traced(store, person, plot, base())
    assert found is not None
    assert found.told.days == 20
    assert found.told.faults == ()
    assert found.frame["at"].min() == at.replace(tzinfo=None) - timedelta(hours=6 if changed_on.month == 3 else 5)
    store.close()
