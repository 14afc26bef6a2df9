"""Numbers with units: quantities, and what they make together (1 h 30 min, 3 x 20 min, gallons an hour, 4 x 8 ft)."""

from __future__ import annotations

from bot.understand import words
from bot.understand.items import Item, Quantity, Row, at, joined, kind_at, text_at
from bot.understand.lexicon import matching, unit_forms
from bot.understand.numbers import starts_unit
from rules.units import celsius

_MINUTES_FROM_M = 5.0  # "30 m" are minutes, "1 m" is a metre
_ARTICLES = words.named("quantities_articles")
_AT = words.named("at")
_BASE = {"hour": 60.0, "minute": 1.0, "day": 1440.0}


def quantity(units: str):  # type: ignore[no-untyped-def]
    """The rule for number + unit; `units` settles degrees without a letter."""

    def rule(row: Row, place: int) -> tuple[Item, int] | None:
        if kind_at(row, place) != "number":
            return None
        unit_at = place + 1 + _is_hyphen(row, place + 1)
        if not starts_unit(row, unit_at):
            return None
        term = matching(unit_forms(), row, unit_at)
        assert term is not None
        dimension, factor, name = term.value.split()
        value = row[place].value
        used = unit_at - place + len(term.words)
        stretch = [row[place], *row[unit_at : place + used]]
        if _is_preposition(row, place, stretch):
            return None
        if not _believable(stretch, value):
            return None
        if stretch[-1].text == "m" and value >= _MINUTES_FROM_M and not _is_across(row, place):
            dimension, factor = "duration", "1"
        value, more = _with_part(row, place + used, value)
        used += more
        size = _in_base(dimension, name, value * float(factor), units)
        return joined("quantity", Quantity(dimension, size), row[place : place + used]), used

    return rule


def _is_across(row: Row, place: int) -> bool:
    """ "20 x 10 m": metres; so many runs of minutes are fewer, "3 x 20 m"."""
    first, link = at(row, place - 2), at(row, place - 1)
    linked = link is not None and (link.text in ("x", "por") or link.kind == "by")
    return linked and first is not None and first.kind == "number" and bool(first.value >= _MINUTES_FROM_M)


def _is_hyphen(row: Row, place: int) -> bool:
    """The mark in "15-minute"."""
    mark, unit = at(row, place), at(row, place + 1)
    if mark is None or unit is None or not (mark.is_mark("-") and mark.glued and unit.glued):
        return False
    return len(unit.text) > 1


def _is_preposition(row: Row, place: int, stretch: Row) -> bool:
    """ "45 in the peaches": a loose "in" before an article, a name or a stretch of time is no inch."""
    last = stretch[-1]
    if last.text != "in" or last.glued or len(stretch) != 2:
        return False
    after = place + 2
    if stretch[0].value < _MOST_INCHES_AN_HOUR and _in_one(row, after) is not None:
        return False  # ".4 in an hour" is as much with the inch as without
    if text_at(row, after) in _ARTICLES or kind_at(row, after) in ("plot", "ground", "month"):
        return True
    if kind_at(row, after) == "number" and starts_unit(row, after + 1):
        unit = matching(unit_forms(), row, after + 1)
        return unit is not None and unit.value.startswith(("duration", "days"))
    return False


_MOST_INCHES_AN_HOUR = 3.0


def _believable(stretch: Row, value: float) -> bool:
    """Marks and single letters are units only where they can be meant so."""
    unit = stretch[1]
    if unit.text in ("'", '"'):
        return unit.glued
    if unit.text == "k" and len(stretch) == 2:
        return unit.glued or value < 100
    if unit.text in ("c", "f") and len(stretch) == 2:
        return True
    return True


def _with_part(row: Row, place: int, value: float) -> tuple[float, int]:
    """ "2 hours and a half", "pulgada y cuarto": the part counts of the same unit."""
    if text_at(row, place) not in ("and", "y"):
        return value, 0
    part = place + 1 + (kind_at(row, place + 1) == "one")
    parts = at(row, part)
    of_it = parts is not None and parts.kind == "number" and 0 < parts.value < 1 and not set(parts.text) & {".", ","}
    if parts is not None and of_it and not starts_unit(row, part + 1):
        return value + float(parts.value), part + 1 - place
    if kind_at(row, part) != "part" or starts_unit(row, part + 1):
        return value, 0
    return value + float(row[part].value), part + 1 - place


