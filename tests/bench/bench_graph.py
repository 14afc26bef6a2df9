"""What a graph costs: its history, its drawing as SVG and as PNG, and the memory of 100 of them. By hand:

    python tests/bench/bench_graph.py

30 and 268 days of invented weather, readings at one to three depths. Times are the processor's.
"""

from __future__ import annotations

import resource
import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "bot" / "graph"))

from graphs_drawn import GRAPHS, LONG, ON, PEACHES, THREE_DEPTHS, voice, weather

from bot.graph import draw
from rules.history import history

CASES = {
    "30 days": ("three depths", THREE_DEPTHS, weather(40, 5)),
    "a season of 268 days": ("a season", LONG, weather(300, 2)),
}
CALLS = 30


def _ms(work: Callable[[], object]) -> str:
    """Median and worst of some calls after the first. [ms]"""
    work()
    spent = []
    for _ in range(CALLS):
        start = time.process_time()
        work()
        spent.append(1000 * (time.process_time() - start))
    return f"{statistics.median(spent):.0f} ms, at worst {max(spent):.0f}"


def _rss_mb() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def main() -> None:
    for title, (name, told, seen) in CASES.items():
        print(f"{title}: history {_ms(lambda t=told, s=seen: history(PEACHES, t, s, ON))}")  # noqa: T201
        print(f"{title}: SVG {_ms(lambda n=name: draw.svg(GRAPHS[n], voice()))}")  # noqa: T201
        print(f"{title}: PNG with its SVG {_ms(lambda n=name: draw.png(GRAPHS[n], voice()))}")  # noqa: T201
    before = _rss_mb()
    for _ in range(100):
        draw.png(GRAPHS["a season"], voice())
    print(f"memory: {before:.0f} MB before, {_rss_mb():.0f} MB after 100 more pictures")  # noqa: T201


if __name__ == "__main__":
    main()
