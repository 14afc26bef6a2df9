"""The one door to every sentence. `Words` speaks to one person: language, units, channel and the day it is there.

    words = Words("en", "us", "sms", date(2026, 7, 1))
    words.advice(advice, also=[words.kept(statements)])      # WATER peaches today: 1 h 35 min (0.7 in). ...
    words.several(advices)                                   # several plots in one text
    words.why(advice); words.sources(advice)                 # lists of at most two texts
    words.question("soil", plot="peaches")                   # its choices: words.choices("soil")
    words.kept(statements)                                   # Saved: ... UNDO takes it back.
    words.undone(statements, left); words.redone(statements); words.repeated(statements)
    words.assumed("soil", "loam", "peaches")
    words.caution("shock")
    words.forecast(days); words.plots(names); words.held(plots=2, entries=41)
    words.example(); words.say("unread", words=text, example=words.example())
    words.say("stop.done", phone="555-0142")                 # every other sentence, by its key in en.po

Values are SI and named by their unit (`rain_mm`, `depth_cm`, `minutes`, `when`); they come out in the person's units.
All texts are ready to send: on SMS folded to the GSM alphabet, and of two segments at most (`words.segments(text)`).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from typing import Any

from bot.understand.statements import Statement
from bot.word import asking, cautions, keeping, several, supposed, verdict, why
from bot.word.voice import Part, Voice
from rules.can_test import ENOUGH_CANS
from rules.terms import Advice, Day

_FORECAST_DAYS = 4
_EXAMPLE_CM = {"us": 30.48, "metric": 30.0}
_NEAR_FROST_C = 2.0  # a station's low; by the ground it may then freeze
_EXAMPLE_RAIN_MM = {"us": 10.16, "metric": 10.0}
_LEAST_RAIN_MM = 0.5  # less is said as dry


class Words(Voice):
    """Everything that may be said to one person."""

    def advice(self, given: Advice, also: Sequence[str] = (), undo: bool = False, rod_due: bool = False) -> str:
        """One plot's advice.

        Args:
            also: what follows the verdict: what was kept, a question.
            undo: with the hint of UNDO, if it fits.
            rod_due: a rod is to follow the water.
        """
        return verdict.advice(self, given, also, undo, rod_due)

    def several(self, given: Sequence[Advice], also: Sequence[str] = (), undo: bool = False) -> str:
        """Advice for several plots in one text."""
        return several.several(self, given, also, undo)

    def why(self, given: Advice) -> list[str]:
        """The working, in at most two texts."""
        return why.why(self, given)

    def sources(self, given: Advice) -> list[str]:
        """The table rows behind an advice, in at most two texts."""
        return why.sources(self, given)

    def question(
        self,
        about: str,
        plot: str | None = None,
        offered: Sequence[str] = (),
        assumed: str | None = None,
        **values: Any,
    ) -> str:
        """One question, its choices numbered, with what is taken when it is skipped."""
        return asking.question(self, about, plot, offered, assumed, **values)

    def choices(self, about: str) -> tuple[str, ...]:
        """The ids behind the numbers of a question that was asked without choices of its own."""
        return asking.choices(about)

    def named(self, about: str) -> tuple[str, ...]:
        """What `choices` are called, in the same order."""
        return asking.named(self, about)

    def answers(self, about: str, offered: Sequence[str] = ()) -> tuple[str, ...]:
        """What a person may answer to a question, each as it stands on a button."""
        return asking.answers(self, about, offered)

    def kept(self, statements: Iterable[Statement], undo: bool = True) -> str:
        """What was stored, each with plot, day and amount."""
        return keeping.kept(self, statements, undo=undo)

    def fixed(self, statements: Iterable[Statement]) -> str:
        """What was stored in the place of what came before."""
        return keeping.kept(self, statements, key="kept.fixed")

    def if_waiting(self, then: Advice, until: date, stress_on: date | None) -> str:
        """What would be if nothing were given till a day, by the advice of that day."""
        return supposed.waiting(self, then, until, stress_on)

    def if_given(self, then: Advice) -> str:
        """What would be after a watering of today, by the advice after it."""
        return supposed.given(self, then)

    def cans(self, *, uneven: bool, enough: bool) -> list[str]:
        """What a can test leaves to be wished."""
        return [self.say("cans.uneven")] * uneven + [self.say("cans.few", n=ENOUGH_CANS)] * (not enough)

    def rod(self, promised_cm: float, found_cm: float, rate_mm_h: float | None) -> str:
        """What a rod said of the last watering."""
        if rate_mm_h is None:
            return self.say("rod.fits")
        return self.say("rod.learned", promised_cm=promised_cm, found_cm=found_cm, rate_mm_h=rate_mm_h)

    def undone(self, statements: Sequence[Statement], left: Sequence[Statement] = ()) -> str:
        """What was taken back, and the last thing that still stands; nothing to take back says so."""
        if not statements:
            return self.say("undo.none")
        parts = [Part(keeping.kept(self, statements, key="undo.done"))]
        if left:
            parts.append(Part(self.say("undo.left", items=keeping.items(self, left)), leaves=1))
        return self.fit(parts)

    def redone(self, statements: Sequence[Statement]) -> str:
        """What counts again."""
        return keeping.kept(self, statements, key="redo.done") if statements else self.say("redo.none")

    def repeated(self, statements: Sequence[Statement]) -> str:
        """The same thing told twice: asked about, not doubled."""
        return keeping.kept(self, statements, key="repeat")

    def assumed(self, about: str, value: Any, plot: str | None = None) -> str:
        """What is taken for a fact that nobody told, and how to set it right."""
        thing, said = keeping.thing(self, about), keeping.fact_value(self, about, value)
        return self.say("assumed.taken", plot=self.plot(plot), thing=thing, value=said, word=thing.upper())

    def caution(self, id_: str) -> str:
        """One caution, alone."""
        return cautions.sentence(self, id_)

    def hello(self, office: str) -> str:
        """Who answers here; where texts may cost something, that too."""
        return self.say("hello" if self.short else "hello.chat", office=office)

    def example(self) -> str:
        """A text that can be read, in the person's own units."""
        return self.say("example", example_cm=_EXAMPLE_CM[self.units])

    def raining(self) -> str:
        """Rain that is falling: let it, and tell how much it was."""
        return self.say("raining", example_mm=_EXAMPLE_RAIN_MM[self.units])

    def season(
        self,
        plot: str,
        *,
        since: date,
        waterings: int,
        unmeasured: int,
        water_mm: float,
        rain_mm: float,
        wanted_mm: float,
        off_mm: float,
    ) -> str:
        """The season's totals of a plot; `unmeasured` of the waterings were told without an amount."""
        told = self.say(
            "season.totals",
            plot=self.plot(plot),
            on=since,
            waterings=self.say("season.waterings", n=waterings),
            water_mm=water_mm,
            rain_mm=rain_mm,
            used_advised_mm=wanted_mm,
            off_advised_mm=off_mm,
        )
        parts = [Part(told)]
        if unmeasured:
            parts.append(Part(self.say("season.unmeasured", n=unmeasured), leaves=1))
        return self.fit(parts)

    def plots(self, names: Sequence[str]) -> str:
        """The person's plots."""
        if not names:
            return self.say("list.none", example=self.example())
        return self.fit([Part(self.say("list.plots", plots=", ".join(map(self.plot, names))))])

    def held(self, plots: int, entries: int) -> str:
        """`2 plots and 41 entries`, for `export.ask` and `export.done`."""
        return self.amounts.listed([self.say("held.plots", n=plots), self.say("held.entries", n=entries)])

    def forecast(self, days: Sequence[Day]) -> str:
        """The next days in words; none at all says so."""
        said = [self._forecast_day(day) for day in days[:_FORECAST_DAYS]]
        if not said:
            return self.say("forecast.none")
        return self.fit([Part(self.say("forecast.days", days="; ".join(said)))])

    def _forecast_day(self, day: Day) -> str:
        known: dict[str, Any] = {"on": day.on}
        wet = bool(day.rain_mm and day.rain_mm >= _LEAST_RAIN_MM and day.pop)
        if wet:
            known |= {"chance_share": day.pop, "rain_mm": day.rain_mm}
        return self.say(f"forecast.{'wet' if wet else 'dry'}{_temperatures(day, known)}", **known)


def _temperatures(day: Day, known: dict[str, Any]) -> str:
    """The ending of the sentence for what is known of the day's warmth, which goes into `known`; a low only where it may freeze."""
    if day.tmax_c is None:
        return "_only"
    known["high_c"] = day.tmax_c
    if day.tmin_c is None or day.tmin_c > _NEAR_FROST_C:
        return ""
    known["low_c"] = day.tmin_c
    return "_cold"
