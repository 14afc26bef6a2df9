"""Messages that come at once are kept at once: whoever comes while others are being kept goes with the next pile.

A durable commit waits for the disk, and while it waits nothing else can be written. So a pile shares one.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from threading import Condition

from bot.message import Message

# Those at the end of a pile wait for all before them.
_LARGEST_PILE = 50


@dataclass(eq=False)
class _Coming:
    message: Message
    kept: bool = False
    error: Exception | None = None


class Together:
    """Gathers what many threads bring.

    Args:
        keep: keeps messages in their order, all of them durable when it returns, or raises and has kept none.
    """

    def __init__(self, keep: Callable[[Sequence[Message]], None]) -> None:
        self._keep = keep
        self._turn = Condition()
        self._pile: list[_Coming] = []
        self._keeping = False

    def bring(self, message: Message) -> None:
        """Return once the message is kept.

        Raises: what `keep` raised for the pile that the message was in.
        """
        mine = _Coming(message)
        with self._turn:
            self._pile.append(mine)
            while not mine.kept:
                if self._keeping:
                    self._turn.wait()
                else:
                    self._keep_pile()
        if mine.error is not None:
            raise mine.error

    def _keep_pile(self) -> None:
        """Keep what has come so far, with the turn given away meanwhile, so that the next pile can gather."""
        pile, self._pile = self._pile[:_LARGEST_PILE], self._pile[_LARGEST_PILE:]
        self._keeping = True
        self._turn.release()
        error: Exception | None = None
        try:
            self._keep([each.message for each in pile])
        except Exception as problem:
            error = problem
        finally:
            self._turn.acquire()
            self._keeping = False
            for each in pile:
                each.kept, each.error = True, error
            self._turn.notify_all()
