"""Waterings done: on a day, of an amount, on one plot or several; told as one or as a list."""

from __future__ import annotations

import itertools
from dataclasses import dataclass, field, replace
from datetime import timedelta

from bot.understand import words
from bot.understand.clauses import Clause
from bot.understand.dates import BAD, When
from bot.understand.items import Item, Quantity
from bot.understand.naming import with_names, with_plants
from bot.understand.not_done import days_back, lies_ahead
from bot.understand.runs import ends_after, is_event_amount, note_run, of_same_kind, run_on
from bot.understand.state import State, default_length_mm
from bot.understand.statements import Fact, Statement, Unclear, Watering

_FOOT_MM = 304.8
_OFF = words.named("off_words")
_DEEPEST_MM = 1000.0
_NOON = 12
_BY_NIGHT = words.named("by_night")
_CUES = ("watered", "gave", "method", "water", "plot", "all", "emitter", "thing", "name")
_AFTER_A_VALUE = words.named("after_a_value")
_NOT_WATER = words.named("not_water")
_SOMEBODY_ELSE = words.named("somebody_else")
_NOT_AN_AMOUNT = words.named("not_an_amount")
_PUT = words.named("put")


@dataclass(slots=True)
class _Event:
    when: When | None = None
    minutes: float | None = None
    depth_mm: float | None = None
    litres: float | None = None
    litres_each: float | None = None
    plots: list[str] = field(default_factory=list)
    inherited: bool = False
    dated_last: bool = False

    def amounts(self) -> bool:
        return any(amount is not None for amount in (self.minutes, self.depth_mm, self.litres, self.litres_each))


def waterings(clause: Clause, state: State) -> list[Statement] | None:
    """The waterings that a clause reports, or None when it reports none."""
    told = run_on(clause, state)
    if told is clause and not _is_report(clause):
        return None
    clause = told
    if _is_stretch_of_days(clause) or clause.says("mitad", "doble"):
        return [Unclear(text=state.text[clause.start : clause.end])]
    clause = with_names(clause, state.text)
    events = _events(clause, state)
    if (
        events[-1].when is None
        and state.head_day is None
        and clause.says(*_BY_NIGHT)
        and state.context.now.hour < _NOON
    ):
        events[-1].when = When(state.today - timedelta(days=1))
    _share(events, state, clause)
    _repeat(events, clause)
    note_run(clause, state)
    made: list[Statement] = []
    for event in events:
        when = event.when or state.head_day
        if when is not None and when.fault in BAD:
            return [Unclear(text=state.text[clause.start : clause.end])]
        for plot in event.plots or (None,):
            made.append(_statement(event, when, plot, state))
    made = with_plants(made, clause)
    flow = clause.quantities("flow")
    if flow:
        plot = next((one.plot for one in made if isinstance(one, Watering)), None)
        made.append(Fact(about="flow_l_h", value=flow[0].value.value, plot=plot))
    return made


def _is_stretch_of_days(clause: Clause) -> bool:
    """ "monday thru thursday": on each of these days, or once in all of them?"""
    triples = zip(clause.items, clause.items[1:], clause.items[2:], strict=False)
    ends = [(first, last) for first, link, last in triples if first.kind == last.kind == "date" and link.kind == "to"]
    days = [(first.value.day, last.value.day) for first, last in ends]
    return any(first and last and (last - first).days % _WEEK != 1 for first, last in days)


_WEEK = 7


def _repeat(events: list[_Event], clause: Clause) -> None:
    """ "twice, 20 min each time": the amount as often as it was given."""
    often = clause.first("often")
    if often is None or len(events) > 1:
        return
    for slot in ("minutes", "depth_mm", "litres"):
        if (amount := getattr(events[0], slot)) is not None:
            setattr(events[0], slot, amount * float(often.value))


def _statement(event: _Event, when: When | None, plot: str | None, state: State) -> Watering:
    return Watering(
        on=when.day if when is not None else state.today,
        minutes=event.minutes,
        depth_mm=event.depth_mm,
        litres=event.litres,
        litres_each=event.litres_each,
        plot=plot,
    )


