"""What a person waters: the person's own plot names found in a text, by name, plural, a typo or two, or the other language."""

from __future__ import annotations

import re
from functools import cache, lru_cache

from rapidfuzz import fuzz
from rapidfuzz.distance import OSA

from bot.understand import words
from bot.understand.by_sound import sound
from bot.understand.items import Row, joined, kind_at, text_at
from bot.understand.lexicon import vocabulary
from bot.understand.tokens import tokenise
from bot.understand.words import LANGUAGES, concepts, terms

_CLOSE = 76
_SHORTEST = 4
_HEADS = words.named("heads")
_LEADS = words.named("leads")
_TOO_COMMON = words.named("too_common")


def stems(word: str) -> frozenset[str]:
    """The word and what its singular may be, in either language."""
    found = {word}
    for ending, rest in (("ies", "y"), ("ves", "f"), ("ces", "z"), ("es", ""), ("s", "")):
        if word.endswith(ending) and len(word) - len(ending) >= 2:
            found.add(word[: -len(ending)] + rest)
    return frozenset(found)


def _concepts(word: str) -> frozenset[str]:
    return frozenset(concepts()[stem] for stem in stems(word) if stem in concepts())


@lru_cache(maxsize=65536)
def likeness(word: str, name: str) -> int:
    """How surely a word means a word of a name: 4 the same, 3 its plural, 2 another language, 1 a typo, 0 not at all."""
    if word == name:
        return 4
    if len(word) > 2 and len(name) > 2 and stems(word) & stems(name):
        return 3
    if _concepts(word) & _concepts(name):
        return 2
    if word in vocabulary() or len(word) < _SHORTEST or len(name) < _SHORTEST:
        return 0
    if sound(word) in {sound(stem) for stem in stems(name)}:
        return 1  # "biña", "el uerto"
    if word[0] != name[0]:
        return 0
    if OSA.distance(word, name, score_cutoff=1) <= 1:
        return 1
    return int(max(fuzz.ratio(word, name), *(fuzz.ratio(word, stem) for stem in stems(name))) >= _CLOSE)


@lru_cache(maxsize=4096)
def _name_words(name: str) -> tuple[str, ...]:
    return tuple(token.text for token in tokenise(name) if token.kind != "mark")


@lru_cache(maxsize=4096)
def _telling_words(plots: tuple[str, ...]) -> dict[str, str]:
    """Word -> the one plot of several words that it tells, where it tells one: "lawn" of "back lawn"."""
    owners: dict[str, set[str]] = {}
    for name in plots:
        if len(_name_words(name)) > 1:
            for word in _name_words(name):
                owners.setdefault(concepts().get(word, word), set()).add(name)
    return {word: next(iter(names)) for word, names in owners.items() if len(names) == 1 and _tells(word)}


def _tells(word: str) -> bool:
    known = word in vocabulary() and word not in concepts() and not _lies(word)
    strange = len(word) == _SHORTEST - 1 and word not in vocabulary()  # "cab" of "cab block"
    telling = len(word) >= _SHORTEST or strange or _lies(word) or word in _SIZES
    return telling and not known and not word.isdigit()


def _lies(word: str) -> bool:
    """Whether a word only tells which of two: it names a plot after an article alone, "el alto", "the upper"."""
    return word in _SIDES and word not in concepts()


_SIDES = words.named("sides")
_SIZES = frozenset({"big", "old", "new"})  # as names.csv calls them; they need an article too
_ARTICLES = frozenset({"el", "la", "al", "del", "los", "las", "the"})


