"""What the store costs a message: a message's worth of its work beside one durable commit alone. By hand:

    python tests/bench/bench_store.py [folder to put the file in]

Both are timed on the same disk in turns, so that a slow moment of the disk falls on both. The people are invented.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "bot" / "store"))

from store_talk import MORNING, Talk

from bot.store import Inputs, Store, StoredPlot, open_store
from bot.store.database import connect
from rules.terms import Advice, Day, Reason, Verdict, Weather

TODAY = MORNING.date()
TURNS = 400
REPORTS = 120  # what a season leaves on a plot
WEATHER = Weather(
    past=tuple(
        Day(on=TODAY - timedelta(days=back), tmax_c=31.5, tmin_c=18.2, rain_mm=0.3) for back in range(90, 0, -1)
    ),
    forecast=tuple(Day(on=TODAY + timedelta(days=ahead), tmax_c=33.1, rain_mm=4.0, pop=0.4) for ahead in range(10)),
)
ADVICE = Advice(
    verdict=Verdict.WAIT,
    date=TODAY,
    water_left=0.61,
    reasons=tuple(Reason(rule=f"r{n}", numbers={"a": 1.5}) for n in range(6)),
)


def a_message(store: Store, plot: StoredPlot, turn: int) -> None:
    """All that a reading which is answered with a verdict asks of the store.

    The reading is of an old day, so that the last turn reads back as many as the first.
    """
    at = MORNING + timedelta(minutes=turn)
    person = store.people.person("sms", "+15550100", at)
    message = store.messages.keep(person, "peaches 45 at 12", at, id=f"bench-{turn}")
    assert message is not None
    (held,) = store.plots.of(person)
    reading = {"quantity": "tension", "value": 45.0, "depth_cm": 30.5}
    store.log.keep(message, "reading", reading, plot=held, on=TODAY - timedelta(days=999), words="45 at 12")
    seen = tuple(each.term() for each in store.log.observations(held))
    store.advices.last(held)
    store.advices.cautions(person, held)
    inputs = Inputs(plot=held.facts, observations=seen, weather=WEATHER, on=TODAY)
    store.advices.keep(held, ADVICE, inputs, at=at, text="WAIT.", language="en", version="0", message=message)
    store.people.clear_question(person)
    store.messages.replied(message, ["WAIT. Look again Friday."])


def timed_ms(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return 1000 * (time.perf_counter() - start)


def committed(store: Store, work: Callable[[], object]) -> None:
    with store.transaction():
        work()


def main(folder: Path) -> None:
    bare = connect(folder / "bare.db")
    bare.execute("CREATE TABLE one (id INTEGER PRIMARY KEY, text TEXT NOT NULL) STRICT")
    store = open_store(folder / "line.db")
    plot = season(store)
    alone, inside, whole = [], [], []
    for turn in range(TURNS):
        alone.append(timed_ms(lambda: bare.execute("INSERT INTO one (text) VALUES ('peaches 45 at 12')")))
        work = lambda turn=turn: inside.append(timed_ms(lambda: a_message(store, plot, turn)))  # noqa: E731
        whole.append(timed_ms(lambda work=work: committed(store, work)))
    for name, times in {
        "durable commit alone": alone,
        "store work before commit": inside,
        "whole message": whole,
    }.items():
        middle, slow = statistics.median(times), statistics.quantiles(times, n=20)[18]
        sys.stdout.write(f"{name:26} p50 {middle:7.3f} ms   p95 {slow:7.3f} ms\n")
    ratio = statistics.median(whole) / statistics.median(alone)
    sys.stdout.write(f"a message costs {ratio:.2f} durable commits\n")


def season(store: Store) -> StoredPlot:
    """A plot with a season of reports."""
    talk = Talk(store, store.people.person("sms", "+15550100", MORNING))
    with store.transaction():
        plot = talk.plot()
        for back in range(REPORTS):
            talk.store.log.keep(
                talk.say("45"), "reading", {"quantity": "tension", "value": 45.0}, plot=plot,
                on=TODAY - timedelta(days=back),
            )  # fmt: skip
    return plot


if __name__ == "__main__":
    with tempfile.TemporaryDirectory(dir=sys.argv[1] if len(sys.argv) > 1 else None) as made:
        main(Path(made))
