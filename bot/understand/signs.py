"""What the plant or the ground shows: wilting, yellow leaves, puddles, runoff."""

from __future__ import annotations

from bot.understand import words
from bot.understand.clauses import Clause
from bot.understand.dates import BAD
from bot.understand.items import Item
from bot.understand.naming import named_thing
from bot.understand.state import State
from bot.understand.statements import Sign, Statement, Unclear


def signs(clause: Clause, state: State) -> list[Statement] | None:
    """The signs that a clause reports, or None."""
    shown = [item for place, item in enumerate(clause.items) if item.kind == "sign" and not _is_denied(clause, place)]
    if not shown:
        return [] if clause.has("sign") else None
    day = next((item.value for item in clause.every("date")), state.head_day)
    if day is not None and day.fault in BAD:
        return [Unclear(text=state.text[clause.start : clause.end])]
    plots = tuple(str(item.value) if item.kind == "plot" else "*" for item in clause.every("plot", "all"))
    name = named_thing(clause, state.text) if not plots else None
    state.plots = plots or ((name,) if name else state.plots)
    on = day.day if day is not None else state.today
    kinds = dict.fromkeys(str(item.value) for item in shown)
    return [Sign(sign=kind, plot=plot, on=on) for kind in kinds for plot in state.plots or (None,)]


def _is_denied(clause: Clause, place: int) -> bool:
    """ "not wilting", "the cracks have closed up", "recovered from wilting"."""
    before = list(clause.items[max(0, place - 2) : place])
    here = place - 1
    while here > max(0, place - _NEAR) and clause.items[here].kind in ("word", "reads"):
        here -= 1  # "ya no se ven tan marchitas"
    before += clause.items[here : here + 1] if here >= 0 else ()
    return any(item.kind == "neg" or item.text == "recovered" for item in before) or _is_over(clause.items[place + 1 :])


def _is_over(after: tuple[Item, ...]) -> bool:
    for item in after[:_NEAR]:
        if item.text in _OVER:
            return True
        if item.kind not in ("word", "thing", "ground", "interrogative"):
            return False
    return False


_OVER = words.named("signs_over")
_NEAR = 4
