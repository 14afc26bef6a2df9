"""Facts about the equipment: rate, emitters, flow, container, probe, method and what the source gives in a day."""

from __future__ import annotations

import itertools
import re
from dataclasses import replace

from bot.understand import words
from bot.understand.clauses import Clause
from bot.understand.fact_slots import VALUES, lengths_cm, of, tagged_fit
from bot.understand.items import Item
from bot.understand.patterns import Fit
from bot.understand.state import State
from bot.understand.statements import Statement


def most(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    daily = clause.quantities("daily")
    if not daily:
        return None
    if tagged_fit(found, "most") is None and clause.has("watered", "gave"):
        return None
    return of("most_litres_a_day", daily[0].value.value, clause, state)


def emitters(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    """ "2 drippers per tree", "each vine has two 0.5 gph emitters", "1 gph drippers"."""
    if not clause.has("emitter", "method", "flow") and not clause.quantities("flow"):
        return None
    if clause.has("watered") or clause.quantities("duration") or clause.says(*_SOURCES):
        return None
    made: list[Statement] = []
    for place, item in enumerate(clause.items):
        if item.kind == "number" and _is_each(clause) and _counts_emitters(clause, place):
            made += of("emitters_each", float(item.value), clause, state, unknown_plot=False)
        elif item.kind == "quantity" and item.value.dimension == "flow" and not clause.quantities("area", "length"):
            made += of("flow_l_h", item.value.value, clause, state, unknown_plot=False)
    if made and clause.items[0].kind == "method" and clause.items[0].text.split()[0] in _IRRIGATE:
        made = [*of("method", clause.items[0].value, clause, state, unknown_plot=False), *made]
    return made or None


_IRRIGATE = ("riego", "regamos")  # "riego por goteo con 2 goteros por planta" tells both


_SOURCES = words.named("sources")  # "my well makes 15 gallons a minute"


def _is_each(clause: Clause) -> bool:
    """ "por planta", "each", "por durazno"."""
    pairs = itertools.pairwise(clause.items)
    return clause.has("each") or any(one.kind == "per" and after.kind in ("plot", "name") for one, after in pairs)


def _counts_emitters(clause: Clause, place: int) -> bool:
    for item in clause.items[place + 1 : place + 4]:
        if item.kind in ("emitter", "each"):
            return True
        if item.kind not in ("quantity", "method", "word", "number"):
            return False
    return False


def rate(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    """A rate as told; a flow over an area; a depth in a time by the equipment."""
    rates = clause.quantities("rate")
    of_rain = clause.has("rain") and not clause.says(*_PRECIPITATION)
    if rates and not clause.quantities("duration") and not of_rain:
        return of("rate_mm_h", rates[0].value.value, clause, state, unknown_plot=False)
    flows, areas = clause.quantities("flow"), clause.quantities("area")
    if flows and areas and not clause.has("each", "number", "per"):
        return of("rate_mm_h", flows[0].value.value / areas[0].value.value, clause, state, unknown_plot=False)
    depths, times = clause.quantities("length"), clause.quantities("duration")
    linked = clause.says("in", "en", "every", "per", "cada", "por")
    timed = len(depths) == len(times) == 1 and clause.has("method", "emitter") and linked
    if timed and not clause.has("watered", "date", "rain") and times[0].value.value > 0:
        return of("rate_mm_h", depths[0].value.value * 60 / times[0].value.value, clause, state, unknown_plot=False)
    return None


def container(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    volumes = clause.quantities("volume")
    sized = _tells_size(clause)
    held = (
        sized or clause.has("container") or clause.says("the pots") or any(_in_vessel(clause, item) for item in volumes)
    )
    if not held or not volumes or clause.has("watered", "gave", "date") or (clause.has("each") and not sized):
        return None
    if clause.says("tank") and not clause.says("in", "en"):
        return None  # where the water comes from
    counted = [
        one.value
        for one, after in itertools.pairwise(clause.items)
        if one.kind == "number" and after.kind in ("plot", "name", "thing") and one.end < volumes[0].start
    ]
    count = of("count", float(counted[0]), clause, state, unknown_plot=clause.has("name")) if counted else []
    return [*count, *of("container_litres", volumes[0].value.value, clause, state, unknown_plot=clause.has("name"))]


def _tells_size(clause: Clause) -> bool:
    """ "tengo 8 macetas, de 20 litros cada una": of so many litres, and nothing done with them."""
    told = [item for item in clause.items if item.kind != "mark"][:2]
    return len(told) > 1 and told[0].text in ("de", "of") and told[1].kind == "quantity" and not clause.has("water")


def _in_vessel(clause: Clause, volume: Item) -> bool:
    """ "in 5 gal buckets", "en cubetas de 20 litros", "5 gal bucket on the deck": what the plant stands in."""
    place = clause.items.index(volume)
    before, after = clause.items[max(0, place - 3) : place], clause.items[place + 1 : place + 2]
    inside = any(item.text in ("in", "en", "inside") for item in before)
    stands = any(item.text in _STANDS_ON for item in clause.items[place:])
    held = any(item.text in _VESSELS for item in (*before[-2:], *after)) or volume.text.split()[-1] in _VESSELS
    return held and (inside or stands)


_STANDS_ON = words.named("stands_on")
_WATER = words.named("water_itself")
_VESSELS = words.named("vessels")


def probe(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    """What the instrument shows, when told as a fact: no reading stands beside it."""
    now = max((item.end for item in clause.items if item.text in _NOW), default=0)
    named = [item for item in clause.every("instrument") if item.value != "any" and item.start >= now]
    scale = _scale_of_ten(clause)
    if scale and clause.has("instrument", "reads"):
        return of("probe", "dial", clause, state, unknown_plot=False)
    dated = any(item.text not in _NOW for item in clause.every("date"))
    if dated or clause.has("number", "quantity", "slash", "feel", "watered", "rain"):
        return _one_of_a_unit(clause, state, found)
    if tagged_fit(found, "own") is not None and named:
        return of("probe", named[0].value, clause, state, unknown_plot=False)
    units = [item.value.split()[0] for item in clause.every("unit") if item.value.split()[0] in VALUES]
    if units and clause.has("instrument", "reads"):
        return of("probe", units[0], clause, state, unknown_plot=False)
    if (made := _one_of_a_unit(clause, state, found)) is not None:
        return made
    if named and len([item for item in clause.items if item.kind != "one"]) <= 2:
        return of("probe", named[0].value, clause, state, unknown_plot=False)
    return None


def _one_of_a_unit(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    """ "ahora uso uno de porcentaje", "me puso uno de esos de centibares a 18 pulgadas": what it shows, and where it sits."""
    units = [item.value.split()[0] for item in clause.every("unit") if item.value.split()[0] in VALUES]
    owned = tagged_fit(found, "own") is not None and clause.has("one")
    if len(units) != 1 or not owned or clause.has("number", "slash", "feel", "watered", "rain"):
        return None
    depths = [] if len(clause.quantities()) == 0 else lengths_cm(clause, state)
    if len(depths) != len(clause.quantities()):
        return None
    made = of("probe", units[0], clause, state, unknown_plot=False)
    return made + [one for depth in depths for one in of("probe_depth_cm", depth, clause, state, unknown_plot=False)]


_NOW = words.named("as_of_now")


def _scale_of_ten(clause: Clause) -> bool:
    words = " ".join(item.text for item in clause.items)
    return (
        re.search(r"\b(0|zero|cero|1|one)( a| to| al| -| hasta| thru| through) ?(el )?(10|ten|diez)\b", words)
        is not None
    )


_ARTICLES = words.named("between")
_LEADING_ON = frozenset({"in", "en", "on", "with", "near"})  # "drip in sandy loam"
_PRECIPITATION = words.named("precipitation")
_NOT_BURIED = words.named("not_buried")


def _values_follow(clause: Clause) -> bool:
    """ "tensiometers at 12 and 36 in the pecans, 30 and 22": as many figures after a comma are what they show."""
    comma = next((place for place, item in enumerate(clause.items) if item.is_mark(",")), 0)
    sides = [
        sum(item.kind in ("number", "quantity") for item in side)
        for side in (clause.items[:comma], clause.items[comma:])
    ]
    return comma > 0 and sides[0] == sides[1] > 1


def probe_depth(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    """ "probes at 12 and 24": where they sit, and no value beside it."""
    sensors = [item for item in clause.every("instrument") if item.text not in _NOT_BURIED]
    if not sensors or clause.quantities(*VALUES) or clause.has("feel", "rod", "watered", "rain"):
        return None
    pairs = itertools.pairwise(clause.items)
    counts = [item for item, after in pairs if item.kind == "number" and after.kind == "instrument"]
    if counts and not clause.quantities("length"):
        return None
    clause = replace(clause, items=tuple(item for item in clause.items if item not in counts))
    lengths = lengths_cm(clause, state)
    sits = tagged_fit(found, "sits") is not None or _is_of_a_probe(clause, lengths)
    if clause.says("gauge", "gage", "guage") and not (sits and clause.has("at", "deep")):
        return None
    loose = [item for item in clause.items if item.kind == "number"]
    united = clause.quantities("length")
    if not lengths or (
        not sits and not (united and not loose) and not (united and clause.has("at") and len(loose) < 1)
    ):
        return None
    if (
        (loose and united and not sits)
        or _has_values(clause)
        or _values_follow(clause)
        or (not united and not _may_be_depths(lengths, state))
    ):
        return None
    return [fact for length in lengths for fact in of("probe_depth_cm", length, clause, state, unknown_plot=False)]


def _is_of_a_probe(clause: Clause, lengths: list[float]) -> bool:
    """ "probe at 12": a probe sits at such a depth, where a gauge would show as much."""
    pairs = itertools.pairwise(clause.items)
    placed = any(item.text in _PROBES and after.kind == "at" for item, after in pairs)
    return placed and len(lengths) == 1 and lengths[0] <= _USUAL_CM


_PROBES = ("probe", "sensor", "sonda")
_USUAL_CM = 62.0


def _may_be_depths(lengths: list[float], state: State) -> bool:
    """Whether bare figures are depths that people bury probes at, and not what these show ("tensiometer's at 31")."""
    step = 2.54 if state.context.units == "us" else 5.0
    steps = [length / step for length in lengths]
    whole = all(abs(one - round(one)) < 1e-6 for one in steps)
    return whole and (state.context.units != "us" or all(round(one) % 2 == 0 or round(one) % 3 == 0 for one in steps))


def _has_values(clause: Clause) -> bool:
    """Whether a figure is told at a depth ("45 at 12"): then the clause gives readings."""
    pairs = itertools.pairwise(clause.items)
    return any(item.kind == "number" and (after.kind == "at" or after.text in ("a", "@")) for item, after in pairs)


_RAN = words.named("ran_then")


def method(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    told = clause.first("method")
    if told is None or clause.has("date", "sign", "rain", "neg", "plan", "number") or clause.quantities():
        return None
    place = clause.items.index(told) + 1
    if place < len(clause.items) and clause.items[place].kind == "interrogative" and not clause.has("plot", "name"):
        return None
    if clause.has("plot", "name") and clause.says(*_RAN):
        return None  # "ran the sprinklers on the lawn all morning"
    if clause.has("gave") and any(item.text in _WATER for item in clause.items):
        return None  # "les tire agua con la regadera"
    fit = tagged_fit(found, "method")
    said = [item for item in clause.items if item.kind not in ("word", "mark")]
    named = all(item in said or item.text in _ARTICLES | _LEADING_ON for item in clause.items)
    said = [item for item in said if item.kind != "one"]
    short = len(said) <= 2 and named and not clause.has("watered", "gave", "water")
    if fit is None and not short:
        return None
    return of("method", told.value, clause, state, unknown_plot=not clause.has("emitter"))
