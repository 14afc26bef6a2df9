"""Rain in the person's own words: how much on which day; "no rain" is 0, "rained hard" is an unknown depth."""

from __future__ import annotations

import itertools
from datetime import timedelta

from bot.understand import words
from bot.understand.clauses import Clause
from bot.understand.dates import BAD, When
from bot.understand.items import Item
from bot.understand.quantities import unit_size
from bot.understand.state import State, default_length_mm
from bot.understand.statements import Rain, Statement, Unclear

_CAUGHT_IN = words.named("caught_in")
_OF_WHAT_COMES = words.named("of_what_comes")
_SOME = words.named("some")
_IN_GAUGE = words.named("in_gauge")
_BY_NIGHT = words.named("by_night")
_NOON = 12
_PARTS = 16
_MOST_IN_GAUGE = 6.0
_MOST_INCHES = 20.0


def rains(clause: Clause, state: State) -> list[Statement] | None:
    """The rain that a clause reports, or None when it reports none."""
    depth = bool(clause.quantities("length")) and not clause.has("at", "deep") and not _is_buried(clause)
    gauge = clause.says("gauge", "gage", "guage") and (depth or _is_small(clause, state) or _is_empty(clause))
    drop = clause.says(*_NOT_A_DROP) and not clause.has("water", "watered", "gave", "plot", "name", "feel")
    runs_on = state.rained == clause.sentence and _only_goes_on(clause)
    state.rained = clause.sentence if runs_on or (clause.has("rain") and clause.has("date")) else -1
    if not (
        clause.has("rain")
        or runs_on
        or gauge
        or drop
        or _poured(clause)
        or _in_parts(clause)
        or _fell(clause)
        or _came_in_gauge(clause, state)
    ):
        return None
    if _is_of_pipes(clause):
        return None
    if _is_wished(clause) or (not clause.has("neg") and (clause.has("next") or _lies_ahead(clause))):
        return []
    state.plots = tuple(str(item.value) for item in clause.every("plot")) or state.plots
    found = _depths_and_days(clause, state)
    if any(when is not None and when.fault == "future" for _, when in found) and clause.has("plan"):
        return []
    if _is_doubtful(found, clause):
        return [Unclear(text=state.text[clause.start : clause.end])]
    made: list[Statement] = []
    by_night = clause.says(*_BY_NIGHT) and state.context.now.hour < _NOON
    for depth_mm, when in found:
        when = when or _day_of_reason(clause, state) or state.head_day
        when = when or (When(state.today - timedelta(days=1)) if by_night else None)
        if when is not None and when.fault in BAD:
            return [Unclear(text=state.text[clause.start : clause.end])]
        today = None if depth_mm and _is_of_days(clause) else state.today
        made.append(Rain(on=when.day if when is not None else today, depth_mm=depth_mm))
        state.fell = clause.sentence if depth_mm else state.fell
    return made


def _is_of_days(clause: Clause) -> bool:
    """ "en tres dias llovieron 40 mm": one depth of several days is of none of them."""
    seen = clause.has("span") or (clause.says("seguidos", "corridos", "straight") and clause.quantities("days"))
    return bool(seen) and any(item.text.split()[-1] in _SPANS for item in clause.every("span", "quantity"))


_SPANS = words.named("spans")


def _is_empty(clause: Clause) -> bool:
    """ "nothing in the gauge": no rain."""
    return clause.says("in", "en") and clause.has("neg") and not clause.has("plot", "reads", "ground", "number")


def _is_buried(clause: Clause) -> bool:
    """ "the 24 inch gauge says 15": a gauge in the soil, by its depth."""
    pairs = itertools.pairwise(clause.items)
    return any(
        item.kind == "quantity" and item.value.dimension == "length" and after.kind == "instrument"
        for item, after in pairs
    )


def _only_goes_on(clause: Clause) -> bool:
    """ "tues none, wed 0.15" after the rain of another day: a day with its depth, or with none."""
    told = {item.kind for item in clause.items}
    depths = all(item.value.dimension == "length" for item in clause.quantities())
    if clause.says(*_SKIPPED):
        return False  # "so I skipped friday"
    return (
        depths and "date" in told and bool(told & {"neg", "number", "quantity", "slash", "part"}) and told <= _GOES_ON
    )


_SKIPPED = ("skipped", "missed", "forgot", "forgot to")
_GOES_ON = frozenset({"date", "neg", "number", "quantity", "slash", "part", "word", "mark", "one"})


