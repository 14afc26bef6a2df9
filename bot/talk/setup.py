"""Getting to know a plot by chat: which question comes next, and what an answer to one of our own questions means."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Sequence

from rules.terms import Plot

# In the order of what they decide; each is asked once a plot at most.
QUESTIONS = ("plant", "place", "soil", "method")
SKIPS = frozenset({"skip", "pass", "next", "saltar", "saltear", "pasar", "paso", "omitir", "siguiente"})
_YES = frozenset({"yes", "y", "yeah", "yep", "ok", "si", "sure", "claro", "simon"})
_UNITS = {
    "us": "inch inches ft feet gal gallon gallons gph gpm pulg pulgada pulgadas galon galones pies",
    "metric": "mm cm m2 litre litres liter liters litro litros centimetros milimetros metros hectarea hectareas kpa celsius",
}
# Said to what needs no answer, too.
_AGREED = frozenset({"ok", "sure", "claro"})
_NO = frozenset({"no", "n", "nope", "nop"})
_ORDINALS = (
    "first 1st primera primero primer uno una",
    "second 2nd segunda segundo two dos",
    "third 3rd tercera tercero tercer three tres",
    "fourth 4th cuarta cuarto four cuatro",
    "fifth 5th quinta quinto five cinco",
    "sixth 6th sexta sexto six seis",
)
_LAST = frozenset({"last", "ultima", "ultimo"})
_AROUND_A_NUMBER = "the a an one ones number no option la el lo las los opcion numero creo i think guess please"
_WORD = re.compile(r"[a-z0-9]+")
# "in" is a word of every day; only after a figure is it an inch.
_INCHES = re.compile(r"\d ?(?:in\b|\")")


def units_used(text: str) -> str | None:
    """`us` or `metric`, by the units that a text names; None when it names none, or both."""
    words = set(plain(text).split()) | ({"inch"} if _INCHES.search(text) else set())
    found = [system for system, names in _UNITS.items() if words & set(names.split())]
    return found[0] if len(found) == 1 else None


def next_question(plot: Plot, has_place: bool, asked: Iterable[str]) -> str | None:
    """The fact to ask for next, or None when there is nothing left to ask.

    Args:
        asked: what was asked about this plot before.
    """
    known = {
        "plant": plot.plant is not None,
        "place": has_place,
        "soil": plot.soil is not None or plot.container_litres is not None,
        "method": plot.method is not None or plot.rate_mm_h is not None or plot.container_litres is not None,
    }
    before = set(asked)
    return next((about for about in QUESTIONS if not known[about] and about not in before), None)


def folded(text: str) -> str:
    """A text in lower case and without accents, its marks kept."""
    return unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode().lower()


def plain(text: str) -> str:
    """A short answer as it is compared: lower case, no accents, no marks."""
    return " ".join(_WORD.findall(folded(text)))


def chosen(text: str, choices: Sequence[str], letters: bool = False) -> str | None:
    """The choice that a short answer names by number, letter, word, yes or no; None when it names none.

    Args:
        letters: the choices were marked A, B, C, D; only then is a letter one of them.
    """
    said = plain(text)
    words = said.split()
    if not words or len(words) > 6:
        return None
    number = _number(words, len(choices))
    if number is not None:
        return choices[number - 1]
    if letters and len(words[0]) == 1 and "a" <= words[0] < chr(ord("a") + len(choices)):
        return choices[ord(words[0]) - ord("a")]
    named = [choice for choice in choices if f" {plain(choice.replace('_', ' '))} " in f" {said} "]
    if named:
        return max(named, key=len)
    if words[0] in _YES and "yes" in choices:
        return "yes"
    return "no" if words[0] in _NO and "no" in choices else None


def yes_or_no(text: str) -> bool:
    """Whether a text is no more than a yes or a no."""
    return plain(text) in (_YES | _NO) - _AGREED


def _number(words: Sequence[str], count: int) -> int | None:
    """The place in a list that a short answer points to: `2`, `the second one`, `la ultima`; None when it points to none."""
    told = [word for word in words if word not in _AROUND_A_NUMBER.split()]
    if len(told) != 1 or not count:
        return None
    if told[0] in _LAST:
        return count
    named = [place for place, names in enumerate(_ORDINALS, 1) if told[0] in names.split()]
    number = int(told[0]) if told[0].isdigit() else next(iter(named), 0)
    return number if 1 <= number <= count else None
