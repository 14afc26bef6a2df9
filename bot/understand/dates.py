"""Days: weekdays, "3 days ago", "on the 4th", 6/28, "el 28 de junio". All local, all in the past of the message.

A day that the message leaves open is `vague`; one that lies ahead is `future`; one whose last occurrence lies over three
months back is `old`. Whoever reads a report makes these unclear or null, never a guess.
"""

from __future__ import annotations

import calendar
from dataclasses import dataclass, replace
from datetime import date, timedelta

from bot.understand import words
from bot.understand.items import Item, Row, Rule, at, joined, kind_at, text_at
from bot.understand.numbers import starts_unit

BAD = ("future", "old", "habit")
_OLDEST = timedelta(days=92)


@dataclass(frozen=True, slots=True)
class When:
    """A day that was named; `fault` is `vague`, `future`, `old` or `habit` (every Monday) when it cannot be taken."""

    day: date | None
    fault: str = ""


def on_or_before(today: date, month: int, day: int) -> When:
    """The latest occurrence of a month and day that is not ahead."""
    for year in range(today.year, today.year - 9, -1):
        if 1 <= month <= 12 and 1 <= day <= calendar.monthrange(year, month)[1]:
            found = date(year, month, day)
            if found <= today:
                return When(found, "old" if today - found > _OLDEST else "")
    return When(None, "vague")


def of_month(today: date, day: int) -> When:
    """The latest day of that number."""
    year, month = today.year, today.month
    for _ in range(3):
        if day <= calendar.monthrange(year, month)[1] and date(year, month, day) <= today:
            return When(date(year, month, day))
        year, month = (year - 1, 12) if month == 1 else (year, month - 1)
    return When(None, "vague")


def of_year(today: date, year: int, month: int, day: int) -> When:
    """A day with its year."""
    year += 2000 if year < 100 else 0
    try:
        found = date(year, month, day)
    except ValueError:
        return When(None, "vague")
    return When(found, "future" if found > today else "")


def of_weekday(today: date, weekday: int) -> When:
    """The latest such weekday before today."""
    return When(today - timedelta(days=(today.weekday() - weekday - 1) % 7 + 1))


def of_figures(today: date, units: str, figures: tuple[float, ...]) -> When | None:
    """6/28 or 6/28/26: month first in `us`, day first in `metric`. None when no such day exists."""
    if any(figure != int(figure) for figure in figures):
        return None
    first, second, *rest = (int(figure) for figure in figures)
    month, day = (first, second) if units == "us" else (second, first)
    if not (1 <= month <= 12 and 1 <= day <= 31):
        return None
    return of_year(today, rest[0], month, day) if rest else on_or_before(today, month, day)


def calendar_date(today: date, units: str) -> Rule:
    """The rule for days named by the calendar: month and day, day of the month, weekday, today, yesterday."""

    def rule(row: Row, place: int) -> tuple[Item, int] | None:
        found = _iso(row, place, today) or _month_day(row, place, today) or _weekday(row, place, today)
        found = found or _figures(row, place, today, units) or _numbered(row, place, today) or _named(row, place, today)
        if found is None:
            return None
        when, used = found
        while kind_at(row, place + used) == "daypart":
            used += 1
        return joined("date", when, row[place : place + used]), used

    return rule


def _iso(row: Row, place: int, today: date) -> tuple[When, int] | None:
    stretch = row[place : place + 5]
    if len(stretch) < 5 or not (
        stretch[1].is_mark("-") and stretch[3].is_mark("-") and stretch[1].glued and stretch[4].glued
    ):
        return None
    year, month, day = stretch[0], stretch[2], stretch[4]
    if not (year.kind == month.kind == day.kind == "number" and 2000 <= year.value <= 2100):
        return None
    return of_year(today, int(year.value), int(month.value), int(day.value)), 5


def _month_day(row: Row, place: int, today: date) -> tuple[When, int] | None:
    here = place + (text_at(row, place) in ("on", "el", "the", "dia"))
    here += text_at(row, here) in ("the", "dia")
    if kind_at(row, here) == "month":
        day_at = here + 1 + (text_at(row, here + 1) in ("the", "."))
        month, end = int(row[here].value), day_at + 1
    else:
        day_at = here
        month_at = here + 1 + (text_at(row, here + 1) in ("of", "de", "-"))
        if kind_at(row, month_at) != "month":
            return None
        month, end = int(row[month_at].value), month_at + 1
    day = _day_number(row, day_at)
    if day is None:
        return None
    year_at = end + (text_at(row, end) in ("de", "del", ",", "of"))
    year = at(row, year_at)
    if year is not None and year.kind == "number" and 2000 <= year.value <= 2100:
        return of_year(today, int(year.value), month, day), year_at + 1 - place
    return on_or_before(today, month, day), end - place


def _day_number(row: Row, place: int) -> int | None:
    if kind_at(row, place) not in ("number", "ordinal"):
        return None
    value = float(row[place].value)
    return int(value) if value == int(value) and 1 <= value <= 31 else None


