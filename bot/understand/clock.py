"""Times of day: "from 6 to 8 am" is two hours of watering, "de 6 a 8 de la noche" too; a single time says nothing."""

from __future__ import annotations

from bot.understand import words
from bot.understand.items import Item, Quantity, Row, at, joined, kind_at, text_at
from bot.understand.lexicon import matching, unit_forms
from bot.understand.numbers import starts_unit

_HALF_DAY = 720.0
_WORDS = {"noon": 720.0, "midday": 720.0, "mediodia": 720.0, "midnight": 0.0, "medianoche": 0.0}


def _time(row: Row, place: int) -> tuple[float, str, bool, int] | None:
    """Minutes of the day, half of the day ("am", "pm" or ""), whether surely a time, items used."""
    here = place + (text_at(row, place) in ("las", "la"))
    here += text_at(row, here) in ("las", "la")
    item = at(row, here)
    if item is None:
        return None
    if item.text in _WORDS:
        return _WORDS[item.text], "pm" if _WORDS[item.text] else "am", True, here + 1 - place
    if item.kind != "number" or item.value != int(item.value) or not 0 <= item.value <= 24:
        return None
    minutes, sure, here = item.value * 60, here > place, here + 1
    if (
        text_at(row, here) == ":"
        and kind_at(row, here + 1) == "number"
        and row[here + 1].glued
        and row[here + 1].value < 60
    ):
        minutes, sure, here = minutes + row[here + 1].value, True, here + 2
    half = kind_at(row, here) if kind_at(row, here) in ("am", "pm") else ""
    if not half and text_at(row, here) in (
        "de la manana",
        "de la tarde",
        "de la noche",
        "de la madrugada",
        "in the morning",
        "in the afternoon",
        "at night",
        "in the evening",
    ):
        half = "am" if "man" in text_at(row, here) or "morn" in text_at(row, here) else "pm"
    here += bool(half)
    here += text_at(row, here) in ("o'clock", "oclock")
    return minutes, half, sure or bool(half), here - place


def hours_and_minutes(row: Row, place: int) -> tuple[Item, int] | None:
    """ "2:30 hours", "1:15 hrs", "for 1:30": so long, and no time of day."""
    hours, colon, minutes = at(row, place), at(row, place + 1), at(row, place + 2)
    if hours is None or colon is None or minutes is None or not (hours.kind == minutes.kind == "number"):
        return None
    if not (colon.is_mark(":") and colon.glued and minutes.glued and len(minutes.text) == 2 and minutes.value < 60):
        return None
    unit = matching(unit_forms(), row, place + 3) if at(row, place + 3) else None
    lasting = text_at(row, place - 1) in ("for", "durante") and kind_at(row, place + 3) not in ("am", "pm")
    if not (unit is not None and unit.value.startswith("duration 60 ")) and not lasting:
        return None
    used = 3 + (len(unit.words) if unit is not None and not lasting else 0)
    return joined("quantity", Quantity("duration", hours.value * 60 + minutes.value), row[place : place + used]), used


def clock_span(row: Row, place: int) -> tuple[Item, int] | None:
    """From one time to another, as minutes between; or one time alone, which is only taken out of the way."""
    opened = text_at(row, place) in ("from", "de", "desde", "between", "entre", "on at")
    start = place + opened + (text_at(row, place) == "desde" and text_at(row, place + 1) == "de")
    first = _time(row, start)
    if first is None:
        return None
    link = start + first[3]
    if text_at(row, link) in _TO_NOON:
        minutes = _between(first[0], first[1], *_TO_NOON[text_at(row, link)])
        return joined("quantity", Quantity("duration", minutes), row[place : link + 1]), link + 1 - place
    if not (
        kind_at(row, link) == "to" or text_at(row, link) in ("-", "a", "a las", "a la", "and", "y", "until", "till")
    ):
        return _lone_time(row, place, start, first)
    link += kind_at(row, link + 1) in ("to",)
    second = _time(row, link + 1)
    if second is None or starts_unit(row, link + 1 + second[3]) or text_at(row, link + 1 + second[3]) == "/":
        return _lone_time(row, place, start, first)
    watering = any(item.kind in ("watered", "gave", "method") for item in row[max(0, place - _FARTHEST) : place])
    sure = first[2] or second[2] or (opened and (watering or text_at(row, place) in ("from", "desde")))
    if not sure or (text_at(row, link) in ("and", "y") and not opened):
        return _lone_time(row, place, start, first)
    end = link + 1 + second[3]
    minutes = _between(first[0], first[1], second[0], second[1])
    return joined("quantity", Quantity("duration", minutes), row[place:end]), end - place


