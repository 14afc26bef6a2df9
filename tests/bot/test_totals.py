"""A season's totals: sums over days, worked by hand."""

from __future__ import annotations

from datetime import date

import pytest

from bot.talk.totals import totals
from rules.terms import PastDay


def _day(day: int, demand_mm: float = 5.0, rain_mm: float | None = None, *waterings: float | None) -> PastDay:
    shares = {"dawn": 0.8, "left": 0.8, "low": 0.7, "high": 0.9, "limit": 0.5, "upper": 0.8}
    return PastDay(on=date(2026, 7, day), rain_mm=rain_mm, waterings=waterings, demand_mm=demand_mm, **shares)


def test_the_totals_are_the_sums_since_the_first_report() -> None:
    days = [_day(1, 9.0, 30.0), _day(2, 5.0, 2.0, 20.0), _day(3, 6.0, None, None, 12.0), _day(4, 7.0, 1.0)]
    found = totals(days, date(2026, 7, 2))
    assert found is not None
    assert (found.since, found.waterings, found.unmeasured) == (date(2026, 7, 2), 3, 1)
    assert (found.water_mm, found.rain_mm) == (32.0, 3.0)
    assert found.wanted_mm == 11.0  # of 2 and 3 July; today's is not known yet
    assert found.off_mm == pytest.approx(0.12 * 11.0)  # the spread of a plant's use, a prior


def test_no_day_has_no_totals() -> None:
    assert totals([_day(1)], date(2026, 7, 2)) is None
