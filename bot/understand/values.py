"""The values, depths, plots and days that a clause tells, in order: what each bare figure is."""

from __future__ import annotations

from bot.understand import words
from bot.understand.clauses import Clause
from bot.understand.dates import When
from bot.understand.found import Depth, Found, Leading
from bot.understand.items import Item
from bot.understand.rods import is_push, pushed
from bot.understand.state import State, default_length_mm

_AT = words.named("at")
_NUMBERED_THINGS = words.named("numbered_things")
VALUES = ("tension", "resistance", "percent", "dial")
_BEFORE_NO_VALUE = words.named("before_no_value")
_CHANGES = words.named("changes")


def _is_last_head(clause: Clause, place: int) -> bool:
    """ "55 chard 60": of a plot between two figures, the last of its clause, the second is told, where no "on" leads to it."""
    items = clause.items
    if not 0 < place < len(items) - 1 or any(item.kind in ("plot", "all") for item in items[place + 1 :]):
        return False
    return items[place - 1].kind == items[place + 1].kind == "number"


def _leads(before: Item | None, after: Item | None) -> bool:
    """Whether a day stands after a mark and right before a value, so that it tells nothing of the value before it."""
    measured = after is not None and after.kind == "quantity" and after.value.dimension in VALUES
    told = measured or (after is not None and after.kind == "number")
    return told and before is not None and before.is_mark(",", "(", ";")


def events_of(clause: Clause, state: State) -> list[object]:
    """Values, depths, plots and days of a clause, in order."""
    events: list[object] = []
    rod = clause.has("rod")
    items = clause.items
    for place, item in enumerate(items):
        before = items[place - 1] if place else None
        after = items[place + 1] if place + 1 < len(items) else None
        if item.kind in ("plot", "all"):
            if item.kind == "plot" or not any(isinstance(event, tuple) for event in events):
                heads = (after is not None and after.is_mark("=", ":")) or _is_last_head(clause, place)
                events.append(("heads" if heads else "plot", item.value if item.kind == "plot" else "*"))
        elif item.kind == "date":
            events.append(Leading(item.value.day, item.value.fault) if _leads(before, after) else item.value)
        elif (
            item.kind == "feel"
            and not _is_denied(items, place)
            and not _is_dust(item, before)
            and not _is_of_dial(before, clause)
        ):
            if any(word in _TESTED for word in item.text.split()):
                state.tested.add(str(item.value))
            if not (events and isinstance(events[-1], Found) and events[-1].value == item.value):
                events.append(Found("feel", item.value))
        elif item.kind == "quantity" and item.value.dimension in VALUES and not (before and before.text in _CHANGES):
            value = item.value.value
            events.append(Found(item.value.dimension, value))
        elif item.kind == "quantity" and item.value.dimension == "length":
            depth_cm = item.value.value / 10
            push = rod and pushed(items, place, events)
            events.append(Found("rod", depth_cm) if push else Depth(depth_cm, _is_at(before)))
        elif (
            item.kind == "number"
            and not _is_counted(item, before, after, clause)
            and not _is_hour(item, before, clause)
        ):
            events.append(_number(item, before, after, events, clause, state))
        elif item.kind == "slash":
            events += _pair(item, before, clause, state)
    return _with_a_value(_listed_depths(_values_before_depths(events), clause), clause, state)


def _listed_depths(events: list[object], clause: Clause) -> list[object]:
    """In "45 and 30 at 12 and 24" the last figures are as many depths as there are values."""
    figures = [place for place, event in enumerate(events) if isinstance(event, Found | Depth)]
    marked = [place for place in figures if isinstance(events[place], Depth)]
    half = len(figures) // 2
    if len(marked) != 1 or half < 2 or len(figures) % 2:
        return events
    listed = figures[half + 1 :] if marked[0] == figures[half] else []
    if marked[0] == figures[0] and _halved_by_comma(clause):
        listed = figures[1:half]  # "tensiometers at 12 and 36, 30 and 22"
    first = events[marked[0]]
    if not isinstance(first, Depth) or first.bare is None or clause.quantities("length") or not first.bare:
        return events
    cm = first.depth_cm / first.bare
    for place in listed:
        event = events[place]
        if isinstance(event, Found) and event.quantity is None and isinstance(event.value, float):
            events[place] = Depth(event.value * cm, marked=True, bare=event.value)
    return events


