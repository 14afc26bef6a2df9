"""When something was planted: by its day, or by its month, of which the middle is taken as of any range."""

from __future__ import annotations

import re
from datetime import date
from functools import cache

from bot.understand import words
from bot.understand.clauses import Clause
from bot.understand.dates import When
from bot.understand.state import State
from bot.understand.tokens import fold

_MIDDLE = 15
_LONGEST_BACK_DAYS = 300


def planting_day(clause: Clause, state: State) -> date | None:
    """The day that a clause of planting tells, None when it tells none that can be one."""
    days = {when for item in clause.items if (when := state.day_of(item)) is not None}
    by_month = _middle_of_month(fold(state.text[clause.start : clause.end]), state.today)
    if by_month is not None:
        return by_month if not any(when.day for when in days) else None  # of two days, each is of another planting
    when = next(iter(days)) if len(days) == 1 else None
    return when.day if when is not None and _could_be_planting(when, state.today) else None


def tells_month(clause: Clause, state: State) -> bool:
    return _middle_of_month(fold(state.text[clause.start : clause.end]), state.today) is not None


def _could_be_planting(when: When, today: date) -> bool:
    """A planting may lie months back; one whose day would be nearly a year back was more likely meant ahead."""
    old = when.fault == "old" and when.day is not None and (today - when.day).days < _LONGEST_BACK_DAYS
    return not when.fault or old


def _middle_of_month(said: str, today: date) -> date | None:
    """ "march 2021", "last july", "marzo del 2021": a month with its year, or the last one of that name."""
    found = _month_and_year().search(said)
    if found is None:
        return None
    month = _months()[found["month"]]
    if not found["year"] and month == today.month and not said[: found.start()].endswith("last "):
        return None  # this one or the last, who knows
    year = int(found["year"]) if found["year"] else today.year - (month >= today.month)
    told = date(year, month, _MIDDLE)
    return told if told <= today else None


@cache
def _months() -> dict[str, int]:
    """Name of a month in any language -> its number."""
    named = [term for language in words.LANGUAGES for term in words.terms(language) if term.tag == "month"]
    return {term.words[0]: int(term.value) for term in named if len(term.words) == 1}


@cache
def _month_and_year() -> re.Pattern[str]:
    names = "|".join(sorted(map(re.escape, _months()), key=len, reverse=True))
    dated = rf"(?:{names})(?:,)? (?:of |de |del )?(?:19|20)\d\d\b"
    led = r"(?<=last )|(?<=this past )|(?<=in )|(?<=en )"
    return re.compile(
        rf"(?<!\d )\b(?=(?:{dated})|{led})(?P<month>{names})\b(?:,? (?:of |de |del )?(?P<year>(?:19|20)\d\d))?(?! \d)"
    )
