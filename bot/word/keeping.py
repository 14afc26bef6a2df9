"""What was kept, read back: each thing with its plot, its day and its amount, so that a slip is seen at once."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date
from typing import Any

from bot.understand.statements import Fact, Rain, Reading, Sign, Statement, Watering
from bot.word import catalogue, gsm7
from bot.word.voice import MOST, Part, Voice

Kept = Reading | Watering | Rain | Fact | Sign

# Facts whose name in the catalogue is not their own id.
_THING = {
    "root_depth_cm": "root_depth",
    "rate_mm_h": "rate",
    "probe_depth_cm": "probe_depth",
    "container_litres": "container",
    "trunk_cm": "trunk",
    "flow_l_h": "flow",
    "area_m2": "area",
}
_MOST_NAMED = 30  # no text has room for more things than this
_NAMED = frozenset({"soil", "method", "probe", "language", "units"})


def kept(voice: Voice, statements: Iterable[Statement], key: str = "kept.saved", undo: bool = True) -> str:
    """One line that names every statement; `key` is `kept.saved`, `kept.fixed`, `undo.done`, `redo.done` or `repeat`.

    A watering may carry both `minutes` and `depth_mm`: the depth is said in brackets. On SMS the offer of UNDO leaves
    first; what two segments can't hold is counted.
    """
    told = _told(statements)
    hint = [Part(voice.say("kept.undo"), leaves=1)] if undo and key == "kept.saved" else []
    for count in range(min(len(told), _MOST_NAMED), -1, -1):
        over = len(told) - count
        more = [voice.say("kept.more", n=over)] if over else []
        text = voice.say(key, items="; ".join(_grouped(voice, told[:count]) + more))
        if not voice.short or gsm7.septets(text) <= MOST:
            break
    return voice.fit([Part(text), *hint])


def items(voice: Voice, statements: Iterable[Statement]) -> str:
    """The statements alone, for a sentence of one's own."""
    return "; ".join(_grouped(voice, _told(statements)))


def _told(statements: Iterable[Statement]) -> list[Kept]:
    """What can be kept; the same reading or rain twice is one, two waterings alike are two."""
    told: list[Kept] = []
    seen: set[Reading | Rain] = set()
    for each in statements:
        if isinstance(each, Kept) and not (isinstance(each, Reading | Rain) and each in seen):
            told.append(each)
        if isinstance(each, Reading | Rain):
            seen.add(each)
    return told


def _grouped(voice: Voice, statements: Sequence[Kept]) -> list[str]:
    """`peaches on Tue Jul 14: 45 cb at 12 in, 2 h of water`: what shares plot and day is said together."""
    groups: dict[tuple[str | None, date | None], list[str]] = {}
    for each in statements:
        groups.setdefault((_plot(each), getattr(each, "on", None)), []).append(_said(voice, each))
    return [_headed(voice, plot, on, ", ".join(things)) for (plot, on), things in groups.items()]


def _plot(each: Kept) -> str | None:
    return None if isinstance(each, Rain) or (isinstance(each, Fact) and each.about == "new_plot") else each.plot


def _headed(voice: Voice, plot: str | None, on: date | None, things: str) -> str:
    if plot == "*":
        plot = voice.say("plot.all")
    if plot and on:
        return voice.say("kept.plot_day", plot=plot, on=on, things=things)
    if plot:
        return voice.say("kept.plot", plot=plot, things=things)
    return voice.say("kept.day", on=on, things=things) if on else things


def _said(voice: Voice, each: Kept) -> str:
    if isinstance(each, Reading):
        return reading(voice, each.quantity, each.value, each.depth_cm)
    if isinstance(each, Watering):
        return _watering(voice, each)
    if isinstance(each, Rain):
        return _rain(voice, each)
    return voice.name("sign", each.sign) if isinstance(each, Sign) else _fact(voice, each)


def observed(voice: Voice, kind: str, slots: Mapping[str, Any]) -> str:
    """One observation as it is held: `1 h 30 min of water`. `kind` and `slots` are those of the log."""
    return _said(voice, _OBSERVED[kind](**slots))


_OBSERVED: dict[str, Callable[..., Kept]] = {"reading": Reading, "watering": Watering, "rain": Rain, "sign": Sign}


def reading(voice: Voice, quantity: str, value: float | str, depth_cm: float | None = None) -> str:
    """`45 cb at 12 in`."""
    said = voice.name("feel", value) if quantity == "feel" else value
    key = f"reading.{quantity}"
    known: dict[str, Any] = {"value_cm": said} if quantity == "rod" else {"value": said}
    words = voice.say(key if catalogue.has(key) else "reading.bare", **known)
    return voice.say("reading.at", reading=words, depth_cm=depth_cm) if depth_cm is not None else words


def _watering(voice: Voice, each: Watering) -> str:
    if each.litres_each is not None:
        return voice.say("kept.watering_each", litres_each=each.litres_each)
    told = {"minutes": each.minutes, "litres": each.litres, "depth_mm": each.depth_mm}
    said = [voice.value(name, amount) for name, amount in told.items() if amount is not None]
    if not said:
        return voice.say("kept.watering_some")
    words = voice.say("kept.watering", amount=said[0])
    return voice.say("amount.with", amount=words, more=", ".join(said[1:])) if len(said) > 1 else words


def _rain(voice: Voice, each: Rain) -> str:
    if each.depth_mm is None:
        return voice.say("kept.rain_some")
    return voice.say("kept.rain", rain_mm=each.depth_mm) if each.depth_mm else voice.say("kept.rain_none")


def _fact(voice: Voice, each: Fact) -> str:
    if each.about == "new_plot":
        return voice.say("kept.new_plot", plot=str(each.value))
    if each.about == "stress":
        return voice.say("kept.stress.yes" if each.value else "kept.stress.no")
    return voice.say("kept.fact", thing=thing(voice, each.about), value=fact_value(voice, each.about, each.value))


def thing(voice: Voice, about: str) -> str:
    """What people call a fact."""
    return voice.name("thing", _THING.get(about, about))


def fact_value(voice: Voice, about: str, value: Any) -> str:
    """A fact's value as its person says it; `value` as in the statement."""
    if value == "unknown":
        return voice.say("unknown")
    if about in _NAMED:
        return voice.name(about, value)
    if about == "water_days":
        return ", ".join(voice.name("day", day) for day in value)
    if about == "planted_on":
        return voice.value("on", date.fromisoformat(value) if isinstance(value, str) else value)
    return voice.value("words" if isinstance(value, str) else about, value)
