"""Readings: values and depths in any order, one after another, for one plot or several."""

from __future__ import annotations

import itertools
from dataclasses import dataclass

from bot.understand import words
from bot.understand.clauses import Clause
from bot.understand.dates import BAD, When
from bot.understand.items import Item
from bot.understand.lexicon import vocabulary
from bot.understand.naming import with_names
from bot.understand.state import State, default_length_mm
from bot.understand.statements import Reading, Statement, Unclear

_AT = words.named("at")
_NUMBERED_THINGS = words.named("numbered_things")
_LARGEST_BARE = 50_000.0  # above the range of any block in ohms: a postal code, a phone number
_VALUES = ("tension", "resistance", "percent", "dial")
_NOT_SOIL = words.named("not_soil")
_BEFORE_NO_VALUE = words.named("before_no_value")
_CHANGES = words.named("changes")
_NEEDLES = words.named("needles")


@dataclass(slots=True)
class _Found:
    """A value on its way to be a reading."""

    quantity: str | None
    value: float | str
    depth_cm: float | None = None
    plots: tuple[str, ...] = ()
    when: When | None = None


@dataclass(frozen=True, slots=True)
class _Depth:
    """A depth; `marked` by "at" before it, `bare` when told without a unit (then the figure as told)."""

    depth_cm: float
    marked: bool
    bare: float | None = None


def readings(clause: Clause, state: State) -> list[Statement] | None:
    """The readings that a clause reports, or None when it reports none."""
    if clause.has("planted", "stage", "stress", "container") or _is_of_gauge(clause):
        return None
    clause = with_names(clause, state.text)
    if _is_rejected(clause) or _are_pairs(clause):
        return [Unclear(text=state.text[clause.start : clause.end])]
    events = _events(clause, state)
    if not any(isinstance(event, _Found) for event in events) or _is_of_something_else(events, clause, state):
        return None
    found = _paired(events)
    _place(found, events, clause, state)
    temperature = next((item.value.value for item in clause.quantities("temperature")), None)
    if temperature is not None and not clause.says("air", "outside", "hot", "high", "aire", "afuera", "calor"):
        state.soil_temp_c = temperature
    return _statements(found, clause, state)


def _is_rejected(clause: Clause) -> bool:
    """ "peaches 45, no tomatoes 45": a bare "no" before a plot; which of the two was read is not said."""
    pairs = itertools.pairwise(clause.items)
    return clause.has("number", "quantity") and any(item.text == "no" and after.kind == "plot" for item, after in pairs)


def _are_pairs(clause: Clause) -> bool:
    """ "12-40 24-33": two ranges, or two depths with their values?"""
    return sum(" - " in item.text and item.kind == "number" for item in clause.items) > 1


def _is_of_gauge(clause: Clause) -> bool:
    """ "the gauge is dry" tells of the gauge, and of which one is not said."""
    gauge = next((item for item in clause.every("instrument") if item.text in _GAUGES), None)
    feel = clause.first("feel")
    return gauge is not None and feel is not None and gauge.start < feel.start and not clause.has("ground", "number")


_GAUGES = words.named("gauges")


def _is_of_something_else(events: list[object], clause: Clause, state: State) -> bool:
    """Whether bare figures are told of a thing no list knows ("ec of my well is 2.1") or over some days."""
    if clause.says(*_NOT_SOIL) and not clause.has("plot", "instrument", "ground", "feel", "rod"):
        return True
    if any(isinstance(event, _Found) and event.quantity is not None for event in events):
        return False
    if any(
        isinstance(event, _Found) and isinstance(event.value, float) and event.value > _LARGEST_BARE for event in events
    ):
        return True
    if clause.has("span", "habit", "since") or _may_be_heat(clause) or _is_moisture(clause, state):
        return True
    strange = any(_is_unknown(item) for item in clause.items)
    return strange and not clause.has("plot", "all", "instrument", "reads", "at", "name")


def _is_moisture(clause: Clause, state: State) -> bool:
    """ "moisture reads 24" from somebody whose probe shows tension: of which instrument?"""
    return state.context.probe in ("tension", "resistance") and clause.says(*_MOISTURE)