def _is_report(clause: Clause) -> bool:
    """A verb of watering, or an amount of time or water with nothing strange beside it."""
    if _is_of_other_work(clause):
        return False
    if clause.has("watered") or ends_after(clause):
        return True
    amounts = clause.quantities("duration", "volume")
    if clause.has("gave") and (amounts or _gave_water(clause)):
        return True
    if (
        clause.has("gave")
        and clause.quantities("length")
        and not clause.has("number", "instrument", "deep", "rod", "at", "reads")
    ):
        return clause.has("plot", "name", "thing", "all", "method") or any(
            item.text in _PUT for item in clause.every("gave")
        )
    if (
        clause.has("plot", "all", "method")
        and clause.has("date", "method")
        and not clause.has(*_NOT_RUN)
        and clause.says(*_RUN)
    ):
        return True
    if clause.has("container", "planted") and not clause.has("gave"):
        return False
    if _is_spread(clause) or _is_depth_of_water(clause):
        return True
    if _may_stand_in_it(clause):
        return False
    if len(amounts) == 1 and _is_no_amount(clause, amounts[0]):
        return False
    if not amounts or clause.has("sign") or (clause.has("container", "rain", "instrument") and not clause.has(*_CUES)):
        return False
    if clause.has("plan", "chat") or lies_ahead(clause):
        return False
    strange = _strange(clause)
    return not strange or (clause.has("method", "water") and len(strange) < 3)


def _is_of_other_work(clause: Clause) -> bool:
    """ "2 hours of mulching", "took me 45 minutes to fix the drip", "got runoff after 6 min"."""
    if ends_after(clause):
        return False
    if clause.says(*_NOT_WATER) or (clause.says(*_SOMEBODY_ELSE) and not clause.says("me", "us")):
        return True
    if clause.says(*_OTHER_DOING) and not clause.has("watered", "water", "gave"):
        return True
    amounts = clause.quantities("duration", "volume")
    after = bool(amounts) and all(_is_no_amount(clause, amount) for amount in amounts)
    return (clause.has("sign") and after) or (clause.says(*_TOOK) and not clause.has("watered", "water", "gave"))


def _strange(clause: Clause) -> list[Item]:
    """The words beside an amount that may make it one of something else."""
    said = [item for item in clause.items if item.kind == "word" and item.text not in _ONE_MORE | _CARRIED]
    strange = [item for item in said if not _is_everyday(item)]
    if not clause.has(*_CUES, "each"):
        strange += [item for item in said if len(item.text) > 3 and item.text not in _AFTER_A_VALUE]
    return strange


_OTHER_DOING = words.named("other_doing")  # "picked 12 pints of strawberries"
_TOOK = words.named("took")
_RUN = words.named("was_run")
_NOT_RUN = ("number", "quantity", "slash", "at", "reads", "feel", "instrument", "rain", "sign", "neg", "plan", "clock")
_ONE_MORE = words.named("so_long")
_CARRIED = words.named("quantities_vessels")


def _may_stand_in_it(clause: Clause) -> bool:
    """ "basil 5 gal bucket": given, or what a plant without a plot yet stands in?"""
    if not clause.has("name") or clause.has(
        "plot", "all", "gave", "water", "method", "each", "date", "number", "times"
    ):
        return False
    return any(item.kind == "unit" and item.text in _VESSELS for item in clause.items) and not clause.says(*_ONTO)


_VESSELS = words.named("vessels")


def _is_no_amount(clause: Clause, amount: Item) -> bool:
    place = clause.items.index(amount)
    after = clause.items[place + 1 : place + 2]
    return any(item.text in _LATE for item in after) or (place > 0 and clause.items[place - 1].text in _NOT_AN_AMOUNT)


_LATE = words.named("late")  # "45 minutes late"


