"""The terms of the rules as JSON and back, without loss: a dataclass becomes an object of its fields.

Observations carry their kind as `is`. Fields that a later program added come back with their defaults, fields that it
dropped are passed over.
"""

from __future__ import annotations

import json
import re
from dataclasses import is_dataclass
from datetime import date, datetime
from enum import Enum
from functools import cache
from types import UnionType
from typing import Any, TypeVar, get_args, get_origin, get_type_hints

from rules.terms import Advised, Rain, Reading, Sign, Watering

Term = TypeVar("Term")

_NAMES: dict[type, str] = {kind: kind.__name__.lower() for kind in (Reading, Watering, Rain, Sign, Advised)}
_KINDS = {name: kind for kind, name in _NAMES.items()}
_DAY = re.compile(r"\d{4}-\d\d-\d\d")


def as_json(term: Any) -> str:
    """JSON text of a term of the rules, or of a list or dict of them.

    Raises: ValueError, for a number that is not finite.
    """
    return json.dumps(term, default=_plain, allow_nan=False, ensure_ascii=False, separators=(",", ":"))


def from_json(kind: type[Term], text: str) -> Term:
    """The term of this kind that `as_json` wrote."""
    read: Term = _read(kind, json.loads(text))
    return read


def _plain(value: Any) -> Any:
    kind = type(value)
    if kind in _NAMES:
        return {"is": _NAMES[kind], **vars(value)}
    if isinstance(value, date):
        return value.isoformat()
    if is_dataclass(value):
        return vars(value)
    return value.item()  # a number of numpy


def _read(hint: Any, value: Any) -> Any:
    if value is None:
        return None
    if hint is Any:
        return _read_untyped(value)
    if isinstance(hint, UnionType):
        return _read_union(hint, value)
    if get_origin(hint) is tuple:
        return tuple(_read(get_args(hint)[0], item) for item in value)
    if get_origin(hint) is dict:
        return {name: _read(Any, item) for name, item in value.items()}
    if isinstance(hint, type) and is_dataclass(hint):
        hints = _hints(hint)
        return hint(**{name: _read(hints[name], item) for name, item in value.items() if name in hints})
    if hint in (date, datetime):
        return hint.fromisoformat(value)
    return hint(value) if issubclass(hint, Enum) else value


def _read_union(hint: UnionType, value: Any) -> Any:
    if isinstance(value, dict) and "is" in value:
        return _read(_KINDS[value["is"]], value)
    one, *others = (part for part in get_args(hint) if part is not type(None))
    return value if others else _read(one, value)


def _read_untyped(value: Any) -> Any:
    """The numbers of a reason are of any type; text that looks like a day was a day."""
    if isinstance(value, str) and _DAY.fullmatch(value):
        return date.fromisoformat(value)
    if isinstance(value, list):
        return tuple(map(_read_untyped, value))
    return value


@cache
def _hints(kind: type) -> dict[str, Any]:
    return get_type_hints(kind)
