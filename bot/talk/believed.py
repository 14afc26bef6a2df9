"""What was told and can't be true: past what the instrument shows, more water than a plot takes, more rain than falls."""

from __future__ import annotations

from bot.talk.visit import Visit
from bot.understand.statements import Rain, Reading, Statement, Watering
from rules.delivery import doubtful_amount
from rules.instruments import unusable
from rules.rain import believable_rain
from rules.terms import Plot
from rules.terms import Reading as ReadingTerm
from rules.terms import Watering as WateringTerm

# Nobody reads a probe deeper than this: below the deepest roots of the plant table.
_DEEPEST_CM = 300.0
_AMOUNTS = ("minutes", "depth_mm", "litres", "litres_each")


def impossible(visit: Visit, statement: Statement, facts: Plot) -> str | None:
    """Why it can't be true of a plot with these facts, or None."""
    today = visit.written.date()
    match statement:
        case Reading() if (statement.depth_cm or 0.0) > _DEEPEST_CM:
            return "out_of_range"
        case Reading(quantity=quantity, value=value, depth_cm=depth_cm):
            term = ReadingTerm(on=today, quantity=quantity, value=value, depth_cm=depth_cm)
            return "out_of_range" if unusable(term, facts.probe) == "out_of_range" else None
        case Watering():
            amounts = {name: getattr(statement, name) for name in _AMOUNTS}
            return doubtful_amount(WateringTerm(on=today, **amounts), facts, visit.tables)
        case Rain(depth_mm=float() | int() as depth_mm) if not believable_rain(depth_mm):
            return "out_of_range"
    return None
