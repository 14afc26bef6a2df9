"""Readings: values and depths in any order, one after another, for one plot or several."""

from __future__ import annotations

from bot.understand import words
from bot.understand.clauses import Clause
from bot.understand.dates import BAD, When
from bot.understand.found import Depth, Found, Leading
from bot.understand.naming import with_names, with_plants
from bot.understand.not_readings import (
    are_pairs,
    is_of_both,
    is_of_gauge,
    is_of_no_ground,
    is_of_something_else,
    is_rejected,
)
from bot.understand.runs import is_rain_elsewhere
from bot.understand.state import State
from bot.understand.statements import Reading, Statement, Unclear
from bot.understand.values import VALUES, events_of

_NEEDLES = words.named("needles")


def readings(clause: Clause, state: State) -> list[Statement] | None:
    """The readings that a clause reports, or None when it reports none."""
    if clause.has("planted", "stage", "stress", "container") or is_of_gauge(clause):
        return None
    if is_of_no_ground(clause):
        return []
    clause = with_names(clause, state.text)
    if is_rain_elsewhere(clause, state) or is_rejected(clause) or are_pairs(clause) or is_of_both(clause):
        return [Unclear(text=state.text[clause.start : clause.end])]
    events = events_of(clause, state)
    if not any(isinstance(event, Found) for event in events) or is_of_something_else(events, clause, state):
        return None
    found = _paired(events)
    _place(found, events, clause, state)
    _share_depth(found, events)
    temperature = next((item.value.value for item in clause.quantities("temperature")), None)
    if temperature is not None and not clause.says("air", "outside", "hot", "high", "aire", "afuera", "calor"):
        state.soil_temp_c = temperature
    return with_plants(_statements(found, clause, state), clause)


def _paired(events: list[object]) -> list[Found]:
    """Values with their depths: zipped when all of one kind stand first, else each depth with its neighbour."""
    values = [event for event in events if isinstance(event, Found)]
    depths = [event for event in events if isinstance(event, Depth)]
    order = "".join("v" if isinstance(event, Found) else "d" for event in events if isinstance(event, Found | Depth))
    if len(values) == len(depths) > 1 and order in (
        "v" * len(values) + "d" * len(values),
        "d" * len(values) + "v" * len(values),
    ):
        for value, depth in zip(values, depths, strict=True):
            value.depth_cm = depth.depth_cm
        return values
    current: Depth | None = None
    last: Found | None = None
    depth_first = order.startswith("d")
    for event in events:
        if isinstance(event, Depth):
            if last is not None and last.depth_cm is None and (not depth_first or event.marked):
                last.depth_cm = event.depth_cm
            else:
                current, last = event, last
        elif isinstance(event, Found):
            if current is not None and event.quantity != "rod":
                event.depth_cm = current.depth_cm
                current = current if depth_first else None
            last = event
        elif isinstance(event, tuple) and event[0] == "heads" and last is not None:
            current = last = None  # "24in=22 lawn=40": what stands before it is of another plot
    return values


def _place(found: list[Found], events: list[object], clause: Clause, state: State) -> None:
    """Give each value its plots and day: what stands before governs, what trails goes to those just told."""
    plots = state.plots
    named = [event for event in events if isinstance(event, tuple)]
    trailing = not isinstance(next((e for e in events if isinstance(e, Found | tuple)), None), tuple)
    trailing = trailing and bool(named) and not any(event[0] == "heads" for event in named)
    told: list[Found] = []
    dated: list[Found] = []
    when: When | None = None
    fresh = True
    for event in events:
        if isinstance(event, tuple):
            if trailing and told:
                plots = (event[1],) if fresh else (*plots, event[1])
                for value in told:
                    value.plots = plots
                fresh = False
            else:
                plots = (event[1],) if fresh else (*plots, event[1])
                fresh = False
        elif isinstance(event, Leading):
            when, dated = event, []
        elif isinstance(event, When):
            waiting = [value for value in dated if value.when is None]
            for value in waiting:
                value.when = event
            when = None if waiting else event
            dated = []
        elif isinstance(event, Found):
            if not fresh and trailing:
                told = []
            event.plots = plots
            event.when = when
            told.append(event)
            dated.append(event)
            fresh = True
    _deal_out(found)
    state.plots = plots


def _deal_out(found: list[Found]) -> None:
    """ "beans and corn: 22, 31": as many values as plots before them, one for each."""
    plots = found[0].plots
    alike = all(value.plots == plots and value.depth_cm == found[0].depth_cm for value in found)
    if len(found) == len(plots) > 1 and alike and not any(value.quantity in ("feel", "rod") for value in found):
        for value, plot in zip(found, plots, strict=True):
            value.plots = (plot,)


def _share_depth(found: list[Found], events: list[object]) -> None:
    """ "maiz 62 y frijol 40 a 12 pulgadas": the one depth at the end is that of every plot listed."""
    depths = [event for event in events if isinstance(event, Depth)]
    plots = {value.plots for value in found}
    listed = len(found) > 1 and len(plots) == len(found) and all(len(value.plots) == 1 for value in found)
    if (
        not listed
        or len(depths) != 1
        or events[-1] is not depths[0]
        or any(isinstance(event, When) for event in events)
    ):
        return
    for value in found:
        value.depth_cm = depths[0].depth_cm if value.quantity != "rod" else value.depth_cm


def _statements(found: list[Found], clause: Clause, state: State) -> list[Statement]:
    made: list[Statement] = []
    for value in found:
        when = value.when or state.head_day
        if when is not None and when.fault in BAD:
            return [Unclear(text=state.text[clause.start : clause.end])]
        quantity = value.quantity or _told_by(clause, value, state)
        amount = value.value
        share = value.quantity is None or clause.has("instrument")
        if quantity == "percent" and isinstance(amount, float) and 0 < amount < 1 and share:
            amount *= 100
        if quantity in VALUES:
            state.quantity = quantity
        if isinstance(amount, float) and quantity == "tension":
            amount = abs(amount)
        for plot in value.plots or (None,):
            made.append(
                Reading(
                    quantity=quantity,
                    value=amount,
                    depth_cm=value.depth_cm,
                    plot=plot,
                    on=when.day if when is not None else state.today,
                )
            )
    return made


def _told_by(clause: Clause, value: Found, state: State) -> str:
    """What a figure without a unit means: the instrument named, the unit used just before, the person's probe."""
    for item in clause.every("instrument"):
        if item.value != "any":
            return str(item.value)
    stated = [item.value.dimension for item in clause.quantities(*VALUES)]
    if stated:
        return str(stated[0])
    if state.quantity:
        return state.quantity
    if state.context.probe:
        return state.context.probe
    needle = any(item.text in _NEEDLES or "meter" in item.text.split() for item in clause.every("instrument"))
    return "dial" if needle and isinstance(value.value, float) and value.value <= 10 else "bare"