def _gave_water(clause: Clause) -> bool:
    """ "gave the peaches water": the verb, then the water, and only plots and small words between."""
    for place, item in enumerate(clause.items):
        if item.kind == "gave" and item.text not in _OFF:
            for after in clause.items[place + 1 : place + 8]:
                if after.kind == "water":
                    return True
                small = after.kind == "word" and (len(after.text) < 5 or _is_everyday(after))
                if after.text == "in" or (after.kind not in _GIVEN_TO and not small):
                    break
    return False


_GIVEN_TO = ("plot", "all", "one", "chat", "name", "thing", "filler", "deep")


def _is_spread(clause: Clause) -> bool:
    """ "12 mm on the tomatoes": a depth of water on a plot, with no value beside it."""
    if clause.has(*_NO_SPREAD) or len(clause.quantities()) != 1:
        return False
    items = [item for item in clause.items if item.kind not in ("date", "water") and item.text != "de"]
    for item, link, *rest in (items[place : place + 5] for place in range(len(items) - 2)):
        if item.kind == "quantity" and item.value.dimension == "length":
            in_mm = "mm" in item.text or "mili" in item.text
            loose = link.text in ("a", "en") and item.value.value > _DEEPEST_SPREAD_MM and not in_mm
            target = next((one for one in rest if one.kind not in ("word", "one", "at")), None)
            return link.text in _ONTO and not loose and target is not None and target.kind in ("plot", "all")
    return False


_DEEPEST_SPREAD_MM = 50.0  # "10 cm a los tomates" is a depth of something else


def _is_depth_of_water(clause: Clause) -> bool:
    """ "cucumbers 0.6 in water overnight", "an inch of water on the corn tuesday": a depth of water, on a plot or day."""
    if clause.has(*_NO_SPREAD, "neg", "plan", "rain") or not clause.has("plot", "all", "name", "date", "method"):
        return False
    for place, item in enumerate(clause.items[:-1]):
        if item.kind == "quantity" and item.value.dimension == "length":
            after = clause.items[place + 1 + (clause.items[place + 1].text in ("of", "de")) :]
            return bool(after) and after[0].text in _WATER and not any(one.text in _HELD_BY for one in after)
    return False


_WATER = words.named("water_itself")
_HELD_BY = words.named("held_by")
_ONTO = words.named("onto")
_NO_SPREAD = ("number", "feel", "instrument", "rod", "root", "trunk", "ground", "reads", "both", "deep", "sign")


def _is_everyday(item: Item) -> bool:
    return any(item.text in words.plain(language) for language in words.LANGUAGES)


def _events(clause: Clause, state: State) -> list[_Event]:
    """One event a new amount, day or plot after a full one."""
    events = [_Event()]
    each = clause.has("each") or _per_plant(clause)
    items = clause.items
    for place, item in enumerate(items):
        current = events[-1]
        if item.kind in ("plot", "all"):
            name = str(item.value) if item.kind == "plot" else "*"
            if name == "*" and current.plots:
                continue
            full = current.amounts() or current.dated_last
            if current.plots and not current.inherited and full and _has_more(items[place + 1 :]):
                current = _next(events, current)
            if current.inherited:
                current.plots, current.inherited = [], False
            if name not in current.plots:
                current.plots.append(name)
        elif (when := _day(item, clause, state)) is not None:
            if current.when is not None and current.when != when:
                current = _next(events, current)
            current.when, current.dated_last = when, bool(current.plots) and not current.inherited
        elif item.kind == "quantity":
            late = item.value.dimension == "duration" and place and items[place - 1].text in _NOT_AN_AMOUNT
            if late and not ends_after(clause):
                continue
            if (
                item.value.dimension == "length"
                and place
                and (items[place - 1].kind in ("at", "deep") or items[place - 1].text in ("in", "to"))
            ):
                continue
            _amount(events, item, _each_applies(items, place, each), items[place + 1 :])
        elif item.kind == "number" and (amount := of_same_kind(items, place)) is not None:
            _amount(events, amount, False, items[place + 1 :])
        elif item.kind in ("number", "slash") and _is_depth(clause, place):
            events[-1].depth_mm = default_length_mm(float(item.value), state.context.units, deep=False)
    return events


