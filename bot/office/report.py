"""The month in counts, calls by telephone and walk-ins with it: nobody's own figures can be told from them."""

from __future__ import annotations

from calendar import monthrange
from datetime import date

from flask import request

from bot.office.house import Caller
from bot.office.record import LEAST_PEOPLE

_SUBJECTS = {
    "texts": "Texts, by language",
    "told": "What people told",
    "advices": "Advice given",
    "calls": "Questions to a person",
}
_NAMES = {
    "en": "English",
    "es": "Spanish",
    "text": "by text",
    "phone": "by telephone",
    "visit": "walk-ins",
}


def report(caller: Caller) -> str:
    """The page of one month, this one if none is asked for."""
    first = _month(caller)
    last = first.replace(day=monthrange(first.year, first.month)[1])
    counts = {
        said: [
            (_NAMES.get(name, name), n if people >= LEAST_PEOPLE else None, people if people >= LEAST_PEOPLE else None)
            for name, n, people in caller.store.period.counts(subject, first, last)
        ]
        for subject, said in _SUBJECTS.items()
    }
    return caller.page("report", first=first, counts=counts, least=LEAST_PEOPLE)


def _month(caller: Caller) -> date:
    try:
        return date.fromisoformat(f"{request.args.get('month', '')}-01")
    except ValueError:
        return caller.now.date().replace(day=1)
