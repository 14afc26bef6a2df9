"""A logger's table as readings in SI. What can't be read is listed with its line; nothing goes missing in silence."""

from __future__ import annotations

from dataclasses import dataclass
from zoneinfo import ZoneInfo

import numpy as np
import pandas as pd

from bot.errors import FileError
from bot.logger.columns import UNITS, Column, Layout

# What no instrument of the kind says, as (lowest, highest): kPa, ohms, percent of volume. Beyond it a cell is odd.
POSSIBLE = {"tension": (0.0, 1500.0), "resistance": (1.0, 100_000.0), "percent": (0.0, 70.0)}
_OLDEST = pd.Timestamp("1990-01-01", tz="UTC")


@dataclass(frozen=True)
class Odd:
    """A cell or line left out: its line in the file, what stood there, and why it was left."""

    line: int
    cell: str
    why: str


@dataclass(frozen=True)
class Series:
    """Readings in order of time. `frame`: at (UTC), quantity, value (SI), depth_cm; a row a reading."""

    frame: pd.DataFrame
    odd: tuple[Odd, ...]
    repeated: int


def read(table: pd.DataFrame, layout: Layout, zone: str, now: pd.Timestamp) -> Series:
    """The readings of a table.

    Args:
        table: as `table.read` gives it.
        zone: the IANA time zone that the logger's clock is set to.
        now: nothing was read later than this.
    Raises: FileError, when the layout leaves a question open or names a column that is not there.
    """
    if layout.open_questions:
        raise FileError(f"unit and depth are needed of: {', '.join(layout.open_questions)}")
    missing = [name for name in (*layout.time, *(each.name for each in layout.columns)) if name not in table.columns]
    if missing:
        raise FileError(f"this file has no column {', '.join(missing)}")
    at, odd = _times(table, layout, zone, now)
    read_columns = [_column(table[each.name], each, at) for each in layout.columns]
    frame = pd.concat([found for found, _ in read_columns]).sort_values(["at", "depth_cm"], kind="stable")
    once = frame.drop_duplicates(["at", "quantity", "depth_cm"], keep="first").reset_index(drop=True)
    left_out = sorted([*odd, *(each for _, cells in read_columns for each in cells)], key=lambda each: each.line)
    return Series(once, tuple(left_out), len(frame) - len(once))


def _times(
    table: pd.DataFrame, layout: Layout, zone: str, now: pd.Timestamp
) -> tuple[pd.Series[pd.Timestamp], list[Odd]]:
    written = (
        table[list(layout.time)].agg(" ".join, axis=1).str.strip() if len(layout.time) > 1 else table[layout.time[0]]
    )
    local = _local(written, layout.order == "day first")
    at = _in_utc(local, zone, layout.daylight_saving)
    wrong = at.isna() | (at > now) | (at < _OLDEST)
    odd = [
        Odd(int(line), str(written[line])[:40], "no date and time" if pd.isna(at[line]) else "a time that can't be")
        for line in table.index[wrong]
    ]
    return at.mask(wrong), odd


def _local(written: pd.Series[str], day_first: bool) -> pd.Series[pd.Timestamp]:
    """Times by the form of the first that has one, and any others by their own form, which takes much longer."""
    forms = (pd.tseries.api.guess_datetime_format(each, dayfirst=day_first) for each in written.head(20))
    form = next((each for each in forms if each), None)
    local = pd.to_datetime(written, format=form, errors="coerce") if form else pd.Series(pd.NaT, index=written.index)
    others = local.isna()
    if others.any():
        local = local.where(
            ~others, pd.to_datetime(written[others], format="mixed", dayfirst=day_first, errors="coerce")
        )
    return local


def _in_utc(local: pd.Series[pd.Timestamp], zone: str, daylight_saving: bool) -> pd.Series[pd.Timestamp]:
    """Wall times in UTC. In the hour that autumn repeats, the second round is the one after the clock went back."""
    if isinstance(local.dtype, pd.DatetimeTZDtype):
        return local.dt.tz_convert("UTC")
    if not daylight_saving:
        winter = pd.Timestamp("2026-01-15", tz=ZoneInfo(zone)).utcoffset() or pd.Timedelta(0)
        summer = pd.Timestamp("2026-07-15", tz=ZoneInfo(zone)).utcoffset() or pd.Timedelta(0)
        return (local - min(winter, summer)).dt.tz_localize("UTC")
    first = local.dt.tz_localize(zone, ambiguous=np.ones(len(local), dtype=bool), nonexistent="shift_forward")
    second = local.dt.tz_localize(zone, ambiguous=np.zeros(len(local), dtype=bool), nonexistent="shift_forward")
    return first.where(~_after_the_turn(local, first != second), second).dt.tz_convert("UTC")


def _after_the_turn(local: pd.Series[pd.Timestamp], ambiguous: pd.Series[bool]) -> pd.Series[bool]:
    """Which of the ambiguous times stand after a step back of the clock on the same night."""
    stepped_back = (local.diff() < pd.Timedelta(0)) & ambiguous
    return ambiguous & stepped_back.groupby(local.dt.date).cumsum().gt(0)


def _column(cells: pd.Series[str], column: Column, at: pd.Series[pd.Timestamp]) -> tuple[pd.DataFrame, list[Odd]]:
    quantity, factor = UNITS[column.unit or ""]
    numbers = pd.to_numeric(cells.str.strip().str.replace(",", ".", regex=False), errors="coerce")
    # A tension may be written as the negative pressure that it is.
    value = numbers.abs() * factor if quantity == "tension" else numbers * factor
    low, high = POSSIBLE[quantity]
    written = cells.str.strip() != ""
    impossible = (value < low) | (value > high)
    good = at.notna() & value.notna() & ~impossible
    frame = pd.DataFrame({"at": at[good], "quantity": quantity, "value": value[good], "depth_cm": column.depth_cm})
    odd = [
        Odd(
            int(line),
            str(cells[line])[:40],
            f"{column.name}: {'no number' if pd.isna(value[line]) else 'no such reading'}",
        )
        for line in cells.index[written & at.notna() & ~good]
    ]
    return frame, odd


def daily(series: pd.DataFrame, zone: str) -> pd.DataFrame:
    """One reading a day and depth, as a person would have taken it: the middle one from 5 to 8 in the morning.

    Returns: on (date), at (UTC), quantity, value, depth_cm; days without a morning are taken by their first readings.
    """
    local = series["at"].dt.tz_convert(zone)
    keyed = series.assign(on=local.dt.date, early=~local.dt.hour.between(5, 7))
    best = keyed[keyed["early"] == keyed.groupby(["on", "depth_cm", "quantity"])["early"].transform("min")]
    best = best[
        best["at"] <= best.groupby(["on", "depth_cm", "quantity"])["at"].transform("min") + pd.Timedelta(hours=3)
    ]
    found = best.groupby(["on", "depth_cm", "quantity"], as_index=False).agg(
        at=("at", "min"), value=("value", "median")
    )
    return found.sort_values(["on", "depth_cm"]).reset_index(drop=True)
