"""A plot's logger: a file is handed in, looked at, and kept; what its probes show, watering by watering."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import date

from flask import Response, abort, request
from flask.typing import ResponseReturnValue

from bot.errors import FileError
from bot.graph import traces as trace_graph
from bot.graph.look import OFFICE, PHONE, PRINT
from bot.logger.columns import ORDERS, UNITS, Column, Layout
from bot.logger.intake import Intake
from bot.logger.traced import Traced, traced
from bot.office.house import Caller
from bot.office.showing import amount
from bot.store import Person, StoredPlot
from bot.word.say import Words

_MOST_BYTES = 24 * 1024 * 1024
_SHOWN_FAULTS = 8
_LOOKS = {"phone": PHONE, "print": PRINT}


def logger(caller: Caller, id: int, plot: int, problem: str = "") -> str:
    """What the probes of a plot show, its files, and a form for a new one."""
    who, mine = _whose(caller, id, plot)
    shown = _traced(caller, who, mine)
    return caller.page(
        "logger",
        person=who,
        plot=mine,
        files=caller.store.series.files(mine),
        reports=caller.store.tokens.has_one(mine),
        shown=shown,
        told=_story(shown, who.units or "us") if shown else [],
        full_points=shown.full_points() if shown else [],
        soil=caller.house.tables.soils.get(mine.facts.soil or "loam"),
        units=who.units or "us",
        first=request.args.get("first", ""),
        last=request.args.get("last", ""),
        problem=problem,
    )


def hand_in(caller: Caller, id: int, plot: int) -> ResponseReturnValue:
    """Look at a file."""
    who, mine = _whose(caller, id, plot)
    given = request.files.get("file")
    data = given.read(_MOST_BYTES + 1) if given else b""
    if not given or not data or len(data) > _MOST_BYTES:
        return logger(caller, id, plot, "Pick a file of at most 24 MB."), 400
    upload = caller.store.series.lay_by(mine, (given.filename or "file")[-80:], data, caller.colleague.name, caller.at)
    return _look(caller, who, mine, upload, None)


def keep(caller: Caller, id: int, plot: int, upload: int) -> ResponseReturnValue:
    """Look again with the columns as they were set, or keep the file."""
    who, mine = _whose(caller, id, plot)
    held = caller.store.series.laid_by(mine, upload, caller.colleague.name)
    if held is None:
        return caller.go("logger", "That file is not here any more. Please hand it in again.", id=id, plot=plot)
    if request.form.get("do") == "drop":
        caller.store.series.drop_laid_by(caller.colleague.name)
        return caller.go("logger", "Nothing was kept.", id=id, plot=plot)
    try:
        layout = _layout()
    except (FileError, ValueError) as error:
        return _look(caller, who, mine, upload, None, f"{error}")
    if request.form.get("do") != "keep" or layout.open_questions:
        return _look(caller, who, mine, upload, layout)
    name, data = held
    try:
        taken = Intake(caller.store, caller.house.clock).keep(who, mine, data, layout, name, caller.colleague.name)
    except FileError as error:
        return _look(caller, who, mine, upload, layout, f"{error}")
    caller.store.series.drop_laid_by(caller.colleague.name)
    caller.did("took a logger's file in", who, detail=f"{taken.new} readings")
    said = f"{taken.new:,} new readings; {taken.known:,} were here already; {taken.odd_count:,} cells left out."
    return caller.go("logger", said, id=id, plot=plot)


def sensor_token(caller: Caller, id: int, plot: int) -> ResponseReturnValue:
    """Let a sensor report for the plot, by a token that is shown once; or no more."""
    who, mine = _whose(caller, id, plot)
    if request.form.get("do") == "end":
        caller.store.tokens.end(mine)
        caller.did("ended a sensor's token", who)
        return caller.go("logger", "No sensor may report for this plot any more.", id=id, plot=plot)
    token = caller.store.tokens.make(mine, caller.colleague.name, caller.at)
    caller.did("made a sensor's token", who)
    return caller.go("logger", f"The token, shown this once: {token}", id=id, plot=plot)


def take_full(caller: Caller, id: int, plot: int) -> ResponseReturnValue:
    """Let readings be held against what the probe shows at full, as it was found and offered; or against the soil's table again."""
    who, mine = _whose(caller, id, plot)
    shown = _traced(caller, who, mine)
    offered = {f"{each.depth_cm:g}": each for each in (shown.full_points() if shown else ())}
    chosen = offered.get(request.form.get("depth_cm", ""))
    if request.form.get("do") != "end" and chosen is None:
        return logger(caller, id, plot, "That is offered no more. Look at the page again."), 400
    value = chosen.percent / 100 if chosen and request.form.get("do") != "end" else None
    caller.store.facts.set(mine, "probe_full", value, at=caller.local(who), by=caller.colleague.name)
    caller.did("set a plot's own full point" if value else "took a plot's own full point back", who)
    said = "Percents are held against it from now on." if value else "Percents are held against the soil's table again."
    return caller.go("logger", said, id=id, plot=plot)


