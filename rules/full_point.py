"""A plot's own full point, found from its probe: what it shows two to three days after a good soak.

Field capacity is what a soil holds about two days after wetting, when it drains no more (USDA-NRCS). A probe's own zero is never
that of the tables; so its full point is offered as what this probe shows at full, not as what the soil holds.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pandas as pd

from rules.traces import STEP, rises

# When the surplus has drained, and for how long what is lost afterwards is watched, to tell what plants took meanwhile.
_SETTLED, _READ_UNTIL, _WATCHED_UNTIL = pd.Timedelta("48h"), pd.Timedelta("72h"), pd.Timedelta("132h")
# Until about then plants drink of the surplus, which would have drained anyway (with a surplus of a tenth that drains to a third
# in half a day, and one percent used a day, by 36 h).
_SURPLUS_GONE = pd.Timedelta("36h")
_PEAK_WITHIN, _LEAST_WATCHED = pd.Timedelta("24h"), pd.Timedelta("36h")
# A soak that filled the ground is one after which it lost more in its first day than in a later one, and this much at least. [%]
_DRAINED, _LEAST_DRAINED_PERCENT = 1.5, 1.0
_LEAST_SOAKS = 2


@dataclass(frozen=True, kw_only=True)
class FullPoint:
    """What the probe at a depth shows at full, the middle of so many soaks, and the span that they gave. [% of volume]"""

    depth_cm: float
    percent: float
    low_percent: float
    high_percent: float
    soaks: int


def full_point(readings: pd.DataFrame, depth_cm: float) -> FullPoint | None:
    """The full point of the probe at a depth; None while fewer than two good soaks were followed to their end.

    Args:
        readings: `at` (without a zone), `depth_cm`, `left` (share, as from `traces.shares_left`), `value` [% of volume]; any order.
    """
    mine = readings[readings["depth_cm"] == depth_cm].assign(step=lambda frame: frame["at"].dt.floor(STEP))
    steps = mine.groupby("step")[["left", "value"]].median().asfreq("3h")
    if len(steps) < 2:
        return None
    starts = rises(steps["left"])
    ends = [*starts[1:], steps.index[-1] + STEP]
    found = [_after(steps["value"], start, end) for start, end in zip(starts, ends, strict=True)]
    settled = [percent for percent in found if percent is not None]
    if len(settled) < _LEAST_SOAKS:
        return None
    return FullPoint(
        depth_cm=depth_cm,
        percent=round(float(np.median(settled)), 1),
        low_percent=round(min(settled), 1),
        high_percent=round(max(settled), 1),
        soaks=len(settled),
    )


def _after(trace: pd.Series[float], start: pd.Timestamp, end: pd.Timestamp) -> float | None:
    """Where one soak settled, without what plants took till then; None for one that did not fill the ground, or was cut short."""
    wet = trace.loc[start : min(start + _PEAK_WITHIN, end - STEP)].dropna()
    if wet.empty:
        return None
    peak: pd.Timestamp = wet.index[int(wet.argmax())]
    settling = trace.loc[peak + _SETTLED : peak + _READ_UNTIL].dropna()
    watched = trace.loc[peak + _SETTLED : min(end - STEP, peak + _WATCHED_UNTIL)].dropna()
    if settling.empty or end < peak + _READ_UNTIL or _hours(watched) < _LEAST_WATCHED / pd.Timedelta("1h"):
        return None
    lost_a_day = max(_lost_a_day(watched), 0.0)
    drained = float(wet.max()) - float(trace.loc[peak : peak + _PEAK_WITHIN].dropna().iloc[-1])
    if drained < max(_DRAINED * lost_a_day, _LEAST_DRAINED_PERCENT):
        return None
    middle = (_SETTLED + _READ_UNTIL) / 2
    return float(settling.median()) + lost_a_day * ((middle - _SURPLUS_GONE) / pd.Timedelta("1D"))


def _hours(trace: pd.Series[float]) -> float:
    return 0.0 if len(trace) < 2 else float((trace.index[-1] - trace.index[0]) / pd.Timedelta("1h"))


def _lost_a_day(trace: pd.Series[float]) -> float:
    """The middle of the losses between readings a day apart, so that days and nights count alike. [%/day]"""
    days = pd.Timedelta("1D")
    later = trace.reindex(trace.index + days).to_numpy()
    lost = trace.to_numpy() - later
    known = lost[~np.isnan(lost)]
    return float(np.median(known)) if known.size else 0.0
