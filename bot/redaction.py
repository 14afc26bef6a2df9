"""Texts without what could tell who somebody is: only words that the line itself knows are kept, and small numbers.

Names can't be told from other words by looking, so it goes the other way round: what is not known to be harmless is left out.
"""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from collections.abc import Sequence
from functools import cache, lru_cache

from bot.understand.lexicon import vocabulary
from bot.word import catalogue

# What is left out, and why; the mark that stands in its place bears the same word.
WHY = {
    "address": "an e-mail address or a link",
    "coordinates": "a place on the map",
    "place": "a place that somebody told",
    "number": "a number of four figures or more, or beside a name: a telephone, a ZIP code, a house",
    "word": "a word that the line does not know, or written like a name: it may name somebody",
}
_ADDRESS = re.compile(r"\S+@\S+|https?://\S+|www\.\S+|\b[\w-]+(?:\.[\w-]+)+/\S*")
_DEGREES = r"[-+]?\d{1,3}\.\d+\s*°?\s*[NSEWnsew]?"
_COORDINATES = re.compile(rf"{_DEGREES}\s*[,;/ ]\s*{_DEGREES}|[-+]?\d{{1,3}}\.\d{{3,}}")
_MARK = r"\[(?:address|coordinates|place|number|word)\]"
_NUMBER = r"\(?\+?\d(?:[\d().\s-]*\d)?"
_WORD = r"[^\W\d_]+(?:['’][^\W\d_]+)*"
_PARTS = re.compile(f"({_MARK})|({_NUMBER})|({_WORD})")
_BESIDE_A_WORD = re.compile(r"\d+ (?=\[word\])|(?<=\[word\] )\d+")
_MOST_FIGURES, _SHORTEST_TELEPHONE = 3, 7
_ENDS_SENTENCE = ".!?:;/\n("
# Written large within a sentence all the same.
_WRITTEN_LARGE = (
    "i mon tue wed thu fri sat sun monday tuesday wednesday thursday friday saturday sunday jan feb mar apr jun jul aug sep "
    "oct nov dec january february march april june july august september october november december"
)
_LARGE = frozenset(_WRITTEN_LARGE.split())


def redacted(text: str, places: Sequence[str]) -> tuple[str, Counter[str]]:
    """The text with marks for what was left out, and how often each kind was.

    Args:
        places: names of places that people told.
    """
    counts: Counter[str] = Counter()
    text = _marked(_ADDRESS, text, "address", counts)
    text = _marked(_COORDINATES, text, "coordinates", counts)
    told = _told_places(tuple(places))
    text = _marked(told, text, "place", counts) if told else text
    text = _PARTS.sub(lambda part: _part(part, counts), text)
    return _marked(_BESIDE_A_WORD, text, "number", counts), counts


@lru_cache(maxsize=4)
def _told_places(places: tuple[str, ...]) -> re.Pattern[str] | None:
    """What finds any of these, the longest first; None where there are none."""
    named = sorted({name.strip() for name in places if name.strip()}, key=len, reverse=True)
    pattern = "|".join(re.escape(name) for name in named)
    return re.compile(rf"(?<!\w)(?:{pattern})(?!\w)", re.IGNORECASE) if named else None


def _marked(pattern: re.Pattern[str], text: str, what: str, counts: Counter[str]) -> str:
    said, count = pattern.subn(f"[{what}]", text)
    counts[what] += count
    return said


def _part(part: re.Match[str], counts: Counter[str]) -> str:
    """A number or a word as it may stand, or its mark; a mark as it is."""
    mark, number, word = part.groups()
    begins = _begins_sentence(part.string, part.start())
    if mark or (number and _small(number)) or (word and _harmless(word, begins)):
        return part[0]
    what = "number" if number else "word"
    counts[what] += 1
    return f"[{what}]"


def _begins_sentence(text: str, start: int) -> bool:
    """Whether what stands there is the first of a sentence."""
    while start and text[start - 1] == " ":
        start -= 1
    return not start or text[start - 1] in _ENDS_SENTENCE


def _small(number: str) -> bool:
    """Whether figures are too few for a telephone or a ZIP code, also when they stand apart: `555 0101`."""
    runs = re.findall(r"\d+", number)
    return all(len(run) <= _MOST_FIGURES for run in runs) and sum(map(len, runs)) < _SHORTEST_TELEPHONE


def _harmless(word: str, begins: bool) -> bool:
    """Whether a word is known, and not written like a name: large within a sentence, and not all of it."""
    plain = _folded(word)
    like_a_name = word[0].isupper() and not word.isupper() and not begins and plain not in _LARGE
    return plain in _known() and not like_a_name


@cache
def _known() -> frozenset[str]:
    """Every word of the lists and of the line's own sentences."""
    said = (
        form
        for language in catalogue.LANGUAGES
        for key in catalogue.keys(language)
        for form in catalogue.forms(key, language)
    )
    own = {_folded(word) for form in said for word in re.findall(_WORD, re.sub(r"\{\w+\}", " ", form))}
    return frozenset(vocabulary()) | own | _LARGE


@lru_cache(maxsize=1 << 16)
def _folded(word: str) -> str:
    bare = unicodedata.normalize("NFKD", word).encode("ascii", "ignore").decode()
    return bare.lower().replace("'", "")
