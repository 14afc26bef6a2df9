"""Workers go on: one that falls is begun again, and says so meanwhile."""

from datetime import datetime
from threading import Event

from bot.workers import Crew, Health

NOON = datetime(2026, 7, 1, 12)


class Falls:
    """Falls at its first try, and works at its second."""

    name = "falls"

    def __init__(self) -> None:
        self.tries, self.fallen, self.working = 0, Event(), Event()

    def run(self, stop: Event) -> None:
        self.tries += 1
        if self.tries == 1:
            self.fallen.set()
            raise OSError("the modem is gone")
        self.working.set()
        stop.wait()

    def health(self) -> Health:
        return Health(part=self.name, well=True, says="works")


def test_a_worker_that_fell_is_begun_again() -> None:
    worker = Falls()
    crew = Crew([worker], lambda: NOON)
    crew.start()
    assert worker.working.wait(20)
    crew.stop()
    assert worker.tries == 2
    assert [each.well for each in crew.health()] == [True]


def test_a_worker_that_fell_says_so_until_it_works_again() -> None:
    worker = Falls()
    crew = Crew([worker], lambda: NOON)
    crew.start()
    assert worker.fallen.wait(20)
    seen = crew.health()
    while all(each.well for each in seen) and not worker.working.is_set():
        seen = crew.health()
    crew.stop()
    assert [(each.well, each.since) for each in seen] == [(False, NOON)]
    assert "OSError" in seen[0].says
