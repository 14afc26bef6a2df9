"""Words -> tagged items: the longest form of the word lists that stands at each place, after mending misspellings.

The message's own language speaks first; forms of the other language count too, unless they are everyday words of the first
("once" is eleven in Spanish only).
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from functools import cache, lru_cache

from rapidfuzz import fuzz, process
from rapidfuzz.distance import OSA

from bot.understand import words
from bot.understand.items import Item, Row, joined
from bot.understand.tokens import Token

_CLOSE = 80  # rapidfuzz ratio; below it "wander" would be "water"
_SHORTEST = 5
_LONGEST = 24
_LONG = 8  # so long a word may have two slips
_NEVER_GUESSED = frozenset(
    {"small", "tens", "hundreds", "scale", "part", "one", "unit", "month"}
    | {"pest", "plain", "chat", "habit", "thing", "sorry", "name", "said", "correct"}
)

Forms = dict[str, list[words.Term]]


@cache
def forms(language: str) -> Forms:
    """First word -> forms, longest first; own language before the others, units last."""
    own = words.terms(language)
    everyday = words.plain(language) | words.name_words(language)
    foreign = [
        term
        for other in words.LANGUAGES
        if other != language
        for term in words.terms(other)
        if term.tag != "plain" and not (len(term.words) == 1 and (term.words[0] in everyday or len(term.words[0]) < 3))
    ]
    found: Forms = defaultdict(list)
    for term in [*(term for term in own if term.tag != "plain"), *foreign]:
        found[term.words[0]].append(term)
    for choices in found.values():
        choices.sort(key=lambda term: -len(term.words))
    return dict(found)


@cache
def unit_forms() -> Forms:
    """First word -> unit forms, longest first."""
    found: Forms = defaultdict(list)
    for term in words.units():
        found[term.words[0]].append(term)
    for choices in found.values():
        choices.sort(key=lambda term: -len(term.words))
    return dict(found)


@cache
def vocabulary() -> frozenset[str]:
    """Every word that any list knows: such a word is never taken for a misspelling of another."""
    known = {word for language in words.LANGUAGES for term in words.terms(language) for word in term.words}
    known |= {word for language in words.LANGUAGES for word in words.phrase_words(language)}
    known |= {word for term in words.units() for word in term.words}
    known |= {part for word in words.concepts() for part in word.split()}
    known |= words.named("runs")
    return frozenset(known)


@cache
def _guessable() -> dict[str, list[str]]:
    """First letter -> words that a misspelling may be mended to. No number, month or unit is ever among them."""
    found: dict[str, set[str]] = defaultdict(set)
    units = {word for term in words.units() for word in term.words}
    for language in words.LANGUAGES:
        for term in words.terms(language):
            if term.tag not in _NEVER_GUESSED:
                for word in term.words:
                    if len(word) >= _SHORTEST and (word not in units or term.tag == "instrument"):
                        found[word[0]].add(word)
        for word in words.phrase_words(language) - units:
            if len(word) > _SHORTEST:
                found[word[0]].add(word)
    return {letter: sorted(choices) for letter, choices in found.items()}


@lru_cache(maxsize=8192)
def mended(word: str) -> str:
    """The word, or the known word that it misspells: same first letter, nearly the same letters."""
    if word in words.slips():
        return words.slips()[word]
    if word in vocabulary() or word in words.of_sets() or len(word) > _LONGEST:
        return word
    swapped = _swapped_back(word)
    if swapped is not None or len(word) < _SHORTEST:
        return swapped or word
    best = process.extractOne(word, _guessable().get(word[0], []), scorer=fuzz.ratio, score_cutoff=_CLOSE)
    return best[0] if best and not _is_another(word, best[0]) else word


def _swapped_back(word: str) -> str | None:
    """The one known word, no name, that two neighbouring letters in each other's place made it of: "mcuh", "grpah"."""
    if len(word) < _SHORTEST - 1:
        return None
    swaps = (word[:place] + word[place + 1] + word[place] + word[place + 2 :] for place in range(1, len(word) - 1))
    known = {
        swap for swap in swaps if swap in vocabulary() and swap not in _counting() and swap not in words.concepts()
    }
    return known.pop() if len(known) == 1 else None


@cache
def _counting() -> frozenset[str]:
    """The words of units, numbers and months, which no misspelling away from a figure is mended to."""
    terms = [term for language in words.LANGUAGES for term in words.terms(language) if term.tag in _COUNTING]
    return frozenset(word for term in [*terms, *words.units()] for word in term.words) - {"meter", "meters"}


