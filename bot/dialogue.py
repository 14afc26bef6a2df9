"""Our own questions: what an answer to one of them means, and which to ask next.

Most answers are read by `understand` in the light of the question. Here are those that only make sense to us: a step of the
texture by feel, which plot, what a bare number was, the hand test, and SKIP.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass, replace
from datetime import timedelta
from typing import Any

from bot import places, understand
from bot.setup import SKIPS, chosen, next_question, plain, yes_or_no
from bot.store import Kept, Person, StoredObservation, StoredPlot
from bot.told import from_json, told
from bot.understand.statements import Asked, Fact, Rain, Reading, Sign, Statement, Unclear, Watering
from bot.visit import Visit
from rules.soil import feel_answers, feel_step

# An open question is forgotten after this: what comes later is read for itself.
_QUESTION_LASTS = timedelta(hours=20)
# A text written before the question was asked is no answer to it; telephones' clocks differ by less than this.
_CLOCKS_DIFFER = timedelta(minutes=3)
_FEEL = ("wet", "moist", "slightly_moist", "dry")
FIRST_TEXTURE = "texture.ball"
_DROOPY = ("wilting", "yellow", "leaf_drop")
_PASSED = ("skipped", "unknown")
# What decides too much to be lost with one text that was no answer; the place has its own rule.
_ONCE_MORE = ("plant", "soil")
_CONFIRMED = ("forget yes", "olvidar si", "export yes", "exportar si")
_QUANTITY_WORDS = {
    "cb": "tension",
    "centibars": "tension",
    "centibares": "tension",
    "kpa": "tension",
    "percent": "percent",
    "por": "percent",
    "minutes": "minutes",
    "min": "minutes",
    "minutos": "minutes",
}
# Stands for "dealt with": there is nothing more to keep of this message.
HANDLED: list[Statement] = []


def tapped(text: str, question: dict[str, Any]) -> str:
    """An answer as it can be read: one of the names offered, as on a button, is the number that it stands for."""
    names = map(plain, question.get("named", ()))
    return next((str(number) for number, name in enumerate(names, 1) if name == plain(text)), text)


class Forgotten(Exception):
    """The person's record is to go, and with it what the answer would have been kept with."""

    def __init__(self, person: Person, text: str) -> None:
        self.person, self.text = person, text
        super().__init__("forgotten")


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

    # Answers to our own questions that only we can read

    def own_answer(self, text: str, question: dict[str, Any]) -> list[Statement] | None:
        """The statements that an answer to one of our own questions stands for; None: read the text as any other."""
        about = str(question["about"])
        refused = about == "place" and chosen(text, ("yes", "no")) == "no" and yes_or_no(text)
        if plain(text) in SKIPS or plain(text) in _CONFIRMED or refused:
            return self._skipped(about, question, text)
        handlers: dict[str, Callable[[str, dict[str, Any]], list[Statement] | None]] = {
            "plot": self._which_plot,
            "quantity": self._which_quantity,
            "probe_depth_cm": self._which_depth,
            "feel": self._which_feel,
            "repeat": self._done_twice,
            "date": self._which_day,
            "amount": self._how_much,
            "place": self._which_place,
            "forget": self._not_now,
            "export": self._not_now,
            "mixed": self._mixed,
        }
        if about.startswith("texture."):
            return self._texture(text, question)
        handler = handlers.get(about)
        return handler(text, question) if handler else None

    def _skipped(self, about: str, question: dict[str, Any], text: str) -> list[Statement] | None:
        said = plain(text)
        self.visit.store.people.clear_question(self.visit.person)
        if said.startswith(("forget", "olvidar")):
            return self._forget() if about == "forget" else None
        if said.startswith("export"):
            return self._export() if about == "export" else None
        if about.startswith("texture."):
            about = "soil"
        if about in ("probe_depth_cm", "amount"):
            return [from_json(each) for each in question.get("held", ())]
        return [Fact(about=about, value="skipped", plot=question.get("plot"))]

    def _forget(self) -> list[Statement]:
        raise Forgotten(self.visit.person, self.visit.words.say("forget.done"))

    def _export(self) -> list[Statement]:
        self.visit.say(self.visit.words.say("export.done", held=self.held(), phone=self.visit.office.phone))
        return HANDLED

    def held(self) -> str:
        """How much is held of the person, in words."""
        entries = len(self.visit.store.log.history(self.visit.person))
        return self.visit.words.held(plots=len(self.visit.plots()), entries=entries)

    def _which_plot(self, text: str, question: dict[str, Any]) -> list[Statement] | None:
        names = list(question.get("choices", ()))
        name = chosen(text, names)
        if name is None:
            named = [
                fact
                for fact in understand.read(text, self.visit.context(None)).statements
                if getattr(fact, "plot", None)
            ]
            name = getattr(named[0], "plot", None) if named and len(text.split()) <= 4 else None
        if name is None:
            return None
        self.visit.store.people.clear_question(self.visit.person)
        held = [from_json(each) for each in question.get("held", ())]
        return [replace(each, plot=name) for each in held]  # type: ignore[call-arg]

    def _which_quantity(self, text: str, question: dict[str, Any]) -> list[Statement] | None:
        quantity = chosen(text, self.visit.words.choices("quantity"))
        said = plain(text).split()
        quantity = quantity or next((_QUANTITY_WORDS[word] for word in said[:3] if word in _QUANTITY_WORDS), None)
        held = [from_json(each) for each in question.get("held", ())]
        bare = [each for each in held if isinstance(each, Reading)]
        if quantity is None or not bare:
            return None
        self.visit.store.people.clear_question(self.visit.person)
        if quantity == "other":
            return []
        if quantity == "minutes":
            return [Watering(on=each.on, minutes=float(each.value), plot=each.plot) for each in bare]
        readings = [replace(each, quantity=quantity) for each in bare]
        if all(each.depth_cm is not None for each in readings):
            return list(readings)
        self.visit.ask("probe_depth_cm", held=readings)
        self.visit.say(self.visit.words.question("depth"))
        return HANDLED

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

    def _done_twice(self, text: str, question: dict[str, Any]) -> list[Statement] | None:
        answer = chosen(text, ("yes", "no"))
        if answer is None:
            return None
        self.visit.store.people.clear_question(self.visit.person)
        if answer == "yes":
            return [from_json(each) for each in question.get("held", ())]
        self.visit.say(self.visit.words.say("repeat.once"))
        return HANDLED

    def _which_place(self, text: str, question: dict[str, Any]) -> list[Statement] | None:
        """One of several places of a name, by its number, county or state."""
        names, held = list(question.get("choices", ())), [from_json(each) for each in question.get("held", ())]
        if yes_or_no(text):
            self.ask_place_again()
            return HANDLED if self.visit.draft.texts else None
        if not held or not isinstance(held[0], Fact) or len(text.split()) > 4:
            return None
        fitting = [name for name in names if f" {plain(text)} " in f" {plain(name)} "]
        place = chosen(text, names) or (fitting[0] if len(fitting) == 1 else f"{held[0].value}, {text.strip()}")
        if place not in names and not places.find(place, self.visit.office.places):
            return None
        self.visit.store.people.clear_question(self.visit.person)
        return [replace(held[0], value=place)]

    def _not_now(self, text: str, question: dict[str, Any]) -> list[Statement] | None:
        if chosen(text, ("no",)) is None:
            return None
        self.visit.store.people.clear_question(self.visit.person)
        self.visit.say(self.visit.words.say("nothing.done"))
        return HANDLED

    def _mixed(self, text: str, question: dict[str, Any]) -> list[Statement] | None:
        """Whether a chemical is in the water already: the staff will answer, until then it must rest."""
        answer = chosen(text, ("yes", "no"))
        if answer is None:
            return None
        self.visit.store.people.clear_question(self.visit.person)
        self.visit.say(self.visit.words.say(f"mixed.{answer}", phone=self.visit.office.phone))
        return HANDLED

    def _which_day(self, text: str, question: dict[str, Any]) -> list[Statement] | None:
        # A day alone is read as the day of a watering.
        read = understand.read(f"watered {text}", self.visit.context(None)).statements
        on = next((each.on for each in read if isinstance(each, Watering)), None)
        if on is None or not 1 <= len(text.split()) <= 4:
            return None
        self.visit.store.people.clear_question(self.visit.person)
        held = [from_json(each) for each in question.get("held", ())]
        return [replace(each, on=on) for each in held]  # type: ignore[call-arg]

    def _how_much(self, text: str, question: dict[str, Any]) -> list[Statement] | None:
        """The amount of a watering that was told without one."""
        read = understand.read(f"watered {text}", self.visit.context(None)).statements
        held = [each for each in map(from_json, question.get("held", ())) if isinstance(each, Watering)]
        if len(read) != 1 or not isinstance(read[0], Watering) or not held or len(text.split()) > 6:
            return None
        self.visit.store.people.clear_question(self.visit.person)
        return [replace(read[0], on=held[0].on, plot=held[0].plot)]

    def _which_depth(self, text: str, question: dict[str, Any]) -> list[Statement] | None:
        held = [from_json(each) for each in question.get("held", ())]
        asked = Asked(about="probe_depth_cm")
        facts = understand.read(text, self.visit.context(asked)).statements
        depth = next((each.value for each in facts if isinstance(each, Fact) and each.about == "probe_depth_cm"), None)
        if not isinstance(depth, int | float):
            return None
        self.visit.store.people.clear_question(self.visit.person)
        fixed = [replace(each, depth_cm=float(depth)) if isinstance(each, Reading) else each for each in held]
        return [*fixed, Fact(about="probe_depth_cm", value=float(depth))]

    def _which_feel(self, text: str, question: dict[str, Any]) -> list[Statement] | None:
        if len(text.split()) > 3:
            return None
        band = chosen(text, _FEEL, letters=True)
        if band is None:
            return None
        self.visit.store.people.clear_question(self.visit.person)
        return [Reading(quantity="feel", value=band, plot=question.get("plot"), on=self.visit.written.date())]

    def _texture(self, text: str, question: dict[str, Any]) -> list[Statement] | None:
        """One step of the texture by feel; at its end a soil."""
        node = str(question["about"]).removeprefix("texture.")
        answer = chosen(text, feel_answers(node, self.visit.tables))
        if answer is None:
            return None
        step = feel_step(node, answer, self.visit.tables)
        self.visit.store.people.clear_question(self.visit.person)
        if step.soil:
            plot = next((each for each in self.visit.plots() if each.name == question.get("plot")), None)
            for each in [plot] if plot else self.visit.plots():
                self.visit.store.facts.set(
                    each, "soil_source", "felt", at=self.visit.written, message=self.visit.message
                )
            return [Fact(about="soil", value=step.soil, plot=question.get("plot"))]
        self.visit.ask("texture." + step.next_node, plot=question.get("plot"))
        self.visit.say(self.visit.words.question("texture." + step.next_node))
        return HANDLED

    # What to ask next

    def ask_about(self, about: str, plot: str) -> None:
        asked = {name: list(before) for name, before in self.visit.person.dialogue.get("asked", {}).items()}
        asked.setdefault("" if about == "place" else plot, []).append(about)
        self.visit.remember(asked=asked)
        several = len(self.visit.plots()) > 1
        self.visit.ask(about, plot=plot or None, choices=self.visit.words.choices(about))
        key = "plant.first" if about == "plant" and not self.visit.plots() else about
        self.visit.say(self.visit.words.question(key, plot=plot if several and about != "place" else None))

    def ask_again(self, question: dict[str, Any]) -> None:
        """Ask once more what something told before still waits for, after a text that was no answer."""
        about, held = str(question["about"]), [from_json(each) for each in question["held"]]
        choices = list(question.get("choices", ()))
        self.visit.ask(about, plot=question.get("plot"), choices=choices, held=held, again=True)
        value = getattr(held[0], "value", None)
        self.visit.say(self.visit.words.question(about, offered=choices, value=value))

    def passed_over(self, question: dict[str, Any], statements: Sequence[Statement]) -> None:
        """A question that was met with something else than an answer or a report may be asked one more time."""
        about, plot = str(question["about"]), str(question.get("plot") or "")
        if any(not isinstance(each, Fact | Unclear) or getattr(each, "about", None) == about for each in statements):
            return
        asked = {name: list(before) for name, before in self.visit.person.dialogue.get("asked", {}).items()}
        before = asked.get(plot, [])
        if about in before and about in _ONCE_MORE and f"{about} again" not in before:
            before[before.index(about)] = f"{about} again"
            self.visit.remember(asked=asked)

    def asked_before(self, plot: StoredPlot) -> list[str]:
        """What need not be asked of this plot any more; the place, which decides most, only when asked twice or answered."""
        asked = self.visit.person.dialogue.get("asked", {})
        of_all = list(asked.get("", []))
        if of_all.count("place") < 2:
            of_all = [about for about in of_all if about != "place"]
        return list(asked.get(plot.name, [])) + of_all

    def settle_place(self, statements: Sequence[Statement]) -> None:
        """Remember that the question for the place was answered, or passed over."""
        if any(isinstance(each, Fact) and each.about == "place" and each.value in _PASSED for each in statements):
            asked = self.visit.person.dialogue.get("asked", {})
            self.visit.remember(asked={**asked, "": [*asked.get("", []), "place", "place"]})

    def hand_first(self, plot: StoredPlot, signs: Sequence[Statement]) -> bool:
        """Whether the soil must be felt before leaves are believed: too wet and too dry look alike."""
        if not any(isinstance(each, Sign) and each.sign in _DROOPY for each in signs):
            return False
        known = self.visit.store.log.observations(plot)
        return not any(each.kind == "reading" and each.on == self.visit.today for each in known)

    def ask_plant_again(self, choices: Sequence[str]) -> None:
        """Leave the question of an unknown plant open, once."""
        if "plant again" not in self.visit.person.dialogue.get("asked", {}).get("", []):
            asked = self.visit.person.dialogue.get("asked", {})
            self.visit.remember(asked={**asked, "": [*asked.get("", []), "plant again"]})
            self.visit.ask("plant", choices=choices)

    def ask_place_again(self) -> None:
        """Ask for a place that was not found once more, and no third time."""
        if self.visit.person.dialogue.get("asked", {}).get("", []).count("place") < 2:
            self.ask_about("place", "")

    def ask_next(self, plots: Sequence[StoredPlot]) -> bool:
        """Ask the next question of getting to know each other; whether there was one left."""
        if not plots:
            if "plant" in self.visit.person.dialogue.get("asked", {}).get("", []):
                return False
            self.ask_about("plant", "")
            return True
        for plot in plots:
            about = self.waiting(plot)
            if about is not None:
                self.ask_about(about, plot.name)
                return True
        return False

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