def _is_of_pipes(clause: Clause) -> bool:
    """ "les cayeron 2 horas de riego": what fell was let fall."""
    fell = all(item.text in _FALLEN for item in clause.every("rain"))
    return (
        fell and clause.has("rain") and any(item.text.startswith("rieg") for item in clause.every("water", "watered"))
    )


def _day_of_reason(clause: Clause, state: State) -> When | None:
    """ "didn't water monday because it rained": the rain is the reason, so it fell on that day."""
    return state.undone_day if clause.items[0].text in _BECAUSE else None


_BECAUSE = words.named("because")


def _is_wished(clause: Clause) -> bool:
    """ "hope it rains", "if it rains", "no rain in the forecast", "after the rain": no rain of a day is told."""
    rain = clause.first("rain")
    if clause.says(*_OF_WHAT_COMES):
        return not clause.has("neg") or clause.says(*_FORECASTS)
    if rain is None or clause.quantities("length"):
        return False
    if rain.text.split()[-1] in _MAY_FALL:
        return True
    before = [item for item in clause.items if item.start < rain.start]
    near = [item.text for item in before[-3:]]
    looks = rain.text in _RAIN_NOUNS and any(text in _LOOKS for text in near)
    follows = any(item.text in _RAIN_THINGS for item in clause.items if item.start > rain.start)
    return looks or follows or any(text in _WISHES for text in near)


_MAY_FALL = ("llueva", "lluevan", "lloviera", "lloviese")  # "riego aunque llueva"
_WISHES = words.named("wishes")
_LOOKS = words.named("looks")
_FORECASTS = words.named("weather")
_RAIN_NOUNS = words.named("rain_nouns")
_RAIN_THINGS = words.named("rain_things")


def _is_doubtful(found: list[tuple[float | None, When | None]], clause: Clause) -> bool:
    """Snow is no depth of rain, and one depth of two days belongs to neither."""
    days = {item.value for item in clause.every("date")}
    return (clause.says(*_SNOW) and found[0][0] not in (None, 0.0)) or (
        len(days) > len(found) and bool(found[0][0]) and not clause.has("between")
    )


_SNOW = words.named("snow")


def _fell(clause: Clause) -> bool:
    """ "half an inch fell", "we got a quarter inch": a depth that fell, or came to "us", without a word of watering."""
    if len(clause.quantities("length")) != 1 or len(clause.quantities()) != 1:
        return False
    if clause.has(
        "plot",
        "name",
        "thing",
        "all",
        "watered",
        "water",
        "method",
        "rod",
        "instrument",
        "at",
        "deep",
        "feel",
        "number",
    ):
        return False
    said = [item.text for item in clause.items]
    ours = said[0] in _GOT or bool(set(said[:3]) & _US)
    return bool(set(said) & _FALLEN) or (ours and bool(set(said) & _GOT))


_FALLEN = words.named("fallen")
_US = words.named("us")
_GOT = words.named("got")


def _poured(clause: Clause) -> bool:
    """ "poured for an hour yesterday": with nobody who pours and nothing poured, it is rain."""
    telling = (item for item in clause.items if item.kind not in ("chat", "date", "mark") and item.text not in _IT)
    opening = next(telling, None)
    if opening is None or opening.text not in _POURED or (opening.kind == "watered" and clause.quantities("duration")):
        return False
    return not clause.has("plot", "name", "thing", "each") and not clause.quantities("volume")


_NOT_A_DROP = words.named("not_a_drop")


def _in_parts(clause: Clause) -> bool:
    """ "we got a tenth", "two tenths monday": only rain is told in parts without a unit."""
    parts = [item for item in clause.items if item.text.split()[-1] in _TENTHS]
    return (
        bool(parts)
        and not clause.quantities()
        and not clause.has("plot", "name", "instrument", "watered", "reads", "feel")
    )


def _came_in_gauge(clause: Clause, state: State) -> bool:
    """ "got .3 mon night": a part of a whole that "we" or nobody got is rain."""
    opening = next(
        (item.text for item in clause.items if item.kind not in ("chat", "mark") and item.text not in _US), ""
    )
    return (
        opening in _GOT
        and _is_small(clause, state)
        and not clause.has("plot", "name", "all", "instrument", "reads", "watered", "at")
    )


_TENTHS = words.named("tenths")
_IT = words.named("it")
_POURED = words.named("poured")


def _lies_ahead(clause: Clause) -> bool:
    """ "it's supposed to rain 2 inches": told before the rain."""
    plan, rain = clause.first("plan"), clause.first("rain")
    return plan is not None and rain is not None and plan.start < rain.start


