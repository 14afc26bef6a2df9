"""Spanish words written as they sound: "seka" is seca, "anoxe" anoche, "tiera" tierra. Never a number, a month or a unit."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache, lru_cache

from bot.understand import words
from bot.understand.items import Row
from bot.understand.lexicon import is_proper, number_words, vocabulary

_SHORTEST = 3
_NEVER = frozenset({"small", "tens", "hundreds", "scale", "part", "one", "month"})
# Letters that sound alike over most of America, in the order in which they give way.
_ALIKE = tuple(
    (re.compile(written), sound)
    for written, sound in (
        (r"ch|sh|x", "C"),
        (r"qu(?=[ei])|k", "k"),
        (r"[cs](?=[ei])|z", "s"),
        (r"c", "k"),
        (r"gu(?=[ei])", "G"),
        (r"g(?=[ei])", "j"),
        (r"[gh]u(?=[ao])|w", "w"),
        (r"h", ""),
        (r"v", "b"),
        (r"ll|y", "i"),
        (r"(.)\1+", r"\1"),
    )
)


def sound(word: str) -> str:
    """The word as it sounds; two words of one sound have one key."""
    for written, heard in _ALIKE:
        word = written.sub(heard, word)
    return word


@cache
def _heard() -> dict[str, str]:
    """Sound -> the one Spanish word of the lists that has it."""
    never = {word for term in words.terms("es") if term.tag in _NEVER for word in term.words}
    never |= {word for term in words.units() for word in term.words}
    known = {word for term in words.terms("es") for word in term.words} | words.phrase_words("es")
    known = {word for word in known - never if len(word) >= _SHORTEST and word.isalpha()}
    found: dict[str, set[str]] = {}
    for word in known:
        found.setdefault(sound(word), set()).add(word)
    return {key: next(iter(those)) for key, those in found.items() if len(those) == 1}


@lru_cache(maxsize=8192)
def meant(word: str) -> str:
    """The word, or the known one that sounds the same."""
    if len(word) < _SHORTEST or word in vocabulary() or word in words.of_sets():
        return word
    return _heard().get(sound(word), word)


def with_sounds(row: Row, text: str) -> Row:
    """The row of a Spanish message with words written by ear as they are spelled; names stay."""
    out: Row = []
    for place, item in enumerate(row):
        if item.kind == "word" and not is_proper(row, place, text):
            item = replace(item, text=_QUE if _is_que(row, place) else meant(item.text))
        out.append(item)
    return out


_QUE = "que"


def _is_que(row: Row, place: int) -> bool:
    """ "k hago": the letter by itself, where it is no kilohm."""
    before = row[place - 1] if place else None
    figure = before is not None and (before.kind == "number" or before.text in number_words())
    return row[place].text == "k" and not figure