def take_back(caller: Caller, id: int, plot: int, file: int) -> ResponseReturnValue:
    """A file counts no more."""
    who, mine = _whose(caller, id, plot)
    if file not in {each["id"] for each in caller.store.series.files(mine)}:
        abort(404)
    Intake(caller.store, caller.house.clock).take_back(who, mine, file, caller.colleague.name)
    caller.did("took a logger's file back", who)
    return caller.go("logger", "Taken back: its readings count no more.", id=id, plot=plot)


def trace(caller: Caller, id: int, plot: int) -> ResponseReturnValue:
    """The traces as a drawing."""
    who, mine = _whose(caller, id, plot)
    shown = _traced(caller, who, mine)
    if shown is None:
        abort(404)
    words = Words("en", who.units or "us", "picture", caller.local(who).date())
    look = _LOOKS.get(request.args.get("look", ""), OFFICE)
    title = f"{mine.name or 'The plot'}: what its probes showed"
    return Response(
        trace_graph.svg(shown, words, title, " ".join(_story(shown, who.units or "us")), look), mimetype="image/svg+xml"
    )


def _look(
    caller: Caller, who: Person, mine: StoredPlot, upload: int, layout: Layout | None, problem: str = ""
) -> ResponseReturnValue:
    """A file as it would be read, with a form to set its columns right."""
    held = caller.store.series.laid_by(mine, upload, caller.colleague.name)
    assert held is not None
    try:
        preview = Intake(caller.store, caller.house.clock).preview(who, mine, held[1], layout)
    except FileError as error:
        if layout is not None:
            return _look(caller, who, mine, upload, None, f"{error}")
        return logger(caller, who.id, mine.id, f"{held[0]}: {error}"), 400
    shown = {"preview": preview, "name": held[0], "upload": upload, "problem": problem}
    return caller.page(
        "logger_file", person=who, plot=mine, all_units=UNITS, orders=ORDERS, units=who.units or "us", **shown
    )


def _layout() -> Layout:
    """The layout that the form tells; depths in the person's own units.

    Raises: ValueError, FileError.
    """
    form = request.form
    per = float(form.get("per_cm", "1"))
    columns = []
    for number, name in enumerate(form.getlist("column")):
        if form.get(f"use-{number}") != "yes":
            continue
        depth = form.get(f"depth-{number}", "").strip().replace(",", ".")
        unit = form.get(f"unit-{number}") or None
        if depth and not 0 < float(depth) * per <= 300:
            raise FileError(f"{name}: a probe sits at most 10 feet deep")
        columns.append(Column(name=name, unit=unit, depth_cm=round(float(depth) * per, 1) if depth else None))
    if not columns:
        raise FileError("at least one column of readings is needed")
    order = form.get("order", ORDERS[0])
    layout = Layout(time=tuple(form.getlist("time")), order=order, columns=tuple(columns))
    return replace(layout, daylight_saving=form.get("daylight_saving") == "yes")


def _whose(caller: Caller, id: int, plot: int) -> tuple[Person, StoredPlot]:
    who = caller.person(id)
    return who, caller.plot(who, plot)


def _traced(caller: Caller, who: Person, mine: StoredPlot) -> Traced | None:
    return traced(caller.store, who, mine, caller.house.tables, _day("first"), _day("last"))


def _day(name: str) -> date | None:
    try:
        return date.fromisoformat(request.args.get(name, ""))
    except ValueError:
        return None


def _story(shown: Traced, units: str) -> list[str]:
    """What the traces tell, in sentences."""
    told = shown.told
    count = Counter(each.timing for each in told.wettings)
    said = [
        f"Water came {_times(len(told.wettings))}: {count['too soon']} too soon, {count['in time']} in time, "
        f"{count['too late']} too late."
    ]
    for depth_cm in shown.depths_cm[1:]:
        reached = sum(depth_cm in each.depths_cm for each in told.wettings)
        said.append(f"It reached {amount(depth_cm, 'depth_cm', units)} {_times(reached)}.")
    if told.drying:
        rates = [
            f"{100 * rate:.1f} % a day at {amount(depth, 'depth_cm', units)}"
            for depth, rate in sorted(told.drying.items())
        ]
        said.append(f"On dry days the water left falls by {', '.join(rates)}.")
    if told.days:
        said.append(f"The top probe was below the limit on {told.days_below} of {told.days} mornings.")
    for each in told.faults[:_SHOWN_FAULTS]:
        depth = amount(each.depth_cm, "depth_cm", units)
        said.append(f"The probe at {depth}: {_FAULTS[each.why]} ({each.first:%b %d} to {each.last:%b %d}).")
    return said


def _times(count: int) -> str:
    return {0: "never", 1: "once", 2: "twice"}.get(count, f"{count} times")


_FAULTS = {
    "stuck": "it shows one number while the ground around it moves; check it",
    "spike": "a leap there and back, which is electricity and not water",
    "gap": "no readings",
}
