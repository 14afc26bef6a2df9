"""What is not about water: pests and feeding, anger, a broken instrument, a picture that is spoken of. Each has its own answer."""

from __future__ import annotations

import re
import unicodedata

_WORDS = (
    r"aphids?", r"mites?", r"bugs?", r"beetles?", r"worms?", r"ants?", r"slugs?", r"pests?", r"spray", r"insecticide", r"fungus", r"mildew",
    r"blight", r"weeds?", r"fertili[sz]\w*", r"compost", r"manure", r"prune", r"pruning", r"what (?:should|can|do) i plant", r"which variety",
    r"plagas?", r"pulgon\w*", r"hormigas?", r"gusanos?", r"hongos?", r"abono", r"fertilizante", r"podar", r"que siembro", r"maleza\w*",
)  # fmt: skip
_ANGER = (
    r"useless", r"worthless", r"stupid", r"idiots?", r"morons?", r"dumb", r"garbage", r"ridiculous", r"killed (?:my|our|the)", r"waste of (?:time|money)",
    r"i want my money", r"sue you", r"wtf", r"fuck\w*", r"bullshit", r"no sirven?", r"inutil\w*", r"estupid\w*", r"idiotas?", r"porqueria\w*",
    r"(?:me )?mataron (?:mi|mis|el|los|la|las)", r"se murio por su culpa", r"pendej\w*",
)  # fmt: skip
_BROKEN = (
    r"(?:probe|gauge|meter|sensor|wire|tensiometer|tube)s? (?:\w+ ){0,3}(?:broke\w*|dead|leak\w*|cracked|chewed|cut|dug up|busted|not working|(?:doesn.?t|wont|won.?t|quit|stopped) work\w*)",
    r"(?:broke|chewed|cut|dug up|lost) (?:\w+ ){0,2}(?:probe|gauge|meter|sensor|wire|tensiometer)",
    r"(?:sensor|medidor|tensiometro|aparato|cable) (?:\w+ ){0,3}(?:descompuesto|roto|quebrado|no sirve|no jala|se (?:rompio|descompuso|quebro))",
    r"(?:no sirve|se (?:me )?(?:rompio|descompuso|quebro)|cortaron|mordieron) (?:el|la|mi) (?:sensor|medidor|tensiometro|aparato|cable)",
)  # fmt: skip
_PICTURE = (r"pics?", r"pictures?", r"photos?", r"fotos?", r"imagen(?:es)?")
# In this order: who is angry is heard before anything else.
_PATTERNS = tuple(
    (about, re.compile(r"\b(?:" + "|".join(words) + r")\b"))
    for about, words in (
        ("upset", _ANGER),
        ("not_our_job", _WORDS),
        ("broken_probe", _BROKEN),
        ("unread.picture", _PICTURE),
    )
)


def beside_the_job(text: str) -> str | None:
    """The key of what to say to words that were not understood, when they speak of something else than water; else None."""
    bare = unicodedata.normalize("NFKD", text[:1000]).encode("ascii", "ignore").decode().lower()
    return next((about for about, pattern in _PATTERNS if pattern.search(bare)), None)
