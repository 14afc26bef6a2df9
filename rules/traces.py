"""Traces of probes that read by themselves: what a season of them says of each watering, of the drying, and of the probes.

A trace is a table of readings at one depth. Everything here is a fact of the trace, held against the two lines of the plot: the
limit below which it should not go, and the upper line above which it is too soon to water.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

import numpy as np
import pandas as pd
from numpy.typing import ArrayLike, NDArray

from rules import instruments, soil
from rules.profile import limit_on
from rules.tables import Tables
from rules.terms import Plot
from rules.verdict import too_soon_above

STEP = pd.Timedelta("3h")
# Priors, to be set by a specialist's own files: a rise of this share is water; it comes in within so long of its start,
_RISE, _RISE_STEPS = 0.06, 4
# and has arrived at a depth that rises within so long after the top did.
_ARRIVES = pd.Timedelta(days=2)
# Water after water within this time is one watering.
_APART = pd.Timedelta(hours=18)
_DRAINS = pd.Timedelta(days=2)
# The same number for so long, while another depth moved by so much, is a dead probe.
_STUCK, _OTHERS_MOVED = pd.Timedelta(days=5), 0.10
# A rise and a fall of this size within a step each is electricity, not water.
_SPIKE = 0.4
_GAP = pd.Timedelta(days=2)
_LEAST_DRY_DAYS = 2


@dataclass(frozen=True, kw_only=True)
class Wetting:
    """Water that came: when it was first seen, what was left just before (at the top depth), and the depths that rose. [cm]

    `timing` is `too soon`, `in time` or `too late`, by the lines of that day; None where no line is known.
    """

    at: pd.Timestamp
    left_before: float
    depths_cm: tuple[float, ...]
    timing: str | None


@dataclass(frozen=True, kw_only=True)
class Fault:
    """Why a stretch of one probe's readings is doubted: `stuck`, `spike` or `gap`."""

    depth_cm: float
    first: pd.Timestamp
    last: pd.Timestamp
    why: str


@dataclass(frozen=True, kw_only=True)
class Told:
    """What the traces tell.

    Args:
        wettings: oldest first.
        drying: share of the available water lost in a dry day, the middle one of all dry days, by depth. [1/day]
        days_below: days on which the top depth's morning lay under the limit.
        faults: by depth and time.
    """

    wettings: tuple[Wetting, ...]
    drying: dict[float, float]
    days_below: int
    days: int
    faults: tuple[Fault, ...]


def shares_left(plot: Plot, quantity: str, values: ArrayLike, tables: Tables) -> NDArray[np.float64]:
    """Water left by readings alone, for the middle of the plot's soil. [0..1, a little beyond while it drains]

    Args:
        quantity: `tension` [kPa], `resistance` [ohm] or `percent` [% of volume].
        values: of any shape, which the result has too.
    """
    row = tables.soils.get(plot.soil or "") or tables.soils["loam"]
    numbers = np.asarray(values, dtype=float)
    if quantity == "percent":
        shown_more = 0.0 if plot.probe_full is None else plot.probe_full - row.fc
        theta = numbers / 100 - shown_more
    else:
        kpa = _KPA(numbers) if quantity == "resistance" else numbers
        theta = soil.water_content(kpa, row.fc, row.wp, row.psi_fc)
    left: NDArray[np.float64] = (theta - row.wp) / (row.fc - row.wp)
    return left


def lines(plot: Plot, first: date, last: date, tables: Tables) -> dict[date, tuple[float, float]]:
    """The two lines of a plot on each day: the limit not to go below, and the upper line above which it is too soon. [0..1]"""
    days = (first + timedelta(days=count) for count in range((last - first).days + 1))
    return {day: (limit, too_soon_above(limit)) for day in days for limit in (limit_on(plot, day, tables),)}


_KPA = np.vectorize(instruments.tension_kpa, otypes=[float])


def told(readings: pd.DataFrame, lines: dict[date, tuple[float, float]], top_cm: float | None = None) -> Told:
    """What a plot's traces tell.

    Args:
        readings: `at` (as clocks at the plot showed, without a zone), `depth_cm`, `left` (share, as from `shares_left`); any order.
        lines: limit and upper line by day. [0..1]
        top_cm: the depth that decides; None: the shallowest.
    """
    wide = _wide(readings)
    if wide.empty:
        return Told(wettings=(), drying={}, days_below=0, days=0, faults=())
    faults = _faults(wide)
    sound = _without(wide, faults)
    depths = _depths(wide)
    top = depths[0] if top_cm is None else min(depths, key=lambda depth: abs(depth - top_cm))
    wettings = tuple(_wettings(sound, top, lines))
    below, days = _below(sound[top], lines)
    drying = {depth: rate for depth in _depths(sound) if (rate := _drying(sound[depth])) is not None}
    return Told(wettings=wettings, drying=drying, days_below=below, days=days, faults=faults)


