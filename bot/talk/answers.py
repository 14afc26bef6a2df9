"""One message answered: danger first, then orders and words that count at once, then what was told and asked for."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import asdict, replace
from typing import Any

from bot import places, understand
from bot.advising import Advisor
from bot.feeds.feed import Feed
from bot.message import Reply
from bot.record import ALL, Recorder
from bot.store import StoredPlot
from bot.talk import reminding
from bot.talk.asides import told_aside
from bot.talk.at_once import counts_at_once, said_once
from bot.talk.beside import EXAMPLES, beside_the_job, other_question
from bot.talk.by_depth import by_depth
from bot.talk.danger import danger
from bot.talk.dialogue import FIRST_TEXTURE, Dialogue
from bot.talk.edits import asked_still, attempted, opened
from bot.talk.first_story import completed
from bot.talk.heard import Heard
from bot.talk.media import passed_on
from bot.talk.ordered import carry_out
from bot.talk.orders import order
from bot.talk.own_answers import HANDLED, OwnAnswers, tapped
from bot.talk.replies import replies
from bot.talk.setup import plain, units_used
from bot.talk.sharing import kept_for_others, others_asked_about
from bot.talk.speech import speak
from bot.talk.told import from_json
from bot.talk.unread import SHOWN, nothing_said, say_beside, small_talk, unread_part
from bot.talk.visit import Visit
from bot.talk.year import said_of_year
from bot.understand.statements import Asked, Fact, Request, Statement, Unclear
from bot.word import keeping
from rules import plants
from rules.terms import Advice

# Nobody tells more than this in one text; what lies beyond is kept, but not read.
_LONGEST_TEXT = 8000
_BEFORE_A_NAME = "also and add new the my a tambien y otro otra el la los las mi mis"
# A ZIP code, or degrees north and east.
_POINT = re.compile(r"\s*(?:\d{5}|[-+]?\d{1,2}(?:\.\d+)?\s*,\s*[-+]?\d{1,3}(?:\.\d+)?)\s*")
_BOTH = re.compile(r"\b(?:both|all of them|all of it|ambos|ambas|todos|todas|los dos|las dos)\b")
# Questions that something told before waits for.
_ASKS_FIGURES = ("rate_mm_h", "amount", "date")
_HELD_FOR = ("quantity", "plot", "date")
_PERSONAL = ("language", "units", "place")
_VERDICT_WANTS = ("verdict", "amount", "when", "remind")


class Answerer:
    """Answers one message; everything it does happens inside the line's transaction."""

    def __init__(self, visit: Visit, feed: Feed) -> None:
        self.visit, self.feed = visit, feed
        self._waiting: dict[str, Any] | None = None
        self.dialogue = Dialogue(visit)
        self.own = OwnAnswers(self.dialogue)
        self.advisor = Advisor(visit, feed, self.dialogue)

    def answer(self) -> list[Reply]:
        """The replies to the message, in the order to send them."""
        if not opened(self.visit):
            return replies(self.visit)
        text = said_once(self.visit.message.text[:_LONGEST_TEXT])
        if not self._danger(text) and not self._left_to_office(text):
            passed_on(self.visit)
            if plain(text) or self.visit.message.media is None:
                attempted(self.visit, lambda: self._ordinary(text))
        return replies(self.visit)

    def _danger(self, text: str) -> bool:
        """Danger is answered alone, before anything is read, and handed to a person."""
        caution = danger(text)
        if caution is None:
            return False
        self.visit.language = understand.read(text, self.visit.context(None)).language
        self.visit.say(self.visit.words.caution(caution))
        self.visit.draft.first = True
        if caution == "chemicals":
            self.visit.ask("mixed")
        self.visit.call_person("danger: " + caution)
        return True

    def _left_to_office(self, text: str) -> bool:
        """Whether a colleague has the talk: then dropline keeps out of it, but for danger, STOP, START and HELP."""
        call = self.visit.store.calls.silent(self.visit.person)
        if call is None:
            return False
        said = understand.read(text, self.visit.context(None)).statements
        if not counts_at_once(self.visit, said, self._next_question):
            self.visit.store.calls.wrote(call, self.visit.now)
        return True

    def _ordinary(self, text: str) -> None:
        given = order(text) if said_of_year(text) is None else None
        if (
            given is not None
            and given.do in ("on", "off", "done", "delete")
            and given.plot
            and not self._own_plot(given.plot)
        ):
            given = None  # a harvest may be done too
        if given is not None and not self.visit.person.stopped:
            heard = carry_out(self.visit, given)
            if heard is not None:
                self._respond(heard, text)
            if given.rest:
                self._ordinary(given.rest)
            return
        asked = self.dialogue.open_question()
        statements = told_aside(self.visit, self.advisor, text)
        if statements is None:
            statements = self._statements(text)
        self.dialogue.settle_place(statements)
        if (
            statements is HANDLED
            or counts_at_once(self.visit, statements, self._next_question)
            or self.dialogue.ask_repeated(statements)
        ):
            return
        if asked is None or asked["about"] != "repeat":
            left = others_asked_about(self.visit, statements)
            if statements and not left:
                return
            statements = left
        heard = Recorder(self.visit).keep(statements)
        self.visit.draft.idle = heard.nameless or all(isinstance(each, Unclear) for each in statements)
        self.visit.refresh()
        self._respond(heard, text)

    def _statements(self, text: str) -> list[Statement]:
        """What the message says, in the light of an open question."""
        question = self.dialogue.open_question()
        if question is not None:
            text = tapped(text, question)
            own = self.own.own_answer(text, question)
            if own is not None:
                return own
            if question["about"] == "place" and self._own_plot(text):
                return self._named_alone(text)
        letter = self.own.hand_letter(text)
        if letter is not None:
            return [letter]
        if question is None or question["about"] not in _ASKS_FIGURES:
            readings = by_depth(self.visit, text)
            if readings is not None:
                return [*readings]
        if self.visit.person.latitude is None and _POINT.fullmatch(text) and places.find(text):
            place: list[Statement] = [Fact(about="place", value=text.strip())]
            return self._passed_over(question, place)
        understood = understand.read(text, self.visit.context(_asked(question)))
        if question is not None and self._may_tell_else(understood.statements):
            otherwise = understand.read(text, self.visit.context(None))
            clear = otherwise.statements and not isinstance(otherwise.statements[0], Unclear)
            if clear or (otherwise.statements and beside_the_job(text)):
                understood = otherwise
        statements = list(understood.statements)
        if all(isinstance(each, Unclear) for each in statements):
            statements = self._named_alone(text, surely=bool(statements)) or statements
        statements = completed(self.visit, text, statements)
        speak(self.visit, understood.language, text)
        if question is not None and not all(isinstance(each, Request) for each in statements):
            statements = self._passed_over(question, statements)
            statements = [_of_plot(each, question["plot"], bool(_BOTH.search(plain(text)))) for each in statements]
        units = units_used(text) if self.visit.person.units is None else None
        if units is not None:
            self.visit.store.facts.set(self.visit.person, "units", units, at=self.visit.now)
        return statements

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
            self._waiting = None if replaced else question
        waited = question.get("held") or [] if question["about"] == "probe_depth_cm" else []
        return [*map(from_json, waited), *statements]

    def _own_plot(self, text: str) -> str | None:
        """The name of the person's plot that a text is no more than."""
        return next((plot.name for plot in self.visit.plots() if plot.name and plain(plot.name) == plain(text)), None)

    def _named_alone(self, text: str, surely: bool = False) -> list[Statement]:
        """What a text that is no more than a name says: tell me of this plot, or here is another.

        Args:
            surely: the text may be something else, so that only a plant's whole name makes a plot.
        """
        words = [word for word in plain(text).split() if word not in _BEFORE_A_NAME.split()]
        name = " ".join(words)
        if not 1 <= len(words) <= 3:
            return []
        if any(plain(plot.name) == name for plot in self.visit.plots()):
            return [Request(want="verdict", plot=next(p.name for p in self.visit.plots() if plain(p.name) == name))]
        found = plants.find(name, self.visit.language, self.visit.tables)
        known = found.how == "exact" if surely else found.how != "unknown"
        return [Fact(about="new_plot", value=name)] if known else []

    def _may_tell_else(self, statements: Sequence[Statement]) -> bool:
        """Whether a text was taken for nothing, a place or a plant that nobody knows, when it may have told something else."""
        match statements:
            case [] | ():
                return True
            case [Fact(about="place", value=str() as value)]:
                settled = value in ("skipped", "unknown") or value[:1].isdigit()  # a street and its number
                return not settled and not places.find(value, self.visit.office.places)
            case [Fact(about="plant", value=str() as value)] if value not in ("skipped", "unknown"):
                return plants.find(value, self.visit.language, self.visit.tables).how == "unknown"
        return False

    # What was heard, answered

    def _respond(self, heard: Heard, text: str) -> None:
        visit = self.visit
        wants = [want for want, _ in heard.wants]
        about = [plot for _, plots in heard.wants for plot in plots]
        also, undo = self._echo(heard), bool(heard.kept) and not heard.undone
        advised = self._advices(heard, wants, about)
        also += reminding.in_step(visit, advised, asked="remind" in wants)
        if advised:
            facts_alone = not wants and all(isinstance(each, Fact) for each in heard.kept) and not heard.undone
            self.advisor.tell(advised, also, undo, facts_alone)
        else:
            visit.draft.texts[:0] = [*also, visit.words.say("kept.undo")] if undo else also
        for want in wants:
            self._want(want, about)
        self._problems(heard, text)
        if visit.draft.asks is None and self._waiting is not None:
            self.dialogue.ask_again(self._waiting)
        # Not after every question of theirs: only while getting to know each other.
        talk = not visit.draft.texts and not heard.skipped and small_talk(visit, text)
        open_still = self.dialogue.open_question() if not visit.draft.texts and not talk else None
        if open_still is not None and not heard.skipped and visit.draft.asks is None:
            self.dialogue.repeat(open_still)
        if (
            visit.draft.asks is None
            and not talk
            and (heard.kept or heard.skipped or not wants or not visit.draft.texts)
        ):
            self._next_question()
        if not visit.draft.texts:
            nothing_said(visit, text, heard.skipped)

    def _echo(self, heard: Heard) -> list[str]:
        """Everything stored is read back."""
        words = self.visit.words
        if heard.undone is not None and not heard.kept:
            return [words.undone(heard.undone, heard.left)]
        said = [words.say("known.already", items=keeping.items(words, heard.known))] if heard.known else []
        if heard.kept:
            said.append(words.fixed(heard.kept) if heard.undone else words.kept(heard.kept, undo=False))
        if heard.cans is not None:
            said += words.cans(uneven=heard.cans.uneven, enough=heard.cans.enough)
        if heard.learned is not None:
            said.append(words.rod(**asdict(heard.learned)))
        if heard.kept and self.visit.late and self._came_after():
            said.append(words.say("late", on=self.visit.written.date()))
        return said

    def _came_after(self) -> bool:
        """Whether something of a later time was told before this message came."""
        written = self.visit.written
        history = self.visit.store.log.history(self.visit.person)
        return any(each.at > written if each.at else bool(each.on and each.on > written.date()) for each in history)

    def _advices(self, heard: Heard, wants: Sequence[str], about: Sequence[int]) -> list[Advice]:
        """The advices that this message calls for: on the plots told of or asked about, once enough is known of them."""
        asked_for = self.visit.joint or any(want in _VERDICT_WANTS for want in wants)
        if not (asked_for or heard.kept or heard.known or heard.undone) or heard.undated or heard.held or heard.bare:
            return []
        plots = self._active()
        told_of = [plot for plot in plots if plot.id in heard.plots]
        if len(told_of) == 1 and self.dialogue.hand_first(told_of[0]):
            heard.feel_first = told_of[0].name
            return []
        named = [] if self.visit.joint else heard.plots or about
        meant = list(named) or ([plot.id for plot in plots] if asked_for else [])
        return self.advisor.advices([plot for plot in plots if plot.id in meant], asked_for)

    def _active(self) -> list[StoredPlot]:
        return [plot for plot in self.visit.plots() if not plot.paused]

    def _listed(self, plot: StoredPlot) -> str:
        words = self.visit.words
        return words.say("list.rests", plot=words.plot(plot.name)) if plot.paused else plot.name

    def _want(self, want: str, about: Sequence[int]) -> None:
        visit, words = self.visit, self.visit.words
        match want:
            case "why" if self.dialogue.asks_of_setup() and not any(map(visit.store.advices.last, visit.plots())):
                visit.say(words.say("why.asked"))
            case "why":
                self.advisor.why(about)
            case "graph":
                self.advisor.graph(about)
            case "list":
                visit.say(words.plots([self._listed(plot) for plot in visit.plots()]))
            case "forecast":
                weather = self.feed.view(visit.person.latitude, visit.person.longitude, visit.today)
                visit.say(words.forecast(weather.forecast))
            case "person":
                visit.call_person("asked for a person")
                visit.say(words.say("person.called", phone=visit.office.phone))
            case "season":
                self.advisor.season(about)
            case "other":
                visit.say(words.say(other_question(visit.message.text), **EXAMPLES[words.units]))
            case "forget" | "export":
                locks = want == "forget" and visit.office.keep_texts_days
                visit.say(words.say(f"{want}.ask_locked" if locks else f"{want}.ask", held=self.dialogue.held()))
                visit.say(kept_for_others(visit) if want == "forget" else "")
                visit.ask(want)

    # What went wrong, and what to ask next

    def _problems(self, heard: Heard, text: str) -> None:
        visit, words = self.visit, self.visit.words
        for statement in heard.impossible:
            visit.missed("impossible", keeping.items(words, [statement]))
            visit.say(words.say("impossible", words=keeping.items(words, [statement])))
        if heard.unknown_plant is not None:
            self._unknown_plant(*heard.unknown_plant)
        about = beside_the_job(text)
        if about is not None and (about.startswith("caution.") or heard.unclear or not visit.draft.texts):
            say_beside(visit, self.dialogue, about)
        else:
            unread_part(visit, heard.unclear, text)
        self._ask_what_is_meant(heard)

    def _ask_what_is_meant(self, heard: Heard) -> None:
        """The one question without which something of this message can't be used."""
        visit, words = self.visit, self.visit.words
        if heard.bare:
            visit.ask("quantity", held=heard.bare)
            visit.say(words.question("quantity", value=heard.bare[0].value))
        elif heard.undated:
            visit.ask("date", held=heard.undated)
            visit.say(words.question("date"))
        elif heard.held:
            self.dialogue.ask_plot(heard.held)
        elif heard.which_place:
            visit.ask("place", choices=heard.places, held=[heard.which_place])
            visit.say(words.question("place", offered=heard.places))
        elif heard.unknown_place is not None:
            visit.missed("place", heard.unknown_place)
            visit.say(words.say("place.unknown", words=heard.unknown_place[:SHOWN]))
            self.dialogue.ask_place_again()
        elif heard.feel_soil:
            visit.ask(FIRST_TEXTURE)
            visit.say(words.question(FIRST_TEXTURE))
        elif heard.feel_first is not None:
            self.dialogue.ask_about("feel", heard.feel_first)

    def _unknown_plant(self, given: str, nearest: tuple[str, ...]) -> None:
        plants = [self.visit.tables.plants[each] for each in nearest]
        choices = [plant.name_es if self.visit.language == "es" else plant.name_en for plant in plants]
        self.visit.missed("plant", given)
        key = "plant.unknown" if choices else "plant.unknown_none"
        self.visit.say(self.visit.words.say(key, words=given, choices=", ".join(choices)))
        self.dialogue.ask_plant_again(choices)

    def _next_question(self) -> None:
        """Add the one question that matters most; when none is left, the first advice."""
        if self.visit.person.stopped or self.visit.draft.person_called or asked_still(self.visit):
            return
        plots = self._active()
        if not plots and self.visit.plots():
            return
        if self.dialogue.ask_next(plots) or not plots:
            return
        if not self.visit.draft.advices and all(self.visit.store.advices.last(plot) is None for plot in plots):
            self.advisor.tell(self.advisor.advices(plots, asked_for=True), [])
        self.dialogue.ask_hand(plots)


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
