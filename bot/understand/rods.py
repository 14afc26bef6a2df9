"""How far a rod was pushed in, in one plot or in several."""

from __future__ import annotations

from bot.understand import words
from bot.understand.clauses import Clause
from bot.understand.found import Found
from bot.understand.items import Item
from bot.understand.state import State


def pushed(items: tuple[Item, ...], place: int, events: list[object]) -> bool:
    """Whether a length beside a rod is how far it went: the first told, or one told of a plot of its own."""
    if not has_rod(events):
        return True
    first = next(here for here, item in enumerate(items) if item.kind == "quantity")
    between = [item.value for item in items[first:place] if item.kind == "plot"]
    after = items[place + 1 : place + _NEAR]
    trailed = next((item.value for item in after if item.kind == "plot"), None)
    before = [item.value for item in items[:first] if item.kind == "plot"]
    own = trailed is not None and bool(between) and trailed not in between and after[0].text in _WHERE
    return own or (trailed is None and bool(before) and bool(between) and between[-1] not in before)


_NEAR = 4
_WHERE = words.named("articles")


def has_rod(events: list[object]) -> bool:
    """Whether a push was told already."""
    return any(isinstance(event, Found) and event.quantity == "rod" for event in events)


def is_push(events: list[object], clause: Clause, state: State) -> bool:
    """Whether a bare figure beside a rod is how far it went, here or, from somebody without a probe, in a second plot."""
    if has_rod(events):
        return state.context.probe is None and not clause.has("instrument") and clause.has("plot", "name")
    return not clause.quantities("length")
