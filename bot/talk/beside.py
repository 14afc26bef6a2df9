"""What is not about how much water: pests and feeding, anger, a broken instrument, a picture, and waters that call for a caution.

Each has its own answer.
"""

from __future__ import annotations

import re
from typing import Any

from bot.talk.setup import folded

# Beyond this nothing is looked for.
_LOOKED_AT = 1000
_WORDS = (
    r"aphids?", r"mites?", r"bugs?", r"beetles?", r"worms?", r"ants?", r"slugs?", r"pests?", r"spray", r"insecticide", r"fungus", r"mildew",
    r"blight", r"weeds?", r"fertili[sz]\w*", r"compost", r"manure", r"prune", r"pruning", r"what (?:should|can|do) i plant", r"which variety",
    r"plagas?", r"pulgon\w*", r"hormigas?", r"gusanos?", r"hongos?", r"abono", r"fertilizante", r"podar", r"que siembro", r"maleza\w*",
)  # fmt: skip
_YOU = r"(?:you|ur?|your|this|bot|robot|line|computer|machine|maquina|people|advice|ustedes|usted|esto|esta cosa)"
_BAD = r"(?:useless|worthless|stupid|dumb|garbage|ridiculous|crap|inutil\w*|estupid\w*|porqueria\w*)"
_ANGER = (
    rf"{_YOU}\b(?: \w+){{0,3}} {_BAD}", rf"{_BAD} (?:\w+ )?{_YOU}", rf"^{_BAD}$", rf"{_YOU}(?: \w+)? killed (?:my|our|the|all)",
    r"idiots?", r"morons?", r"waste of (?:my )?(?:time|money)", r"i want my money", r"sue you", r"wtf", r"fuck\w*", r"bullshit",
    r"no sirven (?:para|ustedes)", r"no sirve para nada", r"idiotas?", r"(?:me )?mataron (?:mi|mis|el|los|la|las)", r"se murio por su culpa", r"pendej\w*",
)  # fmt: skip
_BROKEN = (
    r"(?:probe|gauge|meter|sensor|wire|tensiometer|tube)s? (?:\w+ ){0,3}(?:broke\w*|dead|leak\w*|cracked|chewed|cut|dug up|busted|not working|(?:doesn.?t|wont|won.?t|quit|stopped) work\w*)",
    r"(?:broke|chewed|cut|dug up|lost) (?:\w+ ){0,2}(?:probe|gauge|meter|sensor|wire|tensiometer)",
    r"(?:sensor|medidor|tensiometro|aparato|cable) (?:\w+ ){0,3}(?:descompuesto|roto|quebrado|no sirve|no jala|se (?:rompio|descompuso|quebro))",
    r"(?:no sirve|se (?:me )?(?:rompio|descompuso|quebro)|cortaron|mordieron) (?:el|la|mi) (?:sensor|medidor|tensiometro|aparato|cable)",
)  # fmt: skip
# Words that call for a caution, whatever else the message says.
_CAUTIONS = {
    "caution.salt": (r"white crust", r"salt(?:y)? (?:crust|burn|build ?up|water)", r"ec (?:of|is|at)", r"costra blanca", r"salitre", r"agua salada"),
    "caution.reclaimed": (r"purple pipe", r"(?:reclaimed|recycled) water", r"tubo morado", r"tuberia morada", r"agua (?:tratada|reciclada|morada)"),
    "caution.gray_water": (r"gr[ae]y ?water", r"washing machine water", r"laundry water", r"aguas? gris(?:es)?", r"agua de la lavadora"),
    "caution.hot_hose": (r"hose (?:water )?(?:is |was |comes out )?(?:\w+ )?(?:boiling|hot|scalding|burn\w*)", r"manguera (?:\w+ ){0,3}(?:hirviendo|caliente|quema\w*)"),
    "caution.drain_field": (r"septic", r"leach ?field", r"drain ?field", r"fosa septica"),
    "caution.low_well": (r"(?:well|pump) (?:\w+ ){0,3}(?:sucking air|running dry|ran dry|spitting air|out of water)", r"(?:pozo|bomba) (?:\w+ ){0,3}(?:saca aire|se seco|chupa aire|sin agua)"),
}  # fmt: skip
_WHO = (
    r"who (?:are you|is this|am i texting)", r"what is this", r"is this (?:free|a bot|a robot|a person|real|legit|a scam)",
    r"are you (?:a |an )?(?:bot|robot|person|human|real|computer|machine)", r"how much does (?:this|it) cost", r"quien (?:eres|es usted|habla)",
    r"es gratis", r"cuanto cuesta esto", r"que es esto",
)  # fmt: skip
_PICTURE = (r"pics?", r"pictures?", r"photos?", r"fotos?", r"imagen(?:es)?")
# In this order: who is angry is heard before anything else.
_PATTERNS = tuple(
    (about, re.compile(r"\b(?:" + "|".join(words) + r")\b"))
    for about, words in (
        ("upset", _ANGER),
        *_CAUTIONS.items(),
        ("hello", _WHO),
        ("not_our_job", _WORDS),
        ("broken_probe", _BROKEN),
        ("unread.picture", _PICTURE),
    )
)


