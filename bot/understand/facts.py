"""Facts about the person and the plots: soil, plant, place, equipment, sizes, dates. A short list of rules, the first that fits."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

from bot.understand import counts, equipment, words
from bot.understand.clauses import Clause
from bot.understand.counts import thing_after
from bot.understand.dates import is_weekday
from bot.understand.fact_slots import VALUES, across_m2, lengths_cm, of, tagged_fit
from bot.understand.items import Item
from bot.understand.lexicon import vocabulary
from bot.understand.naming import is_name
from bot.understand.patterns import Fit, fits
from bot.understand.planting import planting_day, tells_month
from bot.understand.plots import as_written, own_name
from bot.understand.requests import is_question
from bot.understand.state import State
from bot.understand.statements import Fact, Statement, Unclear
from bot.understand.tokens import fold

_DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_NO_PLACE = ("watered", "gave", "feel", "soil", "instrument", "quantity", "plan", "sign", "stage", "plot", "name")

Rule = Callable[[Clause, State, list[Fit]], list[Statement] | None]


def facts(clause: Clause, state: State) -> list[Statement] | None:
    """The facts that a clause states, or None."""
    if clause.asks or clause.has("pest") or is_question(clause):
        return None
    told = clause.first("coordinates", "postal", "town")
    if told is not None:
        return _place_and_rest(told, clause, state)
    return _first_of((_place, *_RULES), clause, state)


def _first_of(rules: tuple[Rule, ...], clause: Clause, state: State) -> list[Statement] | None:
    found = fits(clause.texts(), state.language)
    return next((made for rule in rules if (made := rule(clause, state, found)) is not None), None)


def _place_and_rest(told: Item, clause: Clause, state: State) -> list[Statement]:
    """Coordinates, a postal code or a town with its state, which need no word before them, and what is told beside."""
    place = Fact(about="place", value=told.text if told.kind == "postal" else str(told.value))
    others = tuple(item for item in clause.items if item is not told)
    rest = _first_of(_RULES, replace(clause, items=others), state) if others else None
    return [place, *(rest or [])] if told is clause.items[0] else [*(rest or []), place]


def water_days(clause: Clause, state: State) -> list[Statement] | None:
    """Days on which water is allowed, told before anything in the clause can be taken for a question."""
    if clause.asks or not clause.has("date") or clause.has("neg"):
        return None
    return _water_days(clause, state, fits(clause.texts(), state.language))


def settings(clause: Clause, state: State) -> list[Statement] | None:
    """Language and units, told or asked for; never tied to a plot."""
    if clause.quantities():
        return None
    for fit in fits(clause.texts(), state.language):
        if fit.tag in ("language", "units"):
            return [Fact(about=fit.tag, value=fit.value)]
    return None


def _after(clause: Clause, fit: Fit, state: State) -> str:
    """The words of a clause after what a pattern took, as written."""
    spelled = clause.spelled()
    start = fit.end
    while start < len(spelled) and spelled[start][0] in (":", "is", "es", "="):
        start += 1
    if start >= len(spelled):
        return ""
    return as_written(state.text[spelled[start][1] : clause.end])


def new_plot(clause: Clause, state: State) -> list[Statement] | None:
    """A new plot by its name; it governs what follows, in the same clause too."""
    fit = None if clause.asks else tagged_fit(fits(clause.texts(), state.language), "new_plot")
    spelled = clause.spelled()
    if fit is None or fit.end >= len(spelled) or _is_called_so_much(clause, spelled[fit.start : fit.end + 1]):
        return None
    named, rest = _name_and_rest([item for item in clause.items if item.start >= spelled[fit.end][1]])
    numbered = bool(named) and named[0].kind == "number"
    start = spelled[fit.end - 1][1] if numbered else named[0].start if named else 0
    name = as_written(state.text[start : named[-1].end]) if named else ""
    name = _BEFORE_A_NAME.sub("", name)
    if not name:
        return None
    name = own_name(name, state.context.plots)
    state.plots, state.new_plot = (name,), name
    more = facts(replace(clause, items=tuple(rest)), state) if rest else None
    return [Fact(about="new_plot", value=name, plot=name), *(more or [])]


def _is_called_so_much(clause: Clause, spelled: list[tuple[str, int, int]]) -> bool:
    """ "call it .05", "call it a tenth": about so much, and no name."""
    called = next((item for item in clause.items if item.start >= spelled[-1][1] and item.kind != "one"), None)
    return spelled[0][0] == "call" and called is not None and called.kind in ("number", "quantity", "part", "slash")


def _name_and_rest(items: list[Item]) -> tuple[list[Item], list[Item]]:
    """The items of a name, up to a comma or to what tells more of it, and those after."""
    while items and items[0].text in (":", "is", "es", "="):
        items = items[1:]
    for place, item in enumerate(items):
        if place and (item.is_mark(",", ";", "(") or item.text in _AFTER_A_NAME):
            return items[:place], items[place + 1 :]
        if place and item.kind in _TOLD_OF_IT:
            return [one for one in items[:place] if one is not items[place - 1] or one.text not in _ARTICLES], items[
                place:
            ]
    return items, []


_BEFORE_A_NAME = re.compile(r"^(?:(?:the|my|called|named|los|las|el|la|llamad[oa]|mis?)\s+)+", re.IGNORECASE)
_TOLD_OF_IT = ("ground", "soil", "method", "planted", "zip", "instrument")
_ARTICLES = ("the", "la", "el", "and", "y")
_AFTER_A_NAME = words.named("after_a_name")


def _place(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    fit = tagged_fit(found, "zip")
    if fit is not None:
        digits = re.search(r"(?<!\d)\d{5}(?!\d)", state.text[clause.start : clause.end])
        spoken = [f"{int(item.value):05d}" for item in clause.every("number") if _is_spoken_code(item)]
        if digits or spoken:
            return [Fact(about="place", value=digits.group() if digits else spoken[0])]
    sure = tagged_fit(found, "place")
    fit = sure or tagged_fit(found, "near")
    said = _after(clause, fit, state) if fit else ""
    if (sure is None and not _looks_like_place(said)) or said.split(" ")[0] in _HOUSED:
        return None
    if not said or (not said.istitle() and clause.has(*_NO_PLACE)):
        return None
    digits = re.fullmatch(r"(?:el |the |zip )?(\d{5})(-\d{4})?", said)
    return [Fact(about="place", value=digits.group(1) if digits else said)]


_HOUSED = ("a", "an", "on", "un", "una")  # "I live in a third floor flat"


def _is_spoken_code(item: Item) -> bool:
    """ "eight zero two nine nine": a postal code read out digit by digit."""
    return len(item.text.split()) == 5


def _looks_like_place(said: str) -> bool:
    """Whether words after "I'm in" can be a place: a capital, five digits, or no word that any list knows."""
    if said[:1].isupper() or re.fullmatch(r"(?:el |the |zip )?\d{5}(-\d{4})?", said):
        return True
    return all(fold(word) not in vocabulary() for word in re.findall(r"[^\W\d_]+", said)) and not any(
        sign.isdigit() for sign in said
    )


def _water_days(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    dates = clause.every("date")
    days = [item.value.day for item in dates if item.value.day is not None]
    if (
        not days
        or not all(is_weekday(item) for item in dates)
        or clause.has("watered", "gave", "number")
        or clause.quantities()
        or tagged_fit(found, "water_days") is None
    ):
        return None
    named = list(dict.fromkeys(_DAYS[day.weekday()] for day in days))
    return of("water_days", named, clause, state, unknown_plot=False)


def _stress(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    told = clause.every("stress")
    held = clause.says(*_HOLDS) and any(item.value == "dry" for item in clause.every("feel"))
    if held and clause.has("plot", "name", "all") and not clause.has("neg", "number", "quantity"):
        return of("stress", True, clause, state)
    if not told or (clause.has("quantity") and not clause.has("plot")):
        return None
    value = not any(item.value == "false" for item in told) and not _is_before(clause, "neg", told[0])
    return of("stress", value, clause, state)


_HOLDS = words.named("holds_dry")


def _is_before(clause: Clause, kind: str, item: Item) -> bool:
    return any(one.start < item.start for one in clause.every(kind))


def _soil(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    told = [item for place, item in enumerate(clause.items) if item.kind == "soil" and not _denied(clause, place)]
    if clause.has("watered", "gave", "feel") or clause.quantities("duration", "volume", *VALUES):
        return None
    if clause.has("soil") and not told:
        return []
    if len({item.value for item in told}) > 1:
        return [Unclear(text=as_written(state.text[clause.start : clause.end]))]  # a mix is a texture that nobody named
    if told:
        return of("soil", told[0].value, clause, state)
    if clause.has("soilword") and clause.has("ground"):
        return [Unclear(text=as_written(state.text[clause.start : clause.end]))]
    return None


def _denied(clause: Clause, place: int) -> bool:
    return any(item.kind == "neg" for item in clause.items[max(0, place - 2) : place])


def _roots(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    lengths = lengths_cm(clause, state)
    stopped = len(lengths) == 1 and clause.says(*_ROOT_STOPS) and not clause.has("rod", "watered", "gave", "neg")
    if not (clause.has("root") or stopped) or not lengths or clause.quantities(*VALUES) or clause.has("feel"):
        return None
    return of("root_depth_cm", lengths[0], clause, state)


_ROOT_STOPS = words.named("root_stops")


def _trunk(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    lengths = lengths_cm(clause, state)
    if not clause.has("trunk") or len(lengths) != 1 or clause.has("watered", "feel"):
        return None
    return of("trunk_cm", lengths[0], clause, state)


def _planted(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    went_in = clause.says("went in", "se metieron") and clause.has("plot", "name")
    planted = clause.has("planted") or went_in or tagged_fit(found, "planted") is not None
    dated = clause.has("date", "slash") or tells_month(clause, state)
    if not planted or not dated or clause.quantities("length") or clause.has("instrument", "method", "emitter"):
        return None
    day = planting_day(clause, state)
    counted = [
        item.value for place, item in enumerate(clause.items) if item.kind == "number" and thing_after(clause, place)
    ]
    if day is None and counted and clause.has("ago", "date"):
        return of("count", float(counted[0]), clause, state)  # how many is plain where the day is not
    if day is None:
        return [Unclear(text=as_written(state.text[clause.start : clause.end]))]
    count = of("count", float(counted[0]), clause, state) if state.new_plot and counted else []
    return [*count, *of("planted_on", day.isoformat(), clause, state), *(_soil(clause, state, found) or [])]


_NARROWEST = 3.0  # feet or metres


def _area(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    narrow = any(float(item.value) < _NARROWEST for item in clause.every("number"))  # "2x15" may be runs of minutes
    across = None if clause.quantities() or narrow else across_m2(clause, state)
    if across is not None and clause.has("plot", "thing", "name") and not clause.has("watered", "gave", "date"):
        return of("area_m2", across, clause, state)
    areas = clause.quantities("area")
    if areas and not clause.has("watered") and not clause.quantities("volume", "duration", "flow"):
        return of("area_m2", areas[0].value.value, clause, state)
    return None


def _stage(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    if clause.items[0].text in _CHANGES:
        return None  # "change nursery to seedlings"
    told = next((item for item in clause.every("stage") if not _is_awaited(clause, item)), None)
    if told is None or clause.quantities() or clause.has("watered", "neg", "plan", "number", "gave"):
        return None
    if not clause.has("plot", "name", "all") and tagged_fit(found, "is") is None and len(clause.items) > 3:
        return None
    return of("stage", as_written(state.text[told.start : told.end]), clause, state)


_CHANGES = words.named("changing")


def _is_awaited(clause: Clause, stage: Item) -> bool:
    """ "dry til veraison": not yet."""
    place = clause.items.index(stage)
    return any(item.text in _AWAITS for item in clause.items[max(0, place - 2) : place])


_AWAITS = words.named("awaits")


def _plant(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    """ "lower terrace is planted in cherries", "I grow tomatoes"."""
    fit = tagged_fit(found, "plant")
    if fit is None or clause.has("number", "quantity", "date", "watered", "gave", "feel", "sign", "neg", "plan"):
        return None
    taken = clause.spelled()[fit.start][1]
    names = _first_names([item for item in clause.items if item.start >= taken])
    if not names:
        return None
    value = as_written(state.text[names[0].start : names[-1].end])
    known = [item for item in clause.every("plot") if item not in names]
    if not known and any(item.kind == "plot" for item in names):
        return None  # what the person waters under that name already: "it's me, the old fool with the peaches"
    copula = clause.spelled()[fit.start][0] in _COPULAS
    subject = [item for item in clause.items if item.start < taken and is_name(item)]
    if known:
        state.plots = (str(known[0].value),)
    elif copula and not subject and not (state.plots and clause.says(*_PRONOUNS)):
        return None
    elif subject:
        state.plots = (as_written(state.text[subject[0].start : subject[-1].end]),)
    if value.casefold() == (state.plot or "").casefold():
        return None
    return [Fact(about="plant", value=value, plot=state.plot)]


def _plant_instead(clause: Clause, state: State, found: list[Fit]) -> list[Statement] | None:
    """ "its peppers not tomatoes": another plant grows in the plot named."""
    told = [item for item in clause.items if item.kind not in ("word", "mark", "one", "chat")]
    if [item.kind for item in told[-3:]] != ["name", "neg", "plot"] or not clause.says(*_PRONOUNS) or len(told) > 4:
        return None
    state.plots = (str(told[-1].value),)
    return [Fact(about="plant", value=as_written(state.text[told[-3].start : told[-3].end]), plot=state.plot)]


def _first_names(items: list[Item]) -> list[Item]:
    """The first run of names of plants, past words of place and any other words."""
    named: list[Item] = []
    for item in items:
        if item.kind in ("name", "plot") and item.text not in words.kinds_of_place():
            named.append(item)
        elif named and not (item.kind == "word" and item.text in ("and", "y", "de", "trees")):
            break
    return named


_COPULAS = words.named("copulas")
_PRONOUNS = words.named("pronouns")

_RULES: tuple[Rule, ...] = (
    _stress,
    _planted,
    _trunk,
    _roots,
    equipment.most,
    equipment.rate,
    equipment.emitters,
    equipment.container,
    _area,
    _soil,
    equipment.probe,
    equipment.probe_depth,
    equipment.method,
    counts.count,
    _stage,
    _plant_instead,
    _plant,
)