def _halved_by_comma(clause: Clause) -> bool:
    comma = next((place for place, item in enumerate(clause.items) if item.is_mark(",")), 0)
    before = sum(item.kind == "number" for item in clause.items[:comma])
    return comma > 0 and before * 2 == len(clause.every("number"))


_TESTED = words.named("tested")


def _is_denied(items: tuple[Item, ...], place: int) -> bool:
    """ "not dry", "no esta muy seca": a verb and words of degree may stand between; "no tiene nada de humedad" is dry."""
    if items[place].text.startswith("nada"):
        return False
    place -= 1
    while place >= 0 and (items[place].kind in ("reads", "interrogative") or items[place].text in _DEGREES):
        place -= 1
    return place >= 0 and items[place].kind == "neg"


_DEGREES = words.named("degrees")


def _is_of_dial(before: Item | None, clause: Clause) -> bool:
    """ "dial says wet, 9": the word beside the figure on a hand meter's scale, which no hand has felt."""
    read = before is not None and before.kind == "reads" and clause.has("instrument")
    return read and (clause.has("number") or bool(clause.quantities("dial")))


def _is_dust(item: Item, before: Item | None) -> bool:
    """ "hardly wet the dust": a thing, and no feel."""
    return item.text in ("dust", "polvo") and before is not None and before.text in ("the", "el")


def _is_at(before: Item | None) -> bool:
    return before is not None and before.kind != "one" and (before.kind in ("at", "both") or before.text in _AT)


_AFTER_A_VALUE = words.named("after_a_value")


def _is_label(item: Item | None) -> bool:
    """ "sensor 1", "#2", "probe b": the instrument whose figure comes after."""
    return (
        item is not None
        and item.kind == "instrument"
        and len(item.text.split()) > 1
        and len(item.text.split()[-1]) == 1
    )


def _is_counted(item: Item, before: Item | None, after: Item | None, clause: Clause) -> bool:
    """ "2 probes", "block 2": figures that count or name something."""
    if _is_row_of_plot(before, after, clause):
        return True
    if _is_some_of(clause, item) or (before is not None and (before.kind == "ordinal" or before.text in _SEVERAL)):
        return True
    if _is_label(before) or _is_label(after) or (after is not None and after.text in _MEASURES):
        return False
    if before is not None and after is not None and before.kind == "instrument" and before.value == "any":
        told_of = after.kind in ("at", "reads", "deep") or after.text in ("in", "a")
        if told_of and _other_figure(item, clause):
            return True
    if before is not None and before.text in _CHANGES | _BEFORE_NO_VALUE and not item.text.startswith(_FROM):
        return True
    if before is not None and before.is_mark("'", '"') and item.glued:
        return True
    if after is not None and after.kind == "plot" and after.text.split()[0] in _ROWS:
        return True  # "3 rows of tomatoes"
    if before is not None and _was(before, clause) and _is_of_before(clause, item):
        return True
    if after is not None and (
        after.kind in ("water", "times") or (after.kind == "word" and after.text not in _AFTER_A_VALUE)
    ):
        return True
    if (
        after is not None
        and not _is_at(before)
        and after.kind in ("instrument", "thing", "name", "emitter")
        and after.text not in ("down",)
        and not _heads_next(clause, after)
    ):
        return after.kind != "name"
    return before is not None and before.kind == "thing" and before.text in _NUMBERED_THINGS


