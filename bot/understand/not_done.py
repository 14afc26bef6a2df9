"""What was not done: no watering comes of "didn't water" and "watering tomorrow", but one of "not since Sunday"."""

from __future__ import annotations

import itertools
from datetime import timedelta

from bot.understand import words
from bot.understand.clauses import Clause
from bot.understand.dates import When
from bot.understand.items import Item
from bot.understand.requests import asking
from bot.understand.state import State
from bot.understand.statements import Statement, Unclear, Watering


def not_watered(clause: Clause, state: State) -> list[Statement] | None:
    """Nothing for a watering that was not done; "not since Sunday" is one on Sunday."""
    asks = any("riego" not in item.text.split() for item in asking(clause))
    skipped = any(item.text in _SKIPPED for item in clause.every("neg"))
    skipped = skipped and (clause.has("plot") or (clause.has("date") and not clause.has("number", "quantity")))
    about = (
        clause.has("watered", "water", "gave", "method")
        or skipped
        or (clause.has("plot", "all") and any(way in " ".join(clause.texts()) for way in _NOT_REACHED))
        or any("riego" in item.text.split() for item in clause.every("ask"))
    )
    since = clause.has("since") and clause.has("date") and clause.has("water", "watered")
    if clause.texts()[-2:] == ["o", "no"]:
        return None  # "los riego hoy o no"
    if not clause.has("neg") or not about or (asks and not since) or clause.asks or clause.has("rain"):
        return None
    when = _since(clause, state)
    state.undone_day = next((item.value for item in clause.every("date")), None)
    if when is None:
        return [Unclear(text=state.text[clause.start : clause.end])] if _is_of_another(clause) else []
    plots = tuple(str(item.value) for item in clause.every("plot")) or state.plots
    state.plots = plots
    return [Watering(on=when.day, plot=plot) for plot in plots or (None,)]


_NOT_REACHED = ("get to #plot", "get to the #plot", "get around to", "make it to", "get to all", "get to any")
_SKIPPED = ("skipped", "missed", "forgot")


def _is_of_another(clause: Clause) -> bool:
    """ "watered peppers not tomatoes": one was watered, the other was not."""
    kinds = [item.kind for item in clause.items]
    after = kinds.index("neg") + 1
    return bool({"watered", "gave"} & {*kinds[:after]}) and after < len(kinds) and kinds[after] in ("plot", "name")


def _since(clause: Clause, state: State) -> When | None:
    """The day since when, or the days for which, nothing was watered."""
    span, date = clause.first("span"), clause.first("date")
    if span is not None:
        return span.value if isinstance(span.value, When) else None
    if date is not None and (clause.has("since") or date.text.startswith("hace")):
        return date.value if isinstance(date.value, When) else None
    days = clause.quantities("days")
    going_on = bool(days) and (clause.says("sin", "without", "since") or _is_so_long(clause, days[0]))
    return days_back(state, days[0]) if going_on else None


def _is_so_long(clause: Clause, days: Item) -> bool:
    """ "van 5 dias que no riego"."""
    place = clause.items.index(days)
    return [item.text for item in clause.items[place + 1 : place + 3]] == ["que", "no"]


def planned(clause: Clause, state: State) -> list[Statement] | None:
    """Nothing for a watering that is only planned."""
    about = clause.has("watered", "water", "gave", "method")
    ahead = any(item.value.fault == "future" for item in clause.every("date"))
    meant = clause.has("water") or bool(clause.quantities("duration", "volume"))
    if (
        _is_nearly(clause)
        or (clause.has("plan") and clause.says(*_OTHER_WORK) and not clause.quantities())
        or (clause.has("plan") and (about or meant))
        or (ahead and meant and not clause.has("watered", "gave"))
        or (lies_ahead(clause) and clause.has("water"))
    ):
        return []
    return None


def lies_ahead(clause: Clause) -> bool:
    """ "in 20 minutes" is a time to come, no amount."""
    pairs = itertools.pairwise(clause.items)
    return any(
        item.text in ("in", "within", "dentro") and after.kind == "quantity" and after.value.dimension == "duration"
        for item, after in pairs
    )


def _is_nearly(clause: Clause) -> bool:
    """ "almost watered": it was not done."""
    pairs = itertools.pairwise(clause.items)
    return any(item.text in _NEARLY and after.kind in ("watered", "water", "gave") for item, after in pairs)


_NEARLY = words.named("nearly")
_OTHER_WORK = words.named("other_work")


def days_back(state: State, span: Item) -> When:
    return When(state.today - timedelta(days=round(span.value.value)))
