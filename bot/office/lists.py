"""The lists: everybody, who is late to water, whose reading is doubted. Searched, sorted and turned over by the page."""

from __future__ import annotations

from collections.abc import Sequence

from flask import request
from flask.typing import ResponseReturnValue

from bot.office.house import Caller
from bot.store.overview import Row, Search
from rules.tables import Tables

_A_PAGE = 50
_MOST_WORDS = 6
TITLES = {"everybody": "Everybody", "late": "Late to water", "check": "Readings to check"}


def people(caller: Caller, which: str = "everybody") -> ResponseReturnValue:
    """One list."""
    page = max(request.args.get("page", 1, type=int), 1)
    words = request.args.get("q", "").split()[:_MOST_WORDS]
    search = Search(
        words=tuple(words),
        plants=tuple(_plants(word, caller.house.tables) for word in words),
        desks=caller.desks,
        sort=request.args.get("sort", ""),
        offset=(page - 1) * _A_PAGE,
        at_most=_A_PAGE,
    )
    rows, count = _found(caller, which, search)
    return caller.page(
        "people",
        which=which,
        titles=TITLES,
        rows=rows,
        count=count,
        q=" ".join(words),
        sort=search.sort,
        page_number=page,
        pages=-(-count // _A_PAGE),
    )


def _found(caller: Caller, which: str, search: Search) -> tuple[Sequence[Row], int]:
    overview, today = caller.store.overview, caller.now.date()
    if which == "late":
        return overview.late(search, today)
    return overview.doubted(search, today) if which == "check" else overview.people(search)


def _plants(word: str, tables: Tables) -> tuple[str, ...]:
    """The ids of the plants that have a name, in either language, in which some word begins like this one."""
    near = word.casefold()
    return tuple(
        id_
        for id_, plant in tables.plants.items()
        if any(
            part.startswith(near)
            for name in (plant.name_en, plant.name_es, *plant.names_en, *plant.names_es)
            for part in name.casefold().split()
        )
    )
