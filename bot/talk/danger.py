"""Words of danger, looked for in every message before anything else is read: they are answered alone and go to a person.

The words are data; the wording of the answers is in the catalogue under the same caution ids.
"""

from __future__ import annotations

import re

from bot.talk.setup import folded

_CHEMICAL = (
    r"(?:weed ?killer|herbicid[ea]|pesticid[ea]|insecticid[ea]|fungicid[ea]|bleach|acid|fertili[sz]er|plant food|glyphosate"
    r"|fertilizante|abono|cloro|veneno|acido|glifosato|matahierba\w*|matamaleza\w*)"
)
_WATERS = r"(?:drip|sprinkler\w*|irrigation|lines?|water|hose|tank|well|pump|goteo|goteros|riego|agua|manguera|tanque|tinaco|pozo|bomba|lineas?|aspersor\w*)"
_WORDS: dict[str, tuple[str, ...]] = {
    "distress": (
        r"kill (?:my|him|her)self", r"suicid\w*", r"want to die", r"end (?:my life|it all)", r"hurt (?:myself|my family)",
        r"(?:don.?t|do not) want to (?:live|be alive|be here|wake up|go on)", r"(?:no|any) (?:reason|point) (?:to|in) (?:live|living|go on|going on)",
        r"(?:wish|wished) i (?:was|were) dead", r"better off (?:dead|without me)", r"i (?:can.?t|cannot) (?:do this|go on) any ?more",
        r"so am i\b.{0,10}dead", r"dead.{0,12}so am i", r"matarme", r"quiero morir\w*", r"me quiero matar", r"no quiero (?:vivir|seguir viviendo|seguir asi)",
        r"quitarme la vida", r"no vale la pena (?:vivir|seguir)", r"ya no (?:quiero|puedo) (?:vivir|seguir|mas con la vida)",
    ),
    "shock": (
        r"tingl\w*", r"(?:got|getting|gave me|felt) (?:a )?(?:shock|shocked|zap\w*)", r"electric shock", r"sparks?", r"sparking",
        r"breaker (?:keeps )?trip\w*", r"(?:bare|live|exposed|downed|fallen|loose electric\w*) (?:electric\w* )?(?:wires?|cables?)",
        r"power ?lines? (?:is |are )?(?:down|fell|fallen|on the ground)", r"(?:cables?|alambres?) (?:electricos? )?(?:pelad\w*|viv\w*|caid\w*)", r"calambre", r"toques? (?:de|con) (?:la )?(?:bomba|luz|corriente)", r"chispas?", r"me dio toques",
    ),
    "swallowed": (
        r"(?:i|we|he|she|kids?|child|boy|girl|son|daughter|baby|toddler|worker) (?:\w+ )?(?:drank|drunk|swallowed|drinks) .{0,30}(?:water|pump|canal|ditch|hose|pond|spray|chemical|herbicide|pesticide|fertili[sz]er|bleach)",
        r"(?:tome|tomo|tomaron|bebi|bebio|bebieron|trago|trague) (?:\w+ ){0,2}(?:agua (?:del?|sucia|tratada|con)|veneno|herbicida|insecticida|fertilizante|cloro)",
    ),
    "open_water": (r"(?:fell|fallen|slipped) (?:in|into) (?:the |a )?(?:canal|ditch|pond|reservoir)", r"se cayo (?:al|en el|a la) (?:canal|acequia|estanque|pila)"),
    "pits": (r"(?:in|into) the (?:well )?pit", r"manhole", r"bajar al pozo", r"meterme al pozo"),
    "chemicals": (
        rf"{_CHEMICAL} (?:(?:in|into|through|thru|with) (?:my |the )?|(?:en|por|con|al?) (?:el |la |los |las |mi )?(?:agua del? )?){_WATERS}\b",
        r"chemigat\w*", r"fertigat\w*", r"fertirrig\w*", r"fertirrieg\w*",
    ),
    "sprayed_field": (r"spray(?:ed)? (?:yesterday|today|this morning).{0,40}(?:go in|irrigate|water)", r"\brei\b.{0,20}(?:hours|over)"),
    "frost_sprinkling": (
        r"sprinklers? (?:on )?all ni(?:ght|te)", r"(?:run|running) (?:the )?sprinklers?.{0,30}(?:frost|freeze|ice)",
        r"aspersores toda la noche",
    ),
    "tree_may_fall": (
        r"tree.{0,40}(?:leaning|about to fall|cracked trunk)", r"mushrooms?.{0,30}(?:base|trunk|foot of)", r"arbol.{0,40}(?:inclinad\w*|se va a caer)",
    ),
    "heat": (r"(?:feel|feeling|got|im|i'm|worker|he is|she is) (?:\w+ ){0,2}(?:dizzy|faint\w*|confused)", r"heat ?stroke", r"(?:passed out|collapsed) (?:in|from) the (?:heat|field|sun|orchard|vineyard)",
        r"se desmayo", r"golpe de calor", r"me siento mareado", r"mareado\b"),
}  # fmt: skip

_PATTERNS = tuple((caution, re.compile(r"\b(?:" + "|".join(words) + r")")) for caution, words in _WORDS.items())
# Beyond this a text is no call for help that a machine should judge; the first part is looked at.
_LONGEST = 4000


def danger(text: str) -> str | None:
    """The caution id that a message's words call for, the gravest first; None for an ordinary message."""
    bare = " ".join(folded(text[:_LONGEST]).split())
    return next((caution for caution, pattern in _PATTERNS if pattern.search(bare)), None)
