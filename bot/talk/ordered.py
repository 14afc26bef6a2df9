"""Orders about the record, carried out: redo, pause, resume, rename, close, share, and a watering told as on, off or done."""

from __future__ import annotations

import re

from bot.store import StoredPlot
from bot.talk import reminding, sharing
from bot.talk.dialogue import Dialogue
from bot.talk.heard import Heard
from bot.talk.orders import Order
from bot.talk.setup import plain
from bot.talk.speech import speak
from bot.talk.told import told
from bot.talk.valve import done, turn_off, turn_on
from bot.talk.visit import Visit

_IT = frozenset({"it", "that", "this", "this one", "my plot", "eso", "esta", "parcela"})
_SPANISH = re.compile(r"unir|compart|no compart|dejar de")


def carry_out(visit: Visit, given: Order) -> Heard | None:
    """Do what was ordered and say so; what was heard of a watering, where the order ended one."""
    if given.do in ("language", "privacy"):
        _about_the_person(visit, given.do)
        return None
    plots = visit.plots()
    plot = next((each for each in plots if given.plot and plain(each.name) == plain(given.plot)), None)
    if given.do == "sources":
        _sources(visit)
        return None
    if given.do == "unremind":
        reminding.drop(visit)
        visit.say(visit.words.say("remind.none"))
        return None
    if given.do == "quiet":
        Dialogue(visit).no_more()
        visit.say(visit.words.say("skipped"))
        return None
    if given.do in ("share", "join", "unshare"):
        speak(visit, "es" if _SPANISH.match(plain(visit.message.text)) else visit.language, visit.message.text)
        sharing.carry_out(visit, given, plot or (plots[0] if len(plots) == 1 and not given.plot else None))
        return None
    if given.do == "on":
        turn_on(visit, plot or (plots[0] if len(plots) == 1 else None))
        return None
    if given.do in ("off", "done"):
        return turn_off(visit) if given.do == "off" else done(visit, plot)
    if plot and given.do in ("close", "delete") and plot.person != visit.person.id:
        sharing.leave(visit, plot)
        return None
    visit.say(_redo(visit) if given.do == "redo" else _plot_order(visit, given, plot))
    return None


def _about_the_person(visit: Visit, what: str) -> None:
    words = visit.words
    if what == "language":
        visit.ask("language")
        visit.say(words.say("language.ask"))
        return
    visit.say(words.say("privacy.kept"))
    visit.say(words.say("privacy.seen"))
    visit.say(words.say("privacy.erase", office=visit.office_name, phone=visit.office.phone))


def _sources(visit: Visit) -> None:
    """The table rows behind the last advice."""
    last = [given for plot in visit.plots() if (given := visit.store.advices.last(plot))]
    newest = max(last, key=lambda given: given.id, default=None)
    visit.draft.texts += visit.words.sources(newest.advice) if newest else [visit.words.say("why.nothing")]


def _redo(visit: Visit) -> str:
    back = visit.store.corrections.redo(visit.person)
    names = {plot.id: plot.name for plot in visit.plots()}
    return visit.words.redone(told(back, names, visit.plant_names) if back else [])


def _plot_order(visit: Visit, given: Order, plot: StoredPlot | None) -> str:
    words, verbs = visit.words, visit.store.plots
    if plot is None and given.do == "rename" and plain(given.plot or "") in _IT and len(visit.plots()) == 1:
        plot = visit.plots()[0]
    if plot is None:
        names = words.amounts.listed([each.name for each in visit.plots()]) or "-"
        return words.say("plot.unknown", plot=given.plot or "", plots=names)
    if given.do == "rename" and given.name:
        if any(plain(each.name) == plain(given.name) for each in visit.plots() if each.id != plot.id):
            return words.say("plot.taken", plot=given.name)
        if plot.person == visit.person.id:
            verbs.rename(plot, given.name, at=visit.written, message=visit.message)
        else:
            visit.store.shares.rename(plot, visit.person, given.name)
        return words.say("plot.renamed", old=plot.name, plot=given.name)
    if given.do in ("close", "delete"):
        sharing.end(visit.store, plot, visit.person, visit.line_now)
    verb, key = {
        "pause": (verbs.pause, "plot.paused"),
        "resume": (verbs.resume, "plot.resumed"),
        "close": (verbs.close, "plot.closed"),
        "delete": (verbs.close, "plot.closed"),
    }[given.do]
    verb(plot, at=visit.written, message=visit.message)
    if given.do != "resume":
        reminding.drop(visit, plot.id)
    return words.say(key, plot=plot.name)
