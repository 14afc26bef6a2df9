"""The ruler on the graph: the straight line through the readings since the last water, and the day it comes to the limit.

It knows nothing of weather to come; the estimate does. Where the two agree, a person may trust both.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import date, timedelta
from math import ceil

import numpy as np

from rules import soil
from rules.tables import Soil
from rules.terms import Heard, PastDay, Trend

# Readings of fewer days are no line, and older ones than this are of other weather (our judgement).
_LEAST_DAYS, _LOOKED_BACK = 3, timedelta(days=10)
# A day that lies further off than this is not told (our judgement).
_FURTHEST_DAYS = 30
# Rain of less wets no probe (our judgement). [mm]
_WETS_MM = 2.0
# Which way a number goes as the ground dries.
_DRYING = {"tension": 1, "percent": -1}

Points = Sequence[tuple[date, float]]


def trends(heard: Iterable[Heard], days: Sequence[PastDay], limit_at: Callable[[str], float]) -> tuple[Trend, ...]:
    """The trend at each depth that was read by a number often enough since the last water, shallow first.

    Args:
        limit_at: what a probe of a quantity shows at the limit: `tension` [kPa] or `percent` [% of volume].
    """
    today = days[-1].on
    wet = [day.on for day in days if day.waterings or (day.rain_mm or 0.0) >= _WETS_MM]
    since = max([today - _LOOKED_BACK, *wet])
    series: dict[tuple[float, str], dict[date, float]] = {}
    for each in heard:
        told = each.reading
        if each.counted and each.depth_cm is not None and told.quantity in _DRYING and told.on > since:
            series.setdefault((each.depth_cm, told.quantity), {})[told.on] = float(told.value)
    found = (
        trend(quantity, depth_cm, sorted(values.items()), limit_at(quantity))
        for (depth_cm, quantity), values in sorted(series.items())
    )
    return tuple(each for each in found if each is not None)


def trend(quantity: str, depth_cm: float, points: Points, limit: float) -> Trend | None:
    """The straight line through one probe's readings, a day each, oldest first; None where the ground does not dry by it.

    Args:
        points: days and values; only those since the value last went back are taken.
        limit: the value at which to water.
    """
    way, dry = _DRYING[quantity], _since_wetter(points, _DRYING[quantity])
    if len(dry) < _LEAST_DAYS:
        return None
    last = dry[-1][0]
    slope, now = np.polyfit([(on - last).days for on, _ in dry], [value for _, value in dry], 1)
    if slope * way <= 0:
        return None
    # A line that is there but for rounding is there.
    ahead = ceil((limit - now) / slope - 1e-6)
    reaches = last + timedelta(days=ahead) if 0 < ahead <= _FURTHEST_DAYS else None
    return Trend(quantity=quantity, depth_cm=depth_cm, change_a_day=abs(float(slope)), limit=limit, reaches_on=reaches)


def limit_reading(quantity: str, limit: float, ground: Soil, shown_at_full: float | None) -> float:
    """What a probe shows at the limit. `tension` [kPa] or `percent` [% of volume]

    Args:
        limit: water left. [0..1]
        shown_at_full: what this probe shows where the ground is full; None: what the soil holds there. [m3/m3]
    """
    theta = ground.wp + limit * (ground.fc - ground.wp)
    if quantity == "percent":
        return 100 * (theta + (0.0 if shown_at_full is None else shown_at_full - ground.fc))
    return float(soil.tension_kpa(theta, ground.fc, ground.wp, ground.psi_fc))


def _since_wetter(points: Points, way: int) -> Points:
    """The last of the points, from where the value last went back towards wet."""
    start = 0
    for index in range(1, len(points)):
        if (points[index][1] - points[index - 1][1]) * way < 0:
            start = index
    return points[start:]
