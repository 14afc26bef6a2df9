"""The terms of the rules as JSON and back, without loss: a dataclass becomes an object of its fields.

Fields that are None are left out; every field that may be None has that as its default. Observations carry their kind as
`is`. Fields that a later program added come back with their defaults, fields that it dropped are passed over.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import is_dataclass
from datetime import date, datetime
from enum import Enum
from functools import cache
from types import UnionType
from typing import Any, TypeVar, get_args, get_origin, get_type_hints

from numpy import generic

from rules.terms import Advised, Rain, Reading, Sign, Watering

Term = TypeVar("Term")
Reader = Callable[[Any], Any]

_NAMES: dict[type, str] = {kind: kind.__name__.lower() for kind in (Reading, Watering, Rain, Sign, Advised)}
_KINDS = {name: kind for kind, name in _NAMES.items()}
_DAY = re.compile(r"\d{4}-\d\d-\d\d")


def as_json(term: Any) -> str:
    """JSON text of a term of the rules, or of a list or dict of them.

    Raises: ValueError, for a number that is not finite.
    """
    return _encoder.encode(term)


def from_json(kind: type[Term], text: str) -> Term:
    """The term of this kind that `as_json` wrote."""
    hint: Any = kind
    read: Term = _reader(hint)(json.loads(text))
    return read


def _plain(value: Any) -> Any:
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, generic):
        return value.item()
    told = {name: each for name, each in vars(value).items() if each is not None}
    kind = _NAMES.get(type(value))
    return {"is": kind, **told} if kind else told


_encoder = json.JSONEncoder(default=_plain, allow_nan=False, ensure_ascii=False, separators=(",", ":"))


@cache
def _reader(hint: Any) -> Reader:
    """What makes a value of this type out of its JSON; looked up once for each type."""
    if hint is Any:
        return _read_untyped
    if isinstance(hint, UnionType):
        return _union_reader(hint)
    if get_origin(hint) is tuple:
        item = _reader(get_args(hint)[0])
        return lambda value: tuple(map(item, value))
    if get_origin(hint) is dict:
        return lambda value: {name: _read_untyped(each) for name, each in value.items()}
    if is_dataclass(hint):
        return _object_reader(hint)
    if hint in (date, datetime):
        return hint.fromisoformat  # type: ignore[no-any-return]
    return hint if issubclass(hint, Enum) else _as_it_is


def _object_reader(kind: Any) -> Reader:
    readers = {name: _reader(hint) for name, hint in get_type_hints(kind).items()}

    def read(value: dict[str, Any]) -> Any:
        return kind(**{name: readers[name](each) for name, each in value.items() if name in readers})

    return read


def _union_reader(hint: UnionType) -> Reader:
    one, *others = (part for part in get_args(hint) if part is not type(None))
    if one in _NAMES:
        return lambda value: _reader(_KINDS[value["is"]])(value)
    return _as_it_is if others else _reader(one)


def _as_it_is(value: Any) -> Any:
    return value


def _read_untyped(value: Any) -> Any:
    """The numbers of a reason are of any type; text that looks like a day was a day."""
    if isinstance(value, str) and _DAY.fullmatch(value):
        return date.fromisoformat(value)
    if isinstance(value, list):
        return tuple(map(_read_untyped, value))
    return value
