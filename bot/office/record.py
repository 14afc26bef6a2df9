"""The record of a season: a sheet for each plot, the sums of the county, and both as files. Nothing is saved without a baseline."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from flask import Response, request
from flask.typing import ResponseReturnValue

from bot.office.house import Caller
from bot.store import Person, StoredPlot
from bot.store.baselines import KINDS, Baseline
from rules.account import Account, Saving, account, pumping_kwh, saving

_LEAST_PEOPLE = 5  # sums over fewer could show one person's figures: common practice, no published source
_MOST_PLOTS = 30_000
# A cell that a spreadsheet would take for a formula begins with one of these.
_FORMULA = ("=", "+", "-", "@", "\t", "\r")


@dataclass(frozen=True)
class Sheet:
    """One plot's season, with what was saved where a baseline is known and every watering had an amount."""

    person: Person
    plot: StoredPlot
    season: Account
    baseline: Baseline | None
    saved: Saving | None

    @property
    def why_none(self) -> str:
        """Why there is no figure of what was saved."""
        if self.baseline is None or self.baseline.mm_week is None:
            return "No baseline is known: say below what was put on before."
        if self.season.unknown:
            return f"{self.season.unknown} waterings were told without an amount."
        return ""

    @property
    def saved_m3(self) -> float | None:
        """The saved water as a volume, where the watered ground is known. [m3]"""
        litres = self.season.litres(self.saved.saved_mm) if self.saved else None
        return None if litres is None else litres / 1000

    @property
    def money(self) -> float | None:
        """What the saved water would have cost."""
        price = self.baseline.price_m3 if self.baseline else None
        return None if price is None or self.saved_m3 is None else price * self.saved_m3

    @property
    def energy_kwh(self) -> float | None:
        """What lifting the saved water would have taken."""
        if self.saved_m3 is None or not self.baseline or not self.baseline.lift_m or not self.baseline.pump_efficiency:
            return None
        return pumping_kwh(self.saved_m3, self.baseline.lift_m, self.baseline.pump_efficiency)


def record(caller: Caller, id: int, plot: int, problem: str = "") -> str:
    """The sheet of one plot."""
    who = caller.person(id)
    mine = caller.plot(who, plot)
    year = _year(caller)
    sheet = _sheet(caller, who, mine, year)
    return caller.page(
        "record", person=who, plot=mine, sheet=sheet, kinds=KINDS, year=year, units=who.units or "us", problem=problem
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
    sheet = _sheet(caller, who, mine, _year(caller))
    rows = (
        [
            (each.on.isoformat(), "" if each.gross_mm is None else f"{each.gross_mm:.1f}")
            for each in sheet.season.waterings
        ]
        if sheet
        else []
    )
    return _file([("date", "put_on_mm"), *rows], f"{mine.name or 'plot'}.csv")


def county(caller: Caller) -> str:
    """The county's season in sums."""
    year = _year(caller)
    return caller.page("county", year=year, sums=_sums(list(_sheets(caller, year))), least=_LEAST_PEOPLE)


def county_file(caller: Caller) -> ResponseReturnValue:
    """A row a plot, without anybody's number or name, for the funder's report."""
    heads = (
        "plot",
        "plant",
        "first",
        "last",
        "waterings",
        "put_on_mm",
        "needed_mm",
        "rain_mm",
        "saved_mm",
        "saved_m3",
        "baseline",
    )
    rows = [
        (
            f"{number}", sheet.plot.facts.plant or "", sheet.season.first.isoformat(), sheet.season.last.isoformat(),
            f"{len(sheet.season.waterings)}", f"{sheet.season.applied_mm:.0f}", f"{sheet.season.needed_mm:.0f}",
            f"{sheet.season.rain_mm:.0f}", _told(sheet.saved.saved_mm if sheet.saved else None), _told(sheet.saved_m3),
            sheet.baseline.kind if sheet.baseline else "",
        )
        for number, sheet in enumerate(_sheets(caller, _year(caller)), 1)
    ]  # fmt: skip
    caller.did("took the county's record as a file")
    return _file([heads, *rows], "county.csv")


def _sheet(caller: Caller, who: Person, mine: StoredPlot, year: int) -> Sheet | None:
    """The season as all that the last advice of the year was made from; None where none was given."""
    last = caller.store.advices.last_of_year(mine, year)
    if last is None:
        return None
    inputs = caller.store.advices.inputs(last)
    if inputs.weather is None or not inputs.weather.past:
        return None
    # What was put on before the first thing told, nobody counted.
    told = [each.on for each in inputs.observations if each.on.year == year]
    first = min([inputs.on, *told])
    season = account(mine.facts, inputs.observations, inputs.weather, first, inputs.on, caller.house.tables)
    baseline = caller.store.baselines.of(mine)
    known = baseline is not None and baseline.mm_week is not None and not season.unknown
    saved = saving(season, baseline.mm_week) if known and baseline and baseline.mm_week is not None else None
    return Sheet(who, mine, season, baseline, saved)


def _sheets(caller: Caller, year: int) -> Iterator[Sheet]:
    count = 0
    for who in caller.store.people.everyone():
        for mine in caller.store.plots.of(who):
            sheet = _sheet(caller, who, mine, year)
            count += 1
            if sheet is not None:
                yield sheet
            if count >= _MOST_PLOTS:
                return


def _sums(sheets: list[Sheet]) -> dict[str, float | int] | None:
    """Sums over all, None where so few are in it that one could be told from them."""
    people = {each.person.id for each in sheets}
    if len(people) < _LEAST_PEOPLE:
        return None
    held = [each for each in sheets if each.saved_m3 is not None]
    return {
        "people": len(people),
        "plots": len(sheets),
        "waterings": sum(len(each.season.waterings) for each in sheets),
        "applied_m3": _cubic(sheets, "applied_mm"),
        "needed_m3": _cubic(sheets, "needed_mm"),
        "with_baseline": len(held),
        "saved_m3": sum(each.saved_m3 or 0.0 for each in held),
        "money": sum(each.money or 0.0 for each in held),
        "energy_kwh": sum(each.energy_kwh or 0.0 for each in held),
    }


def _cubic(sheets: Iterable[Sheet], what: str) -> float:
    return sum((each.season.litres(getattr(each.season, what)) or 0.0) / 1000 for each in sheets)


def _year(caller: Caller) -> int:
    try:
        return int(request.args.get("year", ""))
    except ValueError:
        return caller.now.year


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


def _told(value: float | None) -> str:
    return "" if value is None else f"{value:.1f}"


def _file(rows: Iterable[Iterable[str]], name: str) -> Response:
    told = io.StringIO()
    csv.writer(told).writerows([[_harmless(cell) for cell in row] for row in rows])
    plain = "".join(letter if letter.isascii() and (letter.isalnum() or letter in "._-") else "_" for letter in name)
    return Response(
        told.getvalue(), mimetype="text/csv", headers={"Content-Disposition": f"attachment; filename={plain}"}
    )


def _harmless(cell: str) -> str:
    """A cell that no spreadsheet runs; a plain number may begin with its sign."""
    number = cell.removeprefix("-").replace(".", "", 1).isdigit()
    return f"'{cell}" if cell.startswith(_FORMULA) and not number else cell