def _lone_time(row: Row, place: int, start: int, time: tuple[float, str, bool, int]) -> tuple[Item, int] | None:
    if not time[1] and time[3] < 3 and text_at(row, start) not in ("las", "la"):
        return None
    if start != place or (text_at(row, start) in ("la", "las") and not time[1]):
        return None
    end = start + time[3]
    if starts_unit(row, end) and not time[1]:
        return None
    return joined("clock", time[0], row[place:end]), end - place


def hour_of_day(row: Row, place: int) -> tuple[Item, int] | None:
    """ "esta manana a las 7 marco 45": an hour beside the day or part of day that it belongs to, and no depth."""
    item, before, after = row[place], at(row, place - 1), place + 1
    if before is None or before.text not in ("a las", "a la") or item.kind != "number" or starts_unit(row, after):
        return None
    if not (item.value == int(item.value) and 1 <= item.value <= _LAST_OF_HALF):
        return None
    beside = {kind_at(row, place - 2), kind_at(row, after)} & {"date", "daypart"}
    return (joined("clock", float(item.value) * 60, [item]), 1) if beside else None


_LAST_OF_HALF = 12


def _between(first: float, first_half: str, second: float, second_half: str) -> float:
    start, end = _of_day(first, first_half), _of_day(second, second_half)
    if first_half and second_half:
        return (end - start) % (2 * _HALF_DAY)
    if max(first, second) > _HALF_DAY + 60:
        return (second - first) % (2 * _HALF_DAY)
    return (second - first) % _HALF_DAY or _HALF_DAY  # "from six to six"


def _of_day(minutes: float, half: str) -> float:
    return minutes % _HALF_DAY + (_HALF_DAY if half == "pm" else 0.0)


_TO_NOON = {"a mediodia": (720.0, "pm"), "al mediodia": (720.0, "pm"), "a medianoche": (0.0, "am")}
_ON = words.named("on")
_OFF = words.named("off")
_TURNED_ON = words.named("turned_on")
_TURNED_OFF = words.named("turned_off")
_BESIDE_CLOCK = words.named("beside_clock")
_FARTHEST = 9
_LAST_HOUR = 24
_PASSED = frozenset(
    {"day", "weekday", "mark", "method", "plot", "all", "water", "thing", "name", "emitter", "at", "date", "daypart"}
)


def with_runs(row: Row) -> Row:
    """The row with "turned the corn on at 6, off at 8" as its plots and days and the minutes between."""
    out: Row = []
    place = 0
    while place < len(row):
        run = _on_and_off(row, place)
        if run is None:
            out.append(row[place])
            place += 1
        else:
            told = [item for item in row[place : place + run[1]] if item.kind in _KEPT]
            out += [*told, run[0]]
            place += run[1]
    return out


_KEPT = ("plot", "all", "name", "day", "weekday", "thing")


def _on_and_off(row: Row, place: int) -> tuple[Item, int] | None:
    """ "started at 7pm and stopped at 9pm", "on at 6 off at 8": minutes between."""
    if row[place].text not in _TURNED_ON:
        return None
    first = _clock_after(row, place, _ON)
    second = _clock_after(row, first, _OFF) if first is not None else None
    if first is None or second is None:
        return None
    said = {item.text for item in row[first:second]}
    if not said & _TURNED_OFF:
        return None
    start, end = _time_at(row, first), _time_at(row, second)
    minutes = _between(start[0], start[1], end[0], end[1])
    return joined("quantity", Quantity("duration", minutes), row[place : second + 1]), second + 1 - place


def _clock_after(row: Row, place: int, allowed: frozenset[str]) -> int | None:
    for here in range(place + 1, min(place + _FARTHEST, len(row))):
        item = row[here]
        if item.kind in ("clock", "number"):
            return None if starts_unit(row, here + 1) else here
        if item.kind not in _PASSED and item.text not in allowed | _BESIDE_CLOCK:
            return None
    return None


def _time_at(row: Row, place: int) -> tuple[float, str]:
    item = row[place]
    if item.kind == "number":
        hours, minutes = divmod(float(item.value), 100) if item.value > _LAST_HOUR else (float(item.value), 0.0)
        return hours * 60 + minutes, ""  # "eight thirty" is heard as 830
    half = (
        "pm"
        if "p" in item.text.replace("pm", "p").split()[-1]
        else "am"
        if item.text.split()[-1].startswith("a")
        else ""
    )
    return float(item.value), half