def _in_base(dimension: str, name: str, value: float, units: str) -> float:
    if dimension != "temperature":
        return abs(value) if dimension == "tension" else value
    fahrenheit = name == "fahrenheit" or (name == "degree" and units == "us")
    return celsius(value) if fahrenheit else value


def one_more(row: Row, place: int) -> tuple[Item, int] | None:
    """ "otro litro", "another half gallon", "una hora mas": one of the unit."""
    if text_at(row, place) not in _ONE_MORE or not starts_unit(row, place + 1):
        return None
    term = matching(unit_forms(), row, place + 1)
    assert term is not None
    dimension, factor, _ = term.value.split()
    if dimension not in ("duration", "volume"):
        return None
    end = place + 1 + len(term.words)
    return joined("quantity", Quantity(dimension, float(factor)), row[place:end]), end - place


_ONE_MORE = ("otro", "otra", "another")


def bare_unit(row: Row, place: int) -> tuple[Item, int] | None:
    """ "hora y media", "pulgada y media": one of the unit and a part, with no number said."""
    if kind_at(row, place) != "word" or not starts_unit(row, place) or kind_at(row, place - 1) == "number":
        return None
    term = matching(unit_forms(), row, place)
    assert term is not None
    dimension, factor, _ = term.value.split()
    value, used = _with_part(row, place + len(term.words), 1.0)
    if not used:
        return None
    end = place + len(term.words) + used
    return joined("quantity", Quantity(dimension, value * float(factor)), row[place:end]), end - place


_BELOW_ZERO = words.named("below_zero")


def negative(row: Row, place: int) -> tuple[Item, int] | None:
    """A minus sign before a number at the start of a stretch."""
    sign, figure = at(row, place), at(row, place + 1)
    if sign is not None and figure is not None and figure.kind == "number" and sign.text in _BELOW_ZERO:
        return joined("number", -figure.value, row[place : place + 2]), 2
    if sign is None or figure is None or not sign.is_mark("-") or figure.kind != "number" or not figure.glued:
        return None
    if sign.glued and place > 0 and kind_at(row, place - 1) != "mark":
        return None
    return joined("number", -figure.value, row[place : place + 2]), 2


def _is(item: Item | None, dimension: str) -> bool:
    return item is not None and item.kind == "quantity" and item.value.dimension == dimension


def together(row: Row, place: int) -> tuple[Item, int] | None:
    """1 h 30 min, 2 hours and 15 minutes, 1h30, 5 ft 6 in."""
    first = at(row, place)
    if first is None or first.kind != "quantity" or first.value.dimension not in ("duration", "length"):
        return None
    link = 1 + (text_at(row, place + 1) in ("and", "y", "con"))
    second = at(row, place + link)
    if second is None:
        return None
    whole = first.value
    if (
        first.value.dimension == "duration"
        and second.kind == "number"
        and ((second.glued and link == 1) or _ends_hours(row, place + link + 1, whole.value))
        and second.value < 60
    ):
        end = place + link + 1
        return joined("quantity", Quantity("duration", whole.value + second.value), row[place:end]), link + 1
    if not _is(second, whole.dimension):
        return None
    hours = whole.dimension == "duration" and whole.value >= 60 > second.value.value > 0
    feet = whole.dimension == "length" and "f" in first.text and second.text.split()[-1].startswith("in")
    bigger = hours or (feet and second.value.value < 304.8)
    if not bigger or whole.value % (60 if whole.dimension == "duration" else 304.8):
        return None
    return joined(
        "quantity", Quantity(whole.dimension, whole.value + second.value.value), row[place : place + link + 1]
    ), link + 1


def _ends_hours(row: Row, place: int, minutes: float) -> bool:
    """Whether "1 h 20" ends here: with the text, or with "of water", "on the", "to the"."""
    ends = (
        place == len(row)
        or kind_at(row, place) == "plot"
        or kind_at(row, place) == "date"
        or text_at(row, place) in _AFTER_HOURS
    )
    return ends and minutes % 60 == 0


