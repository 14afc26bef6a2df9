"""How many new people may come in an hour: a page is open to machines too, and each new person costs room on the disk."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from time import monotonic

# Common practice, no published source: a county fair brings fewer, a machine would bring many more.
_AN_HOUR = 300
_HOUR_S = 3600.0


class Newcomers:
    """Counts the first texts of the last hour. Any thread may ask."""

    def __init__(self, at_most: int = _AN_HOUR, clock_s: Callable[[], float] = monotonic) -> None:
        self._came: deque[float] = deque(maxlen=at_most)
        self._clock_s = clock_s

    def let_in(self) -> bool:
        """Whether one more may come now; if so it is counted."""
        now = self._clock_s()
        if len(self._came) == self._came.maxlen and now - self._came[0] < _HOUR_S:
            return False
        self._came.append(now)
        return True
