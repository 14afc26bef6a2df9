"""What each plot's water is held against, and what its water costs: told by the office, with where it comes from."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from bot.store.columns import stamp, time
from bot.store.database import Database
from bot.store.held import StoredPlot

KINDS = ("habit before", "last year's meter", "county's usual")


@dataclass(frozen=True, kw_only=True)
class Baseline:
    """So much a week before [mm], what kind of figure that is and who says so; None: not known, then nothing is saved.

    `price_m3` in the office's money, `lift_m` with pressure as head, `pump_efficiency` a share.
    """

    mm_week: float | None
    kind: str
    source: str
    price_m3: float | None
    lift_m: float | None
    pump_efficiency: float | None
    by: str
    at: datetime


class Baselines:
    """Verbs on baselines. Each is kept; the newest of a plot stands."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def set(self, plot: StoredPlot, told: Baseline) -> None:
        """What stands from now on."""
        self._database.write(
            """INSERT INTO baselines (person, plot, mm_week, kind, source, price_m3, lift_m, pump_efficiency, by, at)
            VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)""",
            (
                plot.person, plot.id, told.mm_week, told.kind, told.source, told.price_m3, told.lift_m,
                told.pump_efficiency, told.by, stamp(told.at),
            ),
        )  # fmt: skip

    def of(self, plot: StoredPlot) -> Baseline | None:
        """What stands for the plot."""
        row = self._database.row(
            "SELECT * FROM baselines WHERE person = ? AND plot = ? ORDER BY id DESC LIMIT 1", (plot.person, plot.id)
        )
        if row is None:
            return None
        return Baseline(
            mm_week=row["mm_week"],
            kind=row["kind"],
            source=row["source"],
            price_m3=row["price_m3"],
            lift_m=row["lift_m"],
            pump_efficiency=row["pump_efficiency"],
            by=row["by"],
            at=time(row["at"]),
        )
