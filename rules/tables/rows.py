"""Table text into typed rows. Pure: the text is handed in, nothing is opened here.

A table is comma-separated with one header line. Its row class (see kinds.py) names the columns; beside them stand, for
each group of columns, `<group>_source` and `<group>_status`, or just `source` and `status` where a row has one group.
A source cell begins with a key of sources.csv and may go on with a page or table: `FAO56 T22`.

An office lays rows of its own over the base: the `id`, only the columns that differ, and a `source` in its own words.
Its `status` may be `draft` or `withdrawn`: such a row is passed over, and the base row holds.
"""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Mapping
from dataclasses import MISSING, dataclass, field, fields
from typing import Any, ClassVar, TypeVar

from rules.errors import TableError

# How a number was come by. The first line may drive advice as it stands; the second is named in every citation.
SETTLED = ("verified", "verified-secondary", "computed", "reviewed")
UNSETTLED = ("from memory", "proxy", "working value")
PASSED_OVER = ("draft", "withdrawn")

_TRUE, _FALSE = ("yes", "true", "1"), ("no", "false", "0", "")


@dataclass(frozen=True)
class Evidence:
    """Where one cell comes from: source, status, and whose table (`base` or `office`)."""

    source: str
    status: str
    origin: str

    @property
    def settled(self) -> bool:
        return self.status in SETTLED

    def __str__(self) -> str:
        said = self.source or self.status
        words = [f"office: {said}" if self.origin == "office" else said]
        return ", ".join(words if self.settled or self.status == said else [*words, self.status])


@dataclass(frozen=True, kw_only=True, eq=False)
class Row:
    """One row of a table, by `id`. `evidence` says for each column of numbers where its value comes from."""

    table: ClassVar[str]
    id: str
    note: str = ""
    evidence: Mapping[str, Evidence] = field(default_factory=dict, repr=False)
    file: str = field(default="", repr=False)
    line: int = field(default=0, repr=False)

    @property
    def origin(self) -> str:
        """`office` when any cell is the office's own, else `base`."""
        return "office" if any(e.origin == "office" for e in self.evidence.values()) else "base"

    def cite(self, column: str) -> str:
        """A value with its row and source, such as `plants:tomato:p=0.4 (FAO56 T22)`."""
        value = getattr(self, column)
        shown = f"{value:g}" if isinstance(value, float) else str(value)
        return f"{self.table}:{self.id}:{column}={shown} ({self.evidence[column]})"


def number(low: float, high: float, by: str = "", *, default: float | None = None) -> Any:
    """A column of numbers from `low` to `high`; `by` names its group of columns. Empty is `default`."""
    return field(default=default, metadata={"is": "number", "low": low, "high": high, "by": by})


def needed(low: float, high: float, by: str = "") -> Any:
    """A column of numbers that no row may leave empty."""
    return field(metadata={"is": "number", "low": low, "high": high, "by": by})


def text(by: str | None = None, *, default: str = "") -> Any:
    """A column of words. `by` None, here and below: names and the like, for which no source is asked."""
    return field(default=default, metadata={"is": "text", "by": by})


def choice(*words: str, by: str | None = None) -> Any:
    """A column that holds one of a few words; empty is the first."""
    return field(default=words[0], metadata={"is": "choice", "words": words, "by": by})


def words(by: str | None = None) -> Any:
    """A column of several words parted by semicolons."""
    return field(default=(), metadata={"is": "list", "by": by})


def flag(by: str | None = None) -> Any:
    """A yes or no column; empty is no."""
    return field(default=False, metadata={"is": "flag", "by": by})


R = TypeVar("R", bound=Row)


@dataclass(frozen=True)
class Raw:
    """One line of a table as text, with the line it stands on for error sentences."""

    file: str
    line: int
    cells: Mapping[str, str]

    def refuse(self, column: str, problem: str) -> TableError:
        return TableError(self.file, self.line, column, problem)


def lines(file: str, content: str) -> list[Raw]:
    """The lines of a table. Byte-order marks, Windows line ends and line breaks inside a cell are accepted.

    Raises: TableError, when the header or the number of cells of a line is wrong.
    """
    reader = csv.reader(io.StringIO(content.removeprefix("\ufeff"), newline=""))
    header = [name.strip() for name in next(reader, [])]
    if len(header) < 2 and any(";" in name for name in header):
        raise TableError(file, 1, header[0], "columns are parted by semicolons; save the sheet as comma-separated CSV")
    if "id" not in header:
        raise TableError(file, 1, "id", "the first line must name the columns, and one of them must be id")
    for name in header:
        if header.count(name) > 1:
            raise TableError(file, 1, name, "this column is there twice")
    found = []
    for cells in reader:
        if not any(cell.strip() for cell in cells):
            continue
        if len(cells) > len(header):
            problem = "more cells than columns; write a point, not a comma, in numbers, and quote texts with commas"
            raise TableError(file, reader.line_num, header[-1], problem)
        padded = cells + [""] * (len(header) - len(cells))
        found.append(Raw(file, reader.line_num, {k: c.strip() for k, c in zip(header, padded, strict=True)}))
    return found


