"""A conversation as the page shows it: days, and bubbles with whose words they are."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from itertools import zip_longest

from babel.dates import format_time

from bot.message import Conversation, Drawing, Turn
from bot.word.say import Words

# A verdict opens its text in capitals, in any language; what to do ends with the sentence, after `WAIT.` with the next.
_VERDICT = re.compile(r"(?P<verdict>[A-ZÁÉÍÓÚÑ]{4,}\b)(?P<lead>(?:\. )?.*?(?:[.!?](?=\s)|$)) *(?P<text>.*)", re.DOTALL)
_LOCALES = {"en": "en_US", "es": "es_US"}


@dataclass(frozen=True)
class Bubble:
    """One text. `by` is `person`, `office` or `line`.

    Where it opens with a verdict, that stands in `verdict`, the rest of its sentence in `lead`, and what follows in `text`.
    """

    id: str
    by: str
    verdict: str
    lead: str
    text: str
    language: str | None
    time: str
    at: str
    drawing: Drawing | None


@dataclass(frozen=True)
class Day:
    """The bubbles of one day."""

    on: date
    said: str
    bubbles: tuple[Bubble, ...]


def days(conversation: Conversation, words: Words) -> list[Day]:
    """The conversation by days, oldest first; turns that reached the line out of order stay where they came in."""
    found: list[Day] = []
    for turn in conversation.turns:
        bubbles = tuple(_bubbles(turn, words.language))
        on = turn.at.date()
        if found and found[-1].on == on:
            found[-1] = Day(on, found[-1].said, found[-1].bubbles + bubbles)
        else:
            found.append(Day(on, words.amounts.when(on), bubbles))
    return found


def _bubbles(turn: Turn, language: str) -> Iterator[Bubble]:
    if turn.text.strip():
        yield _bubble(f"m{turn.id}", turn.by, turn.text, turn, language)
    for number, (reply, drawing) in enumerate(zip_longest(turn.replies, turn.drawings), start=1):
        yield _bubble(f"m{turn.id}-{number}", "line", reply, turn, language, drawing)


def _bubble(id_: str, by: str, text: str, turn: Turn, language: str, drawing: Drawing | None = None) -> Bubble:
    found = _VERDICT.fullmatch(text) if by == "line" else None
    parts = found.groupdict() if found else {"verdict": "", "lead": "", "text": text}
    at = turn.at.isoformat("T", "minutes")
    time = _clock(turn.at, language)
    return Bubble(id=id_, by=by, language=turn.language, time=time, at=at, drawing=drawing, **parts)


def _clock(at: datetime, language: str) -> str:
    return format_time(at, "short", locale=_LOCALES.get(language, language))
