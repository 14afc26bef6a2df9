"""Facts about the person and the plots: soil, plant, place, equipment, sizes, dates. A short list of rules, the first that fits."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from typing import Any

from bot.understand import words
from bot.understand.clauses import Clause
from bot.understand.items import Item
from bot.understand.naming import is_name, named_thing
from bot.understand.patterns import Fit, fits
from bot.understand.plots import as_written, own_name
from bot.understand.requests import is_question
from bot.understand.state import State, default_length_mm
from bot.understand.statements import Fact, Statement, Unclear

_DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_READING = ("tension", "resistance", "percent", "dial")
_COORDINATES = re.compile(
    r"(?<![\d.])(-?\d{1,2}\.\d{1,7})\s*°?\s*([NSns])?\s*[, ]\s*(-?\d{1,3}\.\d{1,7})\s*°?\s*([EWOewo])?(?![\d.])"
)

Rule = Callable[[Clause, State, list[Fit]], list[Statement] | None]


def facts(clause: Clause, state: State) -> list[Statement] | None:
    """The facts that a clause states, or None."""
    if clause.asks or clause.has("pest") or is_question(clause):
        return None
    found = fits(clause.texts(), state.language)
    for rule in _RULES:
        made = rule(clause, state, found)
        if made is not None:
            return made
    return None


def settings(clause: Clause, state: State) -> list[Statement] | None:
    """Language and units, told or asked for; never tied to a plot."""
    if clause.quantities():
        return None
    for fit in fits(clause.texts(), state.language):
        if fit.tag in ("language", "units"):
            return [Fact(about=fit.tag, value=fit.value)]
    return None


def _of(about: str, value: Any, clause: Clause, state: State, *, unknown_plot: bool = True) -> list[Statement]:
    """A fact of each plot that the clause names, else of the governing one."""
    return [
        Fact(about=about, value=value, plot=plot)
        for plot in _plots(clause, state, unknown_plot=unknown_plot) or (None,)
    ]


def _plots(clause: Clause, state: State, *, unknown_plot: bool) -> tuple[str, ...]:
    named = tuple(
        dict.fromkeys(str(item.value) if item.kind == "plot" else "*" for item in clause.every("plot", "all"))
    )
    if not named and unknown_plot and (name := named_thing(clause, state.text)):
        named = (name,)
    state.plots = named or state.plots
    return state.plots


def _after(clause: Clause, fit: Fit, state: State) -> str:
    """The words of a clause after what a pattern took, as written."""
    spelled = clause.spelled()
    start = fit.end
    while start < len(spelled) and spelled[start][0] in (":", "is", "es", "="):
        start += 1
    if start >= len(spelled):
        return ""
    return as_written(state.text[spelled[start][1] : clause.end])


def _tagged(found: list[Fit], value: str) -> Fit | None:
    return next((fit for fit in found if fit.tag == "fact" and fit.value == value), None)


def new_plot(clause: Clause, state: State) -> list[Statement] | None:
    """A new plot by its name; it governs what follows."""
    fit = None if clause.asks else _tagged(fits(clause.texts(), state.language), "new_plot")
    name = _after(clause, fit, state) if fit else ""
    name = re.sub(r"^(the|my|called|named|los|las|el|la|llamad[oa]|mis?)\s+", "", name, flags=re.IGNORECASE)
    if not name:
        return None
    name = own_name(name, state.context.plots)
    state.plots = (name,)
    return [Fact(about="new_plot", value=name, plot=name)]


def _coordinates(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    match = _COORDINATES.search(state.text[clause.start : clause.end][:200])
    if match is None:
        return None
    latitude, south, longitude, west = match.groups()
    latitude = f"-{latitude}" if (south or "").lower() == "s" else latitude
    longitude = f"-{longitude}" if (west or "").lower() in ("w", "o") and not longitude.startswith("-") else longitude
    return [Fact(about="place", value=f"{latitude},{longitude}")]


def _place(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    fit = _tagged(found, "zip")
    if fit is not None:
        digits = re.search(r"(?<!\d)\d{5}(?!\d)", state.text[clause.start : clause.end])
        if digits:
            return [Fact(about="place", value=digits.group())]
    fit = _tagged(found, "place")
    words = _after(clause, fit, state) if fit else ""
    if not words.istitle() and clause.has("watered", "gave", "feel", "soil", "instrument", "quantity", "plan", "sign"):
        return None
    digits = re.fullmatch(r"(?:el |the |zip )?(\d{5})(-\d{4})?", words)
    return [Fact(about="place", value=digits.group(1) if digits else words)] if words else None


def _water_days(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    days = [item.value.day for item in clause.every("date") if item.value.day is not None]
    if not days or clause.has("watered", "number") or clause.quantities() or _tagged(found, "water_days") is None:
        return None
    named = list(dict.fromkeys(_DAYS[day.weekday()] for day in days))
    return _of("water_days", named, clause, state, unknown_plot=False)


def _stress(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    told = clause.every("stress")
    if not told or (clause.has("quantity") and not clause.has("plot")):
        return None
    value = not any(item.value == "false" for item in told)
    return _of("stress", value, clause, state)


def _soil(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    told = [item for place, item in enumerate(clause.items) if item.kind == "soil" and not _denied(clause, place)]
    if clause.has("watered", "gave", "feel") or clause.quantities("duration", "volume", *_READING):
        return None
    if clause.has("soil") and not told:
        return []
    if told:
        return _of("soil", told[0].value, clause, state)
    if clause.has("soilword") and clause.has("ground"):
        return [Unclear(text=as_written(state.text[clause.start : clause.end]))]
    return None


def _denied(clause: Clause, place: int) -> bool:
    return any(item.kind == "neg" for item in clause.items[max(0, place - 2) : place])


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


def _roots(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    lengths = lengths_cm(clause, state)
    if not clause.has("root") or not lengths or clause.quantities(*_READING) or clause.has("feel"):
        return None
    return _of("root_depth_cm", lengths[0], clause, state)


def _trunk(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    lengths = lengths_cm(clause, state)
    if not clause.has("trunk") or not lengths:
        return None
    return _of("trunk_cm", lengths[0], clause, state)


def _container(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    volumes = clause.quantities("volume")
    held = clause.has("container") or any(_in_vessel(clause, item) for item in volumes)
    if not held or not volumes or clause.has("watered", "gave", "each", "date"):
        return None
    return _of("container_litres", volumes[0].value.value, clause, state)


def _in_vessel(clause: Clause, volume: Item) -> bool:
    """ "in 5 gal buckets": what the plant stands in."""
    place = clause.items.index(volume)
    before, after = clause.items[max(0, place - 2) : place], clause.items[place + 1 : place + 2]
    inside = any(item.text in ("in", "en", "inside") for item in before)
    return (inside and any(item.text in _VESSELS for item in after)) or (inside and volume.text.split()[-1] in _VESSELS)


_VESSELS = words.named("vessels")


def _planted(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    if not clause.has("planted") or not clause.has("date", "slash"):
        return None
    when = next((when for item in clause.items if (when := state.day_of(item)) is not None), None)
    if when is None or when.day is None or not _could_be_planting(when.day, when.fault, state):
        return [Unclear(text=as_written(state.text[clause.start : clause.end]))]
    return _of("planted_on", when.day.isoformat(), clause, state)


def _could_be_planting(day: date, fault: str, state: State) -> bool:
    """A planting may lie months back; one whose day would be nearly a year back was more likely meant ahead."""
    return not fault or (fault == "old" and (state.today - day).days < 300)


def _most(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    daily = clause.quantities("daily")
    if not daily:
        return None
    if _tagged(found, "most") is None and clause.has("watered", "gave"):
        return None
    return _of("most_litres_a_day", daily[0].value.value, clause, state)


def _emitters(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    """ "2 drippers per tree", "each vine has two 0.5 gph emitters", "1 gph drippers"."""
    if not clause.has("emitter", "method", "flow") and not clause.quantities("flow"):
        return None
    if clause.has("watered") or clause.quantities("duration"):
        return None
    made: list[Statement] = []
    for place, item in enumerate(clause.items):
        if item.kind == "number" and clause.has("each") and clause.has("emitter") and _counts_emitters(clause, place):
            made += _of("emitters_each", float(item.value), clause, state, unknown_plot=False)
        elif item.kind == "quantity" and item.value.dimension == "flow" and not clause.quantities("area"):
            made += _of("flow_l_h", item.value.value, clause, state, unknown_plot=False)
    return made or None


def _counts_emitters(clause: Clause, place: int) -> bool:
    for item in clause.items[place + 1 : place + 4]:
        if item.kind == "emitter":
            return True
        if item.kind not in ("quantity", "method", "word", "number"):
            return False
    return False


def _rate(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    """A rate as told; a flow over an area; a depth in a time by the equipment."""
    rates = clause.quantities("rate")
    if rates and not clause.quantities("duration") and not clause.has("rain"):
        return _of("rate_mm_h", rates[0].value.value, clause, state, unknown_plot=False)
    flows, areas = clause.quantities("flow"), clause.quantities("area")
    if flows and areas:
        return _of("rate_mm_h", flows[0].value.value / areas[0].value.value, clause, state, unknown_plot=False)
    depths, times = clause.quantities("length"), clause.quantities("duration")
    linked = clause.says("in", "en", "every", "per", "cada", "por")
    timed = len(depths) == len(times) == 1 and clause.has("method", "emitter") and linked
    if timed and not clause.has("watered", "date", "rain") and times[0].value.value > 0:
        return _of("rate_mm_h", depths[0].value.value * 60 / times[0].value.value, clause, state, unknown_plot=False)
    return None


def across_m2(clause: Clause, state: State) -> float | None:
    """The area of "4 x 8" told without a unit: feet in `us`, metres in `metric`. [m2]"""
    for first, link, second in (clause.items[place : place + 3] for place in range(len(clause.items) - 2)):
        if first.kind == second.kind == "number" and (link.text in ("x", "por") or link.kind == "by"):
            side_m = 0.3048 if state.context.units == "us" else 1.0
            return float(first.value) * float(second.value) * side_m**2
    return None


def _area(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    across = None if clause.quantities() else across_m2(clause, state)
    if across is not None and clause.has("plot", "thing", "name") and not clause.has("watered", "gave", "date"):
        return _of("area_m2", across, clause, state)
    areas = clause.quantities("area")
    if areas and not clause.has("watered") and not clause.quantities("volume", "duration", "flow"):
        return _of("area_m2", areas[0].value.value, clause, state)
    return None


def _probe(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    """What the instrument shows, when told as a fact: no reading stands beside it."""
    named = [item for item in clause.every("instrument") if item.value != "any"]
    scale = _scale_of_ten(clause)
    if scale and clause.has("instrument", "reads"):
        return _of("probe", "dial", clause, state, unknown_plot=False)
    if clause.has("number", "quantity", "slash", "feel", "date", "watered", "rain"):
        return None
    if _tagged(found, "own") is not None and named:
        return _of("probe", named[0].value, clause, state, unknown_plot=False)
    units = [item.value.split()[0] for item in clause.every("unit") if item.value.split()[0] in _READING]
    if units and clause.has("instrument", "reads"):
        return _of("probe", units[0], clause, state, unknown_plot=False)
    if named and len([item for item in clause.items if item.kind != "one"]) <= 2:
        return _of("probe", named[0].value, clause, state, unknown_plot=False)
    return None


def _scale_of_ten(clause: Clause) -> bool:
    words = " ".join(item.text for item in clause.items)
    return (
        re.search(r"\b(0|zero|cero|1|one)( a| to| al| -| hasta| thru| through) ?(el )?(10|ten|diez)\b", words)
        is not None
    )


def _probe_depth(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    """ "probes at 12 and 24": where they sit, and no value beside it."""
    sensors = [
        item for item in clause.every("instrument") if item.text not in ("reading", "readings", "lectura", "lecturas")
    ]
    if not sensors or clause.quantities(*_READING) or clause.has("feel", "rod", "watered", "rain"):
        return None
    lengths = lengths_cm(clause, state)
    sits = _tagged(found, "sits") is not None
    if clause.says("gauge", "gage", "guage") and not (sits and clause.has("at", "deep")):
        return None
    loose = [item for item in clause.items if item.kind == "number"]
    united = clause.quantities("length")
    if not lengths or (
        not sits and not (united and not loose) and not (united and clause.has("at") and len(loose) < 1)
    ):
        return None
    if loose and united and not sits:
        return None
    return [fact for length in lengths for fact in _of("probe_depth_cm", length, clause, state, unknown_plot=False)]


def _method(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    told = clause.first("method")
    if told is None or clause.has("date", "sign", "rain", "neg", "plan") or clause.quantities():
        return None
    fit = _tagged(found, "method")
    short = len(clause.items) <= 2 and not clause.has("watered", "gave")
    if fit is None and not short:
        return None
    return _of("method", told.value, clause, state, unknown_plot=not clause.has("emitter"))


def _count(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    """ "there are 9 cherries", "40 peach trees", "tengo 12 duraznos"."""
    if clause.has("watered", "gave", "rain", "feel", "instrument", "date", "at", "slash") or clause.quantities():
        return None
    for place, item in enumerate(clause.items):
        thing = _thing_after(clause, place) if item.kind == "number" and float(item.value) == int(item.value) else None
        if thing is not None and (_tagged(found, "have") is not None or place == 0):
            return _of("count", float(item.value), clause, state, unknown_plot=thing.kind == "name")
    return None


def _thing_after(clause: Clause, place: int) -> Item | None:
    """The plants or plot right after a figure, which counts them."""
    after = clause.items[place + 1] if place + 1 < len(clause.items) else None
    if after is None or after.kind not in ("plot", "thing", "name"):
        return None
    return None if after.text in ("side", "area", "north", "south", "east", "west") else after


def _stage(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    told = clause.first("stage")
    if told is None or clause.quantities() or clause.has("watered", "neg", "plan", "number", "gave"):
        return None
    if not clause.has("plot", "name", "all") and _tagged(found, "is") is None and len(clause.items) > 3:
        return None
    return _of("stage", as_written(state.text[told.start : told.end]), clause, state)


def _plant(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    """ "lower terrace is planted in cherries", "I grow tomatoes"."""
    fit = _tagged(found, "plant")
    if fit is None or clause.has("number", "quantity", "date", "watered", "gave", "feel", "sign", "neg", "plan"):
        return None
    taken = clause.spelled()[fit.start][1]
    names = [
        item for item in clause.every("name", "plot") if item.start >= taken and item.text not in words.kinds_of_place()
    ]
    known = [item for item in clause.every("plot") if item.start < taken]
    if not names:
        return None
    value = as_written(state.text[names[0].start : names[-1].end])
    copula = clause.spelled()[fit.start][0] in _COPULAS
    subject = [item for item in clause.items if item.start < taken and is_name(item)]
    if known:
        state.plots = (str(known[0].value),)
    elif copula and not subject:
        return None
    elif subject:
        state.plots = (as_written(state.text[subject[0].start : subject[-1].end]),)
    if value.casefold() == (state.plot or "").casefold():
        return None
    return [Fact(about="plant", value=value, plot=state.plot)]


_COPULAS = words.named("copulas")

_RULES: tuple[Rule, ...] = (
    _coordinates,
    _place,
    _water_days,
    _stress,
    _planted,
    _trunk,
    _roots,
    _most,
    _rate,
    _emitters,
    _container,
    _area,
    _soil,
    _probe,
    _probe_depth,
    _method,
    _count,
    _stage,
    _plant,
)
