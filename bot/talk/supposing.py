"""What-if questions: to wait till a day, to skip a week, to give less, rain that may come. What is supposed is never stored.

Days and amounts are read by `understand`: it knows the past only, so a day ahead is found as its mirror image, "3 days" as
"3 days ago" and "Sunday" as the Sunday before.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, timedelta

from bot import understand
from bot.talk.setup import plain
from bot.understand.statements import Context, Watering

_IF = (
    r"(?:what if|how about if|and if|is it (?:ok|okay|fine|bad) (?:if|to)|(?:ok|okay) (?:if|to)|can|could|may|should"
    r"|what happens if|what would happen if|suppose|y si|que (?:pasa|pasaria) si|esta bien si|puedo|podria|podemos|puede)"
)
_I = r"(?: i| we| it| they| me| yo| nos)?(?: just| ya)?"
_WAIT = r"(?:wait|hold off|hold out|(?:me )?espero|esperar(?:me)?|esperamos|aguanto|aguantar)(?: watering| a regar| para regar)?"
_DRY = r"(?:don t water|do not water|dont water|stop watering|no riego|no regar|dejo de regar|lo dejo sin regar)"
_SKIP = r"(?:skip(?: watering)?|salto|saltar|saltarme|brinco|brincar)"
_TILL = r"(?:until|till|til|to|for|hasta|al|a|por|en)(?: el| la| los| the)?"
_WAITS = re.compile(
    rf"^.*?\b{_IF}{_I} (?:(?:{_WAIT}|{_DRY})(?: {_TILL})?|{_SKIP}(?: for| por| el riego por)?) (?P<days>.+)$"
)
_DOES = (
    r"(?:do (?:it|that|this)|water(?: it| them| then)?|irrigate|run (?:it|them)|regar(?:lo|los|la|las)?|hacerlo|riego)"
)
_LATER = re.compile(rf"^.*?\b{_IF}{_I} {_DOES} (?:on |el |la )?(?P<days>.+?)(?: instead| mejor| rather)$")
_WAITS_ALONE = re.compile(rf"^(?:{_WAIT} {_TILL}|{_SKIP}) (?P<days>.+)$")
_RAINS = re.compile(
    r"^(?:so |ok |and |but |pero |oiga )*(?:what if|what happens if|what about if|suppose|if|y si|si|que pasa si)"
    r"(?: it| we| me| nos)? (?:rains?|gets?|do get|llueve|llueven|caen?)(?: me| nos| rain| of rain)?\b(?P<amount>.*)$"
)
_RAIN_VERB = re.compile(r"\b(?:rains?|gets?|llueven?|caen?)\b", re.IGNORECASE)
_ONLY = re.compile(
    rf"^.*?\b{_IF}{_I}.* (?:only|just|nomas|solo|solamente|nada mas)\b(?P<amount>.* \d.*|.*\bhal[f].*|.*\bmedia.*)$"
)
_TOMORROW, _AFTER = frozenset({"tomorrow", "manana"}), frozenset({"day after tomorrow", "pasado manana"})
_WEEK = frozenset(
    {
        "a week",
        "this week",
        "next week",
        "week",
        "una semana",
        "la semana",
        "esta semana",
        "la otra semana",
        "la proxima semana",
        "otra semana",
    }
)
_WEEKEND = frozenset({"weekend", "the weekend", "this weekend", "fin de semana", "el fin de semana"})
_NEXT = ("next ", "this ", "proximo ", "el proximo ", "este ", "another ", "otros ", "otras ", "unos ")
_SPAN = re.compile(r"\b(?:days?|weeks?|dias?|semanas?)\b")
_SATURDAY = 5
_MOST_DAYS = 14
_LONGEST = 160


@dataclass(frozen=True)
class Supposed:
    """To give nothing `until` a day, to get this `watering` today, or `rain` of no amount; one of these."""

    until: date | None = None
    watering: Watering | None = None
    rain: bool = False


def supposed(text: str, context: Context) -> Supposed | None:
    """What a question supposes, or None for any other text."""
    if len(text) > _LONGEST:
        return None
    said, today = plain(text), context.now.date()
    waits = _WAITS.match(said) or _LATER.match(said) or (_WAITS_ALONE.match(said) if "?" in text else None)
    if waits:
        until = day_ahead(waits["days"], context)
        near = until is not None and until <= today + timedelta(days=_MOST_DAYS)
        return Supposed(until=until) if near else None
    rains = _RAINS.match(said) if "?" in text or said.startswith(("what", "suppose", "y si")) else None
    if rains:
        return _rain(_RAIN_VERB.split(text)[-1], rains["amount"], context)
    only = _ONLY.match(said)
    watering = _watering(only["amount"], context) if only else None
    return Supposed(watering=watering) if watering else None


def _rain(amount: str, said: str, context: Context) -> Supposed | None:
    told = _watering_told(f"watered {amount.strip(' ?')}", context)
    if told and told.depth_mm:
        return Supposed(watering=told)
    return Supposed(rain=True) if not said.strip() or day_ahead(said, context) else None


def day_ahead(words: str, context: Context) -> date | None:
    """The day to come that the words name or begin with."""
    today = context.now.date()
    for count in range(min(len(words.split()), 4), 0, -1):
        days = _days_ahead(" ".join(words.split()[:count]), context)
        if days:
            return today + timedelta(days=days)
    return None


def _days_ahead(words: str, context: Context) -> int | None:
    today = context.now.date()
    if words in _TOMORROW or words in _AFTER:
        return 1 if words in _TOMORROW else 2
    if words in _WEEK:
        return 7
    if words in _WEEKEND:
        return (_SATURDAY - today.weekday()) % 7 or 7
    words = next((words.removeprefix(each) for each in _NEXT if words.startswith(each)), words)
    if _SPAN.search(words):
        past = _told_day((f"watered {words} ago", f"regue hace {words}"), context)
        return (today - past).days if past else None
    past = _told_day((f"watered {words}", f"watered on the {words}", f"regue el {words}"), context)
    return _mirrored(past, today, by_number=any(map(str.isdigit, words))) if past else None


def _told_day(texts: tuple[str, ...], context: Context) -> date | None:
    """The day past that the first of these texts tells of, which can be read."""
    read = (_watering_told(text, context) for text in texts)
    days = (each.on for each in read if each and not _amount(each))
    return next((day for day in days if day and day < context.now.date()), None)


def _mirrored(past: date, today: date, by_number: bool) -> int:
    """Days to the next such day: of that number in the month, or of that weekday."""
    ahead = (today + timedelta(days=count) for count in range(1, 32))
    return next(
        (day - today).days for day in ahead if (day.day == past.day if by_number else day.weekday() == past.weekday())
    )


def _watering(words: str, context: Context) -> Watering | None:
    for told in (f"watered {words}", f"regue {words}"):
        watering = _watering_told(told, context)
        if watering and watering.on == context.now.date() and _amount(watering):
            return watering
    return None


def _amount(watering: Watering) -> bool:
    return any((watering.minutes, watering.depth_mm, watering.litres, watering.litres_each))


def _watering_told(text: str, context: Context) -> Watering | None:
    statements = understand.read(text, context).statements
    return statements[0] if len(statements) == 1 and isinstance(statements[0], Watering) else None