_AFTER_HOURS = words.named("after_hours")


def quantity_range(row: Row, place: int) -> tuple[Item, int] | None:
    """ "30 cb to 40 cb": the midpoint."""
    low, link, high = at(row, place), at(row, place + 1), at(row, place + 2)
    if low is None or link is None or high is None or low.kind != "quantity" or high.kind != "quantity":
        return None
    if not (link.is_mark("-") or link.kind in ("to", "or")) or low.value.dimension != high.value.dimension:
        return None
    if low.value.value >= high.value.value:
        return None
    middle = (low.value.value + high.value.value) / 2
    return joined("quantity", Quantity(low.value.dimension, middle), row[place : place + 3]), 3


def shared_unit(row: Row, place: int) -> tuple[Item, int] | None:
    """ "12 and 24 inches", "19 and 24 percent": the first figure has the unit of the second."""
    first, link, second = at(row, place), text_at(row, place + 1), at(row, place + 2)
    if first is None or second is None or first.kind != "number" or link not in ("and", "y", "&", "/", "or", "o"):
        return None
    if second.kind != "quantity" or second.value.dimension not in _SHARED or _is_told_of(row, place - 1):
        return None
    if second.value.dimension != "length" and (kind_at(row, place - 1) == "at" or text_at(row, place - 1) in _AT):
        return None
    unit = unit_size(second)
    if unit is None:
        return None
    return joined("quantity", Quantity(second.value.dimension, first.value * unit), row[place : place + 1]), 1


_TELLS = frozenset({"is", "was", "esta", ":", "=", "-"})
_SHARED = ("length", "tension", "resistance", "percent", "duration", "volume")


def _is_told_of(row: Row, place: int) -> bool:
    """Whether a figure after this place has a depth before it: "12 in is 58 and 24 in is 41"."""
    while kind_at(row, place) in ("reads", "interrogative") or text_at(row, place) in _TELLS:
        place -= 1
    return _is(at(row, place), "length")


def area(row: Row, place: int) -> tuple[Item, int] | None:
    """ "4 x 8 ft", "20 ft by 30 ft": two lengths across each other are an area."""
    first, link, second = at(row, place), at(row, place + 1), at(row, place + 2)
    if (
        first is None
        or link is None
        or second is None
        or not (link.text == "x" or link.kind == "by" or link.text == "por")
    ):
        return None
    if not _is(second, "length"):
        return None
    across_mm = first.value.value if _is(first, "length") else None
    if first.kind == "number":
        unit = unit_size(second)
        across_mm = None if unit is None else first.value * unit
    if across_mm is None:
        return None
    return joined("quantity", Quantity("area", across_mm * second.value.value / 1e6), row[place : place + 3]), 3


def unit_size(item: Item) -> float | None:
    """One of the unit that a quantity was told in, in the base unit: 60 for "half an hour"; None where it has no such word."""
    said = item.text.split()
    for size in (1, 2, 3):
        for term in unit_forms().get(said[-size], ()) if size <= len(said) else ():
            dimension, factor, _ = term.value.split()
            if list(term.words) == said[-size:] and dimension == item.value.dimension:
                return float(factor)
    return None


def times(row: Row, place: int) -> tuple[Item, int] | None:
    """ "3 x 20 min", "20 min x 3", "2 tandas de 25 min", "twice for 20 min": the minutes in all."""
    first = at(row, place)
    if first is None:
        return None
    if first.kind == "number" and first.value == int(first.value):
        after = place + 1
        if _is(at(row, after), "duration") and first.value <= _MOST_RUNS and _is_run(row, after + 1):
            minutes = first.value * row[after].value.value
            return joined("quantity", Quantity("duration", minutes), row[place : after + 2]), 3
        if kind_at(row, after) != "times":
            return None
        told = _count_then_minutes(row, place, after + 1, float(first.value))
        often = text_at(row, after) in ("veces", "times") and 1 < first.value <= _MOST_RUNS
        return told or ((joined("often", first.value, row[place : after + 1]), 2) if often else None)
    if first.kind == "often":
        return _count_then_minutes(row, place, place + 1, float(first.value))
    if _is(first, "duration"):
        return _minutes_then_count(row, place, first.value.value)
    return None


