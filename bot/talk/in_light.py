"""What a text says in the light of the open question and of the plots that the person has."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from bot import places, understand
from bot.record import ALL
from bot.talk.amount_alone import amount_alone
from bot.talk.beside import beside_the_job
from bot.talk.by_depth import by_depth
from bot.talk.dialogue import Dialogue
from bot.talk.first_story import completed
from bot.talk.meant import could_mean
from bot.talk.own_answers import OwnAnswers, tapped
from bot.talk.setup import plain, units_used
from bot.talk.speech import speak
from bot.talk.visit import Visit, held_with
from bot.understand.statements import Asked, Fact, Request, Statement, Unclear, Understood, Watering
from rules import plants

_BEFORE_A_NAME = "also and add new the my a tambien y otro otra el la los las mi mis"
# A ZIP code, or degrees north and east.
_POINT = re.compile(r"\s*(?:\d{5}|[-+]?\d{1,2}(?:\.\d+)?\s*,\s*[-+]?\d{1,3}(?:\.\d+)?)\s*")
_BOTH = re.compile(r"\b(?:both|all of them|all of it|ambos|ambas|todos|todas|los dos|las dos)\b")
_EMITTERS = re.compile(r"\b(?:emitters?|drippers?|goteros?) (?:are|is|son|es)\b")
_DOUBTING = re.compile(
    r"\b(?:enough|too (?:much|little|long|short)|suficiente|basta\w*|demasiad[oa]s?|poc[oa]s?|much[oa]s?)\b"
)
_GAVE = re.compile(
    r"\b(?:gave|ran|put|watered|poured|did|used|soaked|irrigated|applied|regu?e|regamos|puse|pusimos|eche|echamos|di|dimos)\b"
)
# No name holds a verb or a judgement.
_JUDGING = re.compile(
    r"\b(?:is|are|was|were|look|looks|looking|looked|seem|seems|feel|feels|smell|have|has|do|does|did|need|needs|want|what|how"
    r"|why|when|abt|about|fine|good|great|bad|ok|okay|nice|sad|happy|dead|dying|alive|thirsty|wet|dry"
    r"|es|esta|estan|son|fue|se|ven|ve|parece|parecen|bien|mal|buenas|lindas|feas|tristes|muertas|secas|mojadas|tiene|tienen|que|como|cuando)\b"
)
# Questions that something told before waits for.
_ASKS_FIGURES = ("rate_mm_h", "amount", "date")
_HELD_FOR = ("quantity", "plot", "date")
_PERSONAL = ("language", "units", "place")


@dataclass
class InLight:
    """Reads the texts of one visit.

    Args:
        waiting: the question that something told before still waits for, once this text has passed it over.
    """

    dialogue: Dialogue
    waiting: dict[str, Any] | None = None

    @property
    def visit(self) -> Visit:
        """The visit that they are texts of."""
        return self.dialogue.visit

    def statements(self, text: str) -> list[Statement]:
        """What the message says, in the light of an open question."""
        question, own_answers = self.dialogue.open_question(), OwnAnswers(self.dialogue)
        if question is not None:
            text = tapped(text, question)
            own = own_answers.own_answer(text, question)
            if own is not None:
                return own
            if question["about"] == "place" and self.own_plot(text):
                return self._named_alone(text)
            if question["about"] == "place" and self._is_a_plant_rather(text):
                return self._passed_over(question, self._named_alone(text))
        letter = own_answers.hand_letter(text)
        if letter is not None:
            return [letter]
        if question is None or question["about"] not in _ASKS_FIGURES:
            readings = by_depth(self.visit, text)
            if readings is not None:
                return [*readings]
        if self.visit.person.latitude is None and _POINT.fullmatch(text) and places.find(text):
            place: list[Statement] = [Fact(about="place", value=text.strip())]
            return self._passed_over(question, place)
        return self._read(text, question)

    def _read(self, text: str, question: dict[str, Any] | None) -> list[Statement]:
        """What the words say, where they are no answer of a form of its own."""
        understood = self._understood(text, question)
        speak(self.visit, understood.language, text)
        statements = [_of_emitters(each, text) for each in _without_doubted(understood.statements, text)]
        if all(isinstance(each, Unclear) for each in statements):
            amount = amount_alone(self.dialogue, text)
            if amount is not None:
                return amount
            statements = self._named_alone(text, surely=bool(statements)) or statements
        statements = completed(self.visit, text, statements)
        if question is not None and not all(isinstance(each, Request) for each in statements):
            statements = self._passed_over(question, statements)
            statements = [_of_plot(each, question["plot"], bool(_BOTH.search(plain(text)))) for each in statements]
        elif question is not None and _turns_to_another(statements, question["plot"]):
            self.visit.store.people.clear_question(self.visit.person)
        units = units_used(text) if self.visit.person.units is None else None
        if units is not None:
            self.visit.store.facts.set(self.visit.person, "units", units, at=self.visit.now)
        return statements

    def _understood(self, text: str, question: dict[str, Any] | None) -> Understood:
        """The text read as an answer to the open question, or for itself where it is none."""
        understood = understand.read(text, self.visit.context(_asked(question)))
        if question is not None and self._may_tell_else(understood.statements):
            otherwise = understand.read(text, self.visit.context(None))
            clear = otherwise.statements and not isinstance(otherwise.statements[0], Unclear)
            if clear or (otherwise.statements and beside_the_job(text)):
                return otherwise
        return understood

    def _passed_over(self, question: dict[str, Any] | None, statements: list[Statement]) -> list[Statement]:
        """Close the open question; keep it in mind if something told before waits for it and this text does not replace that.

        Returns: the statements; a reading that waited for no more than its depth goes first, without one.
        """
        self.visit.store.people.clear_question(self.visit.person)
        if question is None:
            return statements
        self.dialogue.passed_over(question, statements)
        if question["about"] in _HELD_FOR and question.get("held") and not question.get("again"):
            replaced = any(each.kind == question["held"][0]["is"] for each in statements)
            self.waiting = None if replaced else question
        waited = held_with(question) if question["about"] == "probe_depth_cm" else []
        return [*waited, *statements]

    def own_plot(self, text: str) -> str | None:
        """The name of the person's plot that a text is no more than."""
        return next((plot.name for plot in self.visit.plots() if plot.name and plain(plot.name) == plain(text)), None)

    def _named_alone(self, text: str, surely: bool = False) -> list[Statement]:
        """What a text that is no more than a name says: tell me of this plot, or here is another.

        Args:
            surely: the text may be something else, so that only a plant's whole name makes a plot.
        """
        words = [word for word in plain(text).split() if word not in _BEFORE_A_NAME.split()]
        name = " ".join(words)
        if not 1 <= len(words) <= 3 or _JUDGING.search(name):
            return []
        own = self.own_plot(name)
        if own is not None:
            return [Request(want="verdict", plot=own)]
        meant = could_mean(name, self.visit.plots(), self.visit.tables)
        if meant:
            return [Request(want="verdict", plot=plot.name) for plot in meant]
        kind = self._kind_of_general(name)
        if kind is not None:
            return [kind]
        found = plants.find(name, self.visit.language, self.visit.tables)
        known = found.how == "exact" if surely else found.how != "unknown"
        return [Fact(about="new_plot", value=name)] if known else []

    def _kind_of_general(self, name: str) -> Fact | None:
        """The kind that a plot told as no more than a lawn, a garden or a tree is of: "fescue"."""
        tables = self.visit.tables
        found = plants.find(name, self.visit.language, tables)
        general = [
            plot
            for plot in self.visit.plots()
            if (now := tables.plants.get(plot.facts.plant or ""))
            and now.generic
            and now.category == tables.plants[found.plant].category
        ]
        whole = found.how == "exact" and not tables.plants[found.plant].generic
        return Fact(about="plant", value=name, plot=general[0].name or None) if whole and len(general) == 1 else None

    def _is_of_plot(self, answer: str) -> bool:
        """Whether an answer to where it is tells the soil or the way of watering: towns are called Clay and Gotebo too."""
        read = understand.read(answer, self.visit.context(None)).statements
        return bool(read) and all(isinstance(each, Fact) and each.about in ("soil", "method") for each in read)

    def _is_a_plant_rather(self, answer: str) -> bool:
        """Whether the answer is a plant's whole name, and only like a town's: "fescue" is not Rescue."""
        plant = plants.find(answer, self.visit.language, self.visit.tables).how == "exact"
        return plant and all(
            plain(each.name) != plain(answer) for each in places.find(answer, self.visit.office.places)
        )

    def _may_tell_else(self, statements: Sequence[Statement]) -> bool:
        """Whether a text was taken for nothing, a place or a plant that nobody knows, when it may have told something else."""
        match statements:
            case [] | ():
                return True
            case [Fact(about="place", value=str() as value)]:
                settled = value in ("skipped", "unknown") or value[:1].isdigit()  # a street and its number
                return not settled and (not places.find(value, self.visit.office.places) or self._is_of_plot(value))
            case [Fact(about="plant", value=str() as value)] if value not in ("skipped", "unknown"):
                return plants.find(value, self.visit.language, self.visit.tables).how == "unknown"
        return False


