"""A what-if question answered: what would be left, and what would be at risk, by the same outlook as every verdict."""

from __future__ import annotations

from bot.advising import Advisor
from bot.store import StoredPlot
from bot.talk.beside import EXAMPLES
from bot.talk.setup import plain
from bot.talk.supposing import Supposed
from bot.talk.visit import Visit
from bot.understand.statements import Watering
from rules.delivery import watering_depth_mm
from rules.terms import Watering as WateringTerm


def answer(visit: Visit, advisor: Advisor, asked: Supposed, text: str) -> bool:
    """Answer what was asked in these words; whether there is a plot that it can be told of."""
    plot = _plot(visit, text)
    if plot is None or visit.store.log.last(plot) is None:
        return False
    visit.say(_said(visit, advisor, plot, asked))
    return True


def _plot(visit: Visit, text: str) -> StoredPlot | None:
    """The plot that is named; else the only one, else the one last advised on."""
    plots = [plot for plot in visit.plots() if not plot.paused]
    said = f" {plain(text)} "
    named = [plot for plot in plots if plot.name and f" {plain(plot.name)} " in said]
    advised = {plot.id: last.id for plot in plots if (last := visit.store.advices.last(plot))}
    known = named or plots
    return max(known, key=lambda plot: advised.get(plot.id, 0)) if known else None


def _said(visit: Visit, advisor: Advisor, plot: StoredPlot, asked: Supposed) -> str:
    if asked.until is not None:
        advice = advisor.imagined(plot, until=asked.until)
        return visit.words.if_waiting(advice, asked.until, advisor.imagined(plot).stress_on)
    told = Watering(depth_mm=EXAMPLES[visit.words.units]["rain_mm"]) if asked.rain else asked.watering or Watering()
    watering = WateringTerm(
        on=visit.today,
        minutes=told.minutes,
        depth_mm=told.depth_mm,
        litres=told.litres,
        litres_each=told.litres_each,
        at=visit.written,
    )
    if watering_depth_mm(watering, plot.facts, visit.tables) is None:
        return visit.words.say("if.no_rate", plot=visit.words.plot(plot.name))
    said = visit.words.if_given(advisor.imagined(plot, watering=watering))
    return f"{visit.words.say('if.rain', depth_mm=told.depth_mm)} {said}" if asked.rain else said
