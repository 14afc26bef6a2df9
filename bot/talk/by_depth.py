"""Figures alone, as "35/30", "peaches 35, 30" or "25 top, 40 bottom": of the depths read together last, shallow first."""

from __future__ import annotations

import re
from collections.abc import Iterable

from bot.store import StoredObservation, StoredPlot
from bot.talk.setup import plain
from bot.talk.visit import Visit
from bot.understand.statements import Reading
from rules.units import CM_PER_INCH

_LAYERS = re.compile(
    r"(?:hoy |today |now |it s |its |reads |marca |dice )*(\d{1,3}) (?:arriba|up top|on top|top|shallow|upper)(?:,| and| y)* "
    r"(\d{1,3}) (?:abajo|down below|bottom|deep|lower|below)\.?",
    re.IGNORECASE,
)
_FIGURES = re.compile(r"(?P<name>(?:[^\W\d]+ )*)(?P<figures>\d{1,3}(?:\.\d)?(?: ?[/,;] ?\d{1,3}(?:\.\d)?){1,3})\.?")


def by_depth(visit: Visit, text: str) -> list[Reading] | None:
    """The readings that figures alone stand for; None for any other message, or where the depths are not known."""
    said = " ".join(text.split())
    layers = _LAYERS.fullmatch(said)
    found = _FIGURES.fullmatch(f"{layers[1]}/{layers[2]}" if layers else said)
    if found is None:
        return None
    plot = _plot(visit, plain(found["name"]))
    before = _read_together(visit.store.log.observations(plot)) if plot else {}
    values = [float(figure) for figure in re.split(r"[/,; ]+", found["figures"])]
    cm = 1.0 if visit.person.units == "metric" else CM_PER_INCH
    if plot is None or len(before) != len(values) or _names_depths(values, before, cm):
        return None
    return [
        Reading(quantity=quantity, value=value, depth_cm=depth_cm, plot=plot.name or None, on=visit.today)
        for (depth_cm, quantity), value in zip(sorted(before.items()), values, strict=True)
    ]


def _plot(visit: Visit, name: str) -> StoredPlot | None:
    """The plot of that name, or the only one where none is named."""
    meant = [plot for plot in visit.plots() if not plot.paused and name in ("", plain(plot.name))]
    return meant[0] if len(meant) == 1 else None


def _read_together(observations: list[StoredObservation]) -> dict[float, str]:
    """Depth [cm] -> quantity of the last day on which the plot was read; nothing where a depth was not told."""
    told = [each for each in observations if each.kind == "reading" and isinstance(each.slots["value"], float | int)]
    todays = [each.slots for each in told if each.on == told[-1].on]
    if any(slots["depth_cm"] is None for slots in todays):
        return {}
    return {float(slots["depth_cm"]): str(slots["quantity"]) for slots in todays}


def _names_depths(values: list[float], depths_cm: Iterable[float], cm: float) -> bool:
    """Whether a figure is one of the depths themselves: "12, 48" tells one depth and its value."""
    return not {round(depth_cm / cm) for depth_cm in depths_cm}.isdisjoint(map(round, values))
