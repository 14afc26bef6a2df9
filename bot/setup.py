"""Getting to know a plot by chat: which question comes next, and what an answer to one of our own questions means."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Sequence

from rules.terms import Plot

# In the order of what they decide; each is asked once a plot at most.
_QUESTIONS = ("plant", "place", "soil", "method")
SKIPS = frozenset({"skip", "pass", "next", "saltar", "saltear", "pasar", "paso", "omitir", "siguiente"})
_YES = frozenset({"yes", "y", "yeah", "yep", "ok", "si", "sure", "claro", "simon"})
_UNITS = {
    "us": "in inch inches ft feet gal gallon gallons gph gpm pulg pulgada pulgadas galon galones pies",
    "metric": "mm cm m2 litre litres liter liters litro litros centimetros milimetros metros hectarea hectareas kpa celsius",
}
_NO = frozenset({"no", "n", "nope", "nop"})


def units_used(text: str) -> str | None:
    """`us` or `metric`, by the units that a text names; None when it names none, or both."""
    words = set(plain(text).split())
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
    return next((about for about in _QUESTIONS if not known[about] and about not in before), None)


def plain(text: str) -> str:
    """A short answer as it is compared: lower case, no accents, no marks."""
    bare = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode().lower()
    return " ".join("".join(letter if letter.isalnum() else " " for letter in bare).split())


def chosen(text: str, choices: Sequence[str], letters: bool = False) -> str | None:
    """The choice that a short answer names by number, letter, word, yes or no; None when it names none.

    Args:
        letters: the choices were marked A, B, C, D; only then is a letter one of them.
    """
    said = plain(text)
    words = said.split()
    if not words or len(words) > 6:
        return None
    if said.isdigit() and 1 <= int(said) <= len(choices):
        return choices[int(said) - 1]
    if letters and len(words[0]) == 1 and "a" <= words[0] < chr(ord("a") + len(choices)):
        return choices[ord(words[0]) - ord("a")]
    named = [choice for choice in choices if f" {plain(choice.replace('_', ' '))} " in f" {said} "]
    if named:
        return max(named, key=len)
    if words[0] in _YES and "yes" in choices:
        return "yes"
    return "no" if words[0] in _NO and "no" in choices else None
