"""What it costs to answer a reading, beside one durable commit alone; where the time goes; and whether memory grows. By hand:

    python tests/bench/bench_answer.py [folder to put the files in]

The answer and the bare commit are timed on the same disk in turns, so that a slow moment of the disk falls on both. Each person
has one plot, 120 days of weather and 40 reports, and texts in turn with the others, so that the last finds hardly more than the
first. All of it is invented.
"""

from __future__ import annotations

import os
import statistics
import sys
import tempfile
import time
from collections import Counter, defaultdict
from collections.abc import Callable
from datetime import datetime, timedelta
from itertools import count
from pathlib import Path
from typing import Any

from bot import advising, understand
from bot.line import Line, Message, Reply, open_line
from bot.store.database import Database, connect
from bot.word.say import Words

NOW = datetime(2026, 7, 15, 7, 0)
TODAY = NOW.date()
PEOPLE, TURNS, MANY = 90, 360, 10_000
PLOT = {
    "plant": "tomato",
    "soil": "sandy_loam",
    "soil_source": "felt",
    "method": "drip",
    "rate_mm_h": 5.0,
    "rate_source": "measured",
    "probe": "tension",
    "probe_depth_cm": 30.0,
}
HOME = {"language": "en", "units": "us", "place": "here", "latitude": 36.1, "longitude": -97.1, "elevation_m": 290.0}


def weather() -> dict[str, Any]:
    """120 days past and 10 to come."""

    def day(back: int) -> dict[str, Any]:
        heat = {"tmax_c": 29.0 + back % 6, "tmin_c": 17.0 + back % 4, "rain_mm": 9.0 if back % 11 == 0 else 0.0}
        return {"date": (TODAY - timedelta(days=back)).isoformat(), **heat}

    return {"past": [day(back) for back in range(120, 0, -1)], "forecast": [day(-n) | {"pop": 0.3} for n in range(10)]}


class Bench:
    """A line with its people, a minute between the texts."""

    def __init__(self, file: Path) -> None:
        self._minutes, self._minute = count(), 0
        self.line: Line = open_line(file, weather(), self._clock)
        for number in range(PEOPLE):
            self._settle(number)

    def _clock(self) -> datetime:
        return NOW + timedelta(minutes=self._minute)

    def _settle(self, number: int) -> None:
        """A person with one plot and 40 reports: a reading every fourth day, a watering every twelfth."""
        store = self.line.store
        with store.transaction():
            person = store.people.person("sms", address(number), NOW)
            plot = store.plots.new(person, "tomatoes", at=NOW)
            for subject, facts in ((person, HOME), (plot, PLOT)):
                for about, value in facts.items():
                    store.facts.set(subject, about, value, at=NOW)
            store.people.set_dialogue(person, {"greeted": True})
            message = store.messages.keep(person, "so far", NOW)
            assert message is not None
            for back in range(120, 0, -4):
                reading = {"quantity": "tension", "value": 20.0 + (number + back) % 29, "depth_cm": 30.5}
                store.log.keep(message, "reading", reading, plot=plot, on=TODAY - timedelta(days=back))
            for back in range(118, 0, -12):
                store.log.keep(message, "watering", {"minutes": 120.0}, plot=plot, on=TODAY - timedelta(days=back))

    def send(self, turn: int, text: str) -> list[Reply]:
        self._minute = next(self._minutes)
        return self.line.receive(Message(channel="sms", sender=address(turn % PEOPLE), text=text))

    def reading(self, turn: int) -> None:
        """A reading that is answered with a verdict."""
        replies = self.send(turn, f"{25 + turn % 23} cb at 12 inches")
        assert any(reply.verdict for reply in replies), replies


def address(number: int) -> str:
    return f"555-01{number:02}"


def timed_ms(work: Callable[..., object], *given: Any) -> float:
    start = time.perf_counter()
    work(*given)
    return 1000 * (time.perf_counter() - start)


