"""The record of a season: a sheet for each plot, the sums of the county, and both as files. Nothing is saved without a baseline."""

from __future__ import annotations

from collections.abc import Iterable

from flask import Response, request
from flask.typing import ResponseReturnValue

from bot.office.house import Caller
from bot.office.sheets import sheet
from bot.office.spreadsheet import as_csv
from bot.store.baselines import KINDS, Baseline
from bot.store.columns import Column
from bot.store.seasons import EACH

_LEAST_PEOPLE = 5  # sums over fewer could show one person's figures: common practice, no published source


def record(caller: Caller, id: int, plot: int, problem: str = "") -> str:
    """The sheet of one plot."""
    who = caller.person(id)
    mine = caller.plot(who, plot)
    year = _year(caller)
    return caller.page(
        "record",
        person=who,
        plot=mine,
        sheet=sheet(caller.store, who, mine, year, caller.house.tables),
        kinds=KINDS,
        year=year,
        units=who.units or "us",
        problem=problem,
    )


def set_baseline(caller: Caller, id: int, plot: int) -> ResponseReturnValue:
    """Say what was put on before, and what water costs."""
    who = caller.person(id)
    mine = caller.plot(who, plot)
    form = request.form
    kind, source = form.get("kind", ""), " ".join(form.get("source", "").split())[:200]
    try:
        told = Baseline(
            mm_week=_number("mm_week", 0, 500, float(form.get("per_mm", "1"))),
            kind=kind,
            source=source,
            price_m3=_number("price_m3", 0, 1000),
            lift_m=_number("lift_m", 0, 2000),
            pump_efficiency=_number("pump_percent", 1, 100, 0.01),
            by=caller.colleague.name,
            at=caller.at,
        )
    except ValueError as error:
        return record(caller, id, plot, f"{error}"), 400
    if kind not in KINDS or not source:
        return record(caller, id, plot, "Say what kind of figure it is, and who says so."), 400
    caller.store.baselines.set(mine, told)
    caller.did("set a baseline", who)
    return caller.go("record", "Kept.", id=id, plot=plot)


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
    return caller.page("county", year=year, sums=sums, uncounted=uncounted, least=_LEAST_PEOPLE)


def county_file(caller: Caller) -> ResponseReturnValue:
    """A row a plot, without anybody's number or name, for the funder's report."""
    year, seasons = _year(caller), caller.store.seasons
    if caller.house.seasons.add_up_some(year):
        return caller.go("county", "Plots are still being added up. Take the file when all are counted.", year=year)
    if seasons.sums(year)["people"] < _LEAST_PEOPLE:
        return caller.go("county", f"There is a file from {_LEAST_PEOPLE} people on.", year=year)
    rows = [(number, *row) for number, row in enumerate(seasons.each(year, _LEAST_PEOPLE), 1)]
    caller.did("took the county's record as a file")
    return _file([("plot", *EACH), *rows], "county.csv")


def _year(caller: Caller) -> int:
    wanted = request.args.get("year", "")
    return int(wanted) if wanted.isdecimal() and len(wanted) == 4 else caller.now.year


def _number(name: str, low: float, high: float, per: float = 1.0) -> float | None:
    """A number of the form, in SI. Raises: ValueError, in plain words."""
    cell = request.form.get(name, "").strip().replace(",", ".")
    if not cell:
        return None
    try:
        value = float(cell)
    except ValueError:
        raise ValueError(f"“{cell[:20]}” is no number.") from None
    if not low <= value <= high:
        raise ValueError(f"{cell[:20]} can't be: from {low:g} to {high:g}.")
    return value * per


def _file(rows: Iterable[Iterable[Column]], name: str) -> Response:
    plain = "".join(letter if letter.isascii() and (letter.isalnum() or letter in "._-") else "_" for letter in name)
    return Response(as_csv(rows), mimetype="text/csv", headers={"Content-Disposition": f"attachment; filename={plain}"})