_MOISTURE = words.named("moisture")


def _may_be_heat(clause: Clause) -> bool:
    """ "its 104": the day or the soil? With no plot, depth or instrument the figure may be either."""
    figures = clause.every("number")
    if len(figures) != 1 or clause.has("plot", "instrument", "at", "deep", "date", "name") or clause.quantities():
        return False
    return clause.says(*_IT_IS) and _WARM_F <= float(figures[0].value) <= _HOTTEST_F


_IT_IS = words.named("it_is")
_WARM_F, _HOTTEST_F = 85, 130


def _is_unknown(item: Item) -> bool:
    return item.kind == "word" and len(item.text) > 1 and item.text.isalpha() and item.text not in vocabulary()


def _events(clause: Clause, state: State) -> list[object]:
    """Values, depths, plots and days of a clause, in order."""
    events: list[object] = []
    rod = clause.has("rod")
    items = clause.items
    for place, item in enumerate(items):
        before = items[place - 1] if place else None
        after = items[place + 1] if place + 1 < len(items) else None
        if item.kind in ("plot", "all"):
            if item.kind == "all" and after is not None and after.kind == "instrument":
                continue
            if item.kind == "plot" or not any(isinstance(event, tuple) for event in events):
                events.append(("plot", item.value if item.kind == "plot" else "*"))
        elif item.kind == "date":
            events.append(item.value)
        elif item.kind == "feel" and not _is_denied(before):
            if any(word in _TESTED for word in item.text.split()):
                state.tested.add(str(item.value))
            if not (events and isinstance(events[-1], _Found) and events[-1].value == item.value):
                events.append(_Found("feel", item.value))
        elif item.kind == "quantity" and item.value.dimension in _VALUES and not (before and before.text in _CHANGES):
            value = item.value.value
            events.append(_Found(item.value.dimension, value))
        elif item.kind == "quantity" and item.value.dimension == "length":
            depth_cm = item.value.value / 10
            events.append(_Found("rod", depth_cm) if rod and not _has_rod(events) else _Depth(depth_cm, _is_at(before)))
        elif item.kind == "number" and not _is_counted(item, before, after, clause):
            events.append(_number(item, before, after, events, clause, state))
        elif item.kind == "slash":
            events += _pair(item, before, clause, state)
    return _with_a_value(_listed_depths(_values_before_depths(events), clause), clause, state)


def _listed_depths(events: list[object], clause: Clause) -> list[object]:
    """In "45 and 30 at 12 and 24" the last figures are as many depths as there are values."""
    figures = [place for place, event in enumerate(events) if isinstance(event, _Found | _Depth)]
    marked = [place for place in figures if isinstance(events[place], _Depth)]
    half = len(figures) // 2
    if len(marked) != 1 or half < 2 or len(figures) % 2 or marked[0] != figures[half]:
        return events
    first = events[marked[0]]
    if not isinstance(first, _Depth) or first.bare is None or clause.quantities("length") or not first.bare:
        return events
    cm = first.depth_cm / first.bare
    for place in figures[half + 1 :]:
        event = events[place]
        if isinstance(event, _Found) and event.quantity is None and isinstance(event.value, float):
            events[place] = _Depth(event.value * cm, marked=True, bare=event.value)
    return events


_TESTED = words.named("tested")


def _has_rod(events: list[object]) -> bool:
    return any(isinstance(event, _Found) and event.quantity == "rod" for event in events)


def _is_denied(before: Item | None) -> bool:
    return before is not None and before.kind == "neg"


def _is_at(before: Item | None) -> bool:
    return before is not None and (before.kind in ("at", "both") or before.text in _AT)


_AFTER_A_VALUE = words.named("after_a_value")


