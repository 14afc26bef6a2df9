"""Rain that falls as the person writes: how much it comes to nobody knows yet, so nothing is kept of it."""

from __future__ import annotations

import re

from bot.talk.setup import plain

_HARD = "(?: (?:started|hard|a lot|cats and dogs|pretty|really|good|lightly|fuerte|mucho|duro|recio|bien|poco))*"
_RAINS = (
    rf"(?:it s |its |it is )?(?:(?:just|still|already|finally) )*raining{_HARD}|(?:it )?(?:just )?started (?:to rain|raining)"
    rf"|(?:ya |todavia |sigue )?(?:esta )?lloviendo{_HARD}|(?:ya )?(?:empezo|comenzo) a llover|(?:ya )?llueve"
)
_NOW = r"(?: (?:now|right now|here|outside|today|at the moment|again|as we speak|aqui|ahora|ahorita|hoy|afuera|ya|otra vez|mismo))*"
_BEFORE = r"(?:(?:hi|hello|hey|hola|ok|well|oye|pues|now|ahorita|ahora|aqui) )*"
_WHOLE = re.compile(rf"{_BEFORE}(?:{_RAINS}){_NOW}")


def raining_now(text: str) -> bool:
    """Whether a message says no more than that it is raining."""
    return "?" not in text and len(text) < 80 and _WHOLE.fullmatch(plain(text)) is not None
