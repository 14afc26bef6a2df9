"""By hand: many simulated yards a season long, `rules.advise` against the checkbook, as a table with standard errors.

    python tests/bench/season_long.py [yards] [first seed]

All of it is simulated and invented: it shows which way of advising loses less, not what a real garden will save.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "season"))

from advisers import Checkbook, Dropline
from played import HABITS, Outcome, play


def _means(outcomes: list[Outcome]) -> str:
    columns = (
        np.mean([getattr(each, name) for each in outcomes]) for name in ("water_mm", "lost_mm", "waterings", "cost_mm")
    )
    return " ".join(f"{column:8.1f}" for column in columns)


def main() -> None:
    yards = int(sys.argv[1]) if len(sys.argv) > 1 else 60
    first = int(sys.argv[2]) if len(sys.argv) > 2 else 1000
    names = "   water     lost waterings   cost"
    print(f"{'habit':15s} | advise {names} | checkbook {names} | gain    se  yards better   s")  # noqa: T201
    for name, habit in HABITS.items():
        began = time.perf_counter()
        ours = [play(seed, habit, Dropline) for seed in range(first, first + yards)]
        theirs = [play(seed, habit, Checkbook) for seed in range(first, first + yards)]
        gain = np.array([book.cost_mm - own.cost_mm for own, book in zip(ours, theirs, strict=True)])
        error = gain.std(ddof=1) / yards**0.5
        took = time.perf_counter() - began
        print(  # noqa: T201
            f"{name:15s} |  {_means(ours)} |  {_means(theirs)} | {gain.mean():6.1f} {error:5.1f} "
            f"{(gain > 0).sum():5d}/{yards} {took:6.1f}"
        )


if __name__ == "__main__":
    main()
