"""What a message tells beside its reports, and no statement comes of: what others say or own, what would be, what used to be."""

from __future__ import annotations

from bot.understand import words
from bot.understand.items import Item, Row

_MOST_BETWEEN = 6
_ADVISES = ("plan", "ask", "habit", "often")
_OF_ONES_OWN = ("watered", "planted", "quantity", "number")
_EVENTS = ("watered", "gave", "feel", "sign", "rain", "number", "quantity", "slash")


def is_hearsay(items: Row | tuple[Item, ...]) -> bool:
    """Whether a stretch tells nothing of the person's own plots as they are."""
    return (
        any(item.text in _LIMITS for item in items)
        or is_advice(items)
        or _is_forecast(items)
        or _is_of_old(items)
        or _is_supposed(items)
        or _is_of_others(items)
    )


def _is_forecast(items: Row | tuple[Item, ...]) -> bool:
    """ "forecast says 2 inches thursday": told by who foretells the weather."""
    texts = [item.text for item in items]
    if any(item.kind == "ask" for item in items):
        return False
    return any(
        text in _FORETELLERS and not _FORETOLD.isdisjoint(texts[place + 1 : place + 4])
        for place, text in enumerate(texts)
    )


_FORETELLERS = words.named("foretellers")
_FORETOLD = words.named("said_by") | words.named("foretold")


_LIMITS = words.named("limits_of_soil")  # "12 % is the wilting point for my soil"


def is_advice(items: Row | tuple[Item, ...]) -> bool:
    """ "my neighbor says you should water twice a week": what others say is to be done, and not what they saw."""
    told = next((place for place, item in enumerate(items) if item.text in _SAID and _is_said(items, place)), None)
    if told is None or items[0].kind == "ask" or any(item.kind in _OF_ONES_OWN for item in items[:told]):
        return False
    after = items[told + 1 :]
    if after and after[0].text == "to" and after[1:2] and after[1].kind not in ("number", "quantity"):
        return True
    if any(item.text in _WEATHER for item in items[:told]):
        return True
    advised = any((item.kind in _ADVISES and item.text not in _LOOSE) or item.text in _TO_DO for item in after)
    by_anybody = items[told].text in _SAID_BY_SOME or items[told - 1].text in _ANYBODY
    return advised or not any(item.kind in (_FIGURES if by_anybody else _EVENTS) for item in after)


def _is_said(items: Row | tuple[Item, ...], place: int) -> bool:
    return _is_sayer(items, place) or (place > 0 and [item.text for item in items[place + 1 : place + 3]][:1] == ["to"])


def _is_sayer(items: Row | tuple[Item, ...], place: int) -> bool:
    """Whether somebody else says what follows: a person, "they", or a verb that has nobody else in it."""
    if items[place].text in _SAID_BY_SOME:
        return True
    if items[place].kind == "order":
        return place > 0 and items[place - 1].text in _ANYBODY  # "they tell me", no "can you tell me"
    if place and items[place - 1].text in _MYSELF:
        return False
    return any(item.text in _SAYERS for item in items[max(0, place - _MOST_BETWEEN) : place])


_WEATHER = words.named("weather")
_ANYBODY = ("they", "everybody", "everyone", "people", "todos", "gente")
_FIGURES = ("number", "quantity", "slash", "rain", "watered")
_LOOSE = words.named("asks_at_head")  # "mi esposa dice que los tomates": no question
_MYSELF = ("i", "we", "yo")
_SAID = words.named("said_by") | words.named("said_by_some")
_SAID_BY_SOME = words.named("said_by_some")
_SAYERS = words.named("people") | words.named("sayers")
_TO_DO = words.named("to_do")


def _is_of_old(items: Row | tuple[Item, ...]) -> bool:
    """ "I used to water every day", "antes regaba"."""
    return any(item.kind == "old" for item in items)


def _is_supposed(items: Row | tuple[Item, ...]) -> bool:
    """ "if it were up to my father he would water every day"."""
    opening = next((item.text for item in items if item.kind not in ("mark", "chat")), "")
    return opening in ("if", "si") and any(item.text in _WOULD for item in items)


_WOULD = words.named("would")


def _is_of_others(items: Row | tuple[Item, ...]) -> bool:
    """ "he has sandy soil", "el vecino riega diario": what others own or do week by week."""
    kinds = {item.kind for item in items}
    first = [item.text for item in items if item.kind not in ("mark", "chat")][:3]
    if any(text in _NEIGHBOURS for text in first):
        return bool(kinds & {"habit", "soil", "method"}) and not kinds & {"plot", "date"}
    he = first[:1] and (first[0] in _HE or (first[0] == "el" and " ".join(first[1:2]) in _HAS))
    return bool(he) and bool(kinds & {"soil", "method", "habit"})


_NEIGHBOURS = words.named("somebody_else")
_HE = words.named("he")
_HAS = words.named("has")
