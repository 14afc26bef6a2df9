"""What the probes of a plot have shown over a stretch of time, against the plot's two lines."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from bot.store import Person, Store, StoredPlot
from rules import traces
from rules.full_point import FullPoint, full_point
from rules.tables import Tables
from rules.traces import Told, lines


@dataclass(frozen=True)
class Traced:
    """The traces and what they tell.

    Args:
        frame: at (as clocks at the plot showed), depth_cm, left (share), value and quantity as kept.
        lines: limit and upper line by day. [0..1]
    """

    first: date
    last: date
    frame: pd.DataFrame
    lines: dict[date, tuple[float, float]]
    told: Told

    def full_points(self) -> list[FullPoint]:
        """What the probes that read percents of volume show at full, shallow first, as far as soaks have told."""
        percents = self.frame[self.frame["quantity"] == "percent"]
        found = [full_point(percents, depth) for depth in sorted(map(float, percents["depth_cm"].unique()))]
        return [each for each in found if each is not None]

    @property
    def depths_cm(self) -> list[float]:
        """The depths of the probes, shallow first."""
        return sorted(map(float, self.frame["depth_cm"].unique()))


def traced(
    store: Store, person: Person, plot: StoredPlot, tables: Tables, first: date | None = None, last: date | None = None
) -> Traced | None:
    """The traces of a plot from `first` to `last`, all there are where these are not given; None where there are none."""
    zone, span = ZoneInfo(person.timezone or "UTC"), store.series.span(plot)
    if span is None:
        return None
    begins, ends = (at.astimezone(zone).date() for at in span)
    first, last = max(first or begins, begins), min(last or ends, ends)
    since = datetime.combine(first, time(), zone)
    before = datetime.combine(last + timedelta(days=1), time(), zone)
    frame = pd.DataFrame(store.series.of(plot, since, before), columns=["quantity", "depth_cm", "at", "value"])
    if frame.empty:
        return None
    frame["at"] = _local(frame["at"].to_numpy(), zone)
    frame["left"] = 0.0
    for quantity, group in frame.groupby("quantity"):
        frame.loc[group.index, "left"] = traces.shares_left(plot.facts, str(quantity), group["value"], tables)
    by_day = lines(plot.facts, first, last, tables)
    return Traced(first, last, frame, by_day, traces.told(frame, by_day))


def _local(at: NDArray[np.int64], zone: ZoneInfo) -> pd.DatetimeIndex:
    """Seconds since 1970 as times on a clock of the zone. Each time is looked up once: most come from every depth."""
    times, which = np.unique(at, return_inverse=True)
    clocks = [datetime.fromtimestamp(time, zone).replace(tzinfo=None) for time in times.tolist()]
    return pd.DatetimeIndex(clocks).take(which)
