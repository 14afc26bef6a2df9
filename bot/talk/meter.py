"""A water meter read before and after a run: what flowed in the minutes between. And a meter that moves by itself."""

from __future__ import annotations

import re
from dataclasses import dataclass

from bot.talk.setup import plain
from rules.units import LITRES_PER_GALLON

_NAME = r"\b(?:meter|medidor|contador)\b"
_NUMBER = r"(\d[\d,]*(?:\.\d+)?)"
_READ = re.compile(rf"{_NAME}[^\d]{{0,40}}{_NUMBER}[^\d]{{1,40}}{_NUMBER}")
_MINUTES = re.compile(r"(\d+(?:\.\d+)?) ?(?:min|mins|minutes|minutos)\b")
_UNITS = (
    (re.compile(r"\b(?:m3|cubic met\w+|metros cubicos)\b"), 1000.0),
    (re.compile(r"\b(?:cubic f\w+|cu ft|cf|pies cubicos)\b"), 28.316846592),
    (re.compile(r"\b(?:l|lit\w+)\b"), 1.0),
    (re.compile(r"\b(?:gal\w*)\b"), LITRES_PER_GALLON),
)
_MOVES = re.compile(r"\b(?:mov\w+|turn\w*|spin\w*|run\w*|se mueve|gira|corre|camina)\b")
_ALL_OFF = re.compile(
    r"\b(?:(?:all|every\w*)(?: the)?(?: taps| faucets| water)?(?: is| are)? (?:off|closed|shut)|(?:no water|nothing) (?:on|running)"
    r"|todo (?:apagado|cerrado)|llaves cerradas)\b"
)
_LONGEST = 160


@dataclass(frozen=True)
class Metered:
    """What a meter counted in so many minutes. [L, minutes]"""

    litres: float
    minutes: float


def metered(text: str, units: str) -> Metered | None:
    """Two readings of a meter and the minutes between; None for any other message. `units` settles readings without a unit."""
    said = text.lower()
    read, minutes = _READ.search(said), _MINUTES.search(said)
    if len(text) > _LONGEST or not read or not minutes:
        return None
    first, last = (float(figure.replace(",", "")) for figure in read.groups())
    unit = next((litres for words, litres in _UNITS if words.search(plain(text))), None)
    litres_each = unit or (LITRES_PER_GALLON if units == "us" else 1000.0)
    if last <= first or float(minutes[1]) <= 0:
        return None
    return Metered((last - first) * litres_each, float(minutes[1]))


def leaks(text: str) -> bool:
    """Whether a meter is said to move with all taps closed."""
    said = plain(text)
    return len(text) < _LONGEST and all(each.search(said) for each in (re.compile(_NAME), _MOVES, _ALL_OFF))