def _day(item: Item, clause: Clause, state: State) -> When | None:
    """The day that an item tells; "5 days since I watered" tells one too."""
    if item.kind == "span":
        return item.value if isinstance(item.value, When) else None
    if item.kind == "quantity" and item.value.dimension == "days":
        return days_back(state, item) if clause.has("since") or clause.says("desde", "que", "hace") else None
    return state.day_of(item) if item.kind in ("date", "slash", "number") else None


def _next(events: list[_Event], before: _Event) -> _Event:
    events.append(_Event(plots=list(before.plots), inherited=True))
    return events[-1]


def _has_more(rest: tuple[Item, ...]) -> bool:
    return any(item.kind in ("date", "span") or is_event_amount(item) for item in rest)


def _per_plant(clause: Clause) -> bool:
    """ "10 gallons per peach tree"."""
    pairs = itertools.pairwise(clause.items)
    return any(item.kind == "per" and after.kind in ("plot", "name", "thing") for item, after in pairs)


def _each_applies(items: tuple[Item, ...], place: int, each: bool) -> bool:
    return each and items[place].value.dimension == "volume"


def _amount(events: list[_Event], item: Item, each: bool, rest: tuple[Item, ...]) -> None:
    if item.text.endswith("'") and item.value.dimension == "length":
        item = replace(item, value=Quantity("duration", item.value.value / _FOOT_MM))  # 45' of a run are minutes
    slot = {"duration": "minutes", "volume": "litres_each" if each else "litres", "length": "depth_mm"}.get(
        item.value.dimension
    )
    if slot is None or (slot == "depth_mm" and rest and rest[0].kind == "deep"):
        return
    if slot == "depth_mm" and item.value.value >= _DEEPEST_MM:
        return  # a hose of 100 ft
    current = events[-1]
    if getattr(current, slot) is not None and " ".join(one.text for one in rest[:2]) not in _ALL_TOLD:
        current = _next(events, current)
    setattr(current, slot, item.value.value)


_ALL_TOLD = words.named("all_told")  # "2 buckets, 20 litres in total"


def _is_depth(clause: Clause, place: int) -> bool:
    """ "put on .5": a bare figure is a depth of water only after such a verb and with nothing else said."""
    item = clause.items[place]
    if item.kind != "number" or clause.quantities("duration", "volume", "length") or item.value > 4:
        return False
    return any(one.kind == "gave" and one.text in _PUT for one in clause.items[:place])


def _are_days(events: list[_Event]) -> bool:
    """Whether several events are the days of one plot: "tues and thurs 20 min"."""
    return all(event.inherited or not event.plots for event in events[1:])


def _share(events: list[_Event], state: State, clause: Clause) -> None:
    """A day, plot or amount that only one of several carries counts for its neighbours without."""
    if events[-1].amounts() and not any(event.amounts() for event in events[:-1]) and _are_days(events):
        for event in events[:-1]:
            event.minutes, event.depth_mm = events[-1].minutes, events[-1].depth_mm
            event.litres, event.litres_each = events[-1].litres, events[-1].litres_each
    if len(clause.every("watered", "gave")) <= 1 and events[0].amounts() and _are_days(events):
        for event in events[1:]:
            if not event.amounts() and event.inherited:  # "20 min tues and thurs": on either day
                event.minutes, event.depth_mm = events[0].minutes, events[0].depth_mm
                event.litres, event.litres_each = events[0].litres, events[0].litres_each
    if events[-1].when is not None:
        for event in events:
            event.when = event.when or events[-1].when
    for before, after in itertools.pairwise(events):
        after.when = after.when or before.when
        after.plots = after.plots or before.plots
    if len(events) > 1 and len(events[0].plots) == len(events) and all(event.inherited for event in events[1:]):
        for event, plot in zip(events, list(events[0].plots), strict=True):
            event.plots = [plot]
    named = [event for event in events if event.plots]
    if named:
        for event in events:
            event.plots = event.plots or named[0].plots
        state.plots = tuple(events[-1].plots)
        return
    for event in events:
        event.plots = list(state.plots)
