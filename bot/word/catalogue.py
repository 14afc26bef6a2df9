"""Every sentence of one language, from its gettext catalogue beside this file: `en.po`, `es.po`, by stable key.

A key's sentence names its values in braces: `WAIT. {plot}: look again {when}.` A language is read on first use.
"""

from __future__ import annotations

import gettext
from collections.abc import Callable
from functools import cache
from importlib.resources import files
from string import Formatter

from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po

LANGUAGES = ("en", "es")
FALLBACK = "en"


def text(key: str, language: str, *, n: int | None = None, **values: str) -> str:
    """The sentence in this language, else in English; `n` chooses the plural form and fills `{n}`.

    Raises KeyError for a key that no language has, and for a value that the sentence names and nobody gave.
    """
    forms = _sentences(language).get(key) or _sentences(FALLBACK)[key]
    form = forms[_plural(language)(n)] if n is not None and len(forms) > 1 else forms[0]
    return form.format(n=n, **values)


def has(key: str) -> bool:
    """Whether there is such a sentence at all."""
    return key in _sentences(FALLBACK)


def keys(language: str) -> frozenset[str]:
    return frozenset(_sentences(language))


def forms(key: str, language: str) -> tuple[str, ...]:
    """The sentence as written, one for each plural form."""
    return _sentences(language)[key]


def placeholders(key: str, language: str) -> frozenset[str]:
    """The values that a sentence names."""
    return frozenset(
        name for form in forms(key, language) for _, name, _, _ in Formatter().parse(form) if name is not None
    )


@cache
def _catalogue(language: str) -> Catalog:
    with (files(__package__) / f"{language}.po").open("rb") as file:
        return read_po(file, locale=language, abort_invalid=True)


@cache
def _sentences(language: str) -> dict[str, tuple[str, ...]]:
    if language not in LANGUAGES:
        return {}
    found: dict[str, tuple[str, ...]] = {}
    for message in _catalogue(language):
        key = str(message.id[0] if isinstance(message.id, (tuple, list)) else message.id)
        said = message.string if isinstance(message.string, (tuple, list)) else (message.string or "",)
        if key and all(said):
            found[key] = tuple(map(str, said))
    return found


@cache
def _plural(language: str) -> Callable[[int], int]:
    """Which of a sentence's forms a number takes."""
    return gettext.c2py(_catalogue(language if language in LANGUAGES else FALLBACK).plural_expr)