_COUNTING = ("small", "tens", "hundreds", "scale", "part", "month")


def _is_another(word: str, known: str) -> bool:
    """A short word with one letter changed is more likely another word ("marge", "marga") than a slip."""
    if len(word) == len(known) == _SHORTEST and sorted(word) != sorted(known):
        return True
    return OSA.distance(word, known) > (1 if len(word) < _LONG else 2)


@cache
def _unit_meanings() -> dict[str, str]:
    """Unit word -> its meaning."""
    return {term.words[0]: term.value for term in words.units() if len(term.words) == 1}


@cache
def number_words() -> frozenset[str]:
    """The words that numbers are said in, in any language."""
    tags = ("small", "tens", "hundreds", "scale", "part", "one")
    terms = [term for language in words.LANGUAGES for term in words.terms(language) if term.tag in tags]
    return frozenset(term.words[-1] for term in terms)


@lru_cache(maxsize=8192)
def mended_unit(word: str, *, glued: bool = False) -> str:
    """The word, or the unit word that one slip of a letter made it of. Only the place after a number allows this.

    A short one must be written on to the figure ("3hrd") and have all its letters: "45 man" is no time.
    """
    if word in vocabulary() or len(word) < _SHORTEST - 1 - glued:
        return word
    short = len(word) < _SHORTEST - 1
    near = [
        unit
        for unit in _unit_meanings()
        if unit[0] == word[0]
        and (len(unit) == len(word) if short else len(unit) >= _SHORTEST)
        and OSA.distance(word, unit, score_cutoff=1) <= 1
    ]
    meanings = {_unit_meanings()[unit] for unit in near}
    return near[0] if len(meanings) == 1 else word


def plain_items(tokens: list[Token]) -> Row:
    """One item a token; "um" is nothing."""
    row: Row = []
    for token in tokens:
        kind, text = token.kind, token.text
        if kind == "word" and text in _HESITATIONS:
            continue
        if text == "4" and token.glued and row and row[-1].text == "b":
            row[-1] = replace(row[-1], text="before")
            continue
        row.append(Item(kind, token.value if kind == "number" else None, text, token.start, token.end, token.glued))
    return row


_HESITATIONS = words.named("hesitations")


def with_mended(row: Row, text: str) -> Row:
    """The row with misspellings mended; not in what is a name: a word with a capital within a sentence."""
    out: Row = []
    for place, item in enumerate(row):
        if item.kind == "word" and not is_proper(row, place, text):
            counted = bool(out) and (out[-1].kind == "number" or out[-1].text in number_words())
            meant = mended(mended_unit(item.text, glued=item.glued) if counted else item.text)
            item = item if meant == item.text else replace(item, text=meant)
        out.append(item)
    return out


def is_proper(row: Row, place: int, text: str) -> bool:
    """Whether a word is a proper name by its capital: not at the head of a sentence, not in a shouted text."""
    item = row[place]
    if not place or row[place - 1].kind == "mark" or not text[item.start].isupper():
        return False
    return text[item.start : item.end].istitle() and not text.istitle()


def matching(found: Forms, row: Row, place: int) -> words.Term | None:
    """The longest form that stands at a place of words not yet taken."""
    second = row[place + 1].text if place + 1 < len(row) else ""
    for term in found.get(row[place].text, ()):
        size = len(term.words)
        if size > 1 and term.words[1] != second:
            continue
        stretch = row[place : place + size]
        if len(stretch) == size and all(
            item.text == word and item.kind != "plot" for item, word in zip(stretch, term.words, strict=True)
        ):
            return term
    return None


def tagged(row: Row, language: str) -> Row:
    """The row with every form of the word lists as one item of its tag."""
    found = forms(language)
    out: Row = []
    place = 0
    while place < len(row):
        item = row[place]
        term = matching(found, row, place) if item.kind == "word" or item.is_mark("/") else None
        if term is not None and item.kind == "mark" and len(term.words) == 1:
            term = None
        if term is None:
            named = item.kind == "word" and item.text in words.concepts()
            out.append(replace(item, kind="name") if named else item)
            place += 1
        else:
            out.append(joined(term.tag, term.value, row[place : place + len(term.words)]))
            place += len(term.words)
    return out
