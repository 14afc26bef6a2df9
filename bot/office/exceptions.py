"""Exceptions for one plot: agreed with its person by a specialist, up to a day, and ended by either or by that day."""

from __future__ import annotations

from datetime import date, timedelta

from flask import request
from flask.typing import ResponseReturnValue

from bot.office.house import Caller
from bot.office.plot import plot as plot_page
from bot.store import StoredPlot
from bot.store.exceptions import PlotException

_LONGEST, _LONGEST_DAYS = 200, 366
# Water left that anybody may agree on. [%] Common sense, no published source.
_LEAST, _MOST = 5, 95


def agree_exception(caller: Caller, id: int, plot: int) -> ResponseReturnValue:
    """Let an exception count from today on."""
    who = caller.person(id)
    mine = caller.plot(who, plot)
    today = caller.local(who).date()
    reason, agreed = (" ".join(request.form.get(name, "").split())[:_LONGEST] for name in ("reason", "agreed"))
    limit, until, let_off = _percent(), _day(), bool(request.form.get("let_off"))
    problem = _problem(limit, until, let_off, reason, agreed, today)
    if problem or until is None:
        return plot_page(caller, id, plot, problem), 400
    share = None if limit is None else limit / 100
    with caller.store.transaction():
        caller.store.exceptions.agree(
            mine, share, let_off, until, reason, agreed, caller.colleague.name, caller.local(who)
        )
        caller.did("agreed on an exception", who, detail=f"plot {mine.id}, until {until}")
    return caller.go("plot", f"It counts from now on, and ends by itself after {until}.", id=id, plot=plot)


def end_exception(caller: Caller, id: int, plot: int) -> ResponseReturnValue:
    """End what stands before its day."""
    who = caller.person(id)
    mine = caller.plot(who, plot)
    for standing in _standing(caller, mine):
        caller.store.exceptions.end(mine, standing, caller.colleague.name, caller.local(who))
        caller.did("ended an exception", who, detail=f"plot {mine.id}")
    return caller.go("plot", "Ended: the usual limits and rules count again.", id=id, plot=plot)


def _standing(caller: Caller, plot: StoredPlot) -> list[PlotException]:
    return [each for each in caller.store.exceptions.of(plot) if each.ended_at is None]


def _percent() -> float | None:
    """The limit of the form; None where none is given, -1 where it is no number."""
    told = request.form.get("limit", "").strip().rstrip("%").strip()
    try:
        return float(told) if told else None
    except ValueError:
        return -1.0


def _day() -> date | None:
    try:
        return date.fromisoformat(request.form.get("until", ""))
    except ValueError:
        return None


def _problem(limit: float | None, until: date | None, let_off: bool, reason: str, agreed: str, today: date) -> str:
    """What is wrong with the form; nothing where it can stand."""
    if limit is None and not let_off:
        return "Say what the exception is: a limit, or leave from the watering rules."
    if limit is not None and not _LEAST <= limit <= _MOST:
        return f"The limit is a percentage of water left, from {_LEAST} to {_MOST}."
    if until is None or not today <= until <= today + timedelta(days=_LONGEST_DAYS):
        return "An exception needs a last day, from today to a year from now."
    if not reason or not agreed:
        return "Say why, and who agreed to it and how."
    return ""
