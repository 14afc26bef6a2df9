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

# To advise a plot again takes some milliseconds: a page does it for so many, a correction for as many as these.
_A_LOOK, _MOST_CORRECTED = 30, 3000
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
    after = max(values.get("after", 0, int), 0)
    found, plots, people = _found(caller, sought, after, _A_LOOK) if sought else ([], 0, 0)
    return caller.page(
        "touched",
        sought=sought,
        filled=values,
        found=found,
        plots=plots,
        people=people,
        after=after,
        look=_A_LOOK,
        otherwise=sum(each.otherwise for each in found),
        more=plots > _MOST_CORRECTED,
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
    found, plots, _ = _found(caller, sought, 0, _MOST_CORRECTED)
    to_all = request.form.get("whom") == "all"
    people = dict.fromkeys(each.person.id for each in found if to_all or each.otherwise)
    too_many = plots > _MOST_CORRECTED
    if too_many or not people:
        said = "Too many at once: choose a shorter time." if too_many else "Nobody is left to tell."
        return touched(caller, said), 400
    id_ = caller.store.notices.draft(en, es, "", "", "", caller.colleague.name, caller.at, people=tuple(people))
    caller.did("wrote a correction", detail=f"{sought.row or 'all advice'}, {len(people)} people")
    return caller.go("notice", "Kept. Nothing has gone out yet.", id=id_)


def _found(caller: Caller, sought: Sought, after: int, at_most: int) -> tuple[list[Touched], int, int]:
    """So many of the plots advised then, from the first after those passed over; how many there are in all, and people."""
    store = caller.store
    given, plots, people = store.advices.last_between(sought.cited, sought.since, sought.until, after, at_most)
    found = [
        Touched(store.people.by_id(told), each, advised_by(store.advices.inputs(each), caller.house.tables))
        for told, each in given
    ]
    return sorted(found, key=lambda each: not each.otherwise), plots, people


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