def _is_run(row: Row, place: int) -> bool:
    """The word after "two 20 minute": cycles, soaks, waterings."""
    return (kind_at(row, place) == "times" and text_at(row, place) != "x") or text_at(row, place) in _RUNS


def _count_then_minutes(row: Row, place: int, here: int, count: float) -> tuple[Item, int] | None:
    while text_at(row, here) in ("of", "de", "for", "por", "at", ",", "durante", "a", "each", "cada"):
        here += 1
    minutes = at(row, here)
    if not _is(minutes, "duration"):
        return None
    assert minutes is not None
    end = here + 1 + (kind_at(row, here + 1) in ("each", "per_run"))
    return joined("quantity", Quantity("duration", count * minutes.value.value), row[place:end]), end - place


def _minutes_then_count(row: Row, place: int, minutes: float) -> tuple[Item, int] | None:
    here = place + 1
    if kind_at(row, here) == "often":
        count, end = float(row[here].value), here + 1
    elif text_at(row, here) == "x" and kind_at(row, here + 1) == "number":
        count, end = row[here + 1].value, here + 2
    elif (
        kind_at(row, here) == "number" and kind_at(row, here + 1) == "times" and row[here].value == int(row[here].value)
    ):
        count, end = row[here].value, here + 2
    else:
        return None
    return joined("quantity", Quantity("duration", count * minutes), row[place:end]), end - place


_RUNS = words.named("runs")
_MOST_RUNS = 12


def per_time(row: Row, place: int) -> tuple[Item, int] | None:
    """ "12 mm each hour" is a rate, "2 gallons an hour" a flow, "500 gal a day" a daily amount, "20 min a day" a habit."""
    first = at(row, place)
    if first is None or first.kind != "quantity" or first.value.dimension not in ("length", "volume", "duration"):
        return None
    spoken = _in_one(row, place + 1)
    if spoken is not None and (made := _per(first.value, spoken)) is not None:
        return joined("quantity", made, row[place : place + 2]), 2
    here = place + 1
    here += text_at(row, here) in ("of", "de") and text_at(row, here + 1) in ("water", "agua", "rain") and 2
    if not (
        kind_at(row, here) in ("per", "one", "each") or text_at(row, here) in ("/", "la", "al", "el", "a", "in", "en")
    ):
        return None
    link = text_at(row, here)
    here += 1
    if kind_at(row, here) == "one" and link in ("in", "en", "por", "per", "each", "a"):
        here += 1
    term = matching(unit_forms(), row, here) if at(row, here) else None
    if term is None or not term.value.startswith(("duration", "days")):
        return None
    made = _per(first.value, term.value.split()[2])
    if made is None or (link in ("el", "in", "en") and kind_at(row, here - 1) != "one" and link != "el"):
        return None
    end = here + len(term.words)
    return joined("quantity", made, row[place:end]), end - place


def _in_one(row: Row, place: int) -> str | None:
    """The unit of time in "an hour", "a day" where it stands for "per hour"."""
    time = at(row, place)
    if time is None or time.kind != "quantity" or kind_at(row, place + 1) == "ago":
        return None
    if time.text.split()[0] not in ("a", "an", "una", "un"):
        return None
    sizes = {("duration", 60.0): "hour", ("duration", 1.0): "minute", ("days", 1.0): "day", ("days", 7.0): "week"}
    return sizes.get((time.value.dimension, time.value.value))


def _per(amount: Quantity, time: str) -> Quantity | None:
    if amount.dimension == "duration":
        return Quantity("habit", amount.value) if time in ("day", "week", "month") else None
    if amount.dimension == "length":
        return (
            Quantity("rate", amount.value * 60 / _BASE[time])
            if time in ("hour", "minute")
            else Quantity("habit", amount.value)
        )
    if time in ("hour", "minute"):
        return Quantity("flow", amount.value * 60 / _BASE[time])
    return Quantity("daily", amount.value) if time == "day" else Quantity("habit", amount.value)
