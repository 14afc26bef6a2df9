"""Amounts that run on: in "20 min on the tomatoes, 40 on the peaches" the second figure has the unit of the first."""

from __future__ import annotations

import itertools
from dataclasses import replace

from bot.understand import words
from bot.understand.clauses import Clause
from bot.understand.items import Item, Quantity
from bot.understand.quantities import unit_size
from bot.understand.state import Run, State


def is_event_amount(item: Item) -> bool:
    """Whether an item tells how long, how much or how deep was watered."""
    return item.kind == "quantity" and item.value.dimension in ("duration", "volume", "length")


def ends_after(clause: Clause) -> bool:
    """ "stopped the sprinklers after 25 minutes": how long they ran."""
    items = clause.items
    if not any(item.text in _ENDED for item in items) or clause.has("plan", "neg", "ask", "habit", "rain", "rod"):
        return False
    pairs = itertools.pairwise(items)
    ran = any(one.text == "after" and _lasts(after) for one, after in pairs)
    return ran and (
        clause.has("method", "water", "plot", "watered", "gave") or any(item.text == "it" for item in items)
    )


def _lasts(item: Item) -> bool:
    return item.kind == "quantity" and item.value.dimension == "duration"


_ENDED = words.named("ended")


def note_run(clause: Clause, state: State) -> None:
    """What a bare figure of the next stretch would be: in "20 min on the tomatoes, 40 on the peaches" so many minutes."""
    amounts = [item for item in clause.items if is_event_amount(item)]
    state.run = None
    if len(amounts) == 1 and (size := unit_size(amounts[0])) is not None:
        unit = Quantity(amounts[0].value.dimension, size)
        state.run = Run(state.sentence, unit, _order(clause, amounts[0]), clause.first("date"))


def _order(clause: Clause, amount: Item) -> tuple[str, ...]:
    """Amount, plots and days of a clause in the order told, each kind once."""
    told = ["amount" if item is amount else item.kind for item in clause.items]
    return tuple(dict.fromkeys("plot" if kind in ("all", "name") else kind for kind in told if kind in _ORDERED))


_ORDERED = frozenset({"amount", "plot", "all", "name", "date", "daypart"})


def run_on(clause: Clause, state: State) -> Clause:
    """The clause with its bare figures as amounts, where they run on in the order of the watering before."""
    run, figures = state.run, clause.every("number")
    state.run = None
    if run is None or run.sentence != clause.sentence or not figures or clause.quantities() or clause.has(*_NO_RUN):
        return clause
    order = _order(clause, figures[0])
    befores = [clause.items[max(0, clause.items.index(one) - 1)] for one in figures]
    open_plot = tuple(kind for kind in order if kind != "plot" or kind in run.order)
    order = open_plot if len(open_plot) > 1 else order  # "20 min en la mañana y 20 en la tarde en los tomates"
    as_told = order in (run.order[-len(order) :], run.order[: len(order)])
    undated, ran = (tuple(kind for kind in one if kind != "date") for one in (order, run.order))
    told = all(before.kind in ("plot", "gave") for before in befores)
    given = undated == ("plot", "amount") and all(_is_given_to(clause, one) for one in figures)  # "y a la viña 45"
    gapped = given or (undated == ("plot", "amount") and ran in (undated, ("amount",)) and told)
    ordered = gapped or (len(order) > 1 and as_told and all(before.kind != "at" for before in befores))
    if not (ordered or (len(figures) == 1 and befores[0].text in _SO_LONG)):
        return clause
    if "plot" not in run.order and len(figures) == 1 and clause.items[-1].kind == "plot":
        state.late_plot = str(clause.items[-1].value)
    items = [_as_amount(item, run.unit) if item in figures else item for item in clause.items]
    if run.day is not None and not clause.has("date"):
        items.append(run.day)
    return replace(clause, items=tuple(items))


def _is_given_to(clause: Clause, figure: Item) -> bool:
    """ "a la viña 45": the plot after a word that tells to what, and the figure right after it."""
    place = clause.items.index(figure)
    told = [item.text for item in clause.items[max(0, place - 3) : place]]
    return place > 0 and clause.items[place - 1].kind == "plot" and ("a" in told or "al" in told)


def is_rain_elsewhere(clause: Clause, state: State) -> bool:
    """ "llovio 12 mm y en la viña 14": a bare figure "at" a plot, run on after rain, may be its rain or its probe's."""
    figures, opening = clause.every("number"), [item for item in clause.items if item.text not in _AND][:1]
    told = {item.kind for item in clause.items} <= {"plot", "number", "word", "one", "mark"}
    led = bool(opening) and opening[0].text in ("en", "on", "in")
    return state.fell == clause.sentence and told and led and clause.has("plot") and len(figures) == 1


_AND = ("y", "and", "e", ",")


def _as_amount(figure: Item, unit: Quantity) -> Item:
    return replace(figure, kind="quantity", value=Quantity(unit.dimension, unit.value * float(figure.value)))


_NO_RUN = ("reads", "instrument", "feel", "rod", "sign", "ask", "rain", "soil", "deep", "slash", "neg", "plan")


def of_same_kind(items: tuple[Item, ...], place: int) -> Item | None:
    """ "20 minutes at 6 and again for 15", "and another 15": a figure of the unit before it."""
    before = next((item for item in reversed(items[:place]) if is_event_amount(item)), None)
    unit = unit_size(before) if before is not None and items[place - 1].text in _SO_LONG else None
    if before is None or unit is None:
        return None
    return _as_amount(items[place], Quantity(before.value.dimension, unit))


_SO_LONG = words.named("so_long")
