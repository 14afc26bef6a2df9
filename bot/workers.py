"""Work that goes on beside the pages: each channel that fetches or sends by itself is a worker with a thread of its own."""

from __future__ import annotations

import logging
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from threading import Event, Thread
from typing import Protocol

log = logging.getLogger(__name__)

_FIRST_REST_S, _LONGEST_REST_S = 1.0, 60.0


@dataclass(frozen=True, kw_only=True)
class Health:
    """How one part of the line is. `says`: for staff, what is wrong and what to do; `since` when it is as it is."""

    part: str
    well: bool
    says: str
    since: datetime | None = None


class Worker(Protocol):
    """What runs until it is stopped."""

    name: str

    def run(self, stop: Event) -> None:
        """Work until `stop` is set. An error that gets out of here is logged, and the work begun again after a rest."""

    def health(self) -> Health:
        """How it is now; any thread may ask."""


class Crew:
    """All workers of a line.

    Args:
        clock: the line's.
    """

    def __init__(self, workers: Sequence[Worker], clock: Callable[[], datetime]) -> None:
        self.workers, self._clock = tuple(workers), clock
        self._stop = Event()
        self._fallen: dict[str, tuple[datetime, str]] = {}
        self._threads = [Thread(target=self._keep_on, args=(each,), name=each.name, daemon=True) for each in workers]

    def start(self) -> None:
        """Set all to work."""
        for thread in self._threads:
            thread.start()

    def stop(self, wait_s: float = 10.0) -> None:
        """Ask all to stop, and give them time to."""
        self._stop.set()
        for thread in self._threads:
            thread.join(wait_s)

    def health(self) -> list[Health]:
        """How each worker is."""
        return [self._health(each) for each in self.workers]

    def _health(self, worker: Worker) -> Health:
        fallen = self._fallen.get(worker.name)
        if fallen:
            since, problem = fallen
            return Health(part=worker.name, well=False, says=f"stopped ({problem}); trying again", since=since)
        return worker.health()

    def _keep_on(self, worker: Worker) -> None:
        rest_s = _FIRST_REST_S
        while not self._stop.is_set():
            started = self._clock()
            try:
                worker.run(self._stop)
            except Exception as error:
                log.exception("%s stopped", worker.name)
                lasted_s = (self._clock() - started).total_seconds()
                rest_s = _FIRST_REST_S if lasted_s > _LONGEST_REST_S else min(rest_s * 2, _LONGEST_REST_S)
                self._fallen[worker.name] = (self._clock(), type(error).__name__)
                self._stop.wait(rest_s)
                del self._fallen[worker.name]
