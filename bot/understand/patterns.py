"""Patterns over the words of a clause, for what people ask and tell in many orders.

A pattern is words in order: `a/b` either word, `(a)` a word that may be missing, `..` up to four other words, `{name}` any
word of a named class, `^` the start, `$` the end. "how many/much .. {water}" fits "how many gallons of water".
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from functools import cache

from bot.understand import words
from bot.understand.items import Item, Row, Rule, joined

_GAP = 4
_ANY = frozenset({".."})


@dataclass(frozen=True, slots=True)
class Pattern:
    """What a fit means (`tag`, `value`), its place in the list (lower speaks first) and its elements."""

    tag: str
    value: str
    rank: int
    elements: tuple[frozenset[str], ...]
    optional: tuple[bool, ...]
    at_start: bool
    at_end: bool


@dataclass(frozen=True, slots=True)
class Fit:
    """A pattern that fits, with the stretch of words it takes."""

    tag: str
    value: str
    rank: int
    start: int
    end: int


@cache
def patterns(language: str) -> dict[str, list[Pattern]]:
    """First word -> patterns of a language that may begin with it."""
    rows = words.rows(f"{language}_phrases.csv")
    classes = {value: frozenset(forms.split("|")) for tag, value, forms in rows if tag == "class"}
    found: dict[str, list[Pattern]] = defaultdict(list)
    rank = 0
    for tag, value, forms in rows:
        if tag in ("class", "whole"):
            continue
        for form in forms.split("|"):
            made = _pattern(tag, value, rank, form, classes)
            rank += 1
            for word in _first_words(made):
                found[word].append(made)
    return dict(found)


def _first_words(made: Pattern) -> set[str]:
    first: set[str] = set()
    for element, optional in zip(made.elements, made.optional, strict=True):
        first |= element
        if not optional:
            break
    return first


def _pattern(tag: str, value: str, rank: int, form: str, classes: dict[str, frozenset[str]]) -> Pattern:
    elements, optional = [], []
    pieces = form.split()
    for piece in pieces:
        if piece in ("^", "$"):
            continue
        loose = piece.startswith("(") and piece.endswith(")")
        piece = piece[1:-1] if loose else piece
        elements.append(
            _ANY if piece == ".." else frozenset(w for part in piece.split("/") for w in _words(part, classes))
        )
        optional.append(loose)
    return Pattern(tag, value, rank, tuple(elements), tuple(optional), pieces[0] == "^", pieces[-1] == "$")


def _words(part: str, classes: dict[str, frozenset[str]]) -> frozenset[str]:
    return classes[part[1:-1]] if part.startswith("{") else frozenset({part})


TAGS = ("feel", "sign", "rod", "watered", "gave", "rain", "neg", "dunno", "chat", "filler", "correct", "falling")
_LONGEST = 14


def phrased(language: str) -> Rule:
    """The rule that takes a stretch of words that a pattern of `TAGS` fits as one item of that tag."""
    index = _of_words(language)

    def rule(row: Row, place: int) -> tuple[Item, int] | None:
        if row[place].kind != "word" or row[place].text not in index:
            return None
        texts: list[str] | None = None
        best: tuple[int, Pattern] | None = None
        for made in index[row[place].text]:
            texts = _stretch(row, place) if texts is None else texts
            end = _end(texts, 0, made, 0)
            if end is not None and (best is None or end > best[0]):
                best = (end, made)
        return None if best is None else (joined(best[1].tag, best[1].value, row[place : place + best[0]]), best[0])

    return rule


@cache
def _of_words(language: str) -> dict[str, list[Pattern]]:
    """First word -> patterns of `TAGS` that may begin with it."""
    found = {word: [made for made in each if made.tag in TAGS] for word, each in patterns(language).items()}
    return {word: each for word, each in found.items() if each}


def _stretch(row: Row, place: int) -> list[str]:
    """The words from a place on, up to a mark or a figure."""
    texts: list[str] = []
    for item in row[place : place + _LONGEST]:
        if item.kind not in ("word", "plot"):
            break
        texts.append(item.text)
    return texts


def fits(texts: list[str], language: str) -> list[Fit]:
    """All patterns that fit a row of words, the first of the list first."""
    found = []
    index = patterns(language)
    for place, text in enumerate(texts):
        for made in index.get(text, ()):
            if made.at_start and place:
                continue
            end = _end(texts, place, made, 0)
            if end is not None:
                found.append(Fit(made.tag, made.value, made.rank, place, end))
    return sorted(found, key=lambda fit: fit.rank)


def _end(texts: list[str], place: int, made: Pattern, step: int) -> int | None:
    """Where the rest of a pattern ends when it goes on at a place, None when it does not fit."""
    if step == len(made.elements):
        return place if not made.at_end or place == len(texts) else None
    element = made.elements[step]
    if element is _ANY:
        for skip in range(_GAP + 1):
            end = _end(texts, place + skip, made, step + 1) if place + skip <= len(texts) else None
            if end is not None:
                return end
        return None
    if place < len(texts) and texts[place] in element:
        end = _end(texts, place + 1, made, step + 1)
        if end is not None:
            return end
    return _end(texts, place, made, step + 1) if made.optional[step] else None
