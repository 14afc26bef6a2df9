"""An amount that is told without what it was: "half an inch on Sunday" may be rain or a watering, "12 inches" a depth."""

from __future__ import annotations

import re

from bot import understand
from bot.talk.dialogue import Dialogue
from bot.talk.own_answers import HANDLED
from bot.talk.setup import plain
from bot.talk.visit import Visit
from bot.understand.statements import Asked, Fact, Reading, Request, Statement, Watering

_ABOUT = "fell"
_DEPTH_ONLY = re.compile(
    r"(?:at |a |en |depth |it s |its |es |son )?\d{1,3} ?(?:in|inch|inches|cm|pulg|pulgadas|ft|feet|foot)(?: down| deep)?"
)
_PROBED = ("tension", "resistance", "percent", "dial")


def amount_alone(dialogue: Dialogue, text: str) -> list[Statement] | None:
    """What to do with a text that could not be read but as an amount; None for any other text.

    Returns: the depth of today's last reading, which had none; or HANDLED, once it is asked whether it rained.
    """
    if "?" in text:
        return None
    return _depth_of_reading(dialogue.visit, text) or _asked_what_fell(dialogue.visit, text)


def _depth_of_reading(visit: Visit, text: str) -> list[Statement] | None:
    if not _DEPTH_ONLY.fullmatch(plain(text)):
        return None
    told = [each for each in visit.store.log.history(visit.person) if each.in_force]
    last = told[-1] if told else None
    if last is None or last.kind != "reading" or last.on != visit.today:
        return None
    if last.slots["depth_cm"] is not None:
        return None
    read = understand.read(text, visit.context(Asked(about="probe_depth_cm"))).statements
    name = next((plot.name for plot in visit.plots() if plot.id == last.plot), None)
    depths = [
        Fact(about="probe_depth_cm", value=each.value, plot=name)
        for each in read
        if isinstance(each, Fact) and each.about == "probe_depth_cm" and isinstance(each.value, int | float)
    ]
    if len(depths) != 1 or last.slots["quantity"] in _PROBED:
        return [*depths] if len(depths) == 1 else None
    felt = Reading(
        quantity=last.slots["quantity"], value=last.slots["value"], depth_cm=depths[0].value, plot=name, on=last.on
    )
    return [Request(want="undo"), felt] if last.slots["quantity"] == "feel" else None


def _asked_what_fell(visit: Visit, text: str) -> list[Statement] | None:
    read = understand.read(f"watered {text}", visit.context(None)).statements
    if len(read) != 1 or not isinstance(read[0], Watering) or read[0].depth_mm is None or not visit.plots():
        return None
    visit.ask(_ABOUT, held=read)
    visit.say(visit.words.say("ask.fell"))
    return HANDLED
