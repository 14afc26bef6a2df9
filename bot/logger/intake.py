"""Taking a logger's file in: looked at first, then kept, once, with one reading a day and depth for the estimate."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime

import pandas as pd

from bot.errors import FileError
from bot.local_time import local
from bot.logger import columns, readings, table
from bot.logger.columns import Layout
from bot.logger.readings import Odd
from bot.store import Person, Store, StoredMessage, StoredPlot

_SHOWN_ODD = 200


@dataclass(frozen=True)
class Preview:
    """A file looked at: how its columns would be read, its first rows, and what stays open.

    Args:
        layout: with what was settled on earlier files of the plot.
        head: the names of the columns and the first rows as they stand in the file.
        found: readings by depth [cm]: how many, the first and last day, the lowest and highest in SI; empty while questions
            are open.
        odd: the cells and lines that would be left out, the first 200.
    """

    layout: Layout
    head: list[list[str]]
    found: dict[float, dict[str, object]]
    odd: tuple[Odd, ...]
    odd_count: int


@dataclass(frozen=True)
class Taken:
    """What came of a file: new readings, readings that were here already, cells left out, and days for the estimate."""

    new: int
    known: int
    odd: tuple[Odd, ...]
    odd_count: int
    days: int


class Intake:
    """Files of loggers, for the plots of a line.

    Args:
        clock: the line's.
    """

    def __init__(self, store: Store, clock: Callable[[], datetime]) -> None:
        self._store, self._clock = store, clock

    def preview(self, person: Person, plot: StoredPlot, data: bytes, layout: Layout | None = None) -> Preview:
        """Look at a file, with a layout from a form or as guessed.

        Raises: FileError.
        """
        frame = table.read(table.decoded(data))
        settled = layout or columns.settled(columns.guessed(frame), self.remembered(plot))
        head = [list(map(str, frame.columns)), *frame.head(5).astype(str).to_numpy().tolist()]
        if settled.open_questions:
            return Preview(settled, head, {}, (), 0)
        series = readings.read(frame, settled, _zone(person), self._now())
        return Preview(settled, head, _found(series.frame, _zone(person)), series.odd[:_SHOWN_ODD], len(series.odd))

    def remembered(self, plot: StoredPlot) -> Layout | None:
        """How the columns of the plot's last file were read."""
        files = self._store.series.files(plot)
        return columns.from_json(files[0]["layout"]) if files else None

    def keep(self, person: Person, plot: StoredPlot, data: bytes, layout: Layout, name: str, by: str) -> Taken:
        """Take the file in. The same file again changes nothing.

        Args:
            by: who brought it.
        Raises: FileError, when it can't be read or a question is open; nothing is kept then.
        """
        zone = _zone(person)
        series = readings.read(table.read(table.decoded(data)), layout, zone, self._now())
        daily = readings.daily(series.frame, zone)
        now = self._clock()
        received_at = now.astimezone().replace(tzinfo=None) if now.tzinfo else now
        with self._store.transaction():
            message = self._store.messages.keep(person, name, received_at, author="logger")
            assert message is not None  # it bears no id that could be here already
            new = self._add(plot, message, series.frame)
            days = self._keep_days(plot, message, daily, zone)
            taken = Taken(new, len(series.frame) - new, series.odd[:_SHOWN_ODD], len(series.odd), days)
            counts = {"new": new, "known": taken.known, "odd": taken.odd_count, "days": days}
            self._store.series.keep_file(plot, message, name, by, now, columns.as_json(layout), counts)
        return taken

    def report(self, person: Person, plot: StoredPlot, frame: pd.DataFrame) -> int:
        """Readings of sensors that report by themselves, as `readings.read` gives them; how many were new.

        What the estimate gets of a day is the first report of its morning; all reports of a day hang on one message.
        Raises: FileError.
        """
        zone, now = _zone(person), local(self._clock(), person)
        with self._store.transaction():
            id_ = f"sensors {plot.id} {now.date().isoformat()}"
            message = self._store.messages.keep(person, "sensors", now, id=id_, author="logger")
            message = message or self._store.messages.seen(person, id_)
            assert message is not None
            new = self._add(plot, message, frame)
            self._keep_days(plot, message, readings.daily(frame, zone), zone)
        return new

    def take_back(self, person: Person, plot: StoredPlot, file: int, by: str) -> None:
        """The file counts no more: its readings go, and what the estimate had of it is retracted."""
        held = next(each for each in self._store.series.files(plot) if each["id"] == file)
        now = self._clock()
        with self._store.transaction():
            reason = self._store.messages.keep(person, held["name"], now.replace(tzinfo=None), author="logger")
            assert reason is not None
            items = [each for each in self._store.log.history(person) if each.message == held["message"]]
            self._store.corrections.retract(items, reason)
            self._store.series.take_back(plot, file, by, now)

    def _add(self, plot: StoredPlot, message: StoredMessage, frame: pd.DataFrame) -> int:
        seconds = frame["at"].astype("int64") // _per_second(frame["at"])
        depths = frame["depth_cm"].astype(float)
        return self._store.series.add(
            plot, message, zip(frame["quantity"], depths, seconds.tolist(), frame["value"], strict=True)
        )

    def _keep_days(self, plot: StoredPlot, message: StoredMessage, daily: pd.DataFrame, zone: str) -> int:
        """Keep one reading a day and depth where the log has none of that day, depth and quantity; how many."""
        known = {
            (each.on, each.slots["quantity"], each.slots["depth_cm"])
            for each in self._store.log.observations(plot)
            if each.kind == "reading"
        }
        kept = 0
        for row in daily.itertuples():
            on: date = row.on  # type: ignore[assignment]
            if (on, row.quantity, row.depth_cm) in known:
                continue
            at = pd.Timestamp(row.at).tz_convert(zone).tz_localize(None).to_pydatetime()  # type: ignore[arg-type]
            slots = {"quantity": row.quantity, "value": float(row.value), "depth_cm": row.depth_cm}  # type: ignore[arg-type]
            self._store.log.keep(message, "reading", slots, plot=plot, on=on, at=at)
            kept += 1
        return kept

    def _now(self) -> pd.Timestamp:
        now = pd.Timestamp(self._clock())
        return now.tz_convert("UTC") if now.tzinfo else now.tz_localize("UTC") + pd.Timedelta(days=1)


def _zone(person: Person) -> str:
    if person.timezone is None:
        raise FileError("say first where this person waters: the logger's clock is that of the place")
    return person.timezone


def _per_second(times: pd.Series[pd.Timestamp]) -> int:
    return {"ns": 10**9, "us": 10**6, "ms": 10**3, "s": 1}[times.dt.unit]


def _found(frame: pd.DataFrame, zone: str) -> dict[float, dict[str, object]]:
    found: dict[float, dict[str, object]] = {}
    for depth_cm, group in frame.groupby("depth_cm"):
        local = group["at"].dt.tz_convert(zone)
        found[float(depth_cm)] = {  # type: ignore[arg-type]
            "count": len(group),
            "first": local.min().date(),
            "last": local.max().date(),
            "lowest": float(group["value"].min()),
            "highest": float(group["value"].max()),
            "quantity": Counter(group["quantity"]).most_common(1)[0][0],
        }
    return found
