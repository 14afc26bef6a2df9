"""Messages that are taken up before they are read as any other: what-if questions, a watering told as the usual
one or as done, and rain that is falling."""

from __future__ import annotations

from bot import understand, what_if
from bot.advising import Advisor
from bot.own_answers import HANDLED
from bot.raining import raining_now
from bot.speech import speak
from bot.supposing import supposed
from bot.understand.statements import Statement
from bot.usual import as_usual, told_as_usual
from bot.valve import done_with_amount
from bot.visit import Visit


def told_aside(visit: Visit, advisor: Advisor, text: str) -> list[Statement] | None:
    """The statements that such a message stands for, HANDLED when it is answered, or None for any other message."""
    context, plots = visit.context(None), visit.plots()
    if visit.person.stopped:
        return None
    done = done_with_amount(visit, text)
    if done is not None:
        speak(visit, understand.read(text, context).language, text)
        return [done]
    raining = raining_now(text)
    asked, told = (supposed(text, context), as_usual(text, context)) if plots else (None, None)
    if asked is None and told is None and not raining:
        return None
    speak(visit, understand.read(text, context).language, text)
    if raining:
        visit.say(visit.words.raining())
        return HANDLED
    if asked is not None:
        return HANDLED if what_if.answer(visit, advisor, asked, text) else None
    watering = told_as_usual(visit, told) if told else None
    return [watering] if watering else HANDLED