def _wide(readings: pd.DataFrame) -> pd.DataFrame:
    """One column a depth, shallow first, one row each three hours: the middle reading of those hours."""
    keyed = readings.assign(step=readings["at"].dt.floor(STEP))
    wide = keyed.groupby(["step", "depth_cm"])["left"].median().unstack("depth_cm").sort_index()
    return wide.asfreq("3h") if len(wide) > 1 else wide


def _depths(wide: pd.DataFrame) -> list[float]:
    return [float(depth) for depth in wide.columns.tolist()]


def _wettings(wide: pd.DataFrame, top: float, lines: dict[date, tuple[float, float]]) -> list[Wetting]:
    """The rises of the top depth, each with the depths that rose after it."""
    starts = {depth: rises(wide[depth]) for depth in _depths(wide)}
    found: list[Wetting] = []
    for at in starts[top]:
        arrived = [
            depth for depth, times in starts.items() if any(at - STEP <= time <= at + _ARRIVES for time in times)
        ]
        before = float(wide[top].loc[:at].dropna().iloc[-1])
        timing = _timing(before, lines.get(at.date()))
        found.append(Wetting(at=at, left_before=before, depths_cm=tuple(arrived), timing=timing))
    return found


def rises(trace: pd.Series[float]) -> list[pd.Timestamp]:
    """When each wetting of a trace (share left, one step each three hours) begins: the last step before water came in."""
    known = trace.ffill(limit=2)
    ahead = known.iloc[::-1].rolling(_RISE_STEPS + 1, min_periods=2).max().iloc[::-1]
    rising = (ahead - known > _RISE) & (known.shift(-1) - known > _RISE / _RISE_STEPS)
    starts: list[pd.Timestamp] = []
    for at in trace.index[rising]:
        if not starts or at - starts[-1] > _APART:
            starts.append(at)
    return starts


def _timing(left: float, lines: tuple[float, float] | None) -> str | None:
    if lines is None:
        return None
    limit, upper = lines
    return "too late" if left < limit else "too soon" if left > upper else "in time"


def _below(trace: pd.Series[float], lines: dict[date, tuple[float, float]]) -> tuple[int, int]:
    mornings = _mornings(trace).dropna()
    days = [at.date() for at in pd.DatetimeIndex(mornings.index)]
    known = [(left, lines[day][0]) for day, left in zip(days, mornings.tolist(), strict=True) if day in lines]
    return sum(left < limit for left, limit in known), len(known)


def _mornings(trace: pd.Series[float]) -> pd.Series[float]:
    """The steps at six in the morning, when plants have not drunk yet."""
    return trace.loc[pd.DatetimeIndex(trace.index).hour == 6]


def _drying(trace: pd.Series[float]) -> float | None:
    """The middle of the daily losses on days without water, once the surplus has drained."""
    lost = -_mornings(trace).diff()
    wet = pd.Series(False, index=trace.index)
    for at in rises(trace):
        wet.loc[at : at + _DRAINS] = True
    dry = lost[(lost > 0) & ~wet.reindex(lost.index, fill_value=False)]
    return float(dry.median()) if len(dry) >= _LEAST_DRY_DAYS else None


def _faults(wide: pd.DataFrame) -> tuple[Fault, ...]:
    found = [fault for depth in _depths(wide) for kind in (_stuck, _spikes, _gaps) for fault in kind(wide, depth)]
    return tuple(sorted(found, key=lambda fault: (fault.depth_cm, fault.first)))


def _stuck(wide: pd.DataFrame, depth: float) -> list[Fault]:
    """Stretches of one value, too long for living soil while another depth moved, or at the dry end of the probe."""
    trace = wide[depth].dropna()
    runs = (trace.diff().abs() > 1e-9).cumsum()
    others = wide.drop(columns=depth)
    found = []
    for _, run in trace.groupby(runs):
        first, last = run.index[0], run.index[-1]
        if last - first < _STUCK:
            continue
        moved = (others.loc[first:last].max() - others.loc[first:last].min()).max() if len(others.columns) else np.nan
        if moved > _OTHERS_MOVED or not len(others.columns):
            found.append(Fault(depth_cm=float(depth), first=first, last=last, why="stuck"))
    return found


def _spikes(wide: pd.DataFrame, depth: float) -> list[Fault]:
    trace = wide[depth].dropna()
    came, went = trace.diff(), -trace.diff().shift(-1)
    spike = (came.abs() > _SPIKE) & (went.abs() > _SPIKE) & (np.sign(came) == np.sign(went))
    return [Fault(depth_cm=float(depth), first=at, last=at, why="spike") for at in trace.index[spike]]


def _gaps(wide: pd.DataFrame, depth: float) -> list[Fault]:
    times = wide[depth].dropna().index
    return [
        Fault(depth_cm=float(depth), first=before, last=after, why="gap")
        for before, after in pairwise(times)
        if after - before > _GAP
    ]


def _without(wide: pd.DataFrame, faults: tuple[Fault, ...]) -> pd.DataFrame:
    """The traces without what is doubted of them."""
    sound = wide.copy()
    for fault in faults:
        if fault.why != "gap":
            sound.loc[fault.first : fault.last, fault.depth_cm] = np.nan
    return sound