def _is_small(clause: Clause, state: State) -> bool:
    """ "gauge read 0.4": a part of an inch is rain, no tension."""
    slashes = clause.every("slash")
    if len(slashes) == 1 and not clause.has("number", "plot") and clause.says(*_IN_GAUGE):
        return _is_fraction(slashes[0], clause, state)
    figures = clause.every("number")
    return len(figures) == 1 and 0 < figures[0].value < _MOST_IN_GAUGE and figures[0].value != int(figures[0].value)


def _depths_and_days(clause: Clause, state: State) -> list[tuple[float | None, When | None]]:
    depths = [depth for item in clause.items if (depth := _depth_mm(item, clause, state)) is not None]
    days = [when for item in clause.items if (when := _day(item, clause, state)) is not None]
    if not depths:
        depths = [0.0] if _is_none(clause) else []
    if len(depths) > 1 and len(days) == len(depths):
        return list(zip(depths, days, strict=True))
    if len(days) > 1 and depths == [0.0] and _fell_then(clause):
        return [(0.0, days[0]), (None, days[-1])]
    if len(days) > 1 and len(depths) <= 1:
        depth = depths[0] if depths and depths[0] == 0.0 else None
        return [(depth, day) for day in days] if not depths or depth == 0.0 else [(depths[0], days[0])]
    return [(depths[0] if depths else None, days[0] if days else None)]


def _fell_then(clause: Clause) -> bool:
    """ "anoche no llovio, fue antier": the day told last is the one on which it rained."""
    pairs = itertools.pairwise(clause.items)
    return any(item.text in ("fue", "sino", "was") and after.kind == "date" for item, after in pairs)


def _depth_mm(item: Item, clause: Clause, state: State) -> float | None:
    if item.kind == "quantity":
        if item.value.dimension == "volume" and _is_on_a_square_metre(item, clause):
            return float(item.value.value)
        return float(item.value.value) if item.value.dimension == "length" else None
    if item.kind == "slash" and _is_fraction(item, clause, state):
        return default_length_mm(item.value[0] / item.value[1], state.context.units, deep=False)
    if item.kind == "part":
        return default_length_mm(float(item.value), state.context.units, deep=False)
    if item.kind == "number" and not clause.quantities("length") and (not clause.has("since") or item.value < 1):
        if item.value and (_is_none(clause) or (item.value > _MOST_INCHES and clause.has("reads"))):
            return None  # "no llovio marca 66": of the instrument, no depth of rain
        return default_length_mm(float(item.value), state.context.units, deep=False)
    if item.kind == "number" and (unit_mm := _run_on_mm(clause)) is not None:
        return float(item.value) * unit_mm
    return None


def _run_on_mm(clause: Clause) -> float | None:
    """ "20 mm el viernes y 5 el sabado": bare figures have the unit told once, where each has its day."""
    lengths = clause.quantities("length")
    dated = len(lengths) + len(clause.every("number")) == len(clause.every("date"))
    return unit_size(lengths[0]) if len(lengths) == 1 and dated and not clause.has("at", "neg") else None


def _is_on_a_square_metre(item: Item, clause: Clause) -> bool:
    """ "llovieron 12 litros": litres of rain are those on a square metre, which stand 1 mm deep each."""
    litres = item.text.split()[-1].startswith("l")
    return litres and not clause.has("plot", "name", "thing", "container", "watered", "gave")


def _is_fraction(item: Item, clause: Clause, state: State) -> bool:
    first, second = item.value[0], item.value[1]
    return (
        len(item.value) == 2
        and first < second
        and second in (2, 3, 4, 8, 10, _PARTS)
        and (not clause.quantities("length") or _is_no_day(item, state))
    )


def _is_no_day(item: Item, state: State) -> bool:
    """In July 1/4 is a quarter of an inch, beside another depth too, and no fourth of January."""
    when = state.day_of(item)
    return when is None or when.fault in BAD


def _day(item: Item, clause: Clause, state: State) -> When | None:
    if item.kind == "slash":
        return None if _is_fraction(item, clause, state) else state.day_of(item)
    if item.kind == "date" and item.text.startswith("hace") and item.text.endswith("que") and _is_none(clause):
        return When(state.today)  # "hace 5 dias que no llueve" tells how long, and no day of rain
    return item.value if item.kind == "date" else None


def _is_none(clause: Clause) -> bool:
    """Whether the rain is denied, and not only called little; "none since Sunday" tells of rain on Sunday."""
    if clause.says(*_CAUGHT_IN) and clause.says("empty", "vacio", "dry", "seco"):
        return True
    since = clause.has("since") and clause.has("date", "slash", "month")
    return clause.has("neg") and not since and not clause.says(*_SOME)
