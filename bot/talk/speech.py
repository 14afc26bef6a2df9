"""The language of a reply: that of a text of some words, and for a shorter one the person's own."""

from __future__ import annotations

from bot.talk.setup import plain
from bot.talk.visit import Visit


def speak(visit: Visit, language: str, text: str) -> None:
    """Answer in the language that the text was read in, if it shows one; the first that is shown is kept."""
    known = visit.person.language
    some_words = sum(len(word) > 2 and word.isalpha() for word in plain(text).split()) > 2
    shown = some_words or language != "en"
    visit.language = language if some_words else known or (shown and language) or visit.guessed or language
    if known is None and shown:
        visit.store.facts.set(visit.person, "language", language, at=visit.now)
