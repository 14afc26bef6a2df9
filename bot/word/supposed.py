"""The answer to a what-if question: fine or risky first, then what would be left."""

from __future__ import annotations

from datetime import date

from bot.word import verdict
from bot.word.voice import Part, Voice
from rules.terms import Advice, Verdict


def waiting(voice: Voice, then: Advice, until: date, stress_on: date | None) -> str:
    """Nothing given till a day: `then` is the advice of that day, `stress_on` when the limit is likely passed."""
    plot = voice.plot(then.plot)
    if then.verdict is Verdict.WATER and then.urgency == "soon":
        said = [Part(voice.say("if.ready", plot=plot, when=until))]
    elif then.verdict is Verdict.WATER or _past_limit(then):
        said = [Part(voice.say("if.risky", plot=plot, when=until))]
        if stress_on is not None and voice.today < stress_on <= until:
            said.append(Part(voice.say("if.stress", when=stress_on), leaves=1))
    else:
        said = [Part(voice.say("if.fine", plot=plot, when=until))]
    return voice.fit([*said, *_left(voice, then)])


def given(voice: Voice, then: Advice) -> str:
    """A watering of today: `then` is the advice after it."""
    plot = voice.plot(then.plot)
    if then.verdict is Verdict.WATER:
        said = voice.say("if.too_little", plot=plot, amount=verdict.amount(voice, then, brief=True))
    else:
        said = voice.say("if.enough", plot=plot, when=then.date)
    return voice.fit([Part(said), *_left(voice, then)])


def _past_limit(then: Advice) -> bool:
    return then.water_left is not None and then.limit is not None and then.water_left < then.limit


def _left(voice: Voice, then: Advice) -> list[Part]:
    """How full it would be; a pot is told nothing of shares."""
    if then.water_left is None or then.limit is None or then.until_drains:
        return []
    return [Part(voice.say("if.left", left_share=then.water_left, limit_share=then.limit))]