def beside_a_commit(bench: Bench, folder: Path) -> None:
    """Print the median answer, the median commit and their ratio."""
    bare = connect(folder / "bare.db")
    bare.execute("CREATE TABLE one (id INTEGER PRIMARY KEY, text TEXT NOT NULL) STRICT")
    commits, answers = [], []
    for turn in range(TURNS):
        commits.append(timed_ms(bare.execute, "INSERT INTO one (text) VALUES ('45 cb at 12 inches')"))
        answers.append(timed_ms(bench.reading, turn))
    for name, times in (("durable commit alone", commits), ("a reading answered", answers)):
        slow = statistics.quantiles(times, n=20)[18]
        sys.stdout.write(f"{name:21} p50 {statistics.median(times):7.3f} ms   p95 {slow:7.3f} ms\n")
    ratio = statistics.median(answers) / statistics.median(commits)
    sys.stdout.write(f"an answer costs {ratio:.2f} durable commits\n")


class Split:
    """Seconds spent in each part, what it calls of another part not counted twice."""

    def __init__(self) -> None:
        self.spent_s: defaultdict[str, float] = defaultdict(float)
        self.calls: Counter[str] = Counter()
        self._inner_s = [0.0]

    def watch(self, owner: Any, name: str, part: Callable[..., str]) -> None:
        """Time `owner.name` as the part that its arguments tell."""
        original = getattr(owner, name)

        def wrapped(*given: Any, **named: Any) -> Any:
            self._inner_s.append(0.0)
            start = time.perf_counter()
            try:
                return original(*given, **named)
            finally:
                whole_s = time.perf_counter() - start
                self.spent_s[part(*given)] += whole_s - self._inner_s.pop()
                self.calls[part(*given)] += 1
                self._inner_s[-1] += whole_s

        setattr(owner, name, wrapped)


def where_it_goes(bench: Bench) -> None:
    """Print the milliseconds of each part of an answer."""
    split = Split()
    split.watch(understand, "read", lambda *_: "parse")
    split.watch(advising, "advise", lambda *_: "rules")
    for name in (name for name, verb in vars(Words).items() if callable(verb) and not name.startswith("_")):
        split.watch(Words, name, lambda *_: "words")
    for name in ("rows", "write"):
        split.watch(Database, name, lambda _self, sql, *_: "commit" if sql == "COMMIT" else "store: SQL")
    for subject in ("people", "facts", "plots", "messages", "log", "advices"):
        verbs = type(getattr(bench.line.store, subject))
        for name in (name for name, verb in vars(verbs).items() if callable(verb) and not name.startswith("_")):
            split.watch(verbs, name, lambda *_, subject=subject: f"store: {subject}")
    total_ms = sum(timed_ms(bench.reading, turn) for turn in range(TURNS))
    parts = {part: 1000 * spent_s for part, spent_s in split.spent_s.items()}
    parts["all else"] = total_ms - sum(parts.values())
    for part, ms in sorted(parts.items()):
        sys.stdout.write(f"  {part:16} {ms / TURNS:7.3f} ms   {split.calls[part] / TURNS:5.1f} calls\n")


def resident_mb() -> float:
    """Memory of this process; Linux only."""
    pages = int(Path("/proc/self/statm").read_text().split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 1e6


def whether_it_grows(bench: Bench) -> None:
    """Print the memory after a thousand messages and after ten thousand: readings, each taken back."""
    for number in range(1, MANY + 1):
        turn = (number - 1) // 2
        bench.send(turn, f"{25 + turn % 23} cb at 12 inches" if number % 2 else "undo")
        if number in (MANY // 10, MANY):
            sys.stdout.write(f"memory after {number:6} messages: {resident_mb():.1f} MB\n")


def main(folder: Path) -> None:
    bench = Bench(folder / "line.db")
    for turn in range(PEOPLE):
        bench.reading(turn)
    beside_a_commit(bench, folder)
    where_it_goes(bench)
    whether_it_grows(bench)


if __name__ == "__main__":
    with tempfile.TemporaryDirectory(dir=sys.argv[1] if len(sys.argv) > 1 else None) as made:
        main(Path(made))
