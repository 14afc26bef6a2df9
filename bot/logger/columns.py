"""Which column of a logger's file is what: guessed from names and values, then looked at and kept by a person."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

import pandas as pd

from bot.errors import FileError

# What a reading may be written in, and its factor to SI: kPa, ohms, percent of volume.
UNITS: dict[str, tuple[str, float]] = {
    "cb": ("tension", 1.0),
    "kPa": ("tension", 1.0),
    "hPa": ("tension", 0.1),
    "bar": ("tension", 100.0),
    "ohms": ("resistance", 1.0),
    "kohms": ("resistance", 1000.0),
    "%": ("percent", 1.0),
    "m3/m3": ("percent", 100.0),
}
ORDERS = ("month first", "day first", "year first")
_IN_NAMES = (
    (r"k\s*ohms?|kω", "kohms"), (r"ohms?|Ω", "ohms"), (r"m3\W?m-?3|m³\W?m|v/v|cm3\W?cm", "m3/m3"),
    (r"\bcb\b|centibars?", "cb"), (r"k\s*pa\b|kilopascals?", "kPa"), (r"h\s*pa\b|mbar", "hPa"), (r"\bbars?\b", "bar"),
    (r"%|\bpct\b|percent|\bvwc\b|water content|humedad", "%"), (r"tension|suction|potential|succi[oó]n", "kPa"),
)  # fmt: skip
_DEPTH = re.compile(
    r"(\d+(?:[.,]\d+)?)\s*[-_ ]?(inches|inch|in|\"|pulg\w*|cm|mm|feet|ft|pies?|m)(?![a-z0-9])", re.IGNORECASE
)
_CM = {"in": 2.54, '"': 2.54, "pu": 2.54, "cm": 1.0, "mm": 0.1, "fe": 30.48, "ft": 30.48, "pi": 30.48, "m": 100.0}
_TIME = re.compile(r"time|date|fecha|hora|stamp|day\b|d[ií]a", re.IGNORECASE)
_OTHER = re.compile(r"temp|batt|volt|signal|rssi|rain|lluvia|humidity|record|^id$|^no\.?$|°|º", re.IGNORECASE)
_DATE_CELL = re.compile(r"\d{1,4}[-/.]\d{1,2}[-/.]\d{1,4}")
_SHARE_READ = 0.8


@dataclass(frozen=True, kw_only=True)
class Column:
    """A column of readings. `unit` is a key of UNITS, `depth_cm` where the probe sits; None: not known yet."""

    name: str
    unit: str | None
    depth_cm: float | None


@dataclass(frozen=True, kw_only=True)
class Layout:
    """What a person has to settle once of a plot's logger, and what is then remembered.

    Args:
        time: the columns that together tell the time.
        order: how the file writes its dates, one of ORDERS.
        daylight_saving: whether the logger's clock is turned with the seasons; if not it keeps winter time.
    """

    time: tuple[str, ...]
    order: str
    columns: tuple[Column, ...]
    daylight_saving: bool = True

    @property
    def open_questions(self) -> tuple[str, ...]:
        """The columns whose unit or depth is not known."""
        return tuple(each.name for each in self.columns if each.unit is None or each.depth_cm is None)


def guessed(frame: pd.DataFrame) -> Layout:
    """The likeliest layout of a table.

    Raises: FileError, when no column tells a time or none a reading.
    """
    time = tuple(str(name) for name in frame.columns if _tells_time(str(name), frame[name]))[:2]
    if not time:
        raise FileError("no column tells the date and time of the readings; name one of them Time")
    readings = [
        _column(str(name)) for name in frame.columns if name not in time and _is_reading(str(name), frame[name])
    ]
    if not readings:
        raise FileError("no column of readings was found; name it by unit and depth, like: cb 12 in")
    return Layout(time=time, order=_order(frame[time[0]]), columns=tuple(readings))


def settled(layout: Layout, remembered: Layout | None) -> Layout:
    """A guess, with what was settled before of the columns that it shares with an earlier file."""
    if remembered is None:
        return layout
    known = {each.name: each for each in remembered.columns}
    columns = tuple(known.get(each.name, each) for each in layout.columns)
    if set(remembered.time) <= set(layout.time):
        return replace(remembered, columns=columns)
    return replace(layout, columns=columns)


def as_json(layout: Layout) -> dict[str, Any]:
    """The layout as JSON can keep it."""
    return {
        "time": list(layout.time),
        "order": layout.order,
        "daylight_saving": layout.daylight_saving,
        "columns": [{"name": each.name, "unit": each.unit, "depth_cm": each.depth_cm} for each in layout.columns],
    }


def from_json(held: Mapping[str, Any]) -> Layout:
    """The layout that `as_json` wrote, or that a form gave.

    Raises: FileError, naming what can't be used.
    """
    columns = tuple(_given(each) for each in held["columns"])
    if held["order"] not in ORDERS:
        raise FileError(f"the order of a date is one of: {', '.join(ORDERS)}")
    return Layout(
        time=tuple(held["time"]),
        order=held["order"],
        columns=columns,
        daylight_saving=bool(held["daylight_saving"]),
    )


def _given(held: Mapping[str, Any]) -> Column:
    unit, depth_cm = held["unit"], held["depth_cm"]
    if unit is not None and unit not in UNITS:
        raise FileError(f"{held['name']}: a unit is one of {', '.join(UNITS)}")
    if depth_cm is not None and not 0 < float(depth_cm) <= 300:
        raise FileError(f"{held['name']}: a probe sits 1 to 300 cm deep")
    return Column(name=str(held["name"]), unit=unit, depth_cm=None if depth_cm is None else float(depth_cm))


def _tells_time(name: str, cells: pd.Series[str]) -> bool:
    some = cells[cells != ""].head(50)
    if some.empty:
        return False
    dated = some.str.contains(_DATE_CELL).mean() > _SHARE_READ
    clock = some.str.fullmatch(r"\s*\d{1,2}:\d\d(:\d\d)?\s*(?:[AaPp]\.?[Mm]\.?)?\s*").mean() > _SHARE_READ
    return bool(dated or clock or (_TIME.search(name) and some.str.fullmatch(r"\d{8,14}").mean() > _SHARE_READ))


def _is_reading(name: str, cells: pd.Series[str]) -> bool:
    numbers = pd.to_numeric(cells.head(500).str.replace(",", ".", regex=False), errors="coerce")
    mostly = numbers.notna().sum() > _SHARE_READ * (cells.head(500) != "").sum() > 0
    return bool(mostly) and (not _OTHER.search(name) or (_unit(name) in ("%", "m3/m3") and "temp" not in name.lower()))


def _column(name: str) -> Column:
    found = _DEPTH.search(name)
    depth_cm = None
    if found:
        per = _CM.get(found[2].lower()[:2]) or _CM[found[2].lower()[:1]]
        depth_cm = round(float(found[1].replace(",", ".")) * per, 1)
    return Column(name=name, unit=_unit(name), depth_cm=depth_cm)


def _unit(name: str) -> str | None:
    return next((unit for pattern, unit in _IN_NAMES if re.search(pattern, name, re.IGNORECASE)), None)


def _order(cells: pd.Series[str]) -> str:
    """How dates are written: by a part beyond twelve, or else as in the United States."""
    parts = cells.str.extract(r"(\d{1,4})[-/.](\d{1,2})[-/.](\d{1,4})").dropna()
    if parts.empty or (parts[0].str.len() == 4).all():
        return "year first"
    return "day first" if (parts[0].astype(int) > 12).any() else "month first"
