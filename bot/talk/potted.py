"""A pot of which the size was not told: it decides all, as a pot holds a day or two of water."""

from __future__ import annotations

import re
from collections.abc import Sequence

from bot import understand
from bot.store import StoredPlot
from bot.talk.setup import plain
from bot.talk.visit import Visit
from bot.understand.statements import Fact

_POTTED = re.compile(
    r"\b(?:in|en) (?:(?:a|an|the|my|some|un|una|unas|unos|la|las|mi|mis) )?(?:\w+ )?"
    r"(?:pots?|planters?|containers?|buckets?|tubs?|macetas?|macetones?|cubetas?|tinas?)\b"
)


def unsized_pot(visit: Visit, plots: Sequence[StoredPlot]) -> StoredPlot | None:
    """The plot that the message says stands in a pot, while nothing is known of the pot's size."""
    said = plain(visit.message.text)
    if not _POTTED.search(said):
        return None
    meant = [plot for plot in plots if plot.name and plain(plot.name) in said] if len(plots) > 1 else list(plots)
    return meant[0] if len(meant) == 1 and meant[0].facts.container_litres is None else None


def pot_size(visit: Visit, text: str, plot: str | None) -> Fact | None:
    """The size of a pot in an answer to that question; None when it tells none."""
    read = understand.read(f"{text.rstrip(' .!')} pot", visit.context(None)).statements
    sizes = [each for each in read if isinstance(each, Fact) and each.about == "container_litres"]
    return Fact(about="container_litres", value=sizes[0].value, plot=plot) if len(sizes) == 1 else None
