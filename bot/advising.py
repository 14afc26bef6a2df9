"""Advice for a person's plots: gathered from the store and the feed, made by the rules, said, and kept."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, replace
from datetime import date, timedelta
from functools import cache
from importlib.metadata import PackageNotFoundError, version

from bot.feeds.feed import Feed
from bot.graph.draw import picture
from bot.graph.season import Graph, graph
from bot.graph.words import story
from bot.store import Inputs, StoredAdvice, StoredPlot
from bot.talk.changes import changes, over_since
from bot.talk.dialogue import Dialogue
from bot.talk.replies import greeted
from bot.talk.retest import retest_due
from bot.talk.rod import check_due
from bot.talk.sharing import news
from bot.talk.totals import Totals, totals
from bot.talk.visit import Visit
from bot.talk.year import closing_due
from bot.word.cautions import ON_PURPOSE
from rules import advise
from rules.history import history
from rules.outlook import as_chance
from rules.tables import Tables
from rules.terms import Advice, Verdict, Watering, Weather

# How long ago an advice may have been followed without a word and still count: as long as the rules replay a season.
_SEASON = timedelta(days=270)
# No message is answered with more pictures than this.
_MOST_PICTURES = 3


@cache
def _version() -> str:
    try:
        return version("dropline")
    except PackageNotFoundError:
        return "unknown"


def season_of(plot: str, advice: Advice, inputs: Inputs, tables: Tables) -> Graph:
    """The season of a plot as it led to an advice, to be drawn: from all that the advice was made from, today or later."""
    return graph(plot, history(inputs.plot, inputs.observations, inputs.weather, inputs.on, tables=tables), advice)


def advised_by(inputs: Inputs, tables: Tables) -> Advice:
    """What is advised from these inputs by these tables, or would have been by others."""
    return advise(inputs.plot, inputs.observations, inputs.weather, inputs.on, tables=tables)


class Advisor:
    """The advices of one visit."""

    def __init__(self, visit: Visit, feed: Feed, dialogue: Dialogue) -> None:
        self.visit, self.feed, self.dialogue = visit, feed, dialogue
        self.given: list[tuple[StoredPlot, Advice, Inputs]] = []

    def advices(self, plots: Sequence[StoredPlot], asked_for: bool) -> list[Advice]:
        """Advice for each plot of which enough is known."""
        return [advice for plot in plots if (advice := self.advice(plot, asked_for)) is not None]

    def advice(self, plot: StoredPlot, asked_for: bool) -> Advice | None:
        """Advice for one plot; None while nothing is reported of it and questions are still open."""
        waiting = self.dialogue.waiting(plot)
        unknown = waiting is not None and (waiting == "plant" or not asked_for or not greeted(self.visit))
        if unknown and self.visit.store.log.last(plot) is None:
            return None
        return self._given(plot, self._inputs(plot))

    def imagined(self, plot: StoredPlot, until: date | None = None, watering: Watering | None = None) -> Advice:
        """The advice of a day to come when nothing is given till then, or of today after a watering. It is not kept.

        The forecast stands for the days between, its rain as chances, as it does in the outlook.
        """
        known, today = self._inputs(plot), self.visit.today
        weather, on = known.weather or Weather(), until or today
        between = tuple(as_chance(day) for day in weather.forecast if today <= day.on < on)
        later = tuple(day for day in weather.forecast if day.on >= on)
        past = tuple(day for day in weather.past if day.on < today)
        seen = replace(weather, past=past + between, forecast=later)
        observations = known.observations + ((watering,) if watering else ())
        return advise(plot.facts, observations, seen, on, tables=self.visit.tables)

    def _inputs(self, plot: StoredPlot) -> Inputs:
        """All that is known of a plot today."""
        store, today = self.visit.store, self.visit.today
        reported = store.log.observations(plot)
        advised = store.advices.watered(plot, since=today - _SEASON, before=today)
        return Inputs(
            plot=plot.facts,
            observations=(*(each.term() for each in reported), *advised),
            weather=self._weather(plot),
            on=today,
            reported=tuple(each.id for each in reported),
        )

    def _weather(self, plot: StoredPlot) -> Weather:
        return self.feed.view(plot.facts.latitude, plot.facts.longitude, self.visit.today)

    def _given(self, plot: StoredPlot, inputs: Inputs) -> Advice:
        advice = advised_by(inputs, self.visit.tables)
        self.given.append((plot, advice, inputs))
        return advice

    def tell(self, advised: list[Advice], also: list[str], undo: bool = False, facts_alone: bool = False) -> None:
        """Say the advices, with what else there is to say beside them, and keep each with all it was made from.

        Args:
            undo: something was kept with this message that UNDO takes back.
            facts_alone: the message told no more than facts: a caution of today is not said again.
        """
        words = self.visit.words
        also = also + [said for plot, given, _ in self.given if given in advised for said in news(self.visit, plot)]
        text = (
            self._one(advised[0], also, undo, facts_alone) if len(advised) == 1 else words.several(advised, also, undo)
        )
        self.visit.draft.texts.insert(0, text)
        self.visit.draft.advices = advised
        for given in self.given:
            self._keep(*given, text)
        if len(advised) == 1 and advised[0].verdict is Verdict.CHECK:
            self.visit.ask("feel", plot=advised[0].plot or None)

    def _one(self, advice: Advice, also: list[str], undo: bool, facts_alone: bool) -> str:
        """One plot's advice in words."""
        plot = next((plot for plot, given, _ in self.given if given is advice), None)
        if plot is None:
            return self.visit.words.advice(advice, also, undo)
        last = self.visit.store.advices.last(plot)
        new = changes(self.visit.words, self.visit.tables, last.advice if last else None, advice)
        new += over_since(self.visit.words, plot.facts, last.on if last else None, self.visit.today)
        if retest_due(self.visit, plot):
            new.append(self.visit.words.say("rate.old", on=plot.facts.rate_on))
        if closing_due(self.visit, plot, advice):
            new.append(self.visit.words.say("year.hint"))
        if facts_alone:
            said = self._said_today(last)
            advice = replace(advice, cautions=tuple(each for each in advice.cautions if each not in said))
        rod_due = advice.verdict is Verdict.WATER and check_due(self.visit, plot)
        return self.visit.words.advice(advice, [*also, *new], undo, rod_due)

    def _said_today(self, last: StoredAdvice | None) -> set[str]:
        """The cautions that were said of the plot today."""
        return set(last.advice.cautions) - {ON_PURPOSE} if last and last.on == self.visit.today else set()

    def _keep(self, plot: StoredPlot, advice: Advice, inputs: Inputs, text: str) -> None:
        self.visit.store.advices.keep(
            plot,
            advice,
            inputs,
            at=self.visit.now,
            text=text,
            language=self.visit.language,
            version=_version(),
            message=self.visit.message,
        )

    def graph(self, about: Sequence[int]) -> None:
        """The season so far as a picture and its story, plot by plot, with what it leads to."""
        kept = {plot.id for plot, _, _ in self.given}
        plots = [plot for plot in self.visit.plots() if not about or plot.id in about]
        drawn = [given for plot in plots if (given := self._for_graph(plot)) is not None]
        for plot, advice, inputs in drawn[:_MOST_PICTURES]:
            shown = season_of(plot.name, advice, inputs, self.visit.tables)
            text = story(shown, self.visit.words)
            drawing = picture(shown, replace(self.visit.words, channel="picture"))
            self.visit.show(text, replace(drawing, plot=plot.id))
            if plot.id not in kept:
                self._keep(plot, advice, inputs, text)
            self._link(plot)
        if not drawn:
            self.visit.say(self.visit.words.say("graph.none"))
        elif not self.visit.draft.advices:
            self.visit.draft.advices = [advice for _, advice, _ in drawn[:_MOST_PICTURES]]
        if len(drawn) > _MOST_PICTURES:
            self.visit.say(self.visit.words.say("graph.more"))

    def _link(self, plot: StoredPlot) -> None:
        """Say where the graph can be seen, to who can't be sent it."""
        visit = self.visit
        if visit.links and visit.words.short:
            advice = visit.store.advices.answering(visit.message)[plot.id]
            visit.say(visit.words.say("graph.link", link=visit.links.make("g", advice.id)))

    def _for_graph(self, plot: StoredPlot) -> tuple[StoredPlot, Advice, Inputs] | None:
        """The advice of this visit on a plot, with all it was made from."""
        if all(given.id != plot.id for given, _, _ in self.given) and self.advice(plot, asked_for=True) is None:
            return None
        return next(given for given in self.given if given[0].id == plot.id)

    def why(self, about: Sequence[int]) -> None:
        """The working behind the last advice."""
        plots = self.visit.plots()
        last = [
            given for plot in plots if not about or plot.id in about if (given := self.visit.store.advices.last(plot))
        ]
        if not last:
            self.visit.say(self.visit.words.say("why.nothing"))
            return
        newest = max(last, key=lambda given: given.id)
        self.visit.draft.texts += self.visit.words.why(newest.advice)

    def season(self, about: Sequence[int]) -> None:
        """The totals of the season so far, plot by plot."""
        for plot in self.visit.plots():
            if about and plot.id not in about:
                continue
            words, sums = self.visit.words, self._totals(plot)
            name = words.plot(plot.name)
            self.visit.say(words.season(plot.name, **asdict(sums)) if sums else words.say("season.none", plot=name))

    def _totals(self, plot: StoredPlot) -> Totals | None:
        """The sums of this year's reports; None where nothing was reported."""
        today, log = self.visit.today, self.visit.store.log.observations(plot)
        reported = [each.on for each in log if each.on and each.on.year == today.year]
        if not reported:
            return None
        known = self._inputs(plot)
        past = history(known.plot, known.observations, known.weather, today, tables=self.visit.tables)
        return totals(past.days, min(reported))
