"""Which of a person's plots a name can only mean: "grapes" for the merlot block, where no other plot has grapes."""

from __future__ import annotations

from collections.abc import Sequence

from bot.store import StoredPlot
from bot.talk.setup import plain
from rules.tables import Tables


def could_mean(name: str, plots: Sequence[StoredPlot], tables: Tables) -> list[StoredPlot]:
    """The plots whose own name, or whose plant's, holds every word that was said."""
    said = _stems(name)
    return [plot for plot in plots if plot.name and said and said <= _called(plot, tables)]


def _called(plot: StoredPlot, tables: Tables) -> frozenset[str]:
    plant = tables.plants.get(plot.facts.plant or "")
    return _stems(plot.name) | (
        _stems(f"{plant.name_en} {plant.name_es}") if plant and not plant.generic else frozenset()
    )


def _stems(words: str) -> frozenset[str]:
    """The words without the mark of the plural, which is the same letter in both languages."""
    return frozenset(
        word.removesuffix("es") if word.endswith("oes") else word.removesuffix("s") for word in plain(words).split()
    )
