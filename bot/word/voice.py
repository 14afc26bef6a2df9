"""One person's language, units and channel, and how long a text to that person may get."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from typing import Any

from bot.word import catalogue, gsm7
from bot.word.amounts import Amounts

MOST = 2 * gsm7.EACH_OF_MORE - 1  # no text of ours is longer on SMS; an escape at the seam may cost one septet
# Channels that show the answers to a question as buttons, and texts in lines.
_ROOMY = frozenset({"telegram", "web"})
LONGEST = {"plot": 24, "old": 24, "words": 40, "office": 40}  # septets of other people's words in a sentence, on SMS


@dataclass(frozen=True)
class Part:
    """A piece of a text. `leaves` 0: it must stay; else the higher, the sooner it is dropped when room is short."""

    text: str
    leaves: int = 0


@dataclass(frozen=True)
class Voice:
    """How one person is spoken to on one day."""

    language: str = "en"
    units: str = "us"
    channel: str = "sms"
    today: date = date.min

    @cached_property
    def amounts(self) -> Amounts:
        return Amounts(self.language, self.units, self.today)

    @property
    def short(self) -> bool:
        """Whether this channel counts septets."""
        return self.channel == "sms"

    @property
    def roomy(self) -> bool:
        """Whether this channel has buttons, and room for a line to each thing said."""
        return self.channel in _ROOMY

    @property
    def joint(self) -> str:
        """What stands between one thing said and the next."""
        return "\n" if self.roomy else " "

    def say(self, key: str, /, *, n: int | None = None, **values: Any) -> str:
        """The sentence of that key with its values (SI, unit in the name) said in this person's way."""
        said = {name: self.value(name, value) for name, value in values.items()}
        return self.finish(catalogue.text(key, self.language, n=n, **said))

    def name(self, kind: str, id_: object, **values: Any) -> str:
        """What people call a thing with an id: `name("soil", "sandy_loam")`; an unknown id in plain letters."""
        key = f"{kind}.{id_}"
        return self.say(key, **values) if catalogue.has(key) else self.value("words", str(id_).replace("_", " "))

    def plot(self, name: str | None) -> str:
        """A plot's own name, or `your plot`."""
        return self.value("plot", name) if name else self.say("plot.unnamed")

    def finish(self, text: str) -> str:
        """The text as the channel can carry it."""
        return gsm7.fold(text) if self.short else text.strip()

    def segments(self, text: str) -> int:
        return gsm7.segments(text) if self.short else 1

    def fit(self, parts: Sequence[Part], roomy: bool = False) -> str:
        """The parts as one text. On SMS optional parts leave until it fits one segment, or two when it must.

        Args:
            roomy: two segments from the start, as what must be said needs them anyway.
        """
        kept = [Part(self.finish(part.text), part.leaves) for part in parts if part.text]
        if not self.short:
            return self.joint.join(part.text for part in kept)
        must = " ".join(part.text for part in kept if not part.leaves)
        room = MOST if roomy or gsm7.septets(must) > gsm7.ONE else gsm7.ONE
        for part in sorted((part for part in kept if part.leaves), key=lambda part: -part.leaves):
            if gsm7.septets(" ".join(each.text for each in kept)) <= room:
                break
            kept = [each for each in kept if each is not part]
        return gsm7.cut(" ".join(part.text for part in kept), MOST)

    def value(self, name: str, value: Any) -> str:
        """One value as it stands in a sentence; other people's words are cut to what a text can hold."""
        said = self.amounts.say(name, value)
        return gsm7.cut(gsm7.fold(said), LONGEST.get(name, MOST)) if self.short else said
