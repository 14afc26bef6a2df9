"""One message answered: what it asks for, what it told, and the next question."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from importlib.metadata import PackageNotFoundError, version
from typing import Any

from bot import understand
from bot.beside import beside_the_job
from bot.danger import danger
from bot.feeds.feed import Feed
from bot.message import Reply
from bot.orders import Order, order
from bot.record import Heard, Recorder, as_json, from_json, told
from bot.setup import SKIPS, chosen, next_question, plain
from bot.store import Inputs, Person, Store, StoredMessage, StoredPlot
from bot.understand.statements import Asked, Context, Fact, Reading, Request, Statement, Watering
from bot.word import keeping
from bot.word.say import Words
from rules import advise
from rules.soil import feel_answers, feel_step
from rules.tables import Tables
from rules.terms import Advice, Advised, Observation, Verdict, Weather

# An open question is forgotten after this: what comes later is read for itself.
_QUESTION_LASTS = timedelta(hours=20)
_LONGEST_TEXT = 8000
_FEEL = ("wet", "moist", "slightly_moist", "dry")
_FIRST_TEXTURE = "texture.ball"
_VERDICT_WANTS = ("verdict", "amount", "when", "remind")


@dataclass(frozen=True)
class Office:
    """Who runs the line: its name, its telephone, and its own places (`name`, `zip`, `latitude`, `longitude`)."""

    name: str = "County water line"
    phone: str = "555-0142"
    places: tuple[dict[str, Any], ...] = ()


@dataclass
class Draft:
    """A reply in the making."""

    texts: list[str] = field(default_factory=list)
    advices: list[Advice] = field(default_factory=list)
    asks: str | None = None
    person_called: bool = False


def _version() -> str:
    try:
        return version("dropline")
    except PackageNotFoundError:
        return "unknown"


class Answerer:
    """Answers one message of one person; everything it does happens inside the line's transaction."""

    def __init__(
        self,
        store: Store,
        feed: Feed,
        office: Office,
        tables: Tables,
        person: Person,
        message: StoredMessage,
        now: datetime,
    ) -> None:
        self.store, self.feed, self.office, self.tables = store, feed, office, tables
        self.person, self.message = person, message
        self.now = min(message.written_at, now)
        self.today = self.now.date()
        self.language = person.language or "en"
        self.draft = Draft()
        self.given: list[tuple[StoredPlot, Advice, Inputs]] = []

    @property
    def words(self) -> Words:
        """The voice for this person."""
        return Words(self.language, self.person.units or "us", self.person.channel, self.today)

    # The way through

    def answer(self) -> list[Reply]:
        """The replies to the message, in the order to send them."""
        text = self.message.text[:_LONGEST_TEXT]
        if not self.words_of_danger(text):
            self.ordinary(text)
        return self._replies()

    def words_of_danger(self, text: str) -> bool:
        """Danger is answered alone, before anything is read, and handed to a person."""
        caution = danger(text)
        if caution is None or self.person.stopped:
            return False
        self.language = understand.read(text, self._context(None)).language
        self.draft.texts.append(self.words.caution(caution))
        self._call("danger: " + caution)
        return True

    def ordinary(self, text: str) -> None:
        """Any other message."""
        question = self._open_question()
        given = order(text)
        if given is not None and not self.person.stopped:
            self._order(given)
            return
        statements = self._statements(text, question)
        if statements is None:
            return
        if self._keywords(statements):
            return
        recorder = Recorder(
            self.store, self.tables, self.person, self.message, self.now, self.language, self.office.places
        )
        heard = recorder.keep(statements)
        self._refresh()
        self._respond(heard, statements, text)

    def _statements(self, text: str, question: dict[str, Any] | None) -> list[Statement] | None:
        """What the message says; None when it was an answer that has been dealt with."""
        if question is not None:
            own = self._own_answer(text, question)
            if own is not None:
                return own
        asked = _asked(question)
        understood = understand.read(text, self._context(asked))
        self.language = understood.language
        if question is not None and understood.statements:
            self.store.people.clear_question(self.person)
        if self.person.language is None and len(text.split()) > 1:
            self.store.facts.set(self.person, "language", understood.language, at=self.now)
        return list(understood.statements)

    def _context(self, asked: Asked | None) -> Context:
        plots = self.store.plots.of(self.person)
        probes = {plot.facts.probe for plot in plots if plot.facts.probe}
        return Context(
            now=self.now,
            plots=tuple(plot.name for plot in plots if plot.name),
            units=self.person.units or "us",
            probe=probes.pop() if len(probes) == 1 else None,
            language=self.person.language,
            asked=asked,
        )

    def _open_question(self) -> dict[str, Any] | None:
        question, asked_at = self.person.question, self.person.asked_at
        if question is None or asked_at is None or self.now - asked_at > _QUESTION_LASTS:
            return None
        return question

    def _refresh(self) -> None:
        self.person = self.store.people.by_id(self.person.id)

    # Answers to our own questions that only we can read

    def _own_answer(self, text: str, question: dict[str, Any]) -> list[Statement] | None:
        """The statements that an answer to one of our own questions stands for; None: read the text as any other."""
        about = str(question["about"])
        if plain(text) in SKIPS or (plain(text) in ("forget yes", "olvidar si", "export yes", "exportar si")):
            return self._skipped(about, question, text)
        handlers: dict[str, Callable[[str, dict[str, Any]], list[Statement] | None]] = {
            "plot": self._which_plot,
            "quantity": self._which_quantity,
            "probe_depth_cm": self._which_depth,
            "feel": self._which_feel,
        }
        if about.startswith("texture."):
            return self._texture(text, question)
        handler = handlers.get(about)
        return handler(text, question) if handler else None

    def _skipped(self, about: str, question: dict[str, Any], text: str) -> list[Statement] | None:
        said = plain(text)
        self.store.people.clear_question(self.person)
        if said.startswith(("forget", "olvidar")):
            return self._forget() if about == "forget" else None
        if said.startswith("export"):
            return self._export() if about == "export" else None
        if about.startswith("texture."):
            about = "soil"
        held = [from_json(each) for each in question.get("held", ())]
        return held or [Fact(about=about, value="skipped", plot=question.get("plot"))]

    def _which_plot(self, text: str, question: dict[str, Any]) -> list[Statement] | None:
        names = list(question.get("choices", ()))
        name = chosen(text, names)
        if name is None:
            named = [
                fact for fact in understand.read(text, self._context(None)).statements if getattr(fact, "plot", None)
            ]
            name = getattr(named[0], "plot", None) if named and len(text.split()) <= 4 else None
        if name is None:
            return None
        self.store.people.clear_question(self.person)
        held = [from_json(each) for each in question.get("held", ())]
        return [replace(each, plot=name) for each in held]  # type: ignore[call-arg]

    def _which_quantity(self, text: str, question: dict[str, Any]) -> list[Statement] | None:
        quantity = chosen(text, self.words.choices("quantity"))
        said = plain(text).split()
        by_word = {"cb": "tension", "centibars": "tension", "centibares": "tension", "kpa": "tension", "percent": "percent",
                   "por": "percent", "minutes": "minutes", "min": "minutes", "minutos": "minutes"}  # fmt: skip
        quantity = quantity or next((by_word[word] for word in said[:3] if word in by_word), None)
        held = [from_json(each) for each in question.get("held", ())]
        if quantity is None or not held or not isinstance(held[0], Reading):
            return None
        self.store.people.clear_question(self.person)
        bare = held[0]
        if quantity == "other":
            return []
        if quantity == "minutes":
            return [Watering(on=bare.on, minutes=float(bare.value), plot=bare.plot)]
        reading = replace(bare, quantity=quantity)
        if reading.depth_cm is not None:
            return [reading]
        self._ask("probe_depth_cm", plot=None, held=[reading])
        self.draft.texts.append(self.words.question("depth"))
        return _HANDLED

    def _which_depth(self, text: str, question: dict[str, Any]) -> list[Statement] | None:
        held = [from_json(each) for each in question.get("held", ())]
        asked = Asked(about="probe_depth_cm")
        facts = understand.read(text, self._context(asked)).statements
        depth = next((each.value for each in facts if isinstance(each, Fact) and each.about == "probe_depth_cm"), None)
        if not isinstance(depth, int | float):
            return None
        self.store.people.clear_question(self.person)
        fixed = [replace(each, depth_cm=float(depth)) if isinstance(each, Reading) else each for each in held]
        return [*fixed, Fact(about="probe_depth_cm", value=float(depth))]

    def _which_feel(self, text: str, question: dict[str, Any]) -> list[Statement] | None:
        if len(text.split()) > 3:
            return None
        band = chosen(text, _FEEL, letters=True)
        if band is None:
            return None
        self.store.people.clear_question(self.person)
        return [Reading(quantity="feel", value=band, plot=question.get("plot"), on=self.today)]

    def _texture(self, text: str, question: dict[str, Any]) -> list[Statement] | None:
        """One step of the texture by feel; at its end a soil."""
        node = str(question["about"]).removeprefix("texture.")
        answer = chosen(text, feel_answers(node, self.tables))
        if answer is None:
            return None
        step = feel_step(node, answer, self.tables)
        self.store.people.clear_question(self.person)
        if step.soil:
            plot = next((each for each in self.store.plots.of(self.person) if each.name == question.get("plot")), None)
            for each in [plot] if plot else self.store.plots.of(self.person):
                self.store.facts.set(each, "soil_source", "felt", at=self.now, message=self.message)
            return [Fact(about="soil", value=step.soil, plot=question.get("plot"))]
        self._ask("texture." + step.next_node, plot=question.get("plot"))
        self.draft.texts.append(self.words.question("texture." + step.next_node))
        return _HANDLED

    # Words of the trade of texting: they count at once

    def _keywords(self, statements: Sequence[Statement]) -> bool:
        """STOP, START, HELP and their kin; whether the message is dealt with."""
        if statements is _HANDLED:
            return True
        wants = [each.want for each in statements if isinstance(each, Request)]
        if "stop" in wants:
            if not self.person.stopped:
                self.store.facts.set(self.person, "stopped", True, at=self.now)
                self.draft.texts.append(self.words.say("stop.done", phone=self.office.phone))
            return True
        if self.person.stopped and "start" not in wants:
            return True
        if "start" in wants:
            if self.person.stopped:
                self.store.facts.set(self.person, "stopped", False, at=self.now)
            self.draft.texts.append(self.words.say("start.done", office=self.office.name))
            self._refresh()
            self._next_question()
            return True
        if "help" in wants:
            self.draft.texts.append(self.words.say("help", office=self.office.name, example=self.words.example()))
            return True
        return False

    # Orders about the record

    def _order(self, given: Order) -> None:
        words = self.words
        plots = self.store.plots.of(self.person)
        plot = next((each for each in plots if given.plot and plain(each.name) == plain(given.plot)), None)
        if given.do == "redo":
            back = self.store.corrections.redo(self.person)
            self.draft.texts.append(words.redone(told(back, _names(plots)) if back else []))
        elif given.do in ("on", "off"):
            self._valve(given.do, plot or (plots[0] if len(plots) == 1 else None))
        elif plot is None:
            names = words.amounts.listed([each.name for each in plots]) or "-"
            self.draft.texts.append(words.say("plot.unknown", plot=given.plot or "", plots=names))
        elif given.do == "rename" and given.name:
            self.store.plots.rename(plot, given.name, at=self.now, message=self.message)
            self.draft.texts.append(words.say("plot.renamed", old=plot.name, plot=given.name))
        else:
            verb = {"pause": self.store.plots.pause, "resume": self.store.plots.resume, "close": self.store.plots.close}
            verb[given.do](plot, at=self.now, message=self.message)
            key = {"pause": "plot.paused", "resume": "plot.resumed", "close": "plot.closed"}[given.do]
            self.draft.texts.append(words.say(key, plot=plot.name))

    def _valve(self, which: str, plot: StoredPlot | None) -> None:
        """A watering told in two texts: on, and later off."""
        dialogue = dict(self.person.dialogue)
        if which == "on":
            dialogue["on_at"], dialogue["on_plot"] = self.now.isoformat(), plot.name if plot else None
            self.store.people.set_dialogue(self.person, dialogue)
            self.draft.texts.append(self.words.say("valve.on"))
            return
        began = dialogue.pop("on_at", None)
        name = dialogue.pop("on_plot", None)
        self.store.people.set_dialogue(self.person, dialogue)
        if began is None:
            self.draft.texts.append(self.words.say("valve.none"))
            return
        start = datetime.fromisoformat(began)
        minutes = max(round((self.now - start).total_seconds() / 60), 1)
        recorder = Recorder(self.store, self.tables, self.person, self.message, self.now, self.language)
        heard = recorder.keep([Watering(on=start.date(), minutes=float(minutes), plot=name)])
        self._respond(heard, [], "")

    # What was heard, answered

    def _respond(self, heard: Heard, statements: Sequence[Statement], text: str) -> None:
        if heard.undone is not None:
            self._undone(heard)
        wants = [want for want, _ in heard.wants]
        about = [id_ for _, ids in heard.wants for id_ in ids]
        also = self._echo(heard)
        advised = self._advise_on(heard, wants, about)
        if advised:
            self._say_advice(advised, also)
        else:
            self.draft.texts += also
        for want in wants:
            self._want(want, about)
        self._problems(heard, text, bool(statements))
        if self.draft.asks is None:
            self._next_question()

    def _undone(self, heard: Heard) -> None:
        if not heard.kept:
            self.draft.texts.append(self.words.undone(heard.undone or []))

    def _echo(self, heard: Heard) -> list[str]:
        if not heard.kept:
            return []
        return [self.words.fixed(heard.kept) if heard.undone else self.words.kept(heard.kept)]

    def _advise_on(self, heard: Heard, wants: Sequence[str], about: Sequence[int]) -> list[Advice]:
        """The advices that this message calls for: on the plots told of or asked about, once enough is known of them."""
        asks = any(want in _VERDICT_WANTS for want in wants)
        plots = [plot for plot in self.store.plots.of(self.person) if not plot.paused]
        chosen_ids = list(heard.plots) or list(about)
        if asks and not chosen_ids:
            chosen_ids = [plot.id for plot in plots]
        if not (asks or heard.kept) or heard.held or heard.bare:
            return []
        return [advice for plot in plots if plot.id in chosen_ids and (advice := self._advice(plot, asks)) is not None]

    def _advice(self, plot: StoredPlot, asked_for: bool) -> Advice | None:
        """Advice for one plot; None while nothing is reported of it and questions are still open."""
        reported = [each for each in self.store.log.observations(plot) if each.on is not None]
        waiting = next_question(plot.facts, self._has_place(plot), self._asked_before(plot))
        if not reported and waiting is not None and (waiting == "plant" or not asked_for or not self._greeted_before()):
            return None
        observations: tuple[Observation, ...] = tuple(each.term() for each in reported) + self._advised(plot)
        weather = self.feed.view(plot.facts.latitude, plot.facts.longitude, self.today)
        return self._kept_advice(plot, observations, weather)

    def _kept_advice(self, plot: StoredPlot, observations: tuple[Observation, ...], weather: Weather) -> Advice:
        advice = advise(plot.facts, observations, weather, self.today, tables=self.tables)
        advice = replace(advice, plot=plot.name)
        self.given.append(
            (plot, advice, Inputs(plot=plot.facts, observations=observations, weather=weather, on=self.today))
        )
        return advice

    def _advised(self, plot: StoredPlot) -> tuple[Advised, ...]:
        """Waterings advised on earlier days of which nothing was heard."""
        recent = self.store.advices.of(plot, at_most=3)
        return tuple(
            Advised(on=each.on, depth_mm=each.advice.depth_mm)
            for each in recent
            if each.advice.verdict is Verdict.WATER and each.advice.depth_mm and each.on < self.today
        )

    def _say_advice(self, advised: list[Advice], also: list[str]) -> None:
        words = self.words
        text = words.advice(advised[0], also) if len(advised) == 1 else words.several(advised, also)
        self.draft.texts.append(text)
        self.draft.advices = advised
        for plot, advice, inputs in self.given:
            self.store.advices.keep(
                plot,
                advice,
                inputs,
                at=self.now,
                text=text,
                language=self.language,
                version=_version(),
                message=self.message,
            )
        if len(advised) == 1 and advised[0].verdict is Verdict.CHECK:
            self._ask("feel", plot=advised[0].plot or None)

    # Requests

    def _want(self, want: str, about: Sequence[int]) -> None:
        words = self.words
        if want in ("why", "graph"):
            self._why(about)
        elif want == "list":
            self.draft.texts.append(words.plots([plot.name for plot in self.store.plots.of(self.person)]))
        elif want == "forecast":
            weather = self.feed.view(self.person.latitude, self.person.longitude, self.today)
            self.draft.texts.append(words.forecast(weather.forecast))
        elif want == "person":
            self._call("asked for a person")
            self.draft.texts.append(words.say("person.called", phone=self.office.phone))
        elif want == "season":
            self._season(about)
        elif want == "other":
            self.draft.texts.append(words.say("other"))
        elif want in ("forget", "export"):
            entries = len(self.store.log.history(self.person))
            held = words.held(plots=len(self.store.plots.of(self.person)), entries=entries)
            self._ask(want, plot=None)
            self.draft.texts.append(words.say(f"{want}.ask", held=held))

    def _why(self, about: Sequence[int]) -> None:
        plots = self.store.plots.of(self.person)
        last = [given for plot in plots if not about or plot.id in about if (given := self.store.advices.last(plot))]
        if not last:
            self.draft.texts.append(self.words.say("why.nothing"))
            return
        newest = max(last, key=lambda given: given.id)
        self.draft.texts += self.words.why(newest.advice)

    def _season(self, about: Sequence[int]) -> None:
        for plot in self.store.plots.of(self.person):
            if about and plot.id not in about:
                continue
            reported = [
                each for each in self.store.log.observations(plot) if each.on and each.on.year == self.today.year
            ]
            count = sum(1 for each in reported if each.kind == "watering")
            rain_mm = sum(each.slots.get("depth_mm") or 0.0 for each in reported if each.kind == "rain")
            name = self.words.plot(plot.name)
            if not reported:
                self.draft.texts.append(self.words.say("season.none", plot=name))
                continue
            first = min(each.on for each in reported if each.on)
            waterings = self.words.say("season.waterings", n=count)
            self.draft.texts.append(
                self.words.say("season.told", plot=name, on=first, waterings=waterings, rain_mm=rain_mm)
            )

    def _forget(self) -> list[Statement]:
        raise Forgotten(self.person, self.words.say("forget.done"))

    def _export(self) -> list[Statement]:
        entries = len(self.store.log.history(self.person))
        held = self.words.held(plots=len(self.store.plots.of(self.person)), entries=entries)
        self.draft.texts.append(self.words.say("export.done", held=held, phone=self.office.phone))
        return _HANDLED

    # What went wrong, and what to ask next

    def _problems(self, heard: Heard, text: str, read_something: bool) -> None:
        words = self.words
        for statement in heard.impossible:
            self.draft.texts.append(words.say("impossible", words=_said(words, statement)))
        if heard.bare:
            self._ask("quantity", plot=None, held=heard.bare[:1])
            self.draft.texts.append(words.question("quantity", value=heard.bare[0].value))
        if heard.held:
            names = [plot.name for plot in self.store.plots.of(self.person)]
            self._ask("plot", plot=None, held=heard.held, choices=names)
            self.draft.texts.append(words.question("plot", offered=names))
        if heard.unknown_plant:
            given, nearest = heard.unknown_plant
            choices = [words.name("plant", each) for each in nearest]
            key = "plant.unknown" if choices else "plant.unknown_none"
            self.draft.texts.append(words.say(key, words=given, choices=words.amounts.listed(choices)))
        if heard.unknown_place is not None or heard.which_place:
            self._ask("place", plot=None, choices=heard.which_place)
            self.draft.texts.append(words.question("place", offered=heard.which_place))
        if heard.feel_soil:
            self._ask(_FIRST_TEXTURE, plot=None)
            self.draft.texts.append(words.question(_FIRST_TEXTURE))
        self._unread(heard, text, read_something)

    def _unread(self, heard: Heard, text: str, read_something: bool) -> None:
        words = self.words
        if heard.unclear and beside_the_job(text):
            self.draft.texts.append(words.say("not_our_job"))
        elif heard.unclear and self.draft.texts:
            self.draft.texts.append(words.say("unread.part", words=heard.unclear[0][:60]))
        elif heard.unclear:
            self.draft.texts.append(words.say("unread", words=text.strip()[:60], example=words.example()))
        elif not text.strip() and not self.draft.texts:
            self.draft.texts.append(words.say("unread.empty", example=words.example()))

    def _next_question(self) -> None:
        """Add the one question whose answer matters most, if there is one left to ask."""
        if self.person.stopped or self.draft.person_called:
            return
        plots = [plot for plot in self.store.plots.of(self.person) if not plot.paused]
        if not plots:
            if "plant" not in self.person.dialogue.get("asked", {}).get("", []):
                self._ask_about("plant", "")
            return
        for plot in plots:
            about = next_question(plot.facts, self._has_place(plot), self._asked_before(plot))
            if about is not None:
                self._ask_about(about, plot.name)
                return
        if not self.draft.advices and self.draft.texts == [] and self._just_finished(plots):
            advices = [advice for plot in plots if (advice := self._advice(plot, True)) is not None]
            if advices:
                self._say_advice(advices, [])

    def _just_finished(self, plots: Sequence[StoredPlot]) -> bool:
        """Whether set-up is done and the person has had no advice yet."""
        return all(self.store.advices.last(plot) is None for plot in plots)

    def _ask_about(self, about: str, plot: str) -> None:
        dialogue = dict(self.person.dialogue)
        asked = {name: list(before) for name, before in dialogue.get("asked", {}).items()}
        asked.setdefault("" if about == "place" else plot, []).append(about)
        self.store.people.set_dialogue(self.person, {**dialogue, "asked": asked})
        several = len(self.store.plots.of(self.person)) > 1
        self._ask(about, plot=plot or None, choices=self.words.choices(about))
        self.draft.texts.append(self.words.question(about, plot=plot if several and about != "place" else None))

    def _ask(
        self, about: str, *, plot: str | None, choices: Sequence[str] = (), held: Sequence[Statement] = ()
    ) -> None:
        question = {"about": about, "plot": plot, "choices": list(choices), "held": [as_json(each) for each in held]}
        self.store.people.ask(self.person, question, self.now)
        self.draft.asks = about

    def _asked_before(self, plot: StoredPlot) -> list[str]:
        asked = self.person.dialogue.get("asked", {})
        return list(asked.get(plot.name, [])) + list(asked.get("", []))

    def _has_place(self, plot: StoredPlot) -> bool:
        return plot.facts.latitude is not None

    def _greeted_before(self) -> bool:
        return bool(self.person.dialogue.get("greeted"))

    def _call(self, reason: str) -> None:
        self.store.calls.call_person(self.person, reason, self.now, self.message)
        self.draft.person_called = True

    # The replies

    def _replies(self) -> list[Reply]:
        draft = self.draft
        texts = [text for text in draft.texts if text]
        replies: list[Reply] = []
        if not self._greeted_before() and texts and not self.person.stopped:
            self._greet(replies)
        joined = self._joined(texts)
        for number, text in enumerate(joined):
            replies.append(
                self._reply(
                    text, draft if number == 0 else Draft(asks=draft.asks if number == len(joined) - 1 else None)
                )
            )
        if len(joined) > 1 and replies:
            first = len(replies) - len(joined)
            replies[first] = replace(replies[first], asks=None)
        return replies

    def _greet(self, replies: list[Reply]) -> None:
        self._refresh()
        self.store.people.set_dialogue(self.person, {**self.person.dialogue, "greeted": True})
        hello = self.words.say("hello", office=self.office.name)
        replies.append(self._reply(hello, Draft()))

    def _joined(self, texts: list[str]) -> list[str]:
        """Texts put together as long as they fit one segment, or as one where the channel counts none."""
        joined: list[str] = []
        for text in texts:
            together = f"{joined[-1]} {text}" if joined else text
            if joined and self.words.segments(together) == 1:
                joined[-1] = together
            else:
                joined.append(text)
        return joined

    def _reply(self, text: str, draft: Draft) -> Reply:
        words = self.words
        reply = Reply(
            to=self.person.address,
            text=text,
            language=self.language,
            asks=draft.asks,
            person_called=draft.person_called,
            segments=words.segments(text),
        )
        if not draft.advices:
            return reply
        first = draft.advices[0]
        reply = replace(reply, **_figures(first))
        if len(draft.advices) == 1:
            return reply
        return replace(reply, parts=tuple(_figures(each) for each in draft.advices))


# Stands for "dealt with": there is nothing more to keep of this message.
_HANDLED: list[Statement] = []


class Forgotten(Exception):  # noqa: N818 - not an error: the end of a record
    """The person's record is to go, and with it what the answer would have been kept with."""

    def __init__(self, person: Person, text: str) -> None:
        self.person, self.text = person, text
        super().__init__("forgotten")


def _asked(question: dict[str, Any] | None) -> Asked | None:
    if question is None:
        return None
    return Asked(about=question["about"], plot=question.get("plot"), choices=tuple(question.get("choices", ())))


def _names(plots: Sequence[StoredPlot]) -> dict[int, str]:
    return {plot.id: plot.name for plot in plots}


def _said(words: Words, statement: Statement) -> str:
    return keeping.items(words, [statement])


def _figures(advice: Advice) -> dict[str, Any]:
    return {
        "plot": advice.plot or None,
        "verdict": str(advice.verdict),
        "depth_mm": advice.depth_mm,
        "minutes": advice.minutes,
        "date": advice.date,
        "water_left": advice.water_left,
        "limit": advice.limit,
    }
