"""The seasons of all plots kept added up beside the pages, so that no page has to walk through a county of plots."""

from __future__ import annotations

import hashlib
from functools import lru_cache
from importlib.metadata import PackageNotFoundError, version
from threading import Event

from bot.errors import StoreError
from bot.line import Line
from bot.office.sheets import sheet
from bot.store.seasons import Blank, Figures
from bot.workers import Health
from rules.errors import RulesError
from rules.tables import Tables

_REST_S = 5.0
# A plot takes about a millisecond; so many at once keep nobody waiting.
_AT_ONCE = 40


class Seasons:
    """A worker that adds up every season that changed; a page does the last few itself."""

    name = "record"

    def __init__(self, line: Line) -> None:
        self._line = line

    def run(self, stop: Event) -> None:
        """Add up whatever waits, again and again."""
        while not stop.is_set():
            if not self._some():
                stop.wait(_REST_S)

    def add_up_some(self, year: int) -> int:
        """Add up some; how many of this year still wait."""
        self._some()
        return self._line.store.seasons.waiting(year, _made_by(self._line.tables.current()))

    def health(self) -> Health:
        """It waits for nobody, so it is well."""
        return Health(part=self.name, well=True, says="the seasons of all plots are kept added up")

    def _some(self) -> bool:
        seasons, tables = self._line.store.seasons, self._line.tables.current()
        blank = seasons.blank(_made_by(tables), _AT_ONCE)
        made = [(each, self._figures(each, tables)) for each in blank]
        with self._line.store.transaction():
            for each, figures in made:
                seasons.add_up(each, _made_by(tables), figures)
        return bool(blank)

    def _figures(self, season: Blank, tables: Tables) -> Figures | None:
        store = self._line.store
        try:
            mine = store.plots.by_id(season.plot)
            found = sheet(store, store.people.by_id(mine.person), mine, season.year, tables)
        except (StoreError, RulesError):  # a plot that was undone or erased, or of which too little is known
            return None
        return found.figures if found else None


@lru_cache(maxsize=2)
def _made_by(tables: Tables) -> str:
    """A name for the program and all its tables, which is another one as soon as either is."""
    try:
        program = version("dropline")
    except PackageNotFoundError:
        program = ""
    return hashlib.sha256(f"{program}{tables!r}".encode()).hexdigest()[:16]
