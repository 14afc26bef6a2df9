"""Limits of the office's own: a row changed on a page, shown with what it would have changed, agreed by a second person."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

from flask import abort, request
from flask.typing import ResponseReturnValue

from bot.advising import advised_by
from bot.errors import StoreError
from bot.office.column_names import column_names
from bot.office.house import Caller
from bot.office.showing import cell
from bot.store import Person, StoredAdvice
from bot.store.table_rows import TableRow
from rules.errors import TableError
from rules.restrictions import FRESH_DAYS
from rules.tables import KINDS, Restriction, Row, Tables, columns
from rules.terms import Advice

# What a specialist sets here; sources and instruments come with the program.
TABLES = ("limits", "soils", "plants", "delivery", "restrictions")
# To advise a plot again takes some milliseconds, so a page does it for so many and leads on to the next.
_A_LOOK = 15
_LOOKED_BACK = timedelta(days=7)
_LONGEST_CELL = 200


@dataclass(frozen=True)
class Otherwise:
    """A plot that would have been advised otherwise."""

    person: Person
    given: StoredAdvice
    then: Advice


@dataclass(frozen=True)
class Effect:
    """What a change would have done to the last advice of each plot that was advised by the row since a day.

    Args:
        plots: how many such plots there are.
        first, last: which of them, newest first, were looked at; counted from one.
    """

    since: date
    plots: int
    first: int
    last: int
    changed: tuple[Otherwise, ...]


def limits(caller: Caller) -> str:
    """All tables, and every change of them."""
    changes = caller.store.table_rows.all()
    return caller.page("limits", tables=TABLES, changes=changes, alone=alone(caller), unread=rules_to_read(caller))


def limits_table(caller: Caller, table: str) -> str:
    """The rows of one table; of the limits those that set one."""
    rows = _table(caller.house.tables, table)
    sought = request.args.get("q", "").strip().casefold()
    shown = [row for row in rows.values() if sought in f"{row.id} {_named(row)}".casefold()]
    return caller.page("limits_table", table=table, rows=shown, named=_named, sought=sought)


def limits_row(caller: Caller, table: str, row: str, problem: str = "") -> str:
    """One row with where each value comes from, and a form to change it."""
    found = _table(caller.house.tables, table).get(row)
    if found is None and not (table == "restrictions" and row == "new"):
        abort(404)
    return caller.page(
        "limits_row",
        table=table,
        row=row,
        cells=[_cell(found, name, spec) for name, spec in columns(KINDS[table]).items()],
        filled=request.form if problem else {},
        changes=caller.store.table_rows.of(table, row),
        problem=problem,
    )


def propose(caller: Caller, table: str, row: str) -> ResponseReturnValue:
    """Look at a change, or put it forward; nothing counts before somebody agreed."""
    rows = _table(caller.house.tables, table)
    key = request.form.get("id", "").strip() if row == "new" else row
    cells = _cells(table, rows.get(key))
    reason = " ".join(request.form.get("reason", "").split())
    wrong = "Say why, and where the number comes from." if not reason else "" if cells else "Nothing was changed."
    if row == "new" and (not key or key in rows):
        wrong = "The new row needs a name of its own."
    if wrong:
        return limits_row(caller, table, row, wrong), 400
    try:
        tables = caller.house.line.tables.with_change(table, key, cells, reason)
    except TableError as error:
        return limits_row(caller, table, row, _plain(error)), 400
    if request.form.get("do") != "propose":
        effect = _effect(caller, table, rows.get(key), tables)
        shown = {
            "cells": cells,
            "stands": rows.get(key),
            "reason": reason,
            "effect": effect,
            "key": key,
            "step": _A_LOOK,
        }
        return caller.page("limits_change", table=table, row=row, change=None, alone=alone(caller), **shown)
    id_ = caller.store.table_rows.propose(table, key, cells, reason, caller.colleague.name, caller.at)
    caller.did("put a change of limits forward", detail=f"{table} {key}: {_told(cells)}")
    return caller.go("limits_change", "Put forward. It counts once somebody else has agreed.", id=id_)


def limits_change(caller: Caller, id: int) -> str:
    """One change, with what it would have changed."""
    change = _one(caller, id)
    row = _table(caller.house.tables, change.table).get(change.row)
    effect, times = None, {"since": change.reviewed_at, "until": change.ended_at}
    if change.state == "proposed":
        tables = caller.house.line.tables.with_change(change.table, change.row, change.cells, change.reason)
        effect = _effect(caller, change.table, row, tables)
    shown = {
        "cells": change.cells,
        "counted": {name: as_field(at) for name, at in times.items() if at},
        "stands": row,
        "reason": change.reason,
        "effect": effect,
        "key": change.row,
        "step": _A_LOOK,
    }
    return caller.page("limits_change", table=change.table, row=change.row, change=change, alone=alone(caller), **shown)


def move_change(caller: Caller, id: int) -> ResponseReturnValue:
    """Agree to a change, or end it."""
    change, do = _one(caller, id), request.form.get("do")
    rows = caller.store.table_rows
    if do == "agree":
        if change.by == caller.colleague.name and not alone(caller):
            return caller.go("limits_change", "Somebody else has to agree to your change.", id=id)
        try:
            rows.put_in_force(id, caller.colleague.name, caller.at)
        except StoreError:
            return caller.go("limits_change", "This change waits for nobody any more.", id=id)
        caller.did("put a change of limits in force", detail=f"{change.table} {change.row}: {_told(change.cells)}")
        return caller.go("limits_change", "In force from now on. Advice given before keeps its old row.", id=id)
    if do == "end":
        rows.end(id, caller.colleague.name, caller.at)
        caller.did("ended a change of limits", detail=f"{change.table} {change.row}")
        return caller.go("limits_change", "Ended: the values below show again.", id=id)
    abort(400)


def _table(tables: Tables, name: str) -> Mapping[str, Row]:
    if name not in TABLES:
        abort(404)
    rows: Mapping[str, Row] = getattr(tables, name)
    return rows


def _one(caller: Caller, id: int) -> TableRow:
    try:
        return caller.store.table_rows.one(id)
    except StoreError:
        abort(404)


def alone(caller: Caller) -> bool:
    """Whether nobody else could agree: an office of one specialist signs alone, and the record says so."""
    others = [each for each in caller.store.staff.everyone() if not each.left_at and each.may("specialist")]
    return len(others) < 2


def rules_to_read(caller: Caller) -> list[Restriction]:
    """The watering rules in force whose notice nobody has read for a month: towns change them within a season."""
    today, oldest = caller.now.date().isoformat(), (caller.now.date() - timedelta(days=FRESH_DAYS)).isoformat()
    rules = caller.house.tables.restrictions.values()
    return [row for row in rules if row.starts <= today <= (row.ends or today) and row.read_on < oldest]


def _named(row: Row) -> str:
    told = [getattr(row, name, "") for name in ("name_en", "plant", "stage", "place")]
    return " ".join(str(each) for each in told if each)


def _cell(row: Row | None, name: str, spec: Mapping[str, Any]) -> dict[str, Any]:
    """One column for a form: its value now, what it may be, and where the value comes from."""
    evidence = row.evidence.get(name) if row else None
    told = column_names()[name]
    value = cell(getattr(row, name, None))
    return {"name": name, "told": told, "value": value, "spec": spec, "evidence": evidence}


def _cells(table: str, row: Row | None) -> dict[str, str]:
    """The cells of the form that differ from the row as it stands."""
    given = {name: request.form.get(name, "").strip()[:_LONGEST_CELL] for name in columns(KINDS[table])}
    return {name: told for name, told in given.items() if told and told != cell(getattr(row, name, None))}


def _effect(caller: Caller, table: str, row: Row | None, tables: Tables) -> Effect:
    """The last advices that hang on the row, made again by other tables."""
    since = caller.now.date() - _LOOKED_BACK
    after = max(request.args.get("after", 0, type=int), 0)
    given, plots = caller.store.advices.last_citing(_cited(table, row), since, after, _A_LOOK)
    then = [(each, advised_by(caller.store.advices.inputs(each), tables)) for each in given]
    changed = [
        Otherwise(caller.store.people.by_id(each.person), each, other)
        for each, other in then
        if differs(each.advice, other)
    ]
    return Effect(since, plots, after + 1, after + len(given), tuple(changed))


def _cited(table: str, row: Row | None) -> str:
    """What the rows of an advice hold when this row bears on it; a rule of a place bears on everybody."""
    if table == "limits" and row is not None:
        return f'"plants:{getattr(row, "plant", "")}:'
    return f'"{table}:{row.id}:' if row is not None and table in ("soils", "plants") else ""


def differs(given: Advice, then: Advice) -> bool:
    """Whether two advices tell people something else."""
    depths = abs((given.depth_mm or 0) - (then.depth_mm or 0)) >= 1
    return given.verdict is not then.verdict or given.date != then.date or depths


def as_field(at: datetime) -> str:
    """A time at the office as a form holds it."""
    plain = at.astimezone().replace(tzinfo=None) if at.tzinfo else at
    return plain.isoformat(timespec="microseconds")


def _told(cells: Mapping[str, str]) -> str:
    return ", ".join(f"{name} {told}" for name, told in cells.items())


def _plain(error: TableError) -> str:
    return f"{error.column}: {error.problem}" if error.column else error.problem
