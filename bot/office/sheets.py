"""The sheet of a plot's season: the account of the water, and what was saved where a baseline is known."""

from __future__ import annotations

from dataclasses import dataclass

from bot.store import Person, Store, StoredPlot
from bot.store.baselines import Baseline
from bot.store.seasons import Figures
from rules.account import Account, Saving, account, pumping_kwh, saving
from rules.tables import Tables
from rules.terms import Advised, Observation, Watering


@dataclass(frozen=True)
class Sheet:
    """One plot's season, with what was saved where a baseline is known and every watering had an amount.

    `told` is what was told of it, oldest first, but for the waterings.
    """

    person: Person
    plot: StoredPlot
    season: Account
    told: tuple[Observation, ...]
    baseline: Baseline | None
    saved: Saving | None

    @property
    def why_none(self) -> str:
        """Why there is no figure of what was saved."""
        if self.baseline is None or self.baseline.mm_week is None:
            return "No baseline is known: say below what was put on before."
        if self.season.unknown:
            return f"{self.season.unknown} waterings were told without an amount."
        return ""

    @property
    def figures(self) -> Figures:
        """The sheet as the county counts it."""
        season = self.season
        return Figures(
            first=season.first,
            last=season.last,
            waterings=len(season.waterings),
            applied_mm=season.applied_mm,
            needed_mm=season.needed_mm,
            rain_mm=season.rain_mm,
            applied_m3=_m3(season.litres(season.applied_mm)),
            needed_m3=_m3(season.litres(season.needed_mm)),
            baseline=self.baseline.kind if self.baseline else None,
            saved_mm=self.saved.saved_mm if self.saved else None,
            saved_m3=self.saved_m3,
            money=self.money,
            energy_kwh=self.energy_kwh,
        )

    @property
    def saved_m3(self) -> float | None:
        """The saved water as a volume, where the watered ground is known. [m3]"""
        return _m3(self.season.litres(self.saved.saved_mm)) if self.saved else None

    @property
    def money(self) -> float | None:
        """What the saved water would have cost."""
        price = self.baseline.price_m3 if self.baseline else None
        return None if price is None or self.saved_m3 is None else price * self.saved_m3

    @property
    def energy_kwh(self) -> float | None:
        """What lifting the saved water would have taken."""
        if self.saved_m3 is None or not self.baseline or not self.baseline.lift_m or not self.baseline.pump_efficiency:
            return None
        return pumping_kwh(self.saved_m3, self.baseline.lift_m, self.baseline.pump_efficiency)


def sheet(store: Store, who: Person, mine: StoredPlot, year: int, tables: Tables) -> Sheet | None:
    """The season as all that the last advice of the year was made from; None where none was given."""
    last = store.advices.last_of_year(mine, year)
    if last is None:
        return None
    inputs = store.advices.inputs(last)
    if inputs.weather is None or not inputs.weather.past:
        return None
    # What was put on before the first thing told, nobody counted.
    told = sorted((each for each in inputs.observations if each.on.year == year), key=lambda each: each.on)
    first = min([inputs.on, *(each.on for each in told)])
    season = account(mine.facts, inputs.observations, inputs.weather, first, inputs.on, tables)
    baseline = store.baselines.of(mine)
    known = baseline is not None and baseline.mm_week is not None and not season.unknown
    saved = saving(season, baseline.mm_week) if known and baseline and baseline.mm_week is not None else None
    beside = tuple(each for each in told if not isinstance(each, Watering | Advised))
    return Sheet(who, mine, season, beside, baseline, saved)


def _m3(litres: float | None) -> float | None:
    return None if litres is None else litres / 1000
