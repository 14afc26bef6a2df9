"""One message being answered: whose it is, when, in which voice, and the reply in the making."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from functools import lru_cache
from typing import Any

from bot.desks import URGENT, desk_for
from bot.links import Links
from bot.message import Picture
from bot.store import Person, Store, StoredMessage, StoredPlot
from bot.understand.statements import Asked, Context, Statement, statement_from_json, statement_to_json
from bot.word.say import Words
from rules.tables import Tables
from rules.terms import Advice

# Of words that were not understood no more is noted.
_NOTED = 120


@dataclass(frozen=True)
class Office:
    """Who runs the line: its name in each language, its telephone, and its own places (`name`, `zip`, `latitude`, `longitude`).

    `keep_texts_days`: for so long a law has the texts of an erased person kept, locked; None: no law is known to.
    """

    name: str = "County water line"
    name_es: str = "Línea de riego del condado"
    phone: str = "555-0142"
    places: tuple[dict[str, Any], ...] = ()
    keep_texts_days: int | None = None

    def texts_locked_until(self, on: date) -> date | None:
        """The last day for which the texts of a person who is erased on this day are kept."""
        return None if self.keep_texts_days is None else on + timedelta(days=self.keep_texts_days)

    def called(self, language: str) -> str:
        """The name that a person of this language is told."""
        return self.name_es if language == "es" else self.name


def held_with(question: dict[str, Any]) -> list[Statement]:
    """The statements that wait for the answer to a question."""
    return [statement_from_json(each) for each in question.get("held", ())]


@lru_cache(maxsize=64)
def _voice(language: str, units: str, channel: str, today: date) -> Words:
    return Words(language, units, channel, today)


@dataclass
class Draft:
    """A reply in the making.

    Args:
        idle: nothing in the message could be read, or made use of.
        urgent: it is answered whatever came before.
        first: nothing goes out before it, not even a greeting.
        pictures: by the text that each goes with.
    """

    texts: list[str] = field(default_factory=list)
    pictures: dict[str, Picture] = field(default_factory=dict)
    advices: list[Advice] = field(default_factory=list)
    asks: str | None = None
    choices: tuple[str, ...] = ()
    person_called: bool = False
    idle: bool = False
    urgent: bool = False
    first: bool = False


@dataclass
class Visit:
    """All that the answering of one message shares. It happens inside one transaction of the store.

    Args:
        now: when it is answered, where the person is; what to do is advised for this day.
        line_now: the same, as the line's clock tells it.
        written: when the person wrote it; what it tells of is placed there.
        replaces: of an edited message all earlier versions, the first one first.
        aside: it is an edit of something said before the last, so the talk goes on where it stands.
        late: whether it came long after it was written.
        joint: whether answers to what came a day late still wait: this one takes their place, and tells of every plot.
        guessed: the person's language, for as long as they have not shown it.
        links: to pages that people can reach, where there are any.
        repeats: an earlier message of the same words, so shortly before that this may be the same one.
    """

    store: Store
    tables: Tables
    office: Office
    person: Person
    message: StoredMessage
    now: datetime
    line_now: datetime
    written: datetime
    language: str
    guessed: str | None = None
    links: Links | None = None
    repeats: StoredMessage | None = None
    late: bool = False
    joint: bool = False
    replaces: tuple[StoredMessage, ...] = ()
    aside: bool = False
    draft: Draft = field(default_factory=Draft)

    @property
    def today(self) -> date:
        """The person's local day."""
        return self.now.date()

    @property
    def words(self) -> Words:
        """The voice for this person."""
        return _voice(self.language, self.person.units or "us", self.person.channel, self.today)

    @property
    def office_name(self) -> str:
        """What the office is called in this person's language."""
        return self.office.called(self.language)

    @property
    def plant_names(self) -> dict[str, str]:
        """What plants are called in this person's language, by their ids."""
        spanish = self.language == "es"
        return {id_: plant.name_es if spanish else plant.name_en for id_, plant in self.tables.plants.items()}

    def say(self, text: str) -> None:
        """Add a text to the reply."""
        self.draft.texts.append(text)

    def show(self, text: str, picture: Picture) -> None:
        """Add a text with its picture to the reply."""
        self.draft.pictures[text] = picture
        self.say(text)

    def plots(self) -> list[StoredPlot]:
        """The person's open plots, as the store holds them now."""
        return self.store.plots.of(self.person)

    def refresh(self) -> None:
        """Read the person again, after something was stored of them."""
        self.person = self.store.people.by_id(self.person.id)

    def remember(self, **values: Any) -> None:
        """Keep something of the dialogue beyond this message."""
        self.person = self.store.people.set_dialogue(self.person, {**self.person.dialogue, **values})

    def context(self, asked: Asked | None) -> Context:
        """What the message is read in the light of."""
        plots = self.plots()
        probes = {plot.facts.probe for plot in plots if plot.facts.probe}
        return Context(
            now=self.written,
            plots=tuple(plot.name for plot in plots if plot.name),
            units=self.person.units or "us",
            probe=probes.pop() if len(probes) == 1 else None,
            language=self.person.language or self.guessed,
            asked=asked,
        )

    def ask(
        self,
        about: str,
        *,
        plot: str | None = None,
        choices: Sequence[str] = (),
        held: Sequence[Statement] = (),
        again: bool = False,
    ) -> None:
        """Open a question, with the statements that wait for its answer; `again`: it was asked for them before."""
        named = self.words.named(about)
        question = {
            "about": about,
            "plot": plot,
            "choices": list(choices),
            "named": list(named),
            "held": [statement_to_json(each) for each in held],
            "again": again,
        }
        self.store.people.ask(self.person, question, self.now)
        self.draft.asks, self.draft.choices = about, self.words.answers(about, choices)

    def missed(self, kind: str, words: str) -> None:
        """Note that the line fell short here, for the office to learn from: `kind` as `store.misses` has them."""
        self.store.misses.note(self.message, kind, words[:_NOTED], self.now)

    def call_person(self, reason: str) -> None:
        """Hand the person over to the staff."""
        plots = [plot.facts for plot in self.plots()]
        texts = [each.text for each in self.store.messages.of(self.person) if each.author == "person"]
        self.store.calls.call_person(
            self.person,
            reason,
            self.now,
            self.message,
            desk=desk_for(self.language, plots, texts),
            urgent=reason.startswith(URGENT),
        )
        self.draft.person_called = True