def _is_some_of(clause: Clause, item: Item) -> bool:
    """ "dug up two of them", "saco dos de la tierra": so many of what follows; "40 de tension" is a reading."""
    place = clause.items.index(item)
    link, what = clause.items[place + 1 : place + 2], clause.items[place + 2 : place + 3]
    return bool(link and what) and link[0].text in ("of", "de") and what[0].text in _THESE


_SEVERAL = words.named("of_several")  # "the first two did not go through"
_THESE = words.named("these")


def _is_row_of_plot(before: Item | None, after: Item | None, clause: Clause) -> bool:
    """ "chardonnay row 12 reads 64 kPa": the figure names the row."""
    if before is None or after is None or before.kind != "plot" or after.kind != "reads":
        return False
    return before.text.split()[-1] in _NUMBERED_THINGS and bool(clause.quantities(*VALUES))


_MEASURES = words.named("measures")  # "24 vwc" counts no instruments
_FROM = ("from ", "de ", "desde ")  # "up from 30 to 47"


def _is_hour(item: Item, before: Item | None, clause: Clause) -> bool:
    """ "leaves folded by 9", "marchitas para las 10": when a plant shows a sign is a time of day, no value."""
    told = before is not None and (before.kind == "at" or before.text in _AT_AN_HOUR)
    alone = len(clause.every("number", "quantity", "slash")) == 1 and not clause.has("instrument", "reads", "deep")
    return told and alone and clause.has("sign") and float(item.value) in range(1, _LAST_HOUR + 1)


_AT_AN_HOUR = words.named("at_an_hour")
_LAST_HOUR = 12


def _was(before: Item, clause: Clause) -> bool:
    """ "was 45", "estaba en 45"."""
    place = clause.items.index(before)
    return before.text in _WAS or (before.text == "en" and place > 0 and clause.items[place - 1].text in _WAS)


def _is_of_before(clause: Clause, item: Item) -> bool:
    """ "47 (was 30)": what a probe showed at no day that is told, beside what it shows now."""
    told = [one for one in clause.every("number") if one is not item]
    present = next((one for one in clause.every("date") if one.text in _AT_PRESENT), None)
    alone = len(clause.every("date")) == 1
    if present is not None and alone and item.start < present.start and any(one.start > present.start for one in told):
        return True  # "was 45 now 52"
    return bool(told) and told[0].start < item.start and not clause.has("date") and not clause.quantities()


_WAS = words.named("was")
_AT_PRESENT = words.named("at_present")


def _other_figure(item: Item, clause: Clause) -> bool:
    later = [one for one in clause.every("number") if one.start > item.start]
    return bool(later) and clause.has("reads") and len([*later, *clause.quantities("length")]) >= 2


def _number(
    item: Item, before: Item | None, after: Item | None, events: list[object], clause: Clause, state: State
) -> object:
    value = float(item.value)
    if clause.has("rod") and is_push(events, clause, state):
        return Found("rod", default_length_mm(value, state.context.units, deep=True) / 10)
    sunk = before is not None and before.kind == "deep" and bool(events) and isinstance(events[-1], Found)
    sunk = sunk and not clause.says(*_ON_TOP)
    if sunk or _is_at(before) or (after is not None and after.kind == "deep" and not _figure_follows(clause, after)):
        return Depth(default_length_mm(value, state.context.units, deep=True) / 10, marked=True, bare=value)
    if _heads_value(clause, item, after):
        return Depth(default_length_mm(value, state.context.units, deep=True) / 10, marked=False)
    return Found(None, value)


_SIDES = words.named("positions")
_ROWS = frozenset({"rows", "beds", "blocks", "sections", "surcos", "hileras", "camas"})


def _heads_next(clause: Clause, thing: Item) -> bool:
    """ "row 1 45 row 2 50", "north end 45 south end 60": what is named here is told of by the figure after it."""
    here = clause.items.index(thing) + 1
    return thing.text in _SIDES | _NUMBERED_THINGS and any(
        item.kind == "number" for item in clause.items[here : here + 2]
    )


_ON_TOP = words.named("on_top")


