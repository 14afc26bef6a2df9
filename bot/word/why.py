"""The working behind one advice, with numbers that a person can redo on a calculator."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from bot.word import gsm7, verdict
from bot.word.voice import Part, Voice
from rules.terms import Advice

MOST_TEXTS = 2
# What is lacking beyond what can be given in a day, from which it is said. [mm]
_LEFT_OVER_MM = 2.0


def why(voice: Voice, given: Advice) -> list[str]:
    """The sums in at most two texts, on SMS of one segment each; what is least needed leaves first.

    Numbers come from the advice and from the reason named `balance`: `store_mm`, `depleted_mm`, `root_depth_cm`,
    `demand_mm_day`, `efficiency`, `rate_mm_h`, `soil`. What is missing is not said.
    """
    numbers = {name: value for reason in given.reasons for name, value in reason.numbers.items()}
    parts = [Part(verdict.because(voice, given), leaves=1), *_store(voice, given, numbers), *_agreed(voice, numbers)]
    if given.until_drains:
        parts = [Part(voice.say("why.pot", plot=voice.plot(given.plot)))]
    parts += [*_weather(voice, given, numbers), *_water(voice, given, numbers), *_doubts(voice, given)]
    said = [part for part in parts if part.text]
    return texts(voice, said or [Part(voice.say("why.nothing"))])


def sources(voice: Voice, given: Advice) -> list[str]:
    """The table rows used, in at most two texts."""
    if not given.rows:
        return [voice.say("why.no_sources")]
    first, *more = given.rows
    rows = [voice.say("why.sources", rows=first), *more]
    parts = [Part(row + ";" * (number < len(more)), leaves=number) for number, row in enumerate(rows)]
    return texts(voice, parts)


def texts(voice: Voice, parts: Sequence[Part]) -> list[str]:
    """The parts in one text; on SMS in at most two of one segment, the highest `leaves` dropped until they fit."""
    kept = [
        Part(gsm7.cut(voice.finish(part.text), gsm7.ONE) if voice.short else part.text, part.leaves) for part in parts
    ]
    if not voice.short:
        return [voice.joint.join(part.text for part in kept)]
    packed = _packed(kept)
    while len(packed) > MOST_TEXTS:
        last = max(kept, key=lambda part: part.leaves)
        kept = [part for part in kept if part is not last]
        packed = _packed(kept)
    return packed


def _packed(parts: Sequence[Part]) -> list[str]:
    texts: list[str] = []
    for part in parts:
        longer = f"{texts[-1]} {part.text}" if texts else ""
        if texts and gsm7.septets(longer) <= gsm7.ONE:
            texts[-1] = longer
        else:
            texts.append(part.text)
    return texts


def _store(voice: Voice, given: Advice, numbers: dict[str, Any]) -> list[Part]:
    plot, parts = voice.plot(given.plot), []
    store_mm, used_mm, roots_cm = (numbers.get(name) for name in ("store_mm", "depleted_mm", "root_depth_cm"))
    limit = None if given.limit is None else 1 - given.limit
    if not store_mm or used_mm is None or roots_cm is None or limit is None:
        if given.water_left is None or limit is None:
            return []
        return [Part(voice.say("why.used_share", plot=plot, used_share=1 - given.water_left, limit_share=limit))]
    known = {"plot": plot, "store_mm": store_mm, "roots_cm": roots_cm}
    if numbers.get("soil"):
        parts.append(Part(voice.say("why.store", soil=voice.name("soil", numbers["soil"]), **known)))
    else:
        parts.append(Part(voice.say("why.store_any", **known)))
    used = voice.say("why.used", used_share=used_mm / store_mm, used_mm=used_mm, limit_share=limit)
    return [*parts, Part(used), *_between(voice, given)]


def _agreed(voice: Voice, numbers: dict[str, Any]) -> list[Part]:
    """Whose limit it is, where it was agreed for this plot alone."""
    until = numbers.get("own_until")
    return [Part(voice.say("why.agreed", on=until))] if until else []


def _between(voice: Voice, given: Advice) -> list[Part]:
    """The span of what may be left, where there is one at the figures that are said."""
    low, high = given.water_left_low, given.water_left_high
    if low is None or high is None or round(100 * low) == round(100 * high):
        return []
    return [Part(voice.say("why.between", low_share=low, high_share=high), leaves=5)]


def _weather(voice: Voice, given: Advice, numbers: dict[str, Any]) -> list[Part]:
    parts = []
    if numbers.get("demand_mm_day"):
        parts.append(Part(voice.say("why.weather", use_mm=numbers["demand_mm_day"]), leaves=3))
    if "forecast" in given.assumed:
        parts.append(Part(voice.say("more.no_forecast"), leaves=2))
    elif given.rain_counted_mm >= 1 and given.depth_mm:
        parts.append(Part(voice.say("why.rain", rain_mm=given.rain_counted_mm), leaves=1))
    return parts


def _water(voice: Voice, given: Advice, numbers: dict[str, Any]) -> list[Part]:
    if not given.depth_mm:
        return []
    parts = []
    if numbers.get("efficiency"):
        net_mm = given.depth_mm * numbers["efficiency"]
        known = {"gets_share": numbers["efficiency"], "net_mm": net_mm, "depth_mm": given.depth_mm}
        parts.append(Part(voice.say("why.gets", **known), leaves=2))
    if numbers.get("rate_mm_h") and given.minutes:
        known = {"depth_mm": given.depth_mm, "rate_mm_h": numbers["rate_mm_h"], "minutes": given.minutes}
        parts.append(Part(voice.say("why.rate", **known)))
    if numbers.get("need_mm", 0.0) - given.depth_mm > _LEFT_OVER_MM:
        parts.append(Part(voice.say("why.rest", rest_mm=numbers["need_mm"] - given.depth_mm), leaves=1))
    if given.litres_each:
        parts.append(Part(voice.say("why.each", litres_each=given.litres_each), leaves=4))
    return parts


def _doubts(voice: Voice, given: Advice) -> list[Part]:
    things = verdict.guesses(voice, given)
    parts = [Part(voice.say("why.assumed", things=voice.amounts.listed(things)), leaves=1)] if things else []
    return [*parts, Part(voice.say("why.doubt"), leaves=3)] if given.doubtful else parts
