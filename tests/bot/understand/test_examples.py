"""The reader on written-out messages: every example and every message of the development set, whole and exact.

Source of the expected values: invented messages read by hand by the rules of the reading (DEVELOPERS.md); numbers to 0.1.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from bot.understand import context_from_json, read, understood_to_json

_MESSAGES = Path(__file__).parents[3] / "fixtures" / "messages"


def _cases(*names: str) -> list[Any]:
    lines = [
        line for name in names for line in (_MESSAGES / name).read_text(encoding="utf-8").splitlines() if line.strip()
    ]
    return [pytest.param(case, id=case["id"]) for case in map(json.loads, lines)]


def _rounded(form: Any) -> Any:
    if isinstance(form, dict):
        return {name: _rounded(value) for name, value in form.items()}
    if isinstance(form, list | tuple):
        return [_rounded(value) for value in form]
    is_number = isinstance(form, int | float) and not isinstance(form, bool)
    # Rows were rounded to a tenth by whoever wrote them, halves this way or that.
    return pytest.approx(form, abs=0.11) if is_number else form


@pytest.mark.parametrize("case", _cases("examples_en.jsonl", "examples_es.jsonl"))
def test_an_example_is_read_exactly(case: dict[str, Any]) -> None:
    got = understood_to_json(read(case["in"]["text"], context_from_json(case["in"])))
    assert any(got == _rounded(right) for right in [case["expect"], *case.get("also_ok", [])]), got


@pytest.mark.parametrize("case", _cases("dev_en.jsonl", "dev_es.jsonl"))
def test_a_development_message_is_read_exactly(case: dict[str, Any]) -> None:
    got = understood_to_json(read(case["in"]["text"], context_from_json(case["in"])))
    assert any(got == _rounded(right) for right in [case["expect"], *case.get("also_ok", [])]), got
