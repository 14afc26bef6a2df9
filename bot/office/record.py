"""The record of a season: a sheet for each plot, the sums of the county, and both as files. Nothing is saved without a baseline."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, NamedTuple

from flask import Response, request
from flask.typing import ResponseReturnValue

from bot.office.fact_fields import FIELDS
from bot.office.house import Caller
from bot.office.plot import fields_of
from bot.office.sheets import sheet
from bot.office.spreadsheet import as_csv
from bot.store.baselines import KINDS, Baseline
from bot.store.columns import Column
from bot.store.held import SLOTS
from bot.store.seasons import EACH
from bot.word.keeping import observed
from rules.terms import Observation
from rules.units import CM_PER_FOOT, LITRES_PER_GALLON, MM_PER_INCH

LEAST_PEOPLE = 5  # sums over fewer could show one person's figures: common practice, no published source


# What practice 449 asks of a field: a sheet says so where it is not known.
_ON_EVERY_SHEET = ("plant", "soil", "method", "rate_mm_h", "area_m2", "root_depth_cm")


def record(caller: Caller, id: int, plot: int, problem: str = "") -> str:
    """The sheet of one plot."""
    who = caller.person(id)
    mine = caller.plot(who, plot)
    year = _year(caller)
    found, fields = sheet(caller.store, who, mine, year, caller.house.tables), fields_of(caller, who, mine)
    told = found.told if found else ()
    baseline = caller.store.baselines.of(mine)
    return caller.page(
        "record",
        person=who,
        plot=mine,
        sheet=found,
        known=[
            (each.label, fields.said(each) or "not known")
            for each in FIELDS
            if each.about in _ON_EVERY_SHEET or fields.said(each)
        ],
        told=[(each.on, observed(fields.words, *_as_held(each))) for each in told],
        kinds=KINDS,
        year=year,
        units=fields.units,
        of_units=_UNITS[fields.units],
        filled=request.form if problem else _filled(baseline, fields.units),
        problem=problem,
    )


def _as_held(term: Observation) -> tuple[str, dict[str, Any]]:
    kind = type(term).__name__.lower()
    return kind, {name: getattr(term, name) for name in SLOTS[kind]}


def set_baseline(caller: Caller, id: int, plot: int) -> ResponseReturnValue:
    """Say what was put on before, and what water costs."""
    who = caller.person(id)
    mine = caller.plot(who, plot)
    kind, source = request.form.get("kind", ""), " ".join(request.form.get("source", "").split())[:200]
    units = _UNITS[who.units or "us"]
    try:
        known = {about: _number(about, unit) for about, unit in units.items()}
    except ValueError as error:
        return record(caller, id, plot, f"{error}"), 400
    if kind not in KINDS or not source:
        return record(caller, id, plot, "Say what kind of figure it is, and who says so."), 400
    told = Baseline(**known, kind=kind, source=source, by=caller.colleague.name, at=caller.at)
    caller.store.baselines.set(mine, told)
    caller.did("set a baseline", who)
    return caller.go("record", "Kept.", id=id, plot=plot)


class _Unit(NamedTuple):
    """One number of a baseline: what it is in, how much one of that is in SI, and the most it can be."""

    name: str
    worth: float
    most: float


# By a person's units. A price is the office's money for so much water: a dollar a thousand gallons is 0.26 a cubic metre.
_UNITS = {
    "us": {
        "mm_week": _Unit("in", MM_PER_INCH, 20),
        "price_m3": _Unit("1,000 gal", 1 / LITRES_PER_GALLON, 4000),
        "lift_m": _Unit("ft", CM_PER_FOOT / 100, 6000),
        "pump_efficiency": _Unit("%", 0.01, 100),
    },
    "metric": {
        "mm_week": _Unit("mm", 1.0, 500),
        "price_m3": _Unit("m3", 1.0, 1000),
        "lift_m": _Unit("m", 1.0, 2000),
        "pump_efficiency": _Unit("%", 0.01, 100),
    },
}


def _filled(baseline: Baseline | None, units: str) -> dict[str, str]:
    """The form as the baseline stands."""
    if baseline is None:
        return {}
    known = {about: getattr(baseline, about) for about in _UNITS[units]}
    numbers = {about: f"{known[about] / unit.worth:.4g}" for about, unit in _UNITS[units].items() if known[about]}
    return numbers | {"kind": baseline.kind, "source": baseline.source}


def plot_file(caller: Caller, id: int, plot: int) -> ResponseReturnValue:
    """One plot's waterings as a file."""
    who = caller.person(id)
    mine = caller.plot(who, plot)
    found = sheet(caller.store, who, mine, _year(caller), caller.house.tables)
    waterings = found.season.waterings if found else ()
    rows = [(each.on.isoformat(), None if each.gross_mm is None else round(each.gross_mm, 1)) for each in waterings]
    return _file([("date", "put_on_mm"), *rows], f"{mine.name or 'plot'}.csv")


def county(caller: Caller) -> str:
    """The county's season in sums, those of a few people left out."""
    year = _year(caller)
    uncounted = caller.house.seasons.add_up_some(year)
    sums = caller.store.seasons.sums(year)
    return caller.page("county", year=year, sums=sums, uncounted=uncounted, least=LEAST_PEOPLE)


def county_file(caller: Caller) -> ResponseReturnValue:
    """A row a plot, without anybody's number or name, for the funder's report."""
    year, seasons = _year(caller), caller.store.seasons
    if caller.house.seasons.add_up_some(year):
        return caller.go("county", "Plots are still being added up. Take the file when all are counted.", year=year)
    if seasons.sums(year)["people"] < LEAST_PEOPLE:
        return caller.go("county", f"There is a file from {LEAST_PEOPLE} people on.", year=year)
    rows = [(number, *row) for number, row in enumerate(seasons.each(year, LEAST_PEOPLE), 1)]
    caller.did("took the county's record as a file")
    return _file([("plot", *EACH), *rows], "county.csv")


def _year(caller: Caller) -> int:
    wanted = request.args.get("year", "")
    return int(wanted) if wanted.isdecimal() and len(wanted) == 4 else caller.now.year


def _number(name: str, unit: _Unit) -> float | None:
    """A number of the form, in SI. Raises: ValueError, in plain words."""
    cell = request.form.get(name, "").strip().replace(",", ".")
    if not cell:
        return None
    try:
        value = float(cell)
    except ValueError:
        raise ValueError(f"“{cell[:20]}” is no number.") from None
    if not 0 <= value <= unit.most:
        raise ValueError(f"{cell[:20]} can't be: from 0 to {unit.most:,.0f} {unit.name}.")
    return value * unit.worth


def _file(rows: Iterable[Iterable[Column]], name: str) -> Response:
    plain = "".join(letter if letter.isascii() and (letter.isalnum() or letter in "._-") else "_" for letter in name)
    return Response(as_csv(rows), mimetype="text/csv", headers={"Content-Disposition": f"attachment; filename={plain}"})
