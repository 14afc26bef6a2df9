"""Answers to the question that is still open: "the second one", "yes", "12", "clay I think", "I don't know".

A message that does not fit the question gives None and is read for what it says.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from statistics import fmean
from typing import Any

from bot.understand import words
from bot.understand.can_test import depths_mm, is_can_test
from bot.understand.clauses import Clause
from bot.understand.fact_slots import across_m2, lengths_cm
from bot.understand.items import Item, Quantity
from bot.understand.lexicon import vocabulary
from bot.understand.naming import named_thing
from bot.understand.plots import as_written, likeness
from bot.understand.rains import rains
from bot.understand.state import State, default_length_mm
from bot.understand.statements import Asked, Fact, Reading, Request, Statement
from bot.understand.tokens import fold
from bot.understand.waterings import waterings
from rules.units import LITRES_PER_GALLON, M2_PER_SQUARE_FOOT

_WANTS = frozenset(
    {"verdict", "amount", "when", "why", "graph", "season", "forecast", "list", "undo"}
    | {"person", "help", "start", "stop", "forget", "export", "remind", "other"}
)
_QUANTITIES = frozenset({"tension", "resistance", "percent", "dial"})
_BUSY = ("watered", "gave", "rain", "ask", "sign", "correct", "plan", "pest")


def _any(forms: frozenset[str]) -> str:
    """An expression that fits any of some forms, the longest first."""
    return "|".join(re.escape(form) for form in sorted(forms, key=len, reverse=True))


_REPORTING = ("watered", "gave", "rain", "sign", "correct", "plan", "pest")
_UNKNOWN = re.compile(rf"\b({_any(words.named('not_known'))})\b")
_YES = words.named("yes")
_NO = words.named("no")
_PLACES = {
    0: words.named("place_1"),
    1: words.named("place_2"),
    2: words.named("place_3"),
    3: words.named("place_4"),
    4: words.named("place_5"),
    5: words.named("place_6"),
    -1: words.named("place_last"),
}
_AROUND = words.named("around")
_LEADING = re.compile(rf"^\s*({_any(words.named('answer_leads'))})\s+", re.IGNORECASE)
_TRAILING = re.compile(rf"\s*,?\s+({_any(words.named('answer_tails'))})\s*$", re.IGNORECASE)
_LONGEST_NAME = 6


def answer(clause: Clause, state: State, asked: Asked) -> list[Statement] | None:
    """The fact, reading or request that answers the open question, or None."""
    said = re.findall(r"[^\W_]+", fold(state.text[:400]))
    if clause.asks or not said or len(said) > 25:
        return None
    if asked.about == "soil" and clause.has("soil") and clause.has("method"):
        state.plots = (asked.plot,) if asked.plot else ()  # "clay loam, drip": both of the plot asked about
        return None
    if _is_of_another_plot(clause, asked):
        return None
    chosen = _choice(said, clause, asked)
    if chosen is not None:
        return _given(asked, chosen, state)
    if says_unknown(clause, state):
        return [unknown(asked)]
    if asked.about in _WANTS:
        return _consent(said, asked)
    if asked.about in _QUANTITIES | {"reading", "feel", "rod", "rain", "watering", "minutes", "amount", "depth_cm"}:
        return _observed(clause, state, asked)
    if clause.has(*_BUSY) or (asked.about == "plant" and _is_told_of(clause, state)):
        return None
    find = _FINDERS.get(asked.about)
    value = find(clause, state) if find else None
    if value is None and asked.about == "stress":
        value = True if said[0] in _YES else False if said[0] in _NO else None
    if value is None and asked.choices == () and said[0] in _NO and len(said) <= 2:
        return []
    if value is None:
        return None
    values = value if asked.about == "probe_depth_cm" else [value]
    return [Fact(about=asked.about, value=one, plot=_plot(clause, asked)) for one in values]


def _is_of_another_plot(clause: Clause, asked: Asked) -> bool:
    """ "roses soil is clay and ...", asked of the lawn: to be read for what it says, when it says more than a name."""
    named = {str(item.value) for item in clause.every("plot")}
    return asked.plot is not None and bool(named) and asked.plot not in named and asked.about not in ("plot", "plant")


def _is_told_of(clause: Clause, state: State) -> bool:
    """ "back row is pears": of a place that is named, and so to be read for what it says."""
    place = next((place for place, item in enumerate(clause.items) if item.text in _COPULAS and place), 0)
    subject = replace(clause, items=clause.items[:place])
    return bool(place) and (subject.has("plot") or named_thing(subject, state.text) is not None)


_COPULAS = frozenset({"is", "are", "es", "son", "is all", "are all"})


def _plot(clause: Clause, asked: Asked) -> str | None:
    named = clause.first("plot")
    return str(named.value) if named is not None and asked.about != "plant" else asked.plot


def unknown(asked: Asked) -> Fact:
    """What was asked for is not known to the person either."""
    return Fact(about=asked.about, value="unknown", plot=asked.plot)


def says_unknown(clause: Clause, state: State) -> bool:
    """Whether a clause says that the person does not know."""
    said = re.findall(r"[^\W_]+", fold(state.text[clause.start : clause.end][:400]))
    if clause.has(*_REPORTING, "soil", "quantity", "number", "feel"):
        return False
    return len(said) <= 12 and _UNKNOWN.search(" ".join(said)) is not None


def _choice(said: list[str], clause: Clause, asked: Asked) -> str | None:
    """The choice that is meant by its place, its letter or its name; "yes" where there is but one."""
    if not asked.choices or clause.has("all"):
        return None  # "los dos" is no second one
    telling = [word for word in said if word not in _AROUND]
    if not telling and len(asked.choices) == 1 and any(word in _YES for word in said):
        return asked.choices[0]
    if len(telling) == 0 and said and said[-1] in ("one", "uno", "una"):
        telling = [] if said != ["one"] else ["one"]
    if len(telling) == 1:
        if telling[0] in words.named("place_middle") and len(asked.choices) == 3:
            return asked.choices[1]
        for place, forms in _PLACES.items():
            if telling[0] in forms and -len(asked.choices) <= place < len(asked.choices):
                return asked.choices[place]
        if telling[0] in _YES and len(asked.choices) == 1:
            return asked.choices[0]
    if len(telling) == 2 and telling[1] in ("last", "latter") and telling[0] == "second" and len(asked.choices) > 1:
        return asked.choices[-2]
    return _named_choice(said, clause, asked)


def _named_choice(said: list[str], clause: Clause, asked: Asked) -> str | None:
    busy = [kind for kind in _BUSY if kind != "correct" or asked.about != "plot"]
    if clause.has(*busy) or clause.quantities():
        return None
    pointed = [choice for choice in asked.choices if set(fold(choice).split("_")) & set(said)]
    if "one" in said and len(pointed) == 1:
        return pointed[0]
    told = {str(item.value) for item in clause.items if item.kind in ("soil", "feel", "method", "instrument", "plot")}
    if asked.about == "soil" and len(told) > 1:
        return None  # a mix is a texture that nobody named
    named = [choice for choice in asked.choices if choice in told]
    if not named and not told:
        whole = " ".join(said)
        named = [choice for choice in asked.choices if fold(choice).replace("_", " ") in whole]
        named = named or [choice for choice in asked.choices if _is_like(choice, said)]
    return named[0] if len(named) == 1 else None


def _is_like(choice: str, said: list[str]) -> bool:
    """Whether a word said is a word of the choice, as a plural or in the other language."""
    parts = [part for part in fold(choice).replace("_", " ").split() if len(part) > 3]
    return any(likeness(word, part) > 1 for word in said for part in parts)


def _given(asked: Asked, chosen: str, state: State) -> list[Statement]:
    if asked.about == "plot":
        state.plots = (chosen,)
        return [Fact(about="plot", value=chosen, plot=chosen)]
    if asked.about in ("feel", "reading") and chosen in ("dry", "slightly_moist", "moist", "wet", "free_water"):
        return [Reading(quantity="feel", value=chosen, plot=asked.plot, on=state.today)]
    if asked.about in _WANTS:
        return [Request(want=asked.about, plot=asked.plot)]
    return [Fact(about=asked.about, value=chosen, plot=asked.plot)]


def _consent(said: list[str], asked: Asked) -> list[Statement] | None:
    if said[0] in _YES and len(said) <= 4:
        return [Request(want=asked.about, plot=asked.plot)]
    return [] if said[0] in _NO and len(said) <= 3 else None


def _only_number(clause: Clause) -> Item | None:
    """The one figure of a clause that has no other figure or quantity."""
    figures = [item for item in clause.items if item.kind in ("number", "quantity", "slash")]
    return figures[0] if len(figures) == 1 and figures[0].kind == "number" else None


def _observed(clause: Clause, state: State, asked: Asked) -> list[Statement] | None:
    """A figure asked for as a reading, rain or watering. Anything with a unit of its own reads as usual."""
    feel = clause.first("feel")
    if asked.about in ("feel", "reading") and feel is not None and not clause.has(*_BUSY, "plot", "number", "quantity"):
        return [Reading(quantity="feel", value=str(feel.value), plot=asked.plot, on=state.today)]
    if asked.about in ("rain", *_AMOUNTS):
        return _event(clause, state, asked)
    figure = _only_number(clause)
    if figure is None or clause.has(*_BUSY, "at", "plot", "date"):
        return None
    value, plot, units = float(figure.value), asked.plot, state.context.units
    depth_cm = default_length_mm(value, units, deep=True) / 10
    if asked.about in _QUANTITIES or (asked.about == "reading" and state.context.probe):
        quantity = asked.about if asked.about != "reading" else str(state.context.probe)
        return [Reading(quantity=quantity, value=value, plot=plot, on=state.today)]
    if asked.about == "rod":
        return [Reading(quantity="rod", value=depth_cm, plot=plot, on=state.today)]
    return [Fact(about="probe_depth_cm", value=depth_cm, plot=plot)] if asked.about == "depth_cm" else None


_AMOUNTS = ("watering", "minutes", "amount")


def _event(clause: Clause, state: State, asked: Asked) -> list[Statement] | None:
    """Rain or a watering told by its day and amount alone, read as if its verb were told too: "half an inch", "yesterday"."""
    telling = {"number", "quantity", "slash", "date", "part"} | ({"neg", "filler"} if asked.about == "rain" else set())
    if not clause.has(*telling) or clause.has(*_BUSY, "plot", "at", "reads") or clause.quantities(*_QUANTITIES):
        return None
    state.plots = (asked.plot,) if asked.plot and asked.about != "rain" else ()
    if asked.about == "rain":
        return rains(_with_verb(clause, "rain"), state)
    figure = _only_number(clause)
    if figure is not None:
        minutes = replace(figure, kind="quantity", value=Quantity("duration", float(figure.value)))
        clause = replace(clause, items=tuple(minutes if item is figure else item for item in clause.items))
    return None if clause.has("neg") else waterings(_with_verb(clause, "watered"), state)


def _with_verb(clause: Clause, kind: str) -> Clause:
    return replace(clause, items=(*clause.items, Item(kind, None, kind, clause.end, clause.end)))


Finder = Callable[[Clause, State], Any]


def _figure(dimension: str, us: float, metric: float) -> Finder:
    """A finder of one figure: with its unit, else in the unit of the person's system, given in the base unit."""

    def find(clause: Clause, state: State) -> float | None:
        told = clause.quantities(dimension)
        others = [item for item in clause.every("quantity") if item not in told]
        if len(told) == 1 and not others:
            return float(told[0].value.value) * (0.1 if dimension == "length" else 1.0)
        figure = _only_number(clause)
        one = any(item.text in _ONE for item in clause.items) and not clause.has("number", "quantity", "slash")
        if (figure is None and not one) or clause.has("at", "feel"):
            return None
        return float(figure.value if figure is not None else 1.0) * (us if state.context.units == "us" else metric)

    return find


