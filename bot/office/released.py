"""A public records request answered: what passed in a time, without names, numbers and places, and a log of what was left out."""

from __future__ import annotations

import io
import json
import re
import secrets
import zipfile
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any

from flask import Response, request
from flask.typing import ResponseReturnValue

from bot.office.house import Caller
from bot.office.spreadsheet import as_csv
from bot.redaction import WHY, redacted
from bot.store import Store
from bot.talk.visit import Office

_LONGEST_REFERENCE, _USUALLY = 80, timedelta(days=30)
_HEADS: Mapping[str, Sequence[str]] = {
    "texts": ("person", "day", "author", "language", "text", "answers"),
    "told": (
        "person", "plot", "day", "kind", "quantity", "value", "depth_cm", "minutes", "depth_mm", "litres", "litres_each",
        "sign", "counts",
    ),
    "advices": ("person", "plot", "day", "verdict", "depth_mm", "minutes", "date", "water_left", "limit", "rows", "version"),
    "calls": ("person", "day", "desk", "origin", "reason", "state", "done"),
}  # fmt: skip
# No vowels, so that no mark is a word.
_LETTERS, _MARK_LETTERS = "bcdfghjkmnpqrtvwxz", 8
# The office's own rows are cited with why, and by whom.
_OFFICES_ROW = re.compile(r"\(office: .*\)$")
_ALWAYS = {
    "colleague": "who in the office said so, and why: names of colleagues",
    "picture": "a picture that came with a text",
    "note": "a note of colleagues for each other",
    "time": "the time of day: the day alone is told",
    "who": "who it was: a mark drawn for this file stands for each person and plot",
}


@dataclass
class Released:
    """The files in the making, and the log of what was left out of them: file, row, what, how often."""

    places: Sequence[str]
    files: dict[str, list[Sequence[str]]] = field(default_factory=dict)
    left_out: list[tuple[str, int, str, int]] = field(default_factory=list)

    @property
    def counts(self) -> Counter[str]:
        """How often each kind was left out."""
        counts: Counter[str] = Counter()
        for _, _, what, times in self.left_out:
            counts[what] += times
        return counts

    def clean(self, text: str, file: str, row: int) -> str:
        """A text without what could tell who it is of; what was left out is logged."""
        said, counts = redacted(text, self.places)
        self.log(file, row, counts)
        return said

    def log(self, file: str, row: int, counts: Mapping[str, int]) -> None:
        self.left_out += [(file, row, what, times) for what, times in counts.items() if times]


def records_request(caller: Caller, problem: str = "") -> str:
    """The page: for which days, and how much would be left out."""
    span = _span(request.values.get("first"), request.values.get("last"))
    found = release(caller.store, caller.house.office, *span) if span else None
    today = caller.now.date()
    return caller.page(
        "request",
        span=span,
        counts=found.counts if found else {},
        rows={name: len(rows) - 1 for name, rows in found.files.items()} if found else {},
        why={**WHY, **_ALWAYS},
        usual=(today - _USUALLY, today),
        problem=problem or ("Give two days, the first one first." if request.args and not span else ""),
    )


def hand_out(caller: Caller) -> ResponseReturnValue:
    """The files, packed."""
    span = _span(request.form.get("first"), request.form.get("last"))
    reference = " ".join(request.form.get("reference", "").split())[:_LONGEST_REFERENCE]
    if span is None or not reference:
        return records_request(caller, "Say which request it answers, and for which days."), 400
    found = release(caller.store, caller.house.office, *span)
    left_out = sum(found.counts.values())
    caller.did("answered a records request", detail=f"{reference}: {span[0]} to {span[1]}, {left_out} left out")
    name = f"records-{span[0]}-{span[1]}.zip"
    headers = {"Content-Disposition": f"attachment; filename={name}"}
    return Response(_packed(found, span), mimetype="application/zip", headers=headers)


