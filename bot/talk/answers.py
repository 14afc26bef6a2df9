"""One message answered: danger first, then orders and words that count at once, then what was told and asked for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict

from bot import understand
from bot.advising import Advisor
from bot.feeds.feed import Feed
from bot.message import Reply
from bot.record import Recorder
from bot.store import StoredPlot
from bot.talk import reminding
from bot.talk.asides import told_aside
from bot.talk.at_once import counts_at_once, said_once
from bot.talk.beside import EXAMPLES, beside_the_job, other_question
from bot.talk.danger import danger
from bot.talk.dialogue import FIRST_TEXTURE, Dialogue
from bot.talk.edits import asked_still, attempted, opened
from bot.talk.heard import Heard
from bot.talk.in_light import InLight
from bot.talk.media import passed_on
from bot.talk.ordered import carry_out
from bot.talk.orders import order
from bot.talk.own_answers import HANDLED
from bot.talk.potted import unsized_pot
from bot.talk.replies import replies
from bot.talk.setup import plain
from bot.talk.sharing import kept_for_others, others_asked_about
from bot.talk.unread import SHOWN, nothing_said, say_beside, small_talk, unread_part
from bot.talk.visit import Visit
from bot.talk.year import said_of_year
from bot.understand.statements import Fact, Unclear
from bot.word import keeping
from rules.terms import Advice

# Nobody tells more than this in one text; what lies beyond is kept, but not read.
_LONGEST_TEXT = 8000
_VERDICT_WANTS = ("verdict", "amount", "when", "remind")


class Answerer:
    """Answers one message; everything it does happens inside the line's transaction."""

    def __init__(self, visit: Visit, feed: Feed) -> None:
        self.visit, self.feed = visit, feed
        self.dialogue = Dialogue(visit)
        self.in_light = InLight(self.dialogue)
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
            and not self.in_light.own_plot(given.plot)
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
            statements = self.in_light.statements(text)
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
        if visit.draft.asks is None and self.in_light.waiting is not None:
            self.dialogue.ask_again(self.in_light.waiting)
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
        choices = [self.visit.plant_names[each] for each in nearest]
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
        pot = unsized_pot(self.visit, plots)
        if pot is not None and "container_litres" not in self.dialogue.asked_before(pot):
            self.dialogue.ask_about("container_litres", pot.name)
            return
        if self.dialogue.ask_next(plots) or not plots:
            return
        if not self.visit.draft.advices and all(self.visit.store.advices.last(plot) is None for plot in plots):
            self.advisor.tell(self.advisor.advices(plots, asked_for=True), [])
        self.dialogue.ask_hand(plots)
