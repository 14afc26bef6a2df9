"""Which desk of the office a person handed over belongs to. Any colleague may move a call; this only sets where it begins.

Nobody begins at the tree and the water desk: a colleague moves them there, once they know what it is about.

Spanish before farm: a colleague who can't read the words can't help, and the Spanish desk can ask the farm desk.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from rules.terms import Plot

DESKS = ("volunteer", "farm", "tree", "water", "spanish")
URGENT = "danger"  # a reason that begins so

# Master Gardener volunteers answer home gardeners only; growers go to the agent (Mason County WA, volunteer review; from how
# several help desks work). The numbers are common practice, no published source.
_GROWER_COUNT = 20.0
_GROWER_M2 = 2000.0  # half an acre
_GROWER_WORDS = re.compile(
    r"\b(?:acres?|orchards?|vineyards?|winery|pivot|my crew|farm(?:er|ing)?|sell\b.{0,20}\bmarket|market garden\w*"
    r"|hect[aá]reas?|vi[nñ]edos?|rancho|cosecha|vend(?:o|emos|er)\b.{0,20}\bmercado)\b",
    re.IGNORECASE,
)


def desk_for(language: str, plots: Iterable[Plot], texts: Iterable[str]) -> str:
    """One of DESKS.

    Args:
        plots: what the person waters.
        texts: what the person wrote.
    """
    if language == "es":
        return "spanish"
    large = any((plot.count or 0) >= _GROWER_COUNT or (plot.area_m2 or 0) >= _GROWER_M2 for plot in plots)
    return "farm" if large or any(_GROWER_WORDS.search(text) for text in texts) else "volunteer"
