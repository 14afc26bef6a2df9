"""What came of one message once it was recorded: what to read back, what to advise on, what to ask."""

from __future__ import annotations

from dataclasses import dataclass, field

from bot.store import StoredPlot
from bot.talk.rod import Learned
from bot.understand.statements import Fact, Reading, Statement
from rules.can_test import CanTest


@dataclass
class Heard:
    """What came of one message.

    Args:
        first: the person had no plot before; what is named is new.
        kept: what was stored, with the plots' names filled in.
        plots: ids of the plots that were told of, in order.
        wants: requests, each with the ids of the plots that it is about.
        impossible: what was kept but set aside.
        known: readings that were told just before; they count once.
        undone: what was taken back; `left`: the last thing told that still counts.
        held: statements that wait for the name of their plot; `undated`: for their day.
        skipped: a question was passed over; `feel_soil`: the soil is to be felt for; `feel_first`: the plot whose wetness
            must be felt before advice.
        learned: what a rod said of the watering before; `cans`: how evenly the cans of a can test were filled.
        bare: numbers of which it must be asked what they are.
        which_place: a place that several have the name of; `places`: what they are.
        unknown_plant, unknown_place: words that no table has; `nearest` what they may have meant.
    """

    first: bool = False
    kept: list[Statement] = field(default_factory=list)
    plots: list[int] = field(default_factory=list)
    wants: list[tuple[str, list[int]]] = field(default_factory=list)
    impossible: list[Statement] = field(default_factory=list)
    unclear: list[str] = field(default_factory=list)
    undated: list[Statement] = field(default_factory=list)
    held: list[Statement] = field(default_factory=list)
    undone: list[Statement] | None = None
    known: list[Statement] = field(default_factory=list)
    left: list[Statement] = field(default_factory=list)
    unknown_plant: tuple[str, tuple[str, ...]] | None = None
    unknown_place: str | None = None
    which_place: Fact | None = None
    places: tuple[str, ...] = ()
    skipped: bool = False
    feel_soil: bool = False
    feel_first: str | None = None
    learned: Learned | None = None
    cans: CanTest | None = None
    bare: list[Reading] = field(default_factory=list)

    @property
    def nameless(self) -> bool:
        """Whether the message held no more than a name that no table has."""
        known = [each for each in self.kept if not (isinstance(each, Fact) and each.about == "plant")]
        return not known and (self.unknown_plant is not None or self.unknown_place is not None)

    def touch(self, plot: StoredPlot) -> None:
        """Remember that the plot was told of."""
        if plot.id not in self.plots:
            self.plots.append(plot.id)