def with_plots(row: Row, plots: tuple[str, ...]) -> Row:
    """The row with the person's plots as items."""
    if not plots:
        return row
    names = sorted(plots, key=lambda name: -len(_name_words(name)))
    telling = _telling_words(plots)
    out: Row = []
    place = 0
    while place < len(row):
        found = _named(row, place, names) or _partly_named(row, place, telling)
        if found is None:
            out.append(row[place])
            place += 1
            continue
        name, used = found
        before = _lead(out)
        parts = [*out[len(out) - before :], *row[place : place + used]]
        del out[len(out) - before :]
        while text_at(row, place + used) in _HEADS and kind_at(row, place + used + 1) != "number" and len(parts) < 6:
            parts.append(row[place + used])
            used += 1
        out.append(joined("plot", name, parts))
        place += used
    return out


def _lead(out: Row) -> int:
    """How many items before a plot belong to it: "cama de"."""
    if len(out) >= 2 and out[-1].text in ("de", "of") and out[-2].text in _LEADS:
        return 2
    return (
        1
        if out and out[-1].text in _LEADS and out[-1].kind == "word" and out[-1].text in ("arbol", "cama", "lote")
        else 0
    )


def _named(row: Row, place: int, names: list[str]) -> tuple[str, int] | None:
    best: tuple[int, int, str] | None = None
    for name in names:
        words = _name_words(name)
        used = _stands(row, place, words)
        if used is None:
            continue
        if best is None or used > best[:2]:
            best = (used[0], used[1], name)
    if best is None:
        return None
    return best[2], best[0]


def _stands(row: Row, place: int, words: tuple[str, ...]) -> tuple[int, int] | None:
    """How many items a name takes up here and how alike they are, None where it does not stand."""
    if not words or (len(words) == 1 and (words[0].isdigit() or words[0] in _TOO_COMMON)):
        return None
    here, worst = place, 4
    for number, word in enumerate(words):
        if number and text_at(row, here) in ("de", "del", "the", "la", "el", "of") and text_at(row, here) != word:
            here += 1
        if here >= len(row) or row[here].kind == "mark":
            return None
        if not number and word == "el" and row[here].text in ("del", "al"):
            here += 1  # "la sonda del bajo" of somebody who has "el bajo"
            continue
        said = _spoken_digits().get(row[here].text, row[here].text) if word.isdigit() else row[here].text
        alike = 4 * (said == word) if row[here].kind == "number" or word.isdigit() else likeness(said, word)
        if not alike or (alike == _TRANSLATED and _is_everyday(row, here)):
            return None
        worst, here = min(worst, alike), here + 1
    return here - place, worst


_TRANSLATED = 2  # as `likeness` tells it


def _is_everyday(row: Row, place: int) -> bool:
    """Whether a word only looks like a plant of another language: "hay unas grietas" of somebody who has alfalfa."""
    said = words.plain("es")
    return row[place].text in said and text_at(row, place + 1) in said - words.plain("en")


@cache
def _spoken_digits() -> dict[str, str]:
    """Number word -> its figure, for "block two" of somebody who has a block 2."""
    small = [term for language in LANGUAGES for term in terms(language) if term.tag in ("small", "one")]
    articles = ("a", "an", "un", "una")
    return {one.words[0]: one.value for one in small if len(one.words) == 1 and one.words[0] not in articles}


def _partly_named(row: Row, place: int, telling: dict[str, str]) -> tuple[str, int] | None:
    item = row[place]
    if item.kind != "word":
        return None
    meant = concepts().get(item.text, item.text)
    if (_lies(item.text) or meant in _SIZES) and text_at(row, place - 1) not in _ARTICLES:
        return None
    name = telling.get(meant)
    if name is None:
        close = [found for word, found in telling.items() if word not in _SIZES and likeness(item.text, word)]
        name = close[0] if len(close) == 1 else None
    return None if name is None else (name, 1)


_EDGES = re.compile(r"^[\s'\"“”.,;:!?()-]+|[\s'\"“”.,;:!?()-]+$")


def as_written(text: str) -> str:
    """A name as the person wrote it, without marks around it."""
    return _EDGES.sub("", text)


def own_name(words: str, plots: tuple[str, ...]) -> str:
    """The person's own name for the words, or the words."""
    for name in plots:
        if name.casefold() == words.casefold():
            return name
    return words
