"""Our own questions: which is open, which to ask next and how often; what an answer means stands in `own_answers`."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from datetime import timedelta
from typing import Any

from bot.store import Kept, StoredObservation, StoredPlot
from bot.talk.setup import QUESTIONS, next_question
from bot.talk.told import told
from bot.talk.visit import Visit, held_with
from bot.understand.statements import Fact, Rain, Statement, Unclear, Watering
from rules import plants

# An open question is forgotten after this: what comes later is read for itself.
_QUESTION_LASTS = timedelta(hours=20)
# A text written before the question was asked is no answer to it; telephones' clocks differ by less than this.
_CLOCKS_DIFFER = timedelta(minutes=3)
FIRST_TEXTURE = "texture.ball"
_DROOPY = ("wilting", "yellow", "leaf_drop")
_PASSED = ("skipped", "unknown")
# What decides too much to be lost with one text that was no answer; the place has its own rule.
_ONCE_MORE = ("plant", "soil")
_WHICH = "which plant"


@dataclass(frozen=True)
class Dialogue:
    """The questions of one visit."""

    visit: Visit

    def open_question(self) -> dict[str, Any] | None:
        question, asked_at = self.visit.person.question, self.visit.person.asked_at
        if question is None or asked_at is None or self.visit.aside:
            return None
        waited = self.visit.written - asked_at
        return question if -_CLOCKS_DIFFER < waited <= _QUESTION_LASTS else None

    def held(self) -> str:
        """How much is held of the person, in words."""
        entries = len(self.visit.store.log.history(self.visit.person))
        return self.visit.words.held(plots=len(self.visit.plots()), entries=entries)

    def ask_plot(self, held: Sequence[Statement]) -> None:
        """Ask which plot was meant; a name that no plot has may be that of a new one."""
        names, unknown = [plot.name for plot in self.visit.plots()], getattr(held[0], "plot", None)
        self.visit.ask("plot", held=held, choices=names)
        question = self.visit.words.question("plot", offered=names)
        offer = self.visit.words.say("plot.new_or", plot=unknown) if unknown else ""
        self.visit.say(f"{offer} {question}".strip())

    def asks_of_setup(self) -> bool:
        """Whether the open question is one of getting to know each other."""
        question = self.open_question()
        return question is not None and question["about"] in QUESTIONS

    def ask_repeated(self, statements: Sequence[Statement]) -> bool:
        """Ask whether a watering or rain was done twice, when the same words told it a moment ago."""
        if self.visit.repeats is None:
            return False
        told_now = [each for each in statements if isinstance(each, Watering | Rain)]
        log = [each for each in self.visit.store.log.history(self.visit.person) if each.in_force]
        alike = [each for each in log if any(_tells_the_same(each, now) for now in told_now)]
        if not alike:
            return False
        message = alike[-1].message
        before = tuple(each for each in log if each.message == message)
        names = {each.id: each.name for each in self.visit.plots()}
        again = told(Kept(message=message, items=before), names, self.visit.plant_names)
        self.visit.ask("repeat", held=again)
        self.visit.say(self.visit.words.repeated(again))
        return True

    def ask_about(self, about: str, plot: str) -> None:
        name = "" if about == "place" else plot
        before = self.asked_of(name)
        if about in before or f"{about} again" in before:
            self.visit.missed("asked again", about)
        self._set_asked(name, [*before, about])
        self._pose(about, plot)

    def _pose(self, about: str, plot: str | None) -> None:
        """Open a question and say it; of which plot, where there are several."""
        several = len(self.visit.plots()) > 1
        self.visit.ask(about, plot=plot or None, choices=self.visit.words.choices(about))
        key = "plant.first" if about == "plant" and not self.visit.plots() else about
        self.visit.say(self.visit.words.question(key, plot=plot if several and about != "place" else None))

    def asked_of(self, name: str) -> list[str]:
        """What was asked so far of the plot of this name; of no plot where the name is empty."""
        return list(self.visit.person.dialogue.get("asked", {}).get(name, ()))

    def _set_asked(self, name: str, asked: Sequence[str]) -> None:
        self.visit.remember(asked={**self.visit.person.dialogue.get("asked", {}), name: list(asked)})

    def ask_again(self, question: dict[str, Any]) -> None:
        """Ask once more what something told before still waits for, after a text that was no answer."""
        about, held = str(question["about"]), held_with(question)
        self.visit.missed("asked again", about)
        choices = list(question.get("choices", ()))
        self.visit.ask(about, plot=question.get("plot"), choices=choices, held=held, again=True)
        value = getattr(held[0], "value", None)
        self.visit.say(self.visit.words.question(about, offered=choices, value=value))

    def repeat(self, question: dict[str, Any]) -> None:
        """Say an open question once more, after a text that said nothing."""
        about = str(question["about"])
        if about in (*QUESTIONS, "feel"):
            self._pose(about, question.get("plot"))

    def no_more(self) -> None:
        """Ask nothing more of getting to know each other."""
        self.visit.store.people.clear_question(self.visit.person)
        done = [about for about in (*QUESTIONS, "feel") for _ in range(2)]
        self.visit.remember(asked={name: list(done) for name in ("", *(plot.name for plot in self.visit.plots()))})

    def passed_over(self, question: dict[str, Any], statements: Sequence[Statement]) -> None:
        """A question that was met with something else than an answer or a report may be asked one more time."""
        about, plot = str(question["about"]), str(question.get("plot") or "")
        if any(not isinstance(each, Fact | Unclear) or getattr(each, "about", None) == about for each in statements):
            return
        before = self.asked_of(plot)
        if about in before and about in _ONCE_MORE and f"{about} again" not in before:
            before[before.index(about)] = f"{about} again"
            self._set_asked(plot, before)

    def asked_before(self, plot: StoredPlot) -> list[str]:
        """What need not be asked of this plot any more; the place, which decides most, only when asked twice or answered."""
        of_all = self.asked_of("")
        if of_all.count("place") < 2:
            of_all = [about for about in of_all if about != "place"]
        return self.asked_of(plot.name) + of_all

    def settle_place(self, statements: Sequence[Statement]) -> None:
        """Remember that the question for the place was answered, or passed over."""
        if any(isinstance(each, Fact) and each.about == "place" and each.value in _PASSED for each in statements):
            self._set_asked("", [*self.asked_of(""), "place", "place"])

    def hand_first(self, plot: StoredPlot) -> bool:
        """Whether the soil must be felt before today's leaves are believed: too wet and too dry look alike. Twice at most."""
        if self.asked_of(plot.name).count("feel") >= 2:
            return False
        today = [
            each for each in self.visit.store.log.observations(plot) if each.in_force and each.on == self.visit.today
        ]
        droopy = any(each.kind == "sign" and each.slots.get("sign") in _DROOPY for each in today)
        return droopy and not any(each.kind == "reading" for each in today)

    def settle_hand(self, plot: str) -> None:
        """Remember that the hand test was passed over."""
        self._set_asked(plot, [*self.asked_of(plot), "feel", "feel"])

    def ask_plant_again(self, choices: Sequence[str]) -> None:
        """Leave the question of an unknown plant open, once."""
        if "plant again" not in self.asked_of(""):
            self._set_asked("", [*self.asked_of(""), "plant again"])
            self.visit.ask("plant", choices=choices)

    def ask_place_again(self) -> None:
        """Ask for a place that was not found once more, and no third time."""
        if self.asked_of("").count("place") < 2:
            self.ask_about("place", "")

    def ask_next(self, plots: Sequence[StoredPlot]) -> bool:
        """Ask the next question of getting to know each other; whether there was one left."""
        if not plots:
            if "plant" in self.asked_of(""):
                return False
            self.ask_about("plant", "")
            return True
        for plot in plots:
            if self._ask_which_plant(plot):
                return True
            about = self.waiting(plot)
            if about is not None:
                self.ask_about(about, plot.name)
                return True
        return False

    def _ask_which_plant(self, plot: StoredPlot) -> bool:
        """Ask, once, which of two kinds of plant is meant by a name that both have; the first is taken meanwhile."""
        found = plants.find(plot.name, self.visit.language, self.visit.tables)
        meant = found.choices if found.how == "ambiguous" else ()
        asked = self.asked_of(plot.name)
        if len({self.visit.tables.plants[each].category for each in meant}) < 2 or _WHICH in asked:
            return False
        self._set_asked(plot.name, [*asked, _WHICH])
        names = [self.visit.plant_names[each] for each in meant]
        self.visit.ask("plant", plot=plot.name, choices=names)
        self.visit.say(
            self.visit.words.say(
                "plant.which", words=plot.name, choices=", ".join(f"{n} {name}" for n, name in enumerate(names, 1))
            )
        )
        return True

    def ask_hand(self, plots: Sequence[StoredPlot]) -> None:
        """Ask for the hand test of a plot of which nothing was ever reported, once."""
        for plot in plots:
            if "feel" not in self.asked_before(plot) and self.visit.store.log.is_empty(plot):
                self.ask_about("feel", plot.name)
                return

    def has_place(self, plot: StoredPlot) -> bool:
        """Whether the plot's weather can be known."""
        return plot.facts.latitude is not None

    def waiting(self, plot: StoredPlot) -> str | None:
        """The next fact to ask of a plot, or None."""
        return next_question(plot.facts, self.has_place(plot), self.asked_before(plot))


def _tells_the_same(entry: StoredObservation, statement: Watering | Rain) -> bool:
    """Whether an entry of the record tells what a statement tells, its plot aside."""
    slots = {name: value for name, value in asdict(statement).items() if name not in ("plot", "on")}
    return entry.kind == statement.kind and entry.on == statement.on and dict(entry.slots) == slots
