"""A provider of text messages, started for one test, and the settings of a line that it serves."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from provider import SECRET, SETTINGS, TOKEN, Provider


@pytest.fixture
def provider(monkeypatch: pytest.MonkeyPatch) -> Iterator[Provider]:
    monkeypatch.setenv("NO_PROXY", "127.0.0.1")
    made = Provider()
    yield made
    made.close()


@pytest.fixture
def office(tmp_path: Path) -> Path:
    """A folder with the secrets and an invented weather."""
    (tmp_path / "hook.secret").write_text(SECRET + "\n", encoding="utf-8")
    (tmp_path / "hook.token").write_text(TOKEN + "\n", encoding="utf-8")
    (tmp_path / "weather.json").write_text('{"past": [], "forecast": []}', encoding="utf-8")
    return tmp_path


@pytest.fixture
def settings(office: Path, provider: Provider) -> Path:
    path = office / "dropline.toml"
    path.write_text(SETTINGS.format(url=provider.url, port=0), encoding="utf-8")
    return path
