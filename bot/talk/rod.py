"""What a rod pushed in after an advised watering teaches: the rate that is trusted from then on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from bot.store import StoredPlot
from bot.talk.visit import Visit
from bot.understand.statements import Fact, Reading
from rules.delivery import gross_depth_mm, rate_mm_h, watering_depth_mm
from rules.rod_check import learned_rate_mm_h
from rules.terms import Observation, Verdict, Watering

# Later the roots have taken too much for the rod to tell of that watering.
_TELLS_DAYS = 3
_ADVICES_BACK = 10
# The rod is asked for when there was none for a month, and of the waterings advised since, at the first and every fourth.
_CHECKED_DAYS = 30
_EVERY = 4


@dataclass(frozen=True)
class Learned:
    """How deep the water should have gone and went [cm], and the rate believed now [mm/h]; None: it stays as it was."""

    promised_cm: float
    found_cm: float
    rate_mm_h: float | None


def check_due(visit: Visit, plot: StoredPlot) -> bool:
    """Whether a watering advised today should be followed by a look with the rod."""
    since = visit.today - timedelta(days=_CHECKED_DAYS)
    reported = [each for each in visit.store.log.observations(plot) if each.on and each.on > since]
    if any(each.kind == "reading" and each.slots["quantity"] == "rod" for each in reported):
        return False
    advised = visit.store.advices.watered(plot, since=since, before=visit.today)
    return rate_mm_h(plot.facts, visit.tables) is not None and len(advised) % _EVERY == 0


def learn(visit: Visit, plot: StoredPlot, rod: Reading) -> Learned | None:
    """Trust the rate of the plot as far as the rod says, for all to come."""
    found = learned(visit, plot, float(rod.value), rod.on or visit.today)
    if found is not None and found.rate_mm_h is not None:
        for about, value in (("rate_mm_h", found.rate_mm_h), ("rate_source", "learned"), ("rate_on", rod.on)):
            visit.store.facts.set(plot, about, value, at=visit.written, message=visit.message)
    return found


def taught(found: Learned | None, plot: StoredPlot) -> list[Fact]:
    """The rate that was learned, as a fact to read back."""
    if found is None or found.rate_mm_h is None:
        return []
    return [Fact(about="rate_mm_h", value=found.rate_mm_h, plot=plot.name or None)]


def learned(visit: Visit, plot: StoredPlot, found_cm: float, on: date) -> Learned | None:
    """What a rod of that day says of the last advised watering; None when there is none to judge by."""
    rate = rate_mm_h(plot.facts, visit.tables)
    promised_cm = _promised_cm(visit, plot, on)
    if rate is None or not promised_cm or (plot.facts.rate_source == "learned" and plot.facts.rate_on == on):
        return None
    rate_now = learned_rate_mm_h(rate.mm_h, promised_cm, found_cm)
    return Learned(promised_cm, found_cm, None if rate_now is None else round(rate_now, 2))


def _promised_cm(visit: Visit, plot: StoredPlot, on: date) -> float | None:
    """How deep the watering told last should have gone: as advised before it, more or less water in proportion."""
    since = on - timedelta(days=_TELLS_DAYS)
    waterings = [each for each in visit.store.log.observations(plot) if each.kind == "watering" and each.in_force]
    lately = [each for each in waterings if each.on and since <= each.on <= on]
    if not lately:
        return None
    before = [
        each.advice
        for each in visit.store.advices.of(plot, _ADVICES_BACK)
        if each.on >= since and (each.message or 0) < lately[0].message and each.advice.verdict is Verdict.WATER
    ]
    if not before or not before[0].check_depth_cm or not before[0].depth_mm:
        return None
    advised_mm = before[0].depth_mm
    put_on_mm = sum(_put_on_mm(visit, plot, each.term(), advised_mm) for each in lately)
    return before[0].check_depth_cm * put_on_mm / advised_mm


def _put_on_mm(visit: Visit, plot: StoredPlot, told: Observation, advised_mm: float) -> float:
    """What a watering put on, by the rate trusted till now; as advised where nobody told how much. [mm]"""
    net_mm = watering_depth_mm(told, plot.facts, visit.tables) if isinstance(told, Watering) else None
    return advised_mm if net_mm is None else gross_depth_mm(net_mm, plot.facts, visit.tables)