def _heads_value(clause: Clause, item: Item, after: Item | None) -> bool:
    """ "24 is 22", "the 12 says 48": a figure that another is told of is the depth of it."""
    if after is None or not (after.kind == "reads" or after.text in ("is", "was", "esta", "es", ":", "=")):
        return False
    place = clause.items.index(item) + 2
    place += place < len(clause.items) and clause.items[place].text == "en"  # "el de 24 estaba en 30"
    told = clause.items[place] if place < len(clause.items) else None
    return told is not None and (told.kind == "number" or (told.kind == "quantity" and told.value.dimension in VALUES))


def _figure_follows(clause: Clause, item: Item) -> bool:
    place = clause.items.index(item)
    return place + 1 < len(clause.items) and clause.items[place + 1].kind == "number"


def _pair(item: Item, before: Item | None, clause: Clause, state: State) -> list[object]:
    """3/10 is a dial, 45/30 two values, at 12/24 two depths; a pair that fits none of these is a day."""
    first, second = item.value[0], item.value[1]
    figures = [*clause.every("number", "slash"), *clause.quantities(*VALUES)]
    others = [one for one in figures if one is not item]
    if len(item.value) == 2 and second == 10 and first <= 10 and not others and not clause.quantities("length"):
        return [Found("dial", first)]
    slashes = clause.every("slash")
    if len(slashes) > 1 and all(len(one.value) == 2 and one.value[0] <= one.value[1] == _DIAL for one in slashes):
        return [Found("dial", first)]  # "basil 3/10 mint 6/10"
    if len(slashes) > 1 and _heads_a_value(clause, item) and (when := state.day_of(item)) is not None:
        return [when]
    if len(slashes) > 1 and not clause.has("at", "plot", "instrument") and not clause.says(":", "=", "a"):
        return []
    if _is_at(before) or (len(slashes) > 1 and item is slashes[0] and not _is_at(_before(clause, slashes[1]))):
        return [Depth(default_length_mm(one, state.context.units, deep=True) / 10, True) for one in item.value]
    if len(slashes) > 1:
        return [Found(None, one) for one in item.value]
    if others or clause.has("feel"):
        when = state.day_of(item)
        return [when] if when is not None else []
    told = clause.quantities("length") and clause.has("plot", "instrument", "reads", "at")
    return [Found(None, one) for one in item.value] if told else []


_DIAL = 10


def _heads_a_value(clause: Clause, item: Item) -> bool:
    """ "6/30 45, 7/10 52": each pair a day, each figure after it what was read then."""
    place = clause.items.index(item) + 1
    place += place < len(clause.items) and clause.items[place].kind == "plot"  # "6/28 peaches 41, 7/1 peaches 52"
    after = clause.items[place] if place < len(clause.items) else None
    return after is not None and (
        after.kind == "number" or (after.kind == "quantity" and after.value.dimension in VALUES)
    )


def _before(clause: Clause, item: Item) -> Item | None:
    place = clause.items.index(item)
    return clause.items[place - 1] if place else None


def _values_before_depths(events: list[object]) -> list[object]:
    """In "at 48 at one foot" the first of two marked figures is the value."""
    told = [
        place for place, event in enumerate(events) if not isinstance(event, When)
    ]  # "at 60 this morning at 18 inches"
    for before, place, next_place in zip([None, *told], told, told[1:], strict=False):
        event, after = events[place], events[next_place]
        valued = before is not None and isinstance(events[before], Found)
        if not valued and isinstance(event, Depth) and event.bare is not None and isinstance(after, Depth):
            events[place] = Found(None, event.bare)
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
            (place for place, event in enumerate(group) if isinstance(event, Depth) and event.bare is not None), None
        )
        if bare is None or any(
            isinstance(event, Found) or (isinstance(event, Depth) and event.bare is None) for event in group
        ):
            continue
        figure = group[bare]
        assert isinstance(figure, Depth)
        events[start + bare] = Found(None, figure.bare or 0.0)
    return events
