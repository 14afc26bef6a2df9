"""A watering told as the usual one: "same as usual", "lo de siempre". Its amount is that of the plot's own record."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from statistics import median

from bot import understand
from bot.store import StoredObservation
from bot.talk.setup import plain
from bot.talk.visit import Visit
from bot.understand.statements import Context, Watering

_LAST = r"(?:last time|the last time|before|la (?:ultima|otra) vez|la vez pasada|la pasada)"
_SAME = r"(?:the )?same(?: amount)?(?: as| like)"
_USUAL = (
    rf"{_SAME} (?:usual|always|ever)|(?:like|as) (?:usual|always)|(?:the|their|its|our|my) usual(?: amount| time| run)?"
    r"|lo (?:mismo )?(?:de|que) (?:siempre|costumbre)|(?:igual que|como) (?:siempre|de costumbre)|lo acostumbrado"
)
_PHRASE = re.compile(rf"\b(?:(?P<last>{_SAME} {_LAST}|lo mismo que {_LAST}|igual que {_LAST})|{_USUAL})\b")
# What a person did to give water, where the verb alone is no watering.
_GAVE = re.compile(
    r"\b(?:gave|give|did|ran|run|put(?: on)?|got|le di|les di|di|le eche|les eche|eche|hice|le puse|puse)\b"
)
_THEM = re.compile(r"\b(?:them|it|the|las|los|la|lo)$")
# Words that may stand around "same as usual" when that is all there is.
_AROUND = frozenset({
    "on", "the", "to", "for", "a", "al", "el", "la", "los", "las", "this", "last", "again", "otra", "vez", "esta",
    "este", "today", "yesterday", "night", "morning", "evening", "tonight", "hoy", "ayer", "anoche", "antier",
    "manana", "monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday", "mon", "tue", "wed",
    "thu", "fri", "sat", "sun", "lunes", "martes", "miercoles", "jueves", "viernes", "sabado", "domingo",
})  # fmt: skip
_LONGEST = 120
_LOOKED_AT = 5
_SLOTS = ("minutes", "depth_mm", "litres", "litres_each")


@dataclass(frozen=True)
class AsUsual:
    """A watering without its amount; `last`: as the last one, not as most are."""

    watering: Watering
    last: bool


def as_usual(text: str, context: Context) -> AsUsual | None:
    """The watering that a message tells of as the usual one; None for any other message, a question too."""
    said = plain(text)
    found = _PHRASE.search(said) if len(text) <= _LONGEST and "?" not in text else None
    if found is None:
        return None
    rest = " ".join((said[: found.start()] + said[found.end() :]).split())
    bare = _THEM.sub("", _GAVE.sub("", rest).strip())
    named = {word for name in context.plots for word in plain(name).split()}
    given = bare != rest or set(bare.split()) <= _AROUND | named
    for told in (rest, f"watered {bare}", f"regue {bare}") if given else (rest,):
        statements = understand.read(told, context).statements
        if len(statements) == 1 and isinstance(statements[0], Watering) and not _amount(statements[0]):
            return AsUsual(statements[0], last=found["last"] is not None)
    return None


def usual(observations: Sequence[StoredObservation], last: bool) -> tuple[str, float, int] | None:
    """The slot and amount of the usual watering, and of how many it is the middle; None where none was told.

    Args:
        observations: of one plot, oldest first.
    """
    told = [each.slots for each in observations if each.kind == "watering" and any(map(each.slots.get, _SLOTS))]
    lately = told[-1:] if last else told[-_LOOKED_AT:]
    if not lately:
        return None
    slots = [next(slot for slot in _SLOTS if each.get(slot)) for each in lately]
    slot = Counter(reversed(slots)).most_common(1)[0][0]
    amounts = [float(each[slot]) for each in lately if each.get(slot)]
    return slot, float(median(amounts)), len(amounts)


def told_as_usual(visit: Visit, told: AsUsual) -> Watering | None:
    """The watering with the plot's usual amount, and which that is said; None when it must be asked for."""
    plots = [plot for plot in visit.plots() if told.watering.plot in (None, plot.name)]
    if len(plots) != 1:
        visit.say(
            visit.words.say("usual.which", plots=visit.words.amounts.listed([plot.name for plot in visit.plots()]))
        )
        return None
    found = usual(visit.store.log.observations(plots[0]), told.last)
    if found is None:
        visit.ask("amount", plot=plots[0].name, held=[told.watering])
        visit.say(visit.words.question("amount"))
        return None
    slot, amount, count = found
    if count > 1:
        visit.say(visit.words.say("usual.middle", n=count))
    return replace(told.watering, **{slot: amount})  # type: ignore[arg-type]  # the slots of amounts are numbers


def _amount(watering: Watering) -> bool:
    return any(getattr(watering, slot) is not None for slot in _SLOTS)
