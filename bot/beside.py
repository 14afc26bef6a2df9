"""Questions beside the job: pests, feeding, what to plant. dropline does watering only and offers a person."""

from __future__ import annotations

import re
import unicodedata

_WORDS = (
    r"aphids?", r"mites?", r"bugs?", r"beetles?", r"worms?", r"ants?", r"slugs?", r"pests?", r"spray", r"insecticide", r"fungus", r"mildew",
    r"blight", r"weeds?", r"fertili[sz]\w*", r"compost", r"manure", r"prune", r"pruning", r"what (?:should|can|do) i plant", r"which variety",
    r"plagas?", r"pulgon\w*", r"hormigas?", r"gusanos?", r"hongos?", r"abono", r"fertilizante", r"podar", r"que siembro", r"maleza\w*",
)  # fmt: skip
_PATTERN = re.compile(r"\b(?:" + "|".join(_WORDS) + r")\b")


def beside_the_job(text: str) -> bool:
    """Whether words that were not understood ask about something else than water."""
    bare = unicodedata.normalize("NFKD", text[:1000]).encode("ascii", "ignore").decode().lower()
    return _PATTERN.search(bare) is not None
