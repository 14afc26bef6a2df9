"""A watering told in a word or two: on and off by the clock, or done after an advice to water."""

from __future__ import annotations

import re
from datetime import datetime, timedelta
from typing import Any

from bot import understand
from bot.record import Recorder
from bot.store import StoredPlot
from bot.talk.heard import Heard
from bot.talk.orders import order
from bot.talk.setup import plain
from bot.talk.visit import Visit
from bot.understand.statements import Watering
from rules.terms import Advice, Verdict

# "Done" answers an advice of today or yesterday.
_ANSWERS_FOR = timedelta(days=1)
# A STOP so soon after "on" may have meant the water.
_RUNS_FOR = timedelta(hours=12)
# "Did it", and then how much.
_DID = re.compile(
    r"^(?:(?:i |we )?(?:did|done) it|(?:its |all )?(?:done|finished)"
    r"|(?P<es>ya (?:lo|los|la|las) (?:hice|regue)|ya (?:quedo|quedaron|estuvo)|listo|hecho))"
    r" (?:for |it was |about |fueron |fue |por |con |como )*(?P<rest>\d.*)$"
)
_LONGEST = 80
_AMOUNTS = ("minutes", "litres_each", "litres", "depth_mm")


def turn_on(visit: Visit, plot: StoredPlot | None) -> None:
    """Remember when the water was turned on, and where."""
    visit.remember(on_at=visit.written.isoformat(), on_plot=plot.name if plot else None)
    visit.say(visit.words.say("valve.on"))


def turn_off(visit: Visit) -> Heard | None:
    """The watering from on to off; None when nobody said that the water was on."""
    began, name = visit.person.dialogue.get("on_at"), visit.person.dialogue.get("on_plot")
    if began is None:
        visit.say(visit.words.say("valve.none"))
        return None
    visit.remember(on_at=None, on_plot=None)
    start = datetime.fromisoformat(began)
    minutes = max(round((visit.written - start).total_seconds() / 60), 1)
    return Recorder(visit).keep([Watering(on=start.date(), minutes=float(minutes), plot=name)])


def is_on(visit: Visit) -> bool:
    """Whether the water was turned on a short while ago, and not off since."""
    began = visit.person.dialogue.get("on_at")
    return began is not None and visit.written - datetime.fromisoformat(began) <= _RUNS_FOR


def done(visit: Visit, plot: StoredPlot | None) -> Heard | None:
    """The water that was asked for last, as told done: off where it was on, else the amount of the advice."""
    if visit.person.dialogue.get("on_at") is not None:
        return turn_off(visit)
    asked = [(each, advice) for each in ([plot] if plot else visit.plots()) if (advice := _asked_of(visit, each))]
    if not asked:
        visit.say(visit.words.say("done.what"))
        return None
    on = visit.written.date()
    waterings = [Watering(on=on, plot=each.name or None, **_amount(advice)) for each, advice in asked]
    if any(getattr(each, slot) is not None for each in waterings for slot in _AMOUNTS):
        visit.say(visit.words.say("done.advised"))
    return Recorder(visit).keep(waterings)


def done_with_amount(visit: Visit, text: str) -> Watering | None:
    """The watering of "did it 40 minutes", "ya quedo, fueron 8 horas"; None for any other message."""
    said = plain(text)
    found = _DID.match(said) if "?" not in text and len(said) <= _LONGEST else None
    if found is None or order(text) is not None:
        return None
    read = understand.read(f"{'regue' if found['es'] else 'watered'} {found['rest']}", visit.context(None)).statements
    watering = read[0] if len(read) == 1 else None
    if not isinstance(watering, Watering) or not any(getattr(watering, slot) for slot in _AMOUNTS):
        return None
    visit.remember(on_at=None, on_plot=None)
    return watering


def _asked_of(visit: Visit, plot: StoredPlot) -> Advice | None:
    """The advice to water that a plot was given of late, while no watering was told since."""
    last = visit.store.advices.last(plot)
    if last is None or last.advice.verdict is not Verdict.WATER or last.on < visit.written.date() - _ANSWERS_FOR:
        return None
    told = visit.store.log.observations(plot)
    watered = any(each.kind == "watering" and each.in_force and each.on and each.on >= last.on for each in told)
    return None if watered else last.advice


def _amount(advice: Advice) -> dict[str, Any]:
    """The amount as it was said first; none for what is watered till it drains."""
    slot = next((name for name in _AMOUNTS if getattr(advice, name)), None)
    return {slot: getattr(advice, slot)} if slot and not advice.until_drains else {}
