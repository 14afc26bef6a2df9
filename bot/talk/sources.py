"""How sure a told fact is, by the words that it comes with."""

from __future__ import annotations

import re

from bot import understand
from bot.talk.setup import plain
from rules.can_test import CanTest, can_test

_CANS = frozenset(
    {"can", "cans", "cups", "tuna", "measured", "caught", "meter", "lata", "latas", "vasos", "medi", "medidor"}
)
_LAB = frozenset({"lab", "laboratory", "tested", "laboratorio", "analisis"})
_GUESS = frozenset({"think", "guess", "guessing", "maybe", "probably", "perhaps", "creo", "supongo", "quizas", "quiza"})

_AFTER = re.compile(
    r"\b(?:after|at|in|within|a los|despues de|tras|en) (?:about |like |unos |como )?(\d{1,3}) ?(?:min|mins|minutes?|minutos?)\b"
)


def soil_source(text: str) -> str | None:
    """How sure a told soil is, by the words beside it: `lab`, `guess`, or None."""
    said = set(plain(text).split())
    return "lab" if said & _LAB else "guess" if said & _GUESS else None


def measured(text: str) -> bool:
    """Whether a rate was caught in cans or counted by a meter, as a row of numbers or the word for it shows."""
    said = plain(text).split()
    return bool(_CANS & set(said)) or sum(word.isdigit() for word in said) > 3


def cans_told(text: str, units: str) -> CanTest | None:
    """How evenly the cans of a can test were filled; None where no cans were told of."""
    depths_mm = understand.can_depths_mm(text, units)
    return can_test(depths_mm, minutes=1) if depths_mm else None


def runoff_minutes(text: str) -> float | None:
    """After how many minutes water was seen to run off or stand; None where the text does not say."""
    found = _AFTER.search(plain(text))
    return float(found[1]) if found and float(found[1]) > 0 else None
