"""The word lists: which words mean what, one CSV a language, units and names shared. Read once, at first use.

`en.csv`, `es.csv`: columns `tag,value,words`; forms are parted by `|`, written folded (lower case, no accents).
`en_phrases.csv`, `es_phrases.csv`: columns `tag,value,patterns` (see patterns.py for the small pattern language).
`sets.csv`: small sets of words by name, all languages together.
`units.csv`: dimension, factor to the base unit, name, forms. `names.csv`: one plant or kind of place a row, by language.
`slips.csv`: short words as the keys or the ear make them of others.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from pathlib import Path

LANGUAGES = ("en", "es")
_HERE = Path(__file__).parent


@dataclass(frozen=True, slots=True)
class Term:
    """A form of words with its meaning."""

    words: tuple[str, ...]
    tag: str
    value: str


@cache
def rows(file: str) -> tuple[tuple[str, ...], ...]:
    """The rows of a packaged list, without its header."""
    with (_HERE / file).open(encoding="utf-8", newline="") as lines:
        return tuple(tuple(row) for row in csv.reader(lines) if row and not row[0].startswith("#"))[1:]


@cache
def terms(language: str) -> tuple[Term, ...]:
    """The terms of one language."""
    return tuple(
        Term(tuple(form.split()), tag, value)
        for tag, value, forms in rows(f"{language}.csv")
        for form in forms.split("|")
    )


@cache
def named(name: str) -> frozenset[str]:
    """A small set of words, of all languages, that one rule looks for (sets.csv). Raises: StopIteration when there is none."""
    return frozenset(next(row[1] for row in rows("sets.csv") if row[0] == name).split("|"))


@cache
def of_sets() -> frozenset[str]:
    """Every word of any small set; `look_alikes` are common words that are nearly a word of the lists and are none."""
    return frozenset(word for row in rows("sets.csv") for form in row[1].split("|") for word in form.split())


@cache
def slips() -> dict[str, str]:
    """Common slips of the keys and of the ear -> the word meant (slips.csv)."""
    return {row[0]: row[1] for row in rows("slips.csv")}


@cache
def spoken_marks() -> dict[tuple[str, ...], str]:
    """The names of marks as a telephone writes them down when it takes them for words (sets.csv, `spoken_` and the mark)."""
    named = {"spoken_stop": ".", "spoken_comma": ",", "spoken_question": "?", "spoken_call": "!", "spoken_line": "\n"}
    found = {row[0]: row[1].split("|") for row in rows("sets.csv") if row[0] in named}
    return {tuple(form.split()): mark for name, mark in named.items() for form in found[name]}


@cache
def units() -> tuple[Term, ...]:
    """The forms of every unit; the value is `dimension factor`."""
    found = []
    for dimension, factor, name, forms in rows("units.csv"):
        meaning = f"{dimension} {factor} {name.split()[0]}"
        found += [Term(tuple(form.split()), "unit", meaning) for form in forms.split("|")]
    return tuple(found)


@cache
def concepts() -> dict[str, str]:
    """Word of a name in any language -> its concept, so that "duraznos" and "peaches" meet."""
    found: dict[str, str] = {}
    for row in rows("names.csv"):
        for form in "|".join(row[1:]).split("|"):
            if form:
                found.setdefault(form, row[0])
    return found


@cache
def kinds_of_place() -> frozenset[str]:
    """Names of places and sizes, which are no plants: "bed", "north", "big"."""
    return frozenset(
        word
        for row in rows("names.csv")
        if row[0] in named("concepts_of_place")
        for form in row[1:]
        for word in form.split("|")
    )


@cache
def name_words(language: str) -> frozenset[str]:
    """The words of names in one language."""
    column = 1 + LANGUAGES.index(language)
    return frozenset(word for row in rows("names.csv") for form in row[column].split("|") for word in form.split())


@cache
def phrase_words(language: str) -> frozenset[str]:
    """Every single word that a pattern of one language names."""
    forms = "|".join(row[2] for row in rows(f"{language}_phrases.csv"))
    return frozenset(
        word.strip("()") for word in forms.replace("|", " ").replace("/", " ").split() if word.strip("()").isalpha()
    )


@cache
def plain(language: str) -> frozenset[str]:
    """Everyday words of one language: they tell the language and are never taken for a misspelling."""
    return frozenset(term.words[0] for term in terms(language) if term.tag == "plain")
