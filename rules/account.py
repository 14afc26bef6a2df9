"""The account of a season: what was put on a plot, what it needed, and what was saved against a stated baseline."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

import numpy as np

from rules import delivery
from rules.counted import in_order
from rules.profile import profile
from rules.season import gauged_mm
from rules.tables import Tables
from rules.terms import Observation, Plot, Watering, Weather

# How far an amount may be off, by where the rate comes from (our judgement; an office with a meter knows better).
_OFF_BY = {"measured": 0.10, "flow": 0.15, "learned": 0.20, "label": 0.25, "assumed": 0.40}
_OFF_BY_UNKNOWN = 0.40
# Energy to lift a cubic metre by a metre: density times gravity, 1000 kg/m3 x 9.81 m/s2 / 3.6e6 J/kWh. [kWh]
KWH_PER_M3_M = 1000 * 9.81 / 3.6e6


@dataclass(frozen=True, kw_only=True)
class Given:
    """One watering, and the depth that it put on, losses included; None: nobody said how much. [mm]"""

    on: date
    gross_mm: float | None


@dataclass(frozen=True, kw_only=True)
class Account:
    """A season of one plot. Depths are over the watered ground.

    Args:
        first, last: the days that the account spans, of which the weather is known. What was put on after them, up to the day
            of the account, counts too: of a season's last watering the weather never becomes known.
        applied_mm: put on, losses included; `unknown` waterings came without an amount and count for nothing here.
        off_by: the share by which `applied_mm` may be wrong, by where the rate comes from.
        rain_mm, entered_mm: rain, by the person's gauge before the weather service, and what of it entered the soil.
        demand_mm: what the plants would use with water at will.
        needed_mm: what demand asks beyond rain, losses of the way of watering included.
        area_m2: the watered ground, where it is known: without it there are depths and no volumes.
    """

    first: date
    last: date
    waterings: tuple[Given, ...]
    applied_mm: float
    unknown: int
    off_by: float
    rain_mm: float
    entered_mm: float
    demand_mm: float
    needed_mm: float
    area_m2: float | None

    @property
    def weeks(self) -> float:
        return ((self.last - self.first).days + 1) / 7

    def litres(self, depth_mm: float) -> float | None:
        """A depth over the watered ground as a volume. [L]"""
        return None if self.area_m2 is None else depth_mm * self.area_m2


@dataclass(frozen=True, kw_only=True)
class Saving:
    """Water not used against a baseline, with the range that the uncertainty of the amounts leaves. [mm]"""

    saved_mm: float
    low_mm: float
    high_mm: float


def account(
    plot: Plot, observations: Iterable[Observation], weather: Weather, first: date, last: date, tables: Tables
) -> Account:
    """The account of a plot from `first` to `last`, as far as the weather is known."""
    about = profile(plot, last, tables)
    events = in_order(tuple(observations), (), last)
    days = [day for day in weather.past if first <= day.on <= last]
    begins, ends = (days[0].on, days[-1].on) if days else (first, last)
    rain = [(day, gauged_mm(tuple(each for each in events if each.on == day.on), day.rain_mm or 0.0)) for day in days]
    rain_mm = [told if told is not None else day.rain_mm or 0.0 for day, told in rain]
    entered_mm = [float(about.scene.entered_mm(np.full((1, 1), mm))[0, 0]) for mm in rain_mm]
    demand_mm = sum(about.scene.demand_mm(day) for day in days)
    given = tuple(
        Given(on=each.on, gross_mm=_gross_mm(each, plot, tables))
        for each in events
        if isinstance(each, Watering) and begins <= each.on <= last
    )
    return Account(
        first=begins,
        last=ends,
        waterings=given,
        applied_mm=sum(each.gross_mm or 0.0 for each in given),
        unknown=sum(each.gross_mm is None for each in given),
        off_by=_OFF_BY.get(about.rate.source if about.rate else "", _OFF_BY_UNKNOWN),
        rain_mm=sum(rain_mm),
        entered_mm=sum(entered_mm),
        demand_mm=demand_mm,
        needed_mm=max(demand_mm - sum(entered_mm), 0.0) / about.efficiency,
        area_m2=plot.area_m2,
    )


def _gross_mm(watering: Watering, plot: Plot, tables: Tables) -> float | None:
    net_mm = delivery.watering_depth_mm(watering, plot, tables)
    return None if net_mm is None else delivery.gross_depth_mm(net_mm, plot, tables)


def saving(of: Account, baseline_mm_week: float) -> Saving:
    """What the season saved against so much a week. Waterings without an amount make it no figure at all: look at `unknown`."""
    saved_mm = baseline_mm_week * of.weeks - of.applied_mm
    off_mm = of.off_by * of.applied_mm
    return Saving(saved_mm=saved_mm, low_mm=saved_mm - off_mm, high_mm=saved_mm + off_mm)


def pumping_kwh(volume_m3: float, lift_m: float, pump_efficiency: float) -> float:
    """Energy to lift water, pressure told as metres of head included. [kWh] Work against gravity over the pump's efficiency."""
    return KWH_PER_M3_M * volume_m3 * lift_m / pump_efficiency
