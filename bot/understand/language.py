"""The language of a message: which language's everyday words it has more of."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from bot.understand import words
from bot.understand.items import Row
from bot.understand.lexicon import is_proper


@cache
def _weights() -> dict[str, dict[str, float]]:
    """Word -> weight, a language: everyday words and words of the lists count one, names of plants half."""
    found: dict[str, dict[str, float]] = {}
    for language in words.LANGUAGES:
        weights = dict.fromkeys(words.name_words(language), 0.6)
        for term in words.terms(language):
            for word in term.words:
                if word.isalpha() and len(word) > 1 and (len(term.words) == 1 or len(word) > 3):
                    weights[word] = 1.0
        weights.update(dict.fromkeys(words.plain(language), 1.0))
        weights.update(dict.fromkeys(_UNIT_WORDS[language], 1.0))
        for word in _NEUTRAL:
            weights.pop(word, None)
        found[language] = weights
    shared = {word for word in found["en"] if all(word in weights for weights in found.values())}
    for language, weights in found.items():
        for word in shared:
            everyday = [other for other in words.LANGUAGES if word in words.plain(other)]
            if everyday != [language]:
                weights.pop(word)
    return found


_NEUTRAL = frozenset({"ok", "okay", "no", "me", "a", "idea"})
_UNIT_WORDS = {language: words.named(f"unit_words_{language}") for language in words.LANGUAGES}


def language_of(row: Row, chosen: str | None, text: str) -> str:
    """The language of the words of a row; the person's own, else English, where the words do not tell."""
    weights = _weights()
    texts = [
        item.text
        for place, item in enumerate(row)
        if item.kind == "word" and not is_proper(row, place, text) and not _is_short_unit(row, place)
    ]
    scores = {language: _score(texts, weights[language]) for language in words.LANGUAGES}
    best = max(scores.values())
    leading = [language for language, score in scores.items() if score == best]
    if best and len(leading) == 1:
        return leading[0]
    return chosen if chosen in words.LANGUAGES else words.LANGUAGES[0]


def _is_short_unit(row: Row, place: int) -> bool:
    """ "12 in", "5 gal": written so in either language."""
    text = row[place].text
    return place > 0 and row[place - 1].kind == "number" and len(text) < _LONG and text in _UNIT_WORDS["en"]


_LONG = 4


def _score(texts: Iterable[str], weights: dict[str, float]) -> float:
    return sum(weights.get(text, 0.0) for text in texts)