def _weekday(row: Row, place: int, today: date) -> tuple[When, int] | None:
    counted = place + (kind_at(row, place) == "hace")
    ago = counted > place or kind_at(row, place + 2) == "ago"
    if ago and kind_at(row, counted) == "number" and kind_at(row, counted + 1) == "weekday":
        latest = of_weekday(today, int(row[counted + 1].value)).day
        weeks = int(row[counted].value) - 1
        return (When(latest - timedelta(days=7 * weeks)), 3) if latest is not None and 0 <= weeks < 53 else None
    here = place
    ahead = False
    while text_at(row, here) in ("on", "el", "last", "past", "this", "pasado") or kind_at(row, here) == "next":
        ahead = ahead or kind_at(row, here) == "next"
        here += 1
        if here - place > 3:
            return None
    if kind_at(row, here) != "weekday" or (row[here].text == "sun" and text_at(row, here - 1) in ("full", "in", "the")):
        return None
    weekday = int(row[here].value)
    here += 1
    while text_at(row, here) in ("pasado", "que", "paso") or kind_at(row, here) == "next":
        ahead = ahead or kind_at(row, here) == "next"
        here += 1
    if not ahead and (told := _with_its_number(row, here, weekday, today)) is not None:
        return told, here + 1 - place
    each = text_at(row, place - 1) == "each" and place > 1 and starts_unit(row, place - 2)
    if place and not each and text_at(row, place - 1) in ("every", "each", "cada", "los", "todos", "todos los"):
        return When(of_weekday(today, weekday).day, "habit"), here - place
    return (When(None, "future") if ahead else of_weekday(today, weekday)), here - place


def _with_its_number(row: Row, place: int, weekday: int, today: date) -> When | None:
    """ "el lunes 13 marco 51": the number after a weekday is its day of the month where it can be and more is told."""
    day = _day_number(row, place)
    when = of_month(today, day) if day is not None else When(None)
    if when.day is None or when.day.weekday() != weekday or when.day == today or starts_unit(row, place + 1):
        return None
    told = next((item for item in row[place + 1 : place + _NEAR] if item.kind in _TOLD_OF_A_DAY), None)
    return when if told is not None or kind_at(row, place) == "ordinal" else None


_NEAR = 9
_TOLD_OF_A_DAY = ("number", "quantity", "watered", "gave", "rain", "feel", "sign", "neg")


def _figures(row: Row, place: int, today: date, units: str) -> tuple[When, int] | None:
    """On 6/28, el 28/6, 6/28/2026. Without a word before it a pair waits for its clause."""
    opened = text_at(row, place) in ("on", "el", "dia", "since", "desde")
    pair = at(row, place + opened)
    if pair is None or pair.kind != "slash" or not (opened or len(pair.value) == 3):
        return None
    if text_at(row, place + opened + 1) in (":", "=") and kind_at(row, place + opened + 2) == "slash":
        return None
    when = of_figures(today, units, pair.value)
    return None if when is None else (when, 1 + opened)


def _numbered(row: Row, place: int, today: date) -> tuple[When, int] | None:
    """On the 4th, the 4th, el 4, el dia 4."""
    here = place
    while text_at(row, here) in ("on", "the", "el", "dia"):
        here += 1
    item = at(row, here)
    if item is None or not (1 <= (day := float(item.value)) <= 31 if item.kind in ("ordinal", "number") else False):
        return None
    if text_at(row, place - 1) == "en" and text_at(row, place) == "el":
        return None  # "la aguja esta en el 2"
    if (when := _of_named_month(row, here + 1, int(day), today)) is not None:
        return when[0], here + 1 + when[1] - place
    after = text_at(row, here + 1)
    if item.kind == "ordinal":
        allowed = here > place or item.text[0].isdigit()
        spelled = not item.text[0].isdigit() and text_at(row, place) not in ("on", "el")
        if not allowed or after in _COUNTED or spelled:
            return None
    elif not _is_the(row, here, place) or day != int(day) or _is_claimed(row, here + 1):
        return None
    return of_month(today, int(day)), here + 1 - place


def _of_named_month(row: Row, place: int, day: int, today: date) -> tuple[When, int] | None:
    """ "el 10 de este mes", "the 4th of last month": the day of the month that follows it."""
    for form, months_back in _MONTHS_BACK.items():
        said = form.split()
        if [text_at(row, place + step) for step in range(len(said))] == said:
            first = (today.replace(day=1) - timedelta(days=months_back)).replace(day=1)
            last_day = calendar.monthrange(first.year, first.month)[1]
            found = first.replace(day=day) if day <= last_day else None
            return When(found, "future" if found and found > today else "" if found else "vague"), len(said)
    return None


_MONTHS_BACK = {
    **dict.fromkeys(("del mes pasado", "del pasado mes", "of last month"), 1),
    **dict.fromkeys(("de este mes", "del mes", "del presente", "del corriente", "del actual", "of this month"), 0),
}