_ONE = ("one", "uno", "una", "un")


def _rate(clause: Clause, state: State) -> float | None:
    units = state.context.units
    minutes = clause.quantities("duration")
    if is_can_test(clause.items, units) and minutes:
        return fmean(depths_mm(clause.items, units)) * 60 / float(minutes[0].value.value)
    lengths = clause.quantities("length")
    if len(lengths) == 1 and len(minutes) < 2 and all(one.value.value > 0 for one in minutes):
        hours = float(minutes[0].value.value) / 60 if minutes else 1.0
        return float(lengths[0].value.value) / hours
    rate: float | None = None if minutes else _figure("rate", 25.4, 1.0)(clause, state)
    return rate


def _tag(kind: str) -> Finder:
    def find(clause: Clause, state: State) -> str | None:
        named = {str(item.value) for item in clause.every(kind)}
        return None if len(named) != 1 or clause.quantities() else named.pop()

    return find


_NEEDLES = words.named("needle_meters")


def _probe(clause: Clause, state: State) -> str | None:
    if clause.has("number", "quantity"):
        return None
    named = [str(item.value) for item in clause.every("instrument") if item.value != "any"]
    named += ["dial" for item in clause.every("instrument") if item.text in _NEEDLES]
    named += [item.value.split()[0] for item in clause.every("unit") if item.value.split()[0] in _QUANTITIES]
    return named[0] if named else None


