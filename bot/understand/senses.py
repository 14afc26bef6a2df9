"""Words whose sense hangs on what stands beside them: "que" after a day, "porque" before what was seen, "duro 2 horas"."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

from bot.understand import words
from bot.understand.dates import When
from bot.understand.items import Item, Row, Rule, at, kind_at, text_at


def shown(row: Row, place: int) -> tuple[Item, int] | None:
    """ "a 30 cm dio 75": a probe gives a value, nobody gives water."""
    if row[place].text not in ("dio", "dieron", "dio un") or kind_at(row, place + 1) != "number":
        return None
    probed = text_at(row, place - 1) == "y" and any(
        one.kind == "instrument" for one in row[max(0, place - _NEAR) : place]
    )
    gives = probed or kind_at(row, place - 1) in ("quantity", "instrument", "number")
    return (replace(row[place], kind="reads"), 1) if gives else None


def lasted(row: Row, place: int) -> tuple[Item, int] | None:
    """ "el riego duro 2 horas": how long, and not how hard the ground."""
    after = at(row, place + 1 + (text_at(row, place + 1) in ("como", "unos", "unas", "casi", "nomas", "solo")))
    timed = after is not None and after.kind == "quantity" and after.value.dimension == "duration"
    return (replace(row[place], kind="word"), 1) if timed and row[place].text == "duro" else None


def one_more_of_it(row: Row, place: int) -> tuple[Item, int] | None:
    """ "dos horas a la viña y una a las peras", "las peras una": one of what was counted before."""
    item, after = row[place], text_at(row, place + 1)
    if item.kind != "one" or item.text not in ("una", "uno", "one"):
        return None
    counted = any(
        one.kind == "quantity" and one.value.dimension in _COUNTED for one in row[max(0, place - _NEAR) : place]
    )
    led = text_at(row, place - 1) in _LINKING or kind_at(row, place - 1) == "plot"
    told = kind_at(row, place + 1) in ("", "mark", "date") or after in _LINKING | {"a", "al", "en", "para", "to", "on"}
    return (replace(item, kind="number", value=1.0), 1) if counted and led and told else None


_COUNTED = ("duration", "volume")
_LINKING = frozenset({"y", "and", "e", ","})


def an_hour(row: Row, place: int) -> tuple[Item, int] | None:
    """ "una horita" is an hour, where "horita" by itself is now."""
    small = row[place].text == "horita" and kind_at(row, place - 1) in ("one", "small", "number")
    return (replace(row[place], kind="word", text="hora"), 1) if small else None


def this_night(now: datetime) -> Rule:
    """The rule for "esta noche llovio", told in the morning: the night that is over."""

    def rule(row: Row, place: int) -> tuple[Item, int] | None:
        item = row[place]
        if item.kind != "date" or item.text not in ("esta noche", "tonight") or now.hour >= _NOON:
            return None
        done = any(one.kind in ("rain", "watered") for one in row[max(0, place - _NEAR) : place + _NEAR])
        ahead = any(one.kind in ("ask", "plan", "order") for one in row[max(0, place - _NEAR) : place + _NEAR])
        return (replace(item, value=When(now.date() - timedelta(days=1))), 1) if done and not ahead else None

    return rule


_NOON = 12


def that_it_was(row: Row, place: int) -> tuple[Item, int] | None:
    """ "fue ayer que regue", "el lunes cuando les eche agua": the day of what was done, and no question."""
    if row[place].kind != "ask" or row[place].text not in ("que", "cuando") or kind_at(row, place - 1) != "date":
        return None
    done = place + 1 + (text_at(row, place + 1) in _TO_WHOM)
    return (replace(row[place], kind="word"), 1) if kind_at(row, done) in ("watered", "gave", "rain") else None


_TO_WHOM = ("le", "les", "lo", "los", "la", "las", "se", "nos")


def as_reason(row: Row, place: int) -> tuple[Item, int] | None:
    """ "dime si riego porque esta en 58": what was seen, told after what it is told for, and no question."""
    if row[place].kind != "ask" or row[place].text not in _BECAUSE or kind_at(row, place - 1) in ("", "order", "mark"):
        return None
    near = row[place + 1 : place + _NEAR]
    seen = next((item for item in near if item.kind in _SEEN), None)
    meant = any(
        item.kind in ("ask", "order", "plan", "water", "watered") for item in row[max(0, place - _NEAR) : place]
    )
    told = seen is not None and not any(item.kind in ("ask", "order") for item in near[: near.index(seen)])
    return (replace(row[place], kind="word", text="porque"), 1) if meant and told else None


_BECAUSE = words.named("because")
_NEAR = 8
_SEEN = ("number", "quantity", "feel", "sign", "rain")
