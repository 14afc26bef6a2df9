"""What the rules of facts share: a fact for each plot named, and the lengths and sides that a clause tells."""

from __future__ import annotations

from typing import Any

from bot.understand.clauses import Clause
from bot.understand.naming import named_thing
from bot.understand.patterns import Fit
from bot.understand.state import State, default_length_mm
from bot.understand.statements import Fact, Statement

VALUES = ("tension", "resistance", "percent", "dial")


def of(about: str, value: Any, clause: Clause, state: State, *, unknown_plot: bool = True) -> list[Statement]:
    """A fact of each plot that the clause names, else of the governing one."""
    return [
        Fact(about=about, value=value, plot=plot)
        for plot in named_plots(clause, state, unknown_plot=unknown_plot) or (None,)
    ]


def named_plots(clause: Clause, state: State, *, unknown_plot: bool) -> tuple[str, ...]:
    named = tuple(
        dict.fromkeys(str(item.value) if item.kind == "plot" else "*" for item in clause.every("plot", "all"))
    )
    if not named and unknown_plot and state.new_plot is None and (name := named_thing(clause, state.text)):
        named = (name,)
    state.plots = named or state.plots
    return state.plots


def tagged_fit(found: list[Fit], value: str) -> Fit | None:
    return next((fit for fit in found if fit.tag == "fact" and fit.value == value), None)


def lengths_cm(clause: Clause, state: State) -> list[float]:
    """The lengths of a clause in cm, figures without a unit as depths."""
    found = []
    for item in clause.items:
        if item.kind == "quantity" and item.value.dimension == "length":
            found.append(item.value.value / 10)
        elif item.kind == "number":
            found.append(default_length_mm(float(item.value), state.context.units, deep=True) / 10)
        elif item.kind == "slash":
            found += [default_length_mm(one, state.context.units, deep=True) / 10 for one in item.value]
    return found


def across_m2(clause: Clause, state: State) -> float | None:
    """The area of "4 x 8" told without a unit: feet in `us`, metres in `metric`. [m2]"""
    for first, link, second in (clause.items[place : place + 3] for place in range(len(clause.items) - 2)):
        if first.kind == second.kind == "number" and (link.text in ("x", "por") or link.kind == "by"):
            side_m = 0.3048 if state.context.units == "us" else 1.0
            return float(first.value) * float(second.value) * side_m**2
    return None
