"""Tokens of sensors: each opens one plot for reports and nothing else. The token itself is kept nowhere, only its digest."""

from __future__ import annotations

import hashlib
import secrets
from datetime import datetime

from bot.store.columns import stamp
from bot.store.database import Database
from bot.store.held import StoredPlot
from bot.store.plots import Plots


class Tokens:
    """Verbs on tokens."""

    def __init__(self, database: Database, plots: Plots) -> None:
        self._database, self._plots = database, plots

    def make(self, plot: StoredPlot, by: str, at: datetime) -> str:
        """A new token of the plot, to be shown once; the one before ends."""
        token = secrets.token_urlsafe(24)
        with self._database.transaction():
            self.end(plot)
            self._database.write(
                "INSERT INTO sensor_tokens (digest, person, plot, by, at) VALUES (?, ?, ?, ?, ?)",
                (_digest(token), plot.person, plot.id, by, stamp(at)),
            )
        return token

    def end(self, plot: StoredPlot) -> None:
        """No sensor may report for the plot any more."""
        self._database.write("DELETE FROM sensor_tokens WHERE person = ? AND plot = ?", (plot.person, plot.id))

    def has_one(self, plot: StoredPlot) -> bool:
        """Whether sensors may report for the plot."""
        found = self._database.row("SELECT 1 FROM sensor_tokens WHERE person = ? AND plot = ?", (plot.person, plot.id))
        return found is not None

    def plot_of(self, token: str) -> StoredPlot | None:
        """The plot that a token opens."""
        row = self._database.row("SELECT plot FROM sensor_tokens WHERE digest = ?", (_digest(token),))
        return self._plots.by_id(row["plot"]) if row else None


def _digest(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()
