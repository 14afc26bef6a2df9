"""The register of the office's probes and loan kits: who has which, how deep it stands, when it is due, and its faults."""

from __future__ import annotations

from datetime import date

from flask import abort, request
from flask.typing import ResponseReturnValue

from bot.errors import StoreError
from bot.office.house import Caller
from bot.store import StoredPlot
from bot.store.probes import Probe, Stay
from rules.units import CM_PER_INCH

# What an office lends; the last is for all else.
KINDS = ("tensiometer", "matrix block", "capacitance probe", "logger", "rod", "loan kit", "other")
_LONGEST = 120
_DEEPEST_CM = 500.0
_UNITS = {"in": CM_PER_INCH, "cm": 1.0}


def probes(caller: Caller, problem: str = "") -> str:
    """All of them, those that should be back first."""
    today, everyone = caller.now.date(), caller.store.probes.all()
    everyone.sort(key=lambda each: not (each.out and each.out.late(today)))
    return caller.page(
        "probes",
        probes=[(each, _plot_of(caller, each.out)) for each in everyone],
        kinds=KINDS,
        plot=request.args.get("plot", type=int),
        filled=request.form if problem else {},
        problem=problem,
    )


def add_probe(caller: Caller) -> ResponseReturnValue:
    """A new one."""
    label, kind = _text("label"), request.form.get("kind", "")
    if not label or kind not in KINDS:
        return probes(caller, "Write the label that is on it, and choose what it is."), 400
    id_ = caller.store.probes.add(label, kind, caller.colleague.name, caller.at)
    if id_ is None:
        return probes(caller, f"{label} is the label of another. Each needs its own."), 400
    caller.did("took a probe into the register", detail=label)
    return caller.go("probe", "Kept.", id=id_)


def probe(caller: Caller, id: int, problem: str = "") -> str:
    """One of them, with all the places where it was and all that was wrong with it."""
    register = caller.store.probes
    return caller.page(
        "probe",
        probe=_one(caller, id),
        stays=[(each, _plot_of(caller, each)) for each in register.stays(id)],
        faults=register.faults(id),
        into=_chosen_plot(caller),
        filled=request.form if problem else {},
        problem=problem,
    )


def move_probe(caller: Caller, id: int) -> ResponseReturnValue:
    """It goes out, comes back, breaks, or is mended."""
    mine, do, today = _one(caller, id), request.form.get("do", ""), caller.now.date()
    register, by = caller.store.probes, caller.colleague.name
    if do == "move":
        return _put_out(caller, mine)
    if do == "back":
        register.back(id, today)
    elif do == "fault" and _text("what"):
        register.fault(id, _text("what"), by, today)
    elif do == "fault":
        return probe(caller, id, "Say what is wrong with it."), 400
    elif do == "mended":
        register.mended(id, request.form.get("fault", 0, type=int), by, today)
    else:
        abort(400)
    caller.did(f"probe: {do}", detail=mine.label)
    return caller.go("probe", "Kept.", id=id)


def _put_out(caller: Caller, mine: Probe) -> ResponseReturnValue:
    plot, place = _chosen_plot(caller), _text("place")
    try:
        depth_cm, due = _depth_cm(), _due(caller.now.date())
    except ValueError as error:
        return probe(caller, mine.id, f"{error}"), 400
    if plot is None and not place:
        return probe(caller, mine.id, "Say who has it, or choose a plot on the plot's own page."), 400
    plot_id = plot.id if plot else None
    caller.store.probes.move(mine.id, plot_id, place, depth_cm, due, caller.colleague.name, caller.now.date())
    caller.did("put a probe out", plot.person if plot else None, mine.label)
    return caller.go("probe", "Kept. Where it was before stays in its history.", id=mine.id)


def _one(caller: Caller, id: int) -> Probe:
    try:
        return caller.store.probes.one(id)
    except StoreError:
        abort(404)


def _chosen_plot(caller: Caller) -> StoredPlot | None:
    """The plot that the form or the address names, which must be one that this colleague may see."""
    wanted = request.values.get("plot", type=int)
    if wanted is None:
        return None
    try:
        plot = caller.store.plots.by_id(wanted)
    except StoreError:
        abort(404)
    caller.person(plot.person)
    return plot


def _plot_of(caller: Caller, stay: Stay | None) -> StoredPlot | None:
    """The plot of a stay, where there is one still and this colleague may see it."""
    if stay is None or stay.plot is None:
        return None
    try:
        plot = caller.store.plots.by_id(stay.plot)
    except StoreError:
        return None
    who = caller.store.people.by_id(plot.person)
    seen = caller.may("specialist") or caller.store.overview.on_desks(who, caller.colleague.desks)
    return plot if seen else None


def _text(name: str) -> str:
    return " ".join(request.form.get(name, "").split())[:_LONGEST]


def _depth_cm() -> float | None:
    """Raises: ValueError, in plain words."""
    cell = request.form.get("depth", "").strip().replace(",", ".")
    if not cell:
        return None
    try:
        depth_cm = float(cell) * _UNITS[request.form.get("unit", "in")]
    except (ValueError, KeyError):
        raise ValueError(f"“{cell[:20]}” is no depth.") from None
    if not 0 < depth_cm <= _DEEPEST_CM:
        raise ValueError(f"{cell[:20]} can't be a depth.")
    return depth_cm


def _due(today: date) -> date | None:
    """Raises: ValueError, in plain words."""
    cell = request.form.get("due", "")
    if not cell:
        return None
    try:
        due = date.fromisoformat(cell)
    except ValueError:
        raise ValueError("Choose the day on which it should be back.") from None
    if due < today:
        raise ValueError("The day on which it should be back is over already.")
    return due