def _depths_cm(clause: Clause, state: State) -> list[float] | None:
    if clause.has("feel", "instrument", "plot") or clause.quantities(*_QUANTITIES):
        return None
    return lengths_cm(clause, state) or None


def _area(clause: Clause, state: State) -> float | None:
    found: float | None = across_m2(clause, state) or _figure("area", M2_PER_SQUARE_FOOT, 1.0)(clause, state)
    return found


def _units(clause: Clause, state: State) -> str | None:
    named = [item.value.split()[2] for item in clause.every("unit")]
    return None if not named else "us" if named[0] in _US_UNITS else "metric"


_US_UNITS = ("inch", "foot", "yard", "gallon", "quart", "fahrenheit", "square", "acre")


def _planted(clause: Clause, state: State) -> str | None:
    days = [when for item in clause.items if (when := state.day_of(item)) is not None and when.day is not None]
    return days[0].day.isoformat() if days and days[0].day and days[0].fault in ("", "old") else None


def _days(clause: Clause, state: State) -> list[str] | None:
    days = [item.value.day for item in clause.every("date") if item.value.day is not None]
    named = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
    return list(dict.fromkeys(named[day.weekday()] for day in days)) or None


def _flow(clause: Clause, state: State) -> float | None:
    """A flow, or a volume that is told for the one of an hour."""
    found: float | None = _figure("flow", LITRES_PER_GALLON, 1.0)(clause, state)
    return found if found is not None else _figure("volume", LITRES_PER_GALLON, 1.0)(clause, state)


