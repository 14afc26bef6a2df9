"""Graphs drawn again as they were when they were given, for the pages: advices are kept with all they were made from."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

from bot.advising import season_of
from bot.errors import StoreError
from bot.graph import draw, words
from bot.graph.season import Graph
from bot.office_tables import OfficeTables
from bot.store import Person, Store, StoredAdvice
from bot.word.say import Words

# An advice never changes, and a page that is looked at again shows the same ones.
_REMEMBERED = 128


@dataclass(frozen=True)
class Drawing:
    """One graph, in the units and for the eyes of its owner, who is known by channel and address."""

    id: int
    owner: tuple[str, str]
    plot: str
    language: str
    shown: Graph
    said: Words

    def svg(self) -> str:
        """The drawing."""
        return draw.svg(self.shown, self.said)

    def alt(self) -> str:
        """What it shows, in one line."""
        return words.alt(self.shown, self.said)

    def story(self) -> str:
        """What it shows, in a few sentences."""
        return words.story(self.shown, self.said)

    def head(self) -> tuple[str, ...]:
        """The heads of the table of its data."""
        return words.head(self.said)

    def rows(self) -> list[tuple[str, ...]]:
        """Its data, a row a day."""
        return words.rows(self.shown, self.said)


class Drawings:
    """Draws advices of a store. Any thread may ask."""

    def __init__(self, store: Store, tables: OfficeTables) -> None:
        self._store, self._tables = store, tables
        self._season: Callable[[int], Graph] = lru_cache(_REMEMBERED)(self._season_behind)

    def by_id(self, id: int) -> Drawing | None:
        """The season that led to the advice of this id; None where that is held no more."""
        advice = self._store.advices.by_id(id)
        return self.of(advice, self._store.people.by_id(advice.person)) if advice else None

    def png(self, id: int) -> bytes | None:
        """The graph of the advice of this id as a picture file; None where that is held no more."""
        found = self.by_id(id)
        return draw.png(found.shown, found.said) if found else None

    def of(self, advice: StoredAdvice, person: Person) -> Drawing:
        """The season that led to an advice that is held."""
        return Drawing(
            id=advice.id,
            owner=(person.channel, person.address),
            plot=advice.advice.plot,
            language=advice.language,
            shown=self._season(advice.id),
            said=Words(advice.language, person.units or "us", "picture", advice.on),
        )

    def _season_behind(self, id: int) -> Graph:
        advice = self._store.advices.by_id(id)
        if advice is None:
            raise StoreError(f"there is no advice {id}")
        return season_of(advice.advice.plot, advice.advice, self._store.advices.inputs(advice), self._tables.current())
