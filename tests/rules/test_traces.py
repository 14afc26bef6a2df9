"""Traces of probes: made-up seasons whose waterings, drying and faults are known, told back from the readings alone."""

from datetime import date, timedelta

import numpy as np
import pandas as pd
import pytest

from rules import traces
from rules.tables import base
from rules.terms import Plot

START = date(2026, 6, 1)
DAYS = 30
LINES = {START + timedelta(days=n): (0.5, 0.8) for n in range(DAYS)}


def season(depth_cm: float, loss_a_day: float, waterings: dict[int, float], start: float = 0.95) -> pd.DataFrame:
    """Hourly readings: `loss_a_day` lost evenly, and of each day's watering at seven a share put back."""
    times = pd.date_range(pd.Timestamp(START), periods=24 * DAYS, freq="h")
    left, trace = start, []
    for hour, _ in enumerate(times):
        left -= loss_a_day / 24
        if hour % 24 == 7:
            left += waterings.get(hour // 24, 0.0)
        trace.append(left)
    return pd.DataFrame({"at": times, "depth_cm": depth_cm, "left": trace})


def changed(frame: pd.DataFrame, first: int, last: int, left: float) -> pd.DataFrame:
    """The same with one value on some days, both included."""
    days = (frame["at"].dt.date - START).map(lambda span: span.days)
    return frame.assign(left=frame["left"].mask(days.between(first, last), left))


def test_each_watering_is_seen_once_on_its_day() -> None:
    found = traces.told(season(30, 0.04, {6: 0.2, 12: 0.2, 20: 0.3}), LINES)
    assert [(each.at.date() - START).days for each in found.wettings] == [6, 12, 20]


def test_a_watering_is_too_soon_in_time_or_too_late_by_what_was_left_before() -> None:
    found = traces.told(season(30, 0.04, {1: 0.1, 7: 0.25, 21: 0.5}), LINES)
    assert [each.timing for each in found.wettings] == ["too soon", "in time", "too late"]


def test_without_lines_nothing_is_judged() -> None:
    (wetting,) = traces.told(season(30, 0.04, {6: 0.2}), {}).wettings
    assert wetting.timing is None


def test_a_watering_went_as_deep_as_the_depths_that_rose_after_it() -> None:
    shallow, middle = season(30, 0.04, {6: 0.25, 14: 0.25}), season(60, 0.02, {7: 0.15})
    deep = season(90, 0.01, {})
    found = traces.told(pd.concat([shallow, middle, deep]), LINES)
    assert [each.depths_cm for each in found.wettings] == [(30.0, 60.0), (30.0,)]


def test_the_drying_is_the_loss_of_a_dry_day() -> None:
    found = traces.told(pd.concat([season(30, 0.04, {6: 0.2, 14: 0.3}), season(60, 0.015, {7: 0.1})]), LINES)
    assert found.drying == pytest.approx({30.0: 0.04, 60.0: 0.015}, abs=0.002)


def test_days_below_the_limit_are_counted_by_their_mornings() -> None:
    found = traces.told(season(30, 0.03, {}), LINES)
    # 0.95 - 0.03 n lies below 0.5 from the sixteenth day on.
    assert found.days == DAYS
    assert found.days_below == pytest.approx(DAYS - 15, abs=1)


def test_a_probe_that_stands_still_while_another_moves_is_doubted_and_left_out() -> None:
    dead = changed(season(30, 0.03, {20: 0.4}), 5, 14, 0.6)
    found = traces.told(pd.concat([dead, season(60, 0.03, {})]), LINES)
    (fault,) = found.faults
    assert (fault.depth_cm, fault.why) == (30.0, "stuck")
    assert abs((fault.first.date() - START).days - 5) <= 1
    assert [(each.at.date() - START).days for each in found.wettings] == [20]


def test_two_probes_that_stand_still_together_in_winter_are_not_doubted() -> None:
    still = [changed(season(depth, 0.0, {}), 0, DAYS, 0.9) for depth in (30, 60)]
    assert traces.told(pd.concat(still), LINES).faults == ()


def test_a_leap_there_and_back_is_electricity() -> None:
    frame = season(30, 0.01, {})
    at = frame["at"].iloc[24 * 9 + 12]
    frame.loc[frame["at"].between(at, at + pd.Timedelta(hours=2)), "left"] = 0.1
    found = traces.told(frame, LINES)
    assert [each.why for each in found.faults] == ["spike"]
    assert found.wettings == ()


def test_a_gap_is_told() -> None:
    frame = season(30, 0.01, {})
    days = (frame["at"].dt.date - START).map(lambda span: span.days)
    (fault,) = traces.told(frame[~days.between(10, 13)], LINES).faults
    assert fault.why == "gap"
    assert (fault.last - fault.first).days == 4


def test_no_readings_tell_nothing() -> None:
    nothing = traces.told(season(30, 0.0, {}).iloc[:0], LINES)
    assert (nothing.wettings, nothing.days, nothing.faults) == ((), 0, ())


@pytest.mark.parametrize("soil", [None, "sand", "loam", "clay"])
@pytest.mark.parametrize(
    ("quantity", "values"), [("tension", [1, 10, 33, 60, 100, 199]), ("resistance", [550, 1500, 5000, 20000])]
)
def test_drier_readings_leave_less_water(soil: str | None, quantity: str, values: list[float]) -> None:
    left = traces.shares_left(Plot(soil=soil), quantity, values, base())
    assert (np.diff(left) <= 0).all()
    assert left[0] > left[-1]


def test_full_and_empty_are_those_of_the_soil_table() -> None:
    row = base().soils["loam"]
    assert traces.shares_left(Plot(soil="loam"), "percent", [100 * row.wp, 100 * row.fc], base()) == pytest.approx(
        [0, 1]
    )
    assert traces.shares_left(Plot(soil="loam"), "tension", [1500.0, row.psi_fc], base()) == pytest.approx([0, 1])
