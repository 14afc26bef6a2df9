"""What carries over from clause to clause while a message is read: the governing plot and day, and the last quantity."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from datetime import date

from bot.understand.dates import When, of_figures
from bot.understand.items import Item, Quantity
from bot.understand.statements import Context, Unclear


@dataclass(frozen=True, slots=True)
class Run:
    """The unit and day of an amount just told, which a bare figure in the same sentence and order would have too."""

    sentence: int
    unit: Quantity
    order: tuple[str, ...]
    day: Item | None


@dataclass(slots=True)
class State:
    """The reader's memory within one message.

    `head_day` governs a sentence when a day stands at its head; `rained` and `hot` are the last sentences that told so.
    """

    context: Context
    text: str
    language: str
    plots: tuple[str, ...] = ()
    head_day: When | None = None
    report_day: When | None = None
    undone_day: When | None = None  # the day on which a sentence tells that nothing was watered
    sentence: int = -1
    quantity: str | None = None
    depth_for_all_cm: float | None = None
    soil_temp_c: float | None = None
    run: Run | None = None
    late_plot: str | None = None  # named only after the second of two amounts: "20 min ayer y 20 hoy en la viña"
    dictated: bool = False  # told in one breath, without marks: no sentence ends that a day at its head governs
    new_plot: str | None = None  # governs all facts told after it, whatever plant they name
    remarks: list[Unclear] = field(default_factory=list)  # unclear only where nothing else is told
    rained: int = -1
    fell: int = -1  # the last sentence that told how much rain fell
    hot: int = -1
    tested: set[str] = field(default_factory=set)  # feels told by what the hand did, not by a word for wetness

    @property
    def today(self) -> date:
        return self.context.now.date()

    @property
    def plot(self) -> str | None:
        """The governing plot for what takes only one."""
        return self.plots[-1] if self.plots else None

    def day_of(self, item: Item) -> When | None:
        """The day that a date item, or a pair of figures in the place of one, names."""
        if item.kind == "date":
            return item.value if isinstance(item.value, When) else None
        if item.kind == "slash":
            return of_figures(self.today, self.context.units, item.value)
        dashed = re.fullmatch(r"(\d{1,2}) - (\d{1,2})", item.text) if item.kind == "number" else None
        return of_figures(self.today, self.context.units, (float(dashed[1]), float(dashed[2]))) if dashed else None


def default_length_mm(number: float, units: str, *, deep: bool) -> float:
    """A length told without a unit: inches in `us`; in `metric` mm of water, but cm of depth. [mm]"""
    if units == "us":
        return number * 25.4
    return number * 10 if deep else number