def release(store: Store, office: Office, first: date, last: date) -> Released:
    """What passed from the first day to the last, without what could tell who it was."""
    known = [*store.period.places(), *(str(place.get("name") or "") for place in office.places)]
    told = [part for name in known for part in (name, re.split(r"[,(]", name)[0])]
    found, people, plots = Released(places=tuple(told)), _Drawn(), _Drawn()
    for subject, head in _HEADS.items():
        lines: list[Sequence[str]] = [head]
        for row in store.period.rows(subject, first, last):
            numbered = row | {"person": people.of(row["person"]), "plot": plots.of(row.get("plot"))}
            cells = _CELLS[subject](found, numbered, len(lines) + 1)
            lines.append([_cell(cells.get(name)) for name in head])
        found.files[subject] = lines
        found.log(subject, 0, {"time": len(lines) - 1, "who": len(lines) - 1})
    found.log("notes", 0, {"note": store.period.notes(first, last)})
    return found


class _Drawn:
    """Marks drawn for this once, so that no two files can be laid beside each other; without figures, to be no number."""

    def __init__(self) -> None:
        self._marks: dict[int, str] = {}

    def of(self, id_: int | None) -> str:
        if id_ is None:
            return ""
        if id_ not in self._marks:
            self._marks[id_] = "".join(secrets.choice(_LETTERS) for _ in range(_MARK_LETTERS))
        return self._marks[id_]


def _texts(found: Released, row: dict[str, Any], line: int) -> dict[str, Any]:
    answers = " / ".join(json.loads(row["replies"]))
    found.log("texts", line, {"picture": int(row["media"] is not None)})
    clean = {"text": found.clean(row["text"], "texts", line), "answers": found.clean(answers, "texts", line)}
    return row | clean


def _as_held(found: Released, row: dict[str, Any], line: int) -> dict[str, Any]:
    return row


def _advices(found: Released, row: dict[str, Any], line: int) -> dict[str, Any]:
    advice: dict[str, Any] = json.loads(row["advice"])
    rows = [_OFFICES_ROW.sub("(the office)", each) for each in advice.get("rows", ())]
    changed = sum(one != other for one, other in zip(rows, advice.get("rows", ()), strict=True))
    found.log("advices", line, {"colleague": changed})
    return advice | row | {"rows": "; ".join(rows)}


def _calls(found: Released, row: dict[str, Any], line: int) -> dict[str, Any]:
    return row | {"reason": found.clean(row["reason"], "calls", line)}


_CELLS = {"texts": _texts, "told": _as_held, "advices": _advices, "calls": _calls}


def _packed(found: Released, span: tuple[date, date]) -> bytes:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as files:
        for name, rows in found.files.items():
            files.writestr(f"{name}.csv", as_csv(rows))
        head = ("file", "row", "what", "how many", "why")
        why = {**WHY, **_ALWAYS}
        log = [(file, str(row or "all"), what, str(times), why[what]) for file, row, what, times in found.left_out]
        files.writestr("left_out.csv", as_csv([head, *log]))
        files.writestr("README.txt", "\n".join(_readme(found, span)))
    return packed.getvalue()


def _readme(found: Released, span: tuple[date, date]) -> Iterator[str]:
    yield f"Records of a water line, {span[0]} to {span[1]}."
    yield "Left out, with the mark that stands in its place; left_out.csv has each by file and row:"
    for what, times in found.counts.most_common():
        yield f"  {what}: {times} times. {({**WHY, **_ALWAYS})[what].capitalize()}."
    yield ""


def _cell(value: Any) -> str:
    return "" if value is None else f"{value:g}" if isinstance(value, float) else str(value)


def _span(first: str | None, last: str | None) -> tuple[date, date] | None:
    try:
        span = date.fromisoformat(first or ""), date.fromisoformat(last or "")
    except ValueError:
        return None
    return span if span[0] <= span[1] else None
