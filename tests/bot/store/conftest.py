"""A store on a real file and one in memory, and somebody who texts."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from store_talk import MORNING, Talk

from bot.store import Person, Store, open_store


@pytest.fixture(params=["memory", "file"])
def store(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Store]:
    opened = open_store(tmp_path / "line.db" if request.param == "file" else None)
    yield opened
    opened.close()


@pytest.fixture
def person(store: Store) -> Person:
    return store.people.person("sms", "+15550100", MORNING)


@pytest.fixture
def talk(store: Store, person: Person) -> Talk:
    return Talk(store, person)
