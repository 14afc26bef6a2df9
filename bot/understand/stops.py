"""STOP and all that a reasonable person takes for it: bare or among small words, misspelled, or as a sentence in any language.

Whoever texts so is silenced whatever was asked of them and whichever language was spoken before: in doubt for silence, as 47 CFR
64.1200(a)(10) has it. A message that brings a figure tells something of the garden, and only its own sentences count
(`order,stop` of the phrases).
"""

from __future__ import annotations

from itertools import groupby

from rapidfuzz.distance import OSA

from bot.understand import words
from bot.understand.items import Item, Row
from bot.understand.lexicon import mended, vocabulary
from bot.understand.patterns import Fit, fits

_TAGS = ("stop", "order")
# Short reserved words that the mending of longer ones passes by.
_SHORT = ("stop", "alto")


def language_of_stop(row: Row, language: str) -> str | None:
    """The language in which a message says stop and nothing of the garden; None: it does not.

    Args:
        row: the words as written, not mended.
        language: the one that the message seems to be in, which goes before others.
    """
    said = [item.text for item in row if item.kind in ("word", "number") or item.text in words.named("stop_words")]
    found = {one: _fits(row, one) for one in _from(language)}
    bare = not _asks_if_enough(row) and not any(fit.value == "undo" for fit in found[language]) and _is_bare(said)
    if bare:
        return "es" if words.named("stop_words_es").issuperset(_told(said)) else language
    if any(item.kind == "number" for item in row):
        return None
    return next((one for one in found if any(fit.value == "stop" for fit in found[one])), None)


def _asks_if_enough(row: Row) -> bool:
    """ "enough?" asks whether it was water enough; "ENOUGH!" ends."""
    asks = any(item.is_mark("?", "¿") for item in row)
    return asks and any(item.text == "enough" for item in row) and not any(item.text in _STOP for item in row)


_STOP = words.named("stop_words") - {"enough"} | words.named("stop_sent")


def _is_bare(said: list[str]) -> bool:
    """Whether nothing is told but to end, or to end what is sent: no word speaks of anything else."""
    told = _told(said)
    if "".join(said).replace("0", "o") in _reserved():  # "s t o p", "un subscribe", "st0p"
        return True
    ends = [_ends(word) for word in told]
    sent = [word in words.named("stop_sent") or mended(word) in words.named("stop_sent") for word in told]
    if all(end or of for end, of in zip(ends, sent, strict=True)) and any(sent):
        return any(ends)
    return bool(told) and all(_is_reserved(word) for word in told)


def _told(said: list[str]) -> list[str]:
    """The words beside the small ones and the courtesies."""
    return [word for word in said if word not in words.named("stop_beside")]


def _reserved() -> frozenset[str]:
    return words.named("stop_words") | words.named("stop_words_es")


def _ends(word: str) -> bool:
    return word in words.named("stop_endings") or _is_reserved(word)


def _is_reserved(word: str) -> bool:
    return word in _reserved() or _slipped(word) or mended(word) in _reserved()


def _slipped(word: str) -> bool:
    """Whether two letters of a short reserved word changed places, or one was doubled or left out: "stpo", "stopp"."""
    return word not in vocabulary() and any(
        OSA.distance(word, known) <= 1 and (len(word) != len(known) or sorted(word) == sorted(known))
        for known in _SHORT
    )


def _from(language: str) -> list[str]:
    return [language, *(other for other in words.LANGUAGES if other != language)]


def _fits(row: Row, language: str) -> list[Fit]:
    """The patterns that fit between two marks of the message."""
    parts = [[mended(item.text) for item in part] for mark, part in groupby(row, _is_mark) if not mark]
    return [fit for part in parts for fit in fits(part, language) if fit.tag in _TAGS]


def _is_mark(item: Item) -> bool:
    return item.kind == "mark"
