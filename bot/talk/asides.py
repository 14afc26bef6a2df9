"""Messages that are taken up before they are read as any other: what-if questions, a watering told as the usual
one or as done, a plot told as the one before, rain that is falling, what a water meter shows, and closing or opening the system."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import partial

from bot import understand
from bot.advising import Advisor
from bot.talk import what_if
from bot.talk.likewise import likewise
from bot.talk.meter import leaks, metered
from bot.talk.own_answers import HANDLED
from bot.talk.put_right import another_day, taken_out, taken_out_meant
from bot.talk.raining import raining_now
from bot.talk.setup import plain
from bot.talk.speech import speak
from bot.talk.supposing import supposed
from bot.talk.usual import as_usual, told_as_usual
from bot.talk.valve import done_with_amount
from bot.talk.visit import Visit
from bot.talk.year import told_of_year
from bot.understand.statements import Fact, Request, Statement
from rules.can_test import meter_rate_mm_h

# 2000 square feet, or its like in round metres.
_EXAMPLE_M2 = {"us": 185.8, "metric": 200.0}
_NOT_WATERED = re.compile(
    r"(?:i |we |sorry |oops )*(?:did ?n ?t|did not|have ?n ?t|have not|forgot to|no) (?:get to )?"
    r"(?:water|watered|regue|he regado|regamos)"
    r"(?: it| them| anything| yet| hoy| ayer| today| yesterday| this morning| last night)*|se me olvido regar(?: hoy| ayer)?"
)
_Kind = Callable[[Visit, str], list[Statement] | None]


def told_aside(visit: Visit, advisor: Advisor, text: str) -> list[Statement] | None:
    """The statements that such a message stands for, HANDLED when it is answered, or None for any other message."""
    if visit.person.stopped:
        return None
    of_plots: tuple[_Kind, ...] = (
        partial(_supposed, advisor=advisor),
        likewise,
        _another_day,
        _taken_out,
        _not_watered,
        _usual,
        _metered,
    )
    for kind in (_done, _raining, _leak, told_of_year, *(of_plots if visit.plots() else ())):
        statements = kind(visit, text)
        if statements is not None:
            return statements
    return None


def _spoken(visit: Visit, text: str) -> None:
    speak(visit, understand.read(text, visit.context(None)).language, text)


def _done(visit: Visit, text: str) -> list[Statement] | None:
    done = done_with_amount(visit, text)
    if done is None:
        return None
    _spoken(visit, text)
    return [done]


def _raining(visit: Visit, text: str) -> list[Statement] | None:
    if not raining_now(text):
        return None
    _spoken(visit, text)
    visit.say(visit.words.raining())
    return HANDLED


def _leak(visit: Visit, text: str) -> list[Statement] | None:
    if not leaks(text):
        return None
    _spoken(visit, text)
    visit.say(visit.words.say("meter.leak", phone=visit.office.phone))
    return HANDLED


def _supposed(visit: Visit, text: str, advisor: Advisor) -> list[Statement] | None:
    asked = supposed(text, visit.context(None))
    if asked is None:
        return None
    _spoken(visit, text)
    return HANDLED if what_if.answer(visit, advisor, asked, text) else None


def _another_day(visit: Visit, text: str) -> list[Statement] | None:
    asked = another_day(visit, text)
    if asked is not None:
        _spoken(visit, text)
    return asked


def _taken_out(visit: Visit, text: str) -> list[Statement] | None:
    # The language first: what was taken out is said at once.
    if taken_out_meant(text):
        _spoken(visit, text)
    return taken_out(visit, text)


def _not_watered(visit: Visit, text: str) -> list[Statement] | None:
    """ "Forgot to water": nothing to keep, but what to do is worth telling."""
    if not _NOT_WATERED.fullmatch(plain(text)):
        return None
    _spoken(visit, text)
    return [Request(want="verdict")]


def _usual(visit: Visit, text: str) -> list[Statement] | None:
    told = as_usual(text, visit.context(None))
    if told is None:
        return None
    _spoken(visit, text)
    watering = told_as_usual(visit, told)
    return [watering] if watering else HANDLED


def _metered(visit: Visit, text: str) -> list[Statement] | None:
    """The rate that a meter shows over an area that is known; else the flow, and a question for the area."""
    found = metered(text, visit.person.units or "us")
    if found is None:
        return None
    _spoken(visit, text)
    read = understand.read(text, visit.context(None)).statements
    areas = [each for each in read if isinstance(each, Fact) and each.about == "area_m2"]
    name = next((plot for each in read if (plot := getattr(each, "plot", None))), None)
    plots = [plot for plot in visit.plots() if name in (None, plot.name)]
    area_m2 = areas[0].value if areas else plots[0].facts.area_m2 if len(plots) == 1 else None
    if area_m2:
        rate_mm_h = meter_rate_mm_h(found.litres, found.minutes, area_m2)
        return [*areas, Fact(about="rate_mm_h", value=rate_mm_h, plot=name)]
    visit.say(visit.words.say("meter.area", example_m2=_EXAMPLE_M2[visit.words.units]))
    return [Fact(about="flow_l_h", value=60 * found.litres / found.minutes, plot=name)]
