"""A modem with its daemon, and a line that answers through it, both of them real."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from modem import INSTALLED, Modem


@pytest.fixture
def modem(tmp_path: Path) -> Iterator[Modem]:
    if not INSTALLED:
        pytest.skip("gammu-smsd is not installed: apt-get install gammu gammu-smsd libdbd-sqlite3")
    made = Modem(tmp_path)
    yield made
    made.kill()
