"""A plot's season in figures: what was put on and fell, what its plants wanted, and how sure that is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from rules.root_zone import USE_SD
from rules.terms import PastDay


@dataclass(frozen=True)
class Totals:
    """Since the day of the first report. [mm] `unmeasured`: waterings told without an amount, which `water_mm` lacks.

    `wanted_mm` is what the plants would use with water at will; its true value lies within `off_mm` about two times in three.
    """

    since: date
    waterings: int
    unmeasured: int
    water_mm: float
    rain_mm: float
    wanted_mm: float
    off_mm: float


def totals(days: Sequence[PastDay], since: date) -> Totals | None:
    """The sums from a day on; None where there is no such day."""
    counted = [day for day in days if day.on >= since]
    if not counted:
        return None
    told = [amount for day in counted for amount in day.waterings]
    # Of today, the last, nobody knows yet how much is used.
    wanted_mm = sum(day.demand_mm for day in counted[:-1])
    return Totals(
        since=counted[0].on,
        waterings=len(told),
        unmeasured=told.count(None),
        water_mm=sum(amount or 0.0 for amount in told),
        rain_mm=sum(day.rain_mm or 0.0 for day in counted),
        wanted_mm=wanted_mm,
        off_mm=USE_SD * wanted_mm,
    )