def _is_counted(item: Item, before: Item | None, after: Item | None, clause: Clause) -> bool:
    """ "2 probes", "block 2": figures that count or name something."""
    if before is not None and after is not None and before.kind == "instrument" and before.value == "any":
        told_of = after.kind in ("at", "reads", "deep") or after.text in ("in", "a")
        if told_of and _other_figure(item, clause):
            return True
    if before is not None and before.text in _CHANGES | _BEFORE_NO_VALUE:
        return True
    if before is not None and before.is_mark("'", '"') and item.glued:
        return True
    if before is not None and before.text in _WAS and _is_of_before(clause, item):
        return True
    if after is not None and after.kind == "word" and after.text not in _AFTER_A_VALUE:
        return True
    if (
        after is not None
        and not _is_at(before)
        and after.kind in ("instrument", "thing", "name", "emitter")
        and after.text not in ("down",)
    ):
        return after.kind != "name"
    return before is not None and before.kind == "thing" and before.text in _NUMBERED_THINGS


def _is_of_before(clause: Clause, item: Item) -> bool:
    """ "47 (was 30)": what a probe showed at no day that is told, beside what it shows now."""
    told = [one for one in clause.every("number") if one is not item]
    return bool(told) and told[0].start < item.start and not clause.has("date") and not clause.quantities()


_WAS = words.named("was")


def _other_figure(item: Item, clause: Clause) -> bool:
    later = [one for one in clause.every("number") if one.start > item.start]
    return bool(later) and clause.has("reads") and len([*later, *clause.quantities("length")]) >= 2


def _number(
    item: Item, before: Item | None, after: Item | None, events: list[object], clause: Clause, state: State
) -> object:
    value = float(item.value)
    if clause.has("rod") and not _has_rod(events) and not clause.quantities("length"):
        return _Found("rod", default_length_mm(value, state.context.units, deep=True) / 10)
    sunk = before is not None and before.kind == "deep" and bool(events) and isinstance(events[-1], _Found)
    if sunk or _is_at(before) or (after is not None and after.kind == "deep" and not _figure_follows(clause, after)):
        return _Depth(default_length_mm(value, state.context.units, deep=True) / 10, marked=True, bare=value)
    if _heads_value(clause, item, after):
        return _Depth(default_length_mm(value, state.context.units, deep=True) / 10, marked=False)
    return _Found(None, value)


def _heads_value(clause: Clause, item: Item, after: Item | None) -> bool:
    """ "24 is 22", "the 12 says 48": a figure that another is told of is the depth of it."""
    if after is None or not (after.kind == "reads" or after.text in ("is", "was", "esta", "es", ":", "=")):
        return False
    place = clause.items.index(item) + 2
    told = clause.items[place] if place < len(clause.items) else None
    return told is not None and (told.kind == "number" or (told.kind == "quantity" and told.value.dimension in _VALUES))


def _figure_follows(clause: Clause, item: Item) -> bool:
    place = clause.items.index(item)
    return place + 1 < len(clause.items) and clause.items[place + 1].kind == "number"


def _pair(item: Item, before: Item | None, clause: Clause, state: State) -> list[object]:
    """3/10 is a dial, 45/30 two values, at 12/24 two depths; a pair that fits none of these is a day."""
    first, second = item.value[0], item.value[1]
    figures = [*clause.every("number", "slash"), *clause.quantities(*_VALUES)]
    others = [one for one in figures if one is not item]
    if len(item.value) == 2 and second == 10 and first <= 10 and not others and not clause.quantities("length"):
        return [_Found("dial", first)]
    slashes = clause.every("slash")
    if len(slashes) > 1 and not clause.has("at", "plot", "instrument") and not clause.says(":", "=", "a"):
        return []
    if _is_at(before) or (len(slashes) > 1 and item is slashes[0] and not _is_at(_before(clause, slashes[1]))):
        return [_Depth(default_length_mm(one, state.context.units, deep=True) / 10, True) for one in item.value]
    if len(slashes) > 1:
        return [_Found(None, one) for one in item.value]
    if others or clause.has("feel"):
        when = state.day_of(item)
        return [when] if when is not None else []
    told = clause.quantities("length") and clause.has("plot", "instrument", "reads", "at")
    return [_Found(None, one) for one in item.value] if told else []


def _before(clause: Clause, item: Item) -> Item | None:
    place = clause.items.index(item)
    return clause.items[place - 1] if place else None