def columns(kind: type[Row]) -> dict[str, Mapping[str, Any]]:
    """The columns of a table by name, each with what it holds: `is`, and of numbers `low` and `high`."""
    return {f.name: f.metadata for f in fields(kind) if f.metadata}


def _group_cell(by: str, what: str) -> str:
    return f"{by}_{what}" if by else what


def _known_columns(kind: type[Row]) -> set[str]:
    groups = {spec["by"] or "" for spec in columns(kind).values()} | {""}
    beside = {_group_cell(by, what) for by in groups for what in ("source", "status")}
    return {"id", "note", *columns(kind)} | beside


def _number(raw: Raw, column: str, low: float, high: float) -> float:
    cell = raw.cells[column]
    try:
        value = float(cell)
    except ValueError:
        hint = "write a point, not a comma" if "," in cell else "this must be a number"
        raise raw.refuse(column, f"{hint}: {cell!r}") from None
    if not math.isfinite(value) or not low <= value <= high:
        raise raw.refuse(column, f"{cell} is outside {low:g} to {high:g}")
    return value


def _value(raw: Raw, column: str, spec: Mapping[str, Any]) -> Any:
    cell = raw.cells[column]
    match spec["is"]:
        case "number":
            return _number(raw, column, spec["low"], spec["high"])
        case "choice" if cell not in spec["words"]:
            raise raw.refuse(column, f"{cell!r} is none of: {', '.join(w for w in spec['words'] if w)}")
        case "flag" if cell.lower() not in _TRUE + _FALSE:
            raise raw.refuse(column, f"write yes or no, not {cell!r}")
        case "flag":
            return cell.lower() in _TRUE
        case "list":
            return tuple(word for part in cell.split(";") if (word := part.strip()))
    return cell


def _evidence(raw: Raw, by: str, column: str, origin: str, sources: frozenset[str] | None) -> Evidence:
    """Source and status of a cell. Base sources must be keys of sources.csv; an office says it in its own words."""
    told = [raw.cells.get(_group_cell(by, "source"), ""), raw.cells.get("source", "")]
    source = next(filter(None, told), "")
    status = raw.cells.get(_group_cell(by, "status"), "") or raw.cells.get("status", "") or "reviewed"
    at = _group_cell(by, "source")
    if status not in SETTLED + UNSETTLED:
        known = ", ".join(SETTLED + UNSETTLED + PASSED_OVER)
        raise raw.refuse(_group_cell(by, "status"), f"{status!r} is none of: {known}")
    if not source and (origin == "office" or status in SETTLED):
        raise raw.refuse(at, f"say where {column} comes from")
    if source and sources is not None and source.split()[0] not in sources:
        raise raw.refuse(at, f"{source.split()[0]!r} is not a key of sources.csv")
    return Evidence(source, status, origin)


def _filled(
    raw: Raw, kind: type[Row], origin: str, sources: frozenset[str] | None
) -> tuple[dict[str, Any], dict[str, Evidence]]:
    values: dict[str, Any] = {}
    evidence: dict[str, Evidence] = {}
    for column, spec in columns(kind).items():
        if raw.cells.get(column, "") == "":
            continue
        values[column] = _value(raw, column, spec)
        if spec["by"] is not None:
            evidence[column] = _evidence(raw, spec["by"], column, origin, sources)
    if raw.cells.get("note"):
        values["note"] = raw.cells["note"]
    return values, evidence


def _laid(raw: Raw, kind: type[R], below: R | None, origin: str, sources: frozenset[str] | None) -> R:
    values, evidence = _filled(raw, kind, origin, sources)
    if below is not None:
        kept = {f.name: getattr(below, f.name) for f in fields(kind)}
        evidence = {**below.evidence, **evidence}
        return kind(**{**kept, **values, "evidence": evidence, "file": raw.file, "line": raw.line})
    for f in fields(kind):
        if f.metadata and f.default is MISSING and f.name not in values:
            raise raw.refuse(f.name, "a new row needs a number here" if origin == "office" else "this cell is empty")
    return kind(id=raw.cells["id"], evidence=evidence, file=raw.file, line=raw.line, **values)


def rows(
    kind: type[R], content: str, *, file: str, sources: frozenset[str] | None, below: Mapping[str, R] | None = None
) -> dict[str, R]:
    """Rows of one table by id; laid over those `below` where given, which makes them the office's.

    Args:
        sources: keys that a source cell may begin with; None lets any words stand.
    Raises: TableError, with file, line, column and a plain sentence.
    """
    origin = "base" if below is None else "office"
    laid: dict[str, R] = dict(below or {})
    seen: dict[str, int] = {}
    for raw in lines(file, content):
        unknown = set(raw.cells) - _known_columns(kind)
        if unknown:
            raise TableError(file, 1, min(unknown), f"the table {kind.table} has no such column")
        key = raw.cells["id"]
        if not key:
            raise raw.refuse("id", "this row has no id")
        if key in seen:
            raise raw.refuse("id", f"{key} is already on line {seen[key]}")
        seen[key] = raw.line
        if raw.cells.get("status") not in PASSED_OVER:
            laid[key] = _laid(raw, kind, laid.get(key), origin, sources)
    return laid