_OTHER = (
    ("other.winter", re.compile(r"\b(?:in|through|all|over|en|durante) (?:the |el )?(?:winter|invierno)\b")),
    (
        "other.cans",
        re.compile(
            r"\b(?:how much (?:water )?(?:\w+ ){1,3}puts? out|how (?:do|can) \w+ measure (?:\w+ )?(?:sprinklers?|rate|output)|can test|catch cans?"
            r"|cuanta agua (?:\w+ ){0,2}(?:da|dan|tira|tiran|echa|echan|sale)|como mido (?:\w+ ){0,3}(?:aspersor\w*|riego)|prueba de (?:latas|botes))\b"
        ),
    ),
    (
        "other.feel",
        re.compile(
            r"\b(?:how (?:do|can|should) \w+ (?:check|feel|tell|know|read|test) (?:\w+ ){0,3}(?:soil|ground|dirt|dry|wet|moist\w*)"
            r"|como (?:\w+ ){0,2}(?:reviso|se|veo|siento|mido) (?:\w+ ){0,4}(?:tierra|suelo|seca|seco|humedad|mojada))\b"
        ),
    ),
    (
        "other.depth",
        re.compile(
            r"\b(?:(?:how deep|what depth|which depth|que profundidad|que tan hondo) (?:\w+ ){0,4}(?:probes?|sensors?|read|put|pongo|sensor\w*|leo|mido))\b"
        ),
    ),
    ("other.mulch", re.compile(r"\b(?:mulch\w*|straw|wood ?chips|bark|paja|acolchado|viruta|hojarasca)\b")),
    (
        "other",
        re.compile(
            r"\b(?:morning|noon|midday|evening|night|dawn|time of day|what time|hour|sun|manana|mediodia|noche|tarde|hora|sol)\b"
        ),
    ),
)


# Catches of cans for an example, and where probes go as a start: common practice, no published source.
EXAMPLES: dict[str, dict[str, Any]] = {
    "us": {"rain_mm": 12.7, "some_mm": 5.08, "more_mm": 7.62, "shallow_cm": 30.48, "deep_cm": 60.96, "cold_c": 4.4},
    "metric": {"rain_mm": 10.0, "some_mm": 8.0, "more_mm": 9.0, "shallow_cm": 30.0, "deep_cm": 60.0, "cold_c": 5.0},
}


def other_question(text: str) -> str:
    """The key of the answer to a watering question of another kind: the time of day, mulch, or one for a person."""
    bare = folded(text[:_LOOKED_AT])
    return next((about for about, pattern in _OTHER if pattern.search(bare)), "other.more")


def beside_the_job(text: str) -> str | None:
    """The key of what to say to words that were not understood, when they speak of one of these things; else None.

    A caution, `caution.` and its id, is said whatever else was understood.
    """
    bare = folded(text[:_LOOKED_AT])
    return next((about for about, pattern in _PATTERNS if pattern.search(bare)), None)
