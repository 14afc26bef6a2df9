"""Offices to test with."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from county import open_county
from office_desk import Desk, office_of


@pytest.fixture
def office() -> Iterator[Desk]:
    """An office on an empty line."""
    line, clock = open_county(0)
    yield office_of(line, clock)
    line.store.close()


@pytest.fixture(scope="session")
def county() -> Iterator[Desk]:
    """An office with some dozens of people; tests leave them as they were."""
    line, clock = open_county(60)
    yield office_of(line, clock)
    line.store.close()
