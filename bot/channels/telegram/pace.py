"""How fast we may send: so many a second in all, and one a second to one chat.

Telegram promises no limits; about 30 a second in all and one a second a chat is what its answers to frequent questions advise
(core.telegram.org/bots/faq). We stay below, and wait whenever it says so.
"""

from __future__ import annotations

_APART_S = 1 / 25
_APART_IN_A_CHAT_S = 1.0


class Pace:
    """When the next letter may go. Times are seconds of any steady clock."""

    def __init__(self, apart_s: float = _APART_S, apart_in_a_chat_s: float = _APART_IN_A_CHAT_S) -> None:
        self._apart_s, self._apart_in_a_chat_s = apart_s, apart_in_a_chat_s
        self._next_s = 0.0
        self._next_in_chat_s: dict[str, float] = {}

    def wait_s(self, now_s: float) -> float:
        """How long to wait before anything is sent."""
        return max(self._next_s - now_s, 0.0)

    def wait_in_chat_s(self, chat: str, now_s: float) -> float:
        """How long to wait before something is sent to this chat."""
        return max(self._next_in_chat_s.get(chat, 0.0) - now_s, 0.0)

    def sent(self, chat: str, now_s: float) -> None:
        """Something went to this chat now."""
        waiting = {other: next_s for other, next_s in self._next_in_chat_s.items() if next_s > now_s}
        self._next_in_chat_s = {**waiting, chat: now_s + self._apart_in_a_chat_s}
        self._next_s = now_s + self._apart_s