def _values_before_depths(events: list[object]) -> list[object]:
    """In "at 48 at one foot" the first of two marked figures is the value."""
    for place, (event, after) in enumerate(itertools.pairwise(events)):
        told = place and isinstance(events[place - 1], _Found)
        if not told and isinstance(event, _Depth) and event.bare is not None and isinstance(after, _Depth):
            events[place] = _Found(None, event.bare)
            break
    return events


def _with_a_value(events: list[object], clause: Clause, state: State) -> list[object]:
    """In "peaches at 45" the marked figure is no depth: nothing else could be the value of that plot."""
    if clause.has("rod", "both", "feel") or not clause.has("plot", "all", "instrument", "reads"):
        return events
    starts = [0, *(place for place, event in enumerate(events) if isinstance(event, tuple) and place)]
    if not isinstance(events[0] if events else None, tuple):
        starts = [0]
    for start, end in zip(starts, [*starts[1:], len(events)], strict=True):
        group = events[start:end]
        bare = next(
            (place for place, event in enumerate(group) if isinstance(event, _Depth) and event.bare is not None), None
        )
        if bare is None or any(
            isinstance(event, _Found) or (isinstance(event, _Depth) and event.bare is None) for event in group
        ):
            continue
        figure = group[bare]
        assert isinstance(figure, _Depth)
        events[start + bare] = _Found(None, figure.bare or 0.0)
    return events


def _paired(events: list[object]) -> list[_Found]:
    """Values with their depths: zipped when all of one kind stand first, else each depth with its neighbour."""
    values = [event for event in events if isinstance(event, _Found)]
    depths = [event for event in events if isinstance(event, _Depth)]
    order = "".join("v" if isinstance(event, _Found) else "d" for event in events if isinstance(event, _Found | _Depth))
    if len(values) == len(depths) > 1 and order in (
        "v" * len(values) + "d" * len(values),
        "d" * len(values) + "v" * len(values),
    ):
        for value, depth in zip(values, depths, strict=True):
            value.depth_cm = depth.depth_cm
        return values
    current: _Depth | None = None
    last: _Found | None = None
    depth_first = order.startswith("d")
    for event in events:
        if isinstance(event, _Depth):
            if last is not None and last.depth_cm is None and (not depth_first or event.marked):
                last.depth_cm = event.depth_cm
            else:
                current, last = event, last
        elif isinstance(event, _Found):
            if current is not None and event.quantity != "rod":
                event.depth_cm = current.depth_cm
                current = current if depth_first else None
            last = event
    return values


def _place(found: list[_Found], events: list[object], clause: Clause, state: State) -> None:
    """Give each value its plots and day: what stands before governs, what trails goes to those just told."""
    plots = state.plots
    trailing = not isinstance(next((e for e in events if isinstance(e, _Found | tuple)), None), tuple)
    trailing = trailing and any(isinstance(event, tuple) for event in events)
    told: list[_Found] = []
    dated: list[_Found] = []
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
        elif isinstance(event, When):
            waiting = [value for value in dated if value.when is None]
            for value in waiting:
                value.when = event
            when = None if waiting else event
            dated = []
        elif isinstance(event, _Found):
            if not fresh and trailing:
                told = []
            event.plots = plots
            event.when = when
            told.append(event)
            dated.append(event)
            fresh = True
    state.plots = plots


def _statements(found: list[_Found], clause: Clause, state: State) -> list[Statement]:
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
        if quantity in _VALUES:
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


def _told_by(clause: Clause, value: _Found, state: State) -> str:
    """What a figure without a unit means: the instrument named, the unit used just before, the person's probe."""
    for item in clause.every("instrument"):
        if item.value != "any":
            return str(item.value)
    stated = [item.value.dimension for item in clause.quantities(*_VALUES)]
    if stated:
        return str(stated[0])
    if state.quantity:
        return state.quantity
    if state.context.probe:
        return state.context.probe
    needle = any(item.text in _NEEDLES or "meter" in item.text.split() for item in clause.every("instrument"))
    return "dial" if needle and isinstance(value.value, float) and value.value <= 10 else "bare"
