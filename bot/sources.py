"""How sure a told fact is, by the words that it comes with."""

from __future__ import annotations

from bot.setup import plain

_CANS = frozenset(["can", "cans", "cups", "tuna", "measured", "caught", "lata", "latas", "vasos", "medi"])
_LAB = frozenset({"lab", "laboratory", "tested", "laboratorio", "analisis"})
_GUESS = frozenset({"think", "guess", "guessing", "maybe", "probably", "perhaps", "creo", "supongo", "quizas", "quiza"})


def soil_source(text: str) -> str | None:
    """How sure a told soil is, by the words beside it: `lab`, `guess`, or None."""
    said = set(plain(text).split())
    return "lab" if said & _LAB else "guess" if said & _GUESS else None


def measured(text: str) -> bool:
    """Whether a rate was caught in cans, as a row of numbers or the word for it shows."""
    said = plain(text).split()
    return bool(_CANS & set(said)) or sum(word.isdigit() for word in said) > 3
