"""Words of danger, looked for in every message before anything else is read: they are answered alone and go to a person.

The words are data; the wording of the answers is in the catalogue under the same caution ids.
"""

from __future__ import annotations

import re
import unicodedata

_WORDS: dict[str, tuple[str, ...]] = {
    "distress": (
        r"kill (?:my|him|her)self", r"suicid\w*", r"want to die", r"end my life", r"hurt (?:myself|my family)", r"matarme",
        r"quiero morir\w*", r"me quiero matar",
    ),
    "shock": (
        r"tingl\w*", r"(?:got|getting|gave me|felt) (?:a )?(?:shock|shocked|zap\w*)", r"electric shock", r"sparks?", r"sparking",
        r"breaker (?:keeps )?trip\w*", r"calambre", r"toques? (?:de|con) (?:la )?(?:bomba|luz|corriente)", r"chispas?", r"me dio toques",
    ),
    "pits": (r"(?:in|into) the (?:well )?pit", r"manhole", r"bajar al pozo", r"meterme al pozo"),
    "chemicals": (
        r"(?:weed ?killer|herbicide|pesticide|insecticide|bleach|acid|fertili[sz]er|roundup) (?:in|into|through|thru|with) (?:my |the )?(?:drip|sprinkler\w*|irrigation|line\w*|water)",
        r"chemigat\w*", r"fertigat\w*", r"herbicida (?:en|por) (?:el |la )?(?:goteo|riego)",
    ),
    "sprayed_field": (r"spray(?:ed)? (?:yesterday|today|this morning).{0,40}(?:go in|irrigate|water)", r"\brei\b.{0,20}(?:hours|over)"),
    "frost_sprinkling": (
        r"sprinklers? (?:on )?all ni(?:ght|te)", r"(?:run|running) (?:the )?sprinklers?.{0,30}(?:frost|freeze|ice)",
        r"aspersores toda la noche",
    ),
    "tree_may_fall": (
        r"tree.{0,40}(?:leaning|about to fall|cracked trunk)", r"mushrooms?.{0,30}(?:base|trunk|foot of)", r"arbol.{0,40}(?:inclinad\w*|se va a caer)",
    ),
    "heat": (r"(?:feel|feeling|got|im|i'm|worker|he is|she is) (?:\w+ ){0,2}(?:dizzy|faint\w*|confused)", r"heat ?stroke", r"me siento mareado", r"mareado\b"),
}  # fmt: skip

_PATTERNS = tuple((caution, re.compile(r"\b(?:" + "|".join(words) + r")")) for caution, words in _WORDS.items())
# Beyond this a text is no call for help that a machine should judge; the first part is looked at.
_LONGEST = 4000


def danger(text: str) -> str | None:
    """The caution id that a message's words call for, the gravest first; None for an ordinary message."""
    bare = unicodedata.normalize("NFKD", text[:_LONGEST]).encode("ascii", "ignore").decode().lower()
    bare = " ".join(bare.split())
    return next((caution for caution, pattern in _PATTERNS if pattern.search(bare)), None)
