"""What an answer to one of our own questions means, where only we can read it.

Most answers are read by `understand` in the light of the question. Here are the others: a step of the texture by feel,
which plot, what a bare number was, the hand test, a day, an amount, and SKIP.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from bot import places, understand
from bot.record import ALL
from bot.store import Person
from bot.talk.dialogue import Dialogue
from bot.talk.potted import pot_size
from bot.talk.setup import QUESTIONS, SKIPS, chosen, plain, yes_or_no
from bot.talk.visit import Visit, held_with
from bot.understand.statements import Asked, Fact, Rain, Reading, Request, Statement, Watering
from rules.soil import feel_answers, feel_step

_FEEL = ("wet", "moist", "slightly_moist", "dry")
_CONFIRMED = ("forget yes", "olvidar si", "export yes", "exportar si")
_NEW = frozenset({"new", "add", "nueva", "nuevo", "agregar", "agregue"})
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
# Five figures in a short answer to where it is are a ZIP code, whatever stands around them.
_ZIP = re.compile(r"(?<!\d)\d{5}(?!\d)")
_SHORT = 6
_HOW_TO_KNOW = re.compile(
    r"^(?:and |well |but |y |pero )*(?:how (?:do|would|can|could|should|will) (?:i|we|you|one) (?:know|tell|find out|see|check)"
    r"|what(?: is| s|s) (?:the difference|a |an )?(?:sand|sandy|loam|clay|silt)"
    r"|como (?:lo |le |puedo |podria |voy a )*(?:se|saber|saberlo|veo|reviso)|que es (?:arena|franc|barro|arcill))"
)
_LETTER = re.compile(r"(?P<letter>[a-d])[.!]?(?: (?P<depth>(?:at|@|a|en) \d[\w ]*))?", re.IGNORECASE)
_LONGEST_NAME = 3
_ALL_OF_THEM = frozenset(
    {
        "both",
        "all",
        "all of them",
        "both of them",
        "everything",
        "ambos",
        "ambas",
        "todos",
        "todas",
        "los dos",
        "las dos",
    }
)
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
class OwnAnswers:
    """The answers of one visit."""

    dialogue: Dialogue

    @property
    def visit(self) -> Visit:
        """The visit that they are answers of."""
        return self.dialogue.visit

    def own_answer(self, text: str, question: dict[str, Any]) -> list[Statement] | None:
        """The statements that an answer to one of our own questions stands for; None: read the text as any other."""
        about = str(question["about"])
        refused = about in (*QUESTIONS, "feel") and chosen(text, ("yes", "no")) == "no" and yes_or_no(text)
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
            "soil": self._how_to_know,
            "container_litres": self._pot_size,
            "fell": self._what_fell,
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
        if about == "feel":
            self.dialogue.settle_hand(question.get("plot") or "")
        if about in ("probe_depth_cm", "amount"):
            return held_with(question)
        return [Fact(about=about, value="skipped", plot=question.get("plot"))]

    def _forget(self) -> list[Statement]:
        until = self.visit.office.texts_locked_until(self.visit.today)
        words = self.visit.words
        if until is None:
            raise Forgotten(self.visit.person, words.say("forget.done"))
        raise Forgotten(self.visit.person, words.say("forget.locked", day=f"{words.amounts.day(until)} {until.year}"))

    def _export(self) -> list[Statement]:
        words, held = self.visit.words, self.dialogue.held()
        if self.visit.links:
            self.visit.say(
                words.say("export.link", held=held, link=self.visit.links.make("mine", self.visit.person.id))
            )
        else:
            self.visit.say(words.say("export.done", held=held, phone=self.visit.office.phone))
        return HANDLED

    def _which_plot(self, text: str, question: dict[str, Any]) -> list[Statement] | None:
        names, held = list(question.get("choices", ())), held_with(question)
        unknown = getattr(held[0], "plot", None) if held else None
        if unknown and plain(text).split()[:1] and plain(text).split()[0] in _NEW:
            self.visit.store.people.clear_question(self.visit.person)
            return [Fact(about="new_plot", value=unknown, plot=unknown), *held]
        if self._asks_more(text):
            return None
        within = [name for name in names if f" {plain(text)} " in f" {plain(name)} "]
        name = chosen(text, names) or (within[0] if len(within) == 1 else None)
        name = name or (ALL if plain(text) in _ALL_OF_THEM else None)
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
        return [replace(each, plot=name) for each in held]  # type: ignore[call-arg]

    def _asks_more(self, text: str) -> bool:
        """Whether a text is no answer but a question of its own: "how much do the peaches need"."""
        said = understand.read(text, self.visit.context(None)).statements
        return len(text.split()) > _LONGEST_NAME and any(isinstance(each, Request) for each in said)

    def hand_letter(self, text: str) -> Reading | None:
        """A letter alone, A to D: the answer to a hand test that another question came after; no other choice has letters."""
        plots = [plot for plot in self.visit.plots() if not plot.paused and "feel" in self.dialogue.asked_of(plot.name)]
        found = _LETTER.fullmatch(text.strip())
        return self._felt(found["letter"], found["depth"], plots[0].name) if len(plots) == 1 and found else None

    def _felt(self, letter: str, depth: str | None, plot: str | None) -> Reading:
        """The band of a letter, at the depth that was told with it."""
        read = understand.read(f"feels dry {depth or ''}", self.visit.context(None)).statements
        depth_cm = next((each.depth_cm for each in read if isinstance(each, Reading)), None)
        band = str(chosen(letter, _FEEL, letters=True))
        return Reading(quantity="feel", value=band, depth_cm=depth_cm, plot=plot or None, on=self.visit.written.date())

    def _which_quantity(self, text: str, question: dict[str, Any]) -> list[Statement] | None:
        quantity = chosen(text, self.visit.words.choices("quantity"))
        said = plain(text).split()
        quantity = quantity or next((_QUANTITY_WORDS[word] for word in said[:3] if word in _QUANTITY_WORDS), None)
        held = held_with(question)
        bare = [each for each in held if isinstance(each, Reading)]
        if quantity is None and bare and yes_or_no(text):
            self.visit.say(self.visit.words.question("quantity", value=bare[0].value))
            return HANDLED
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

    def _done_twice(self, text: str, question: dict[str, Any]) -> list[Statement] | None:
        answer = chosen(text, ("yes", "no"))
        if answer is None:
            return None
        self.visit.store.people.clear_question(self.visit.person)
        if answer == "yes":
            return held_with(question)
        self.visit.say(self.visit.words.say("repeat.once"))
        return HANDLED

    def _which_place(self, text: str, question: dict[str, Any]) -> list[Statement] | None:
        """One of several places of a name, by its number, county or state."""
        names, held = list(question.get("choices", ())), held_with(question)
        zips = _ZIP.findall(text) if len(text.split()) <= _SHORT else []
        if not held and len(zips) == 1 and places.find(zips[0], self.visit.office.places):
            self.visit.store.people.clear_question(self.visit.person)
            return [Fact(about="place", value=zips[0])]
        sure = text.rstrip(" ?.!").removesuffix(" ok").removesuffix(" right").rstrip(" ,") if "?" in text else ""
        if not held and sure and len(places.find(sure, self.visit.office.places)) == 1:
            self.visit.store.people.clear_question(self.visit.person)
            return [Fact(about="place", value=sure)]
        if yes_or_no(text):
            self.dialogue.repeat(question)
            return HANDLED
        if not held or not isinstance(held[0], Fact) or len(text.split()) > 4:
            return None
        fitting = [name for name in names if f" {plain(text)} " in f" {plain(name)} "]
        place = chosen(text, names) or (fitting[0] if len(fitting) == 1 else f"{held[0].value}, {text.strip()}")
        if place not in names and not places.find(place, self.visit.office.places):
            return None
        self.visit.store.people.clear_question(self.visit.person)
        return [replace(held[0], value=place, plot=None)]

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
        held = held_with(question)
        return [replace(each, on=on) for each in held]  # type: ignore[call-arg]

    def _how_much(self, text: str, question: dict[str, Any]) -> list[Statement] | None:
        """The amount of a watering that was told without one."""
        read = understand.read(f"watered {text}", self.visit.context(None)).statements
        held = [each for each in held_with(question) if isinstance(each, Watering)]
        if len(read) != 1 or not isinstance(read[0], Watering) or not held or len(text.split()) > 6:
            return None
        self.visit.store.people.clear_question(self.visit.person)
        return [replace(read[0], on=held[0].on, plot=held[0].plot)]

    def _which_depth(self, text: str, question: dict[str, Any]) -> list[Statement] | None:
        held = held_with(question)
        asked = Asked(about="probe_depth_cm")
        facts = understand.read(text, self.visit.context(asked)).statements
        depth = next((each.value for each in facts if isinstance(each, Fact) and each.about == "probe_depth_cm"), None)
        if not isinstance(depth, int | float):
            return None
        self.visit.store.people.clear_question(self.visit.person)
        fixed = [replace(each, depth_cm=float(depth)) if isinstance(each, Reading) else each for each in held]
        plots = dict.fromkeys(getattr(each, "plot", None) for each in held)
        return [*fixed, *(Fact(about="probe_depth_cm", value=float(depth), plot=plot) for plot in plots)]

    def _which_feel(self, text: str, question: dict[str, Any]) -> list[Statement] | None:
        found = _LETTER.fullmatch(text.strip())
        band = chosen(text, _FEEL, letters=True) if len(text.split()) <= 3 else None
        if found is None and band is None:
            return None
        self.visit.store.people.clear_question(self.visit.person)
        if found is not None:
            return [self._felt(found["letter"], found["depth"], question.get("plot"))]
        # "C, mud": the word was felt, the letter may be of another list.
        told = understand.read(text[1:], self.visit.context(None)).statements
        band = next((str(each.value) for each in told if isinstance(each, Reading) and each.quantity == "feel"), band)
        return [Reading(quantity="feel", value=str(band), plot=question.get("plot"), on=self.visit.written.date())]

    def _how_to_know(self, text: str, question: dict[str, Any]) -> list[Statement] | None:
        """ "How would I know?" is answered by leading through the test by feel."""
        if not _HOW_TO_KNOW.search(plain(text)):
            return None
        self.visit.store.people.clear_question(self.visit.person)
        return [Fact(about="soil", value="by_feel", plot=question.get("plot"))]

    def _pot_size(self, text: str, question: dict[str, Any]) -> list[Statement] | None:
        size = pot_size(self.visit, text, question.get("plot"))
        if size is None:
            return None
        self.visit.store.people.clear_question(self.visit.person)
        return [size]

    def _what_fell(self, text: str, question: dict[str, Any]) -> list[Statement] | None:
        told = _what_fell(held_with(question)[0], text)
        if told is not None:
            self.visit.store.people.clear_question(self.visit.person)
        return told

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


def _what_fell(told: Statement, text: str) -> list[Statement] | None:
    """The answer to whether it was rain or a watering, as that statement; None when it says neither."""
    said = plain(text).split()
    if not isinstance(told, Watering) or not 1 <= len(said) <= 5:
        return None
    if said == ["1"] or any(word.startswith(("rain", "lluv", "llov")) for word in said):
        return [Rain(on=told.on, depth_mm=told.depth_mm)]
    if said == ["2"] or any(word.startswith(("water", "irrig", "riego", "regu", "ran", "mine")) for word in said):
        return [told]
    return None