def _is_the(row: Row, here: int, place: int) -> bool:
    """Whether "el" or "dia" stands before a figure, alone or in "desde el"."""
    return (here > place and text_at(row, here - 1) in ("el", "dia")) or text_at(row, here - 1) in (
        "desde el",
        "since the",
    )


_COUNTED = words.named("counted")


def _is_claimed(row: Row, place: int) -> bool:
    """Whether what follows a figure claims it: a unit, "of ten", another figure."""
    item = at(row, place)
    if item is None:
        return False
    return starts_unit(row, place) or item.text in ("of", "de", "/", ":") or item.kind in ("number", "reads")


def _named(row: Row, place: int, today: date) -> tuple[When, int] | None:
    item = row[place]
    if item.kind == "month" and (
        text_at(row, place - 1) in ("in", "en", "last", "during", "early", "late") or len(item.text) > 5
    ):
        return When(None, "vague"), 1
    if item.kind == "day":
        day = today + timedelta(days=int(item.value))
        named = kind_at(row, place + 1) == "weekday" and int(row[place + 1].value) == day.weekday()
        return When(day), 1 + named  # "hoy jueves"
    if item.kind in ("vague", "future"):
        return When(None, item.kind), 1
    return None


def days_back(today: date) -> Rule:
    """The rule for "3 days ago", "a week ago", "hace 3 dias", "an hour ago"; quantities must be read before."""

    def rule(row: Row, place: int) -> tuple[Item, int] | None:
        first = row[place]
        if first.text in _SPANS and kind_at(row, place + 1) == "ago":
            return joined("date", When(None, "vague"), row[place : place + 2]), 2
        if first.kind == "hace":
            span = at(row, place + 1)
            return _back(row, place, place + 1, place + 2, today) if span is not None else None
        if first.kind == "quantity" and kind_at(row, place + 1) == "ago":
            return _back(row, place, place, place + 2, today)
        if (
            first.text in ("for", "in", "en")
            and kind_at(row, place + 1) == "quantity"
            and row[place + 1].value.dimension == "days"
        ):
            return _back(row, place, place + 1, place + 2, today, "span")
        return None

    return rule


def with_neighbours(row: Row) -> Row:
    """The row with "the day before that", "the next day" as the day beside the one named before it."""
    out: Row = []
    last: When | None = None
    for item in row:
        if item.kind == "beside":
            day = last.day + timedelta(days=int(item.value)) if last is not None and last.day is not None else None
            item = replace(item, kind="date", value=When(day, "" if day else "vague"))
        if item.kind == "date" and len(out) > 1 and out[-1].text == "into" and out[-2].kind == "date":
            out.pop()  # "thursday into friday" is one event, of the day it began
            continue
        if item.kind == "date" and _is_night_to(out, item):
            out.pop()
            continue
        if item.kind == "date":
            last = item.value
        out.append(item)
    return out


def _is_night_to(out: Row, item: Item) -> bool:
    """ "de sabado a domingo", "del lunes al martes": one event of the night between, of the day it began."""
    first = at(out, len(out) - 2)
    if first is None or first.kind != "date" or first.value.day is None or item.value.day is None:
        return False
    led = text_at(out, len(out) - 3) in ("de", "del") or (len(out) > 1 and "del" in first.text.split())
    next_day = (item.value.day - first.value.day).days == 1
    return led and next_day and out[-1].text in ("a", "al", "para")


_SPANS = words.named("spans")


def _back(row: Row, place: int, span_at: int, end: int, today: date, kind: str = "date") -> tuple[Item, int] | None:
    span = row[span_at]
    if span.kind != "quantity":
        return None
    if span.value.dimension == "duration":
        when = When(today)
    elif span.value.dimension == "days" and span.value.value < 3660:
        when = When(_before(today, span))
    else:
        return None
    named = at(row, end)
    if when.day is not None and span.value.dimension == "days" and span.value.value % 7 == 0 and is_weekday(named):
        when, end = When(named.value.day - timedelta(days=span.value.value)), end + 1  # type: ignore[union-attr]
    while kind_at(row, end) in ("daypart", "ago") or (row[place].kind == "hace" and text_at(row, end) == "que"):
        end += 1
    return joined(kind, when, row[place:end]), end - place


def is_weekday(item: Item | None) -> bool:
    """Whether a day was named by its weekday: "tuesday", "a week ago tuesday"."""
    said = item.text.split() if item is not None and item.kind == "date" and item.value.day is not None else []
    return any(word[:3] in _WEEK for word in said)


_WEEK = frozenset({"mon", "tue", "wed", "thu", "fri", "sat", "sun", "lun", "mar", "mie", "jue", "vie", "sab", "dom"})


def _before(today: date, span: Item) -> date:
    days = span.value.value
    return today - timedelta(days=round(days))
