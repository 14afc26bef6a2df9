"""The settings of a provider's connection: whatever can't be used is named; and how a path finds its field."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from provider import Provider

from bot import config
from bot.channels.hook.settings import at, read
from bot.errors import ConfigError
from bot.serve import assemble


@pytest.mark.parametrize(
    ("old", "new", "named"),
    [
        ('id = "data.id"', 'idd = "data.id"', r"\[hook\.in\] idd"),
        ('secret = "hook.secret"', 'secret = "missing"', r"\[hook\.in\] secret: missing can't be read"),
        ("http://127.0.0.1", "http://provider.example", "https://"),
        ('stopped = ["410", "blocked"]', "stopped = [410]", r"\[hook\.out\] stopped"),
        ('fixed = { from = "+15550100" }', "fixed = { from = 1 }", r"\[hook\.out\.fixed\]"),
        ('[hook.in]', '[hook.in]\nsigned = "{body}"', "signed must hold"),
        ('[hook.in]', '[hook.in]\nguard = "none"', r"\[hook\.in\] guard must be one of signature, bearer"),
        ('[hook.in]', '[hook]\ncarrier = "x"\n[hook.in]', r"\[hook\] carrier"),
        ('[hook.in]', '[sim]\ndatabase = "sms.db"\n[hook.in]', "keep one of them"),
    ],
)  # fmt: skip
def test_a_slip_is_named(settings: Path, provider: Provider, old: str, new: str, named: str) -> None:
    settings.write_text(settings.read_text().replace(old, new, 1), encoding="utf-8")
    with pytest.raises(ConfigError, match=named):
        assemble(config.read(settings))


def test_the_secret_stands_in_no_setting(settings: Path) -> None:
    assert "invented token" not in settings.read_text()
    out = read(config.read(settings).file.table("hook")).out
    assert out.headers == {"Authorization": "Bearer invented token"}


@pytest.mark.parametrize(
    ("body", "path", "found"),
    [
        ({"from": "a"}, "from", "a"),
        ({"data": {"from": {"number": 7}}}, "data.from.number", "7"),
        ({"messages": [{"text": "a"}, {"text": "b"}]}, "messages.1.text", "b"),
        ({"messages": []}, "messages.0.text", ""),
        ({"data": {"from": ["a"]}}, "data.from", ""),
        ({"a": None}, "a", ""),
        ({}, "a.b", ""),
        (None, "a", ""),
        ("text", "a", ""),
        ([1], "-1", ""),
    ],
)
def test_a_path_finds_its_field_or_nothing(body: Any, path: str, found: str) -> None:
    assert at(body, path) == found
