"""What an advice costs: warm, replayed in full, and in memory over 10,000 calls. By hand:

    python tests/bench/bench_advice.py

180 days of weather and 50 reports, all invented. Times are those of the processor, since the machine may be busy.
"""

from __future__ import annotations

import gc
import resource
import statistics
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "rules"))

from drawn_seasons import Season, drawn

from rules import advise, season
from rules.profile import _scene

DAYS, REPORTS, CALLS, PLOTS = 180, 50, 10_000, 100


def _season(seed: int) -> Season:
    case = drawn(seed, days=DAYS)
    return replace(case, observations=case.observations[-REPORTS:])


def _ask(case: Season) -> None:
    advise(case.plot, case.observations, case.weather, case.on)


def _forget() -> None:
    season.KNOWN.clear()
    season.MORNINGS.clear()
    _scene.cache_clear()


def _milliseconds(work: Callable[[], None], turns: int, before: Callable[[], None] = lambda: None) -> str:
    took = []
    for _ in range(turns):
        before()
        began = time.process_time()
        work()
        took.append(1000 * (time.process_time() - began))
    took.sort()
    return f"median {statistics.median(took):7.2f} ms   95 of 100 under {took[int(0.95 * turns)]:7.2f} ms"


def _mb() -> float:
    """Most memory ever held by this process, by the kernel. [MB]"""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def _report(line: str) -> None:
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


def main() -> None:
    case = _season(1)
    _ask(case)
    _report(f"asked again, nothing new   {_milliseconds(lambda: _ask(case), 300)}")
    _report(f"asked the first time       {_milliseconds(lambda: _ask(case), 60, _forget)}")

    cases = [_season(seed) for seed in range(PLOTS)]
    gc.collect()
    began, base = time.process_time(), _mb()
    for call in range(CALLS):
        _ask(cases[call % PLOTS])
        if call + 1 in (PLOTS, CALLS // 10, CALLS // 2, CALLS):
            each_ms = 1000 * (time.process_time() - began) / (call + 1)
            _report(
                f"{call + 1:6d} calls, {PLOTS} plots in turn: {each_ms:6.2f} ms each, {_mb() - base:6.1f} MB more than at the start"
            )


if __name__ == "__main__":
    main()