def _without_doubted(statements: Sequence[Statement], text: str) -> list[Statement]:
    """The statements; an amount that is doubted, as in "so the 10 gallons wasn't enough?", was not given again."""
    if "?" not in text or not _DOUBTING.search(plain(text)) or _GAVE.search(plain(text)):
        return list(statements)
    rest = [each for each in statements if not isinstance(each, Watering)]
    return rest if len(rest) == len(statements) else [*rest, Request(want="verdict")]


def _of_emitters(statement: Statement, text: str) -> Statement:
    """What an emitter is told to be is its flow an hour: "the drippers are half a gallon"."""
    flows = _EMITTERS.search(plain(text)) and not _GAVE.search(plain(text))
    if not flows or not isinstance(statement, Watering) or statement.litres is None or statement.minutes is not None:
        return statement
    return Fact(about="flow_l_h", value=statement.litres, plot=statement.plot)


def _turns_to_another(statements: Sequence[Statement], plot: str | None) -> bool:
    """Whether a question of theirs is about another plot than ours: what is told next is of theirs, or to be asked for."""
    named = {each.plot for each in statements if isinstance(each, Request) and each.plot not in (None, ALL)}
    return bool(plot and named) and plot not in named


def _asked(question: dict[str, Any] | None) -> Asked | None:
    if question is None:
        return None
    return Asked(about=question["about"], plot=question.get("plot"), choices=tuple(question.get("choices", ())))


def _of_plot(statement: Statement, plot: str | None, every: bool) -> Statement:
    """A fact told while a plot was asked about is that plot's, if it names no other; of every plot, if it says so."""
    of_all = isinstance(statement, Fact) and statement.about in (*_PERSONAL, "water_days")
    if not isinstance(statement, Fact) or of_all or statement.plot not in (None, plot):
        return statement
    return replace(statement, plot=ALL if every else plot)
