"""Another plot told as the one before: "chardonnay block too, same soil", "los chiles también, misma tierra"."""

from __future__ import annotations

import re

from bot.talk.setup import plain
from bot.talk.visit import Visit
from bot.understand.statements import Fact, Statement
from rules import plants

_TOO = re.compile(
    r"(?:(?:and|also|y|tambien) )?(?:(?:the|my|a|el|la|los|las|mi|mis) )?(?P<name>[a-z]+(?: [a-z]+){0,2})"
    r" (?:too|also|as well|tambien)"
    r"(?: (?:(?:and|with|has|y|con|de) )?(?:(?:the|el|la|en) )?(?:same|misma|mismo|igual) (?P<what>.+))?"
)
_SHARED = {
    "soil": frozenset({"soil", "dirt", "ground", "tierra", "suelo", "everything", "setup", "todo"}),
    "method": frozenset(
        {"drip", "water", "watering", "sprinklers", "irrigation", "riego", "goteo", "everything", "setup", "todo"}
    ),
}


def likewise(visit: Visit, text: str) -> list[Statement] | None:
    """The new plot, with what it shares with the last one that was told of; None for any other text."""
    found = _TOO.fullmatch(plain(text))
    before = visit.plots()[-1:] if found else []
    if found is None or not before or plants.find(found["name"], visit.language, visit.tables).how == "unknown":
        return None
    name, said = found["name"], set((found["what"] or "").split())
    told: list[Statement] = [Fact(about="new_plot", value=name, plot=name)]
    for about, words in _SHARED.items():
        value = getattr(before[0].facts, about)
        if value is not None and said & words:
            told.append(Fact(about=about, value=value, plot=name))
    return told
