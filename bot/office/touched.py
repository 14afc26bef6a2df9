"""Who was advised by a row of a table, or at all, between two times: to tell them when the row or the program was wrong."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from flask import request
from flask.typing import ResponseReturnValue
from werkzeug.datastructures import MultiDict

from bot.advising import advised_by
from bot.office.house import Caller
from bot.office.limits import TABLES, as_field, differs
from bot.office.notices import LONGEST
from bot.store import Person, StoredAdvice
from rules.terms import Advice

_MOST_ADVICES = 3000
_USUALLY = timedelta(days=7)


@dataclass(frozen=True)
class Sought:
    """What is looked for: the advices that cite a row (`table:row`; empty: all), from `since` on and before `until`."""

    row: str
    since: datetime
    until: datetime

    @property
    def cited(self) -> str:
        return f'"{self.row}:' if self.row else ""


@dataclass(frozen=True)
class Touched:
    """A plot whose person was advised: the last advice given then, and what the tables of now make of the same inputs."""

    person: Person
    given: StoredAdvice
    now: Advice

    @property
    def otherwise(self) -> bool:
        """Whether something else would be told now."""
        return differs(self.given.advice, self.now)


def touched(caller: Caller, problem: str = "") -> str:
    """The page."""
    values = request.form if problem else request.args
    sought = _sought(caller, values)
    found, more = _found(caller, sought) if sought else ([], False)
    return caller.page(
        "touched",
        sought=sought,
        filled=values,
        found=found,
        people=len({each.person.id for each in found}),
        otherwise=sum(each.otherwise for each in found),
        more=more,
        tables=TABLES,
        problem=problem
        or ("" if sought or not values else "Give a row as table:row, and two times, the first one first."),
        longest=LONGEST,
        usual=(as_field(caller.now - _USUALLY), as_field(caller.now + timedelta(minutes=1))),
    )


def draft_correction(caller: Caller) -> ResponseReturnValue:
    """Keep a correction for those who were told wrong; it goes out as any notice does, once somebody agreed."""
    sought = _sought(caller, request.form)
    en, es = (" ".join(request.form.get(name, "").split()) for name in ("en", "es"))
    if sought is None or not en or not es or max(len(en), len(es)) > LONGEST:
        return touched(caller, f"Write the correction in both languages, at most {LONGEST} signs each."), 400
    found, more = _found(caller, sought)
    to_all = request.form.get("whom") == "all"
    people = dict.fromkeys(each.person.id for each in found if to_all or each.otherwise)
    if more or not people:
        return touched(caller, "Too many at once: choose a shorter time." if more else "Nobody is left to tell."), 400
    id_ = caller.store.notices.draft(en, es, "", "", "", caller.colleague.name, caller.at, people=tuple(people))
    caller.did("wrote a correction", detail=f"{sought.row or 'all advice'}, {len(people)} people")
    return caller.go("notice", "Kept. Nothing has gone out yet.", id=id_)


def _found(caller: Caller, sought: Sought) -> tuple[list[Touched], bool]:
    """The last advice of each person on each plot then, and whether there were more than are looked at."""
    store = caller.store
    given = store.advices.given_between(sought.cited, sought.since, sought.until, _MOST_ADVICES)
    last = {(told, each.plot): (told, each) for told, each in given}
    found = [
        Touched(store.people.by_id(told), each, advised_by(store.advices.inputs(each), caller.house.tables))
        for told, each in last.values()
    ]
    return sorted(found, key=lambda each: not each.otherwise), len(given) == _MOST_ADVICES


def _sought(caller: Caller, values: MultiDict[str, str]) -> Sought | None:
    """What the form asks for; None where it can't be read, or asks for nothing."""
    row = values.get("row", "").strip()
    table, _, name = row.partition(":")
    try:
        since, until = (datetime.fromisoformat(values[each]) for each in ("since", "until"))
    except (KeyError, ValueError):
        return None
    known = not row or (table in TABLES and name in getattr(caller.house.tables, table))
    plain = since.tzinfo is None and until.tzinfo is None
    return Sought(row, since, until) if known and plain and since < until else None
