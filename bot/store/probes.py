"""The office's own probes and loan kits: where each is, how deep, until when, where it was before, and what was wrong with it."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from datetime import date, datetime

from bot.errors import StoreError
from bot.store.columns import Column, day_or_none, stamp
from bot.store.database import Database

# A step of the schema: it is never changed. Who is erased takes along where their plot lies, not the probe's history.
PROBES = (
    """CREATE TABLE probes (
        id INTEGER PRIMARY KEY, label TEXT NOT NULL UNIQUE COLLATE NOCASE, kind TEXT NOT NULL, by TEXT NOT NULL,
        at TEXT NOT NULL) STRICT""",
    """CREATE TABLE probe_stays (
        id INTEGER PRIMARY KEY, probe INTEGER NOT NULL REFERENCES probes, plot INTEGER REFERENCES plots ON DELETE SET NULL,
        place TEXT NOT NULL, depth_cm REAL, since TEXT NOT NULL, due TEXT, back_on TEXT, by TEXT NOT NULL) STRICT""",
    "CREATE UNIQUE INDEX probes_out ON probe_stays (probe) WHERE back_on IS NULL",
    "CREATE INDEX probe_stays_of_plot ON probe_stays (plot)",
    "CREATE INDEX probe_stays_of_probe ON probe_stays (probe)",
    """CREATE TABLE probe_faults (
        id INTEGER PRIMARY KEY, probe INTEGER NOT NULL REFERENCES probes, day TEXT NOT NULL, what TEXT NOT NULL,
        by TEXT NOT NULL, mended_on TEXT, mended_by TEXT) STRICT""",
    "CREATE INDEX probe_faults_of_probe ON probe_faults (probe)",
    """CREATE TRIGGER a_place_goes_with_its_plot BEFORE DELETE ON plots BEGIN
        UPDATE probe_stays SET place = '' WHERE plot = old.id; END""",
)
_STAYS = "SELECT probe_stays.*, probes.label FROM probe_stays JOIN probes ON probes.id = probe"


@dataclass(frozen=True, kw_only=True)
class Stay:
    """A probe away from the office: in a plot (its id), or with whom `place` says. `due` is the day it should be back."""

    id: int
    probe: int
    label: str
    plot: int | None
    place: str
    depth_cm: float | None
    since: date
    due: date | None
    back_on: date | None
    by: str

    def late(self, today: date) -> bool:
        """Whether it should be back by now."""
        return self.back_on is None and self.due is not None and self.due < today


@dataclass(frozen=True, kw_only=True)
class ProbeFault:
    """What was wrong with a probe from a day on, and when it was right again."""

    id: int
    day: date
    what: str
    by: str
    mended_on: date | None
    mended_by: str | None


@dataclass(frozen=True, kw_only=True)
class Probe:
    """One probe or kit: the label on it, what it is, where it is now (None: at the office), and its open faults."""

    id: int
    label: str
    kind: str
    out: Stay | None
    faulty: int


class Probes:
    """Verbs on the office's probes."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def add(self, label: str, kind: str, by: str, at: datetime) -> int | None:
        """A new one; its id. None: the label is on another."""
        rows = self._database.rows(
            "INSERT INTO probes (label, kind, by, at) VALUES (?, ?, ?, ?) ON CONFLICT DO NOTHING RETURNING id",
            (label, kind, by, stamp(at)),
        )
        return int(rows[0]["id"]) if rows else None

    def all(self) -> list[Probe]:
        """All by label."""
        return self._found("1", ())

    def one(self, id: int) -> Probe:
        """Raises: StoreError, when there is none of that id."""
        found = self._found("probes.id = ?", (id,))
        if not found:
            raise StoreError(f"there is no probe {id}")
        return found[0]

    def move(
        self, probe: int, plot: int | None, place: str, depth_cm: float | None, due: date | None, by: str, on: date
    ) -> None:
        """It stands elsewhere from this day on; where it was ends with the same day."""
        with self._database.transaction():
            self.back(probe, on)
            self._database.write(
                "INSERT INTO probe_stays (probe, plot, place, depth_cm, since, due, by) VALUES (?, ?, ?, ?, ?, ?, ?)",
                (probe, plot, place, depth_cm, on.isoformat(), due.isoformat() if due else None, by),
            )

    def back(self, probe: int, on: date) -> None:
        """It is at the office again."""
        self._database.write(
            "UPDATE probe_stays SET back_on = ? WHERE probe = ? AND back_on IS NULL", (on.isoformat(), probe)
        )

    def fault(self, probe: int, what: str, by: str, on: date) -> None:
        """Something is wrong with it."""
        self._database.write(
            "INSERT INTO probe_faults (probe, day, what, by) VALUES (?, ?, ?, ?)", (probe, on.isoformat(), what, by)
        )

    def mended(self, probe: int, fault: int, by: str, on: date) -> None:
        """A fault of it is mended."""
        self._database.write(
            "UPDATE probe_faults SET mended_on = ?, mended_by = ? WHERE id = ? AND probe = ? AND mended_on IS NULL",
            (on.isoformat(), by, fault, probe),
        )

    def stays(self, probe: int) -> list[Stay]:
        """Where it was, newest first."""
        return [_stay(row) for row in self._database.rows(f"{_STAYS} WHERE probe = ? ORDER BY id DESC", (probe,))]

    def in_plot(self, plot: int) -> list[Stay]:
        """The probes that stand or stood in a plot, newest first."""
        return [_stay(row) for row in self._database.rows(f"{_STAYS} WHERE plot = ? ORDER BY id DESC", (plot,))]

    def late(self, today: date) -> list[Stay]:
        """Those that should be back by now, longest first."""
        rows = self._database.rows(
            f"{_STAYS} WHERE back_on IS NULL AND due < ? ORDER BY due, probe_stays.id", (today.isoformat(),)
        )
        return [_stay(row) for row in rows]

    def faults(self, probe: int) -> list[ProbeFault]:
        """All that was wrong with it, newest first."""
        rows = self._database.rows("SELECT * FROM probe_faults WHERE probe = ? ORDER BY id DESC", (probe,))
        return [
            ProbeFault(
                id=row["id"],
                day=date.fromisoformat(row["day"]),
                what=row["what"],
                by=row["by"],
                mended_on=day_or_none(row["mended_on"]),
                mended_by=row["mended_by"],
            )
            for row in rows
        ]

    def _found(self, which: str, values: tuple[Column, ...]) -> list[Probe]:
        out = {row["probe"]: _stay(row) for row in self._database.rows(f"{_STAYS} WHERE back_on IS NULL")}
        rows = self._database.rows(
            f"""SELECT probes.*, (SELECT count(*) FROM probe_faults WHERE probe = probes.id AND mended_on IS NULL) AS faulty
            FROM probes WHERE {which} ORDER BY label COLLATE NOCASE""",
            values,
        )
        return [
            Probe(id=row["id"], label=row["label"], kind=row["kind"], out=out.get(row["id"]), faulty=row["faulty"])
            for row in rows
        ]


def _stay(row: sqlite3.Row) -> Stay:
    return Stay(
        id=row["id"],
        probe=row["probe"],
        label=row["label"],
        plot=row["plot"],
        place=row["place"],
        depth_cm=row["depth_cm"],
        since=date.fromisoformat(row["since"]),
        due=day_or_none(row["due"]),
        back_on=day_or_none(row["back_on"]),
        by=row["by"],
    )