def _words(clause: Clause, state: State) -> str | None:
    """A short answer in the person's own words."""
    if clause.has("number", "quantity", "instrument", "neg", "chat", "reads") and not clause.has("name", "plot"):
        return None
    if clause.has("quantity", "number") or (clause.has("feel", "date") and not _has_proper_name(clause, state)):
        return None
    alone = clause.end >= len(state.text.rstrip(" .!?,;"))
    said = _TRAILING.sub("", as_written(state.text if alone else state.text[: clause.end]))
    for _ in range(4):
        said = _LEADING.sub("", said)
    said = as_written(said)
    return said if said and len(said.split()) <= _LONGEST_NAME and "\n" not in said else None


def _has_proper_name(clause: Clause, state: State) -> bool:
    """Whether the words are a name all the same ("Dry Fork"): capitals, or a word that no list knows."""
    unknown = any(item.kind == "word" and item.text not in vocabulary() for item in clause.items)
    return unknown or (len(clause.items) > 1 and state.text.istitle())


def _place(clause: Clause, state: State) -> str | None:
    coordinates = clause.first("coordinates")
    if coordinates is not None:
        return str(coordinates.value)
    digits = re.search(r"(?<![\d.])\d{5}(?![\d.])", state.text[:200])
    if digits and len(clause.every("number")) <= 2:
        return digits.group()
    return _words(clause, state) or _address(clause, state)


def _address(clause: Clause, state: State) -> str | None:
    """ "4207 elm", "120 Oak St": the number of a house and its street, which no count of plants is."""
    first, *rest = clause.items
    number = first.kind == "number" and first.text.isdigit() and float(first.value) >= _SMALLEST_HOUSE
    words_of_it = [item for item in rest if item.kind in ("word", "name", "thing", "mark")]
    one = bool(rest) and not rest[-1].text.endswith("s")
    return as_written(state.text) if number and one and len(words_of_it) == len(rest) <= _LONGEST_NAME else None


_SMALLEST_HOUSE = 100


_FINDERS: dict[str, Finder] = {
    "soil": _tag("soil"),
    "method": _tag("method"),
    "probe": _probe,
    "plant": _words,
    "place": _place,
    "stage": _words,
    "new_plot": _words,
    "plot": _tag("plot"),
    "root_depth_cm": _figure("length", 2.54, 1.0),
    "probe_depth_cm": _depths_cm,
    "units": _units,
    "trunk_cm": _figure("length", 2.54, 1.0),
    "rate_mm_h": _rate,
    "emitters_each": _figure("", 1.0, 1.0),
    "count": _figure("", 1.0, 1.0),
    "flow_l_h": _flow,
    "area_m2": _area,
    "container_litres": _figure("volume", LITRES_PER_GALLON, 1.0),
    "most_litres_a_day": _figure("volume", LITRES_PER_GALLON, 1.0),
    "planted_on": _planted,
    "water_days": _days,
}
