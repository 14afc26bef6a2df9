"""How one side of the channel stands, and what staff should do about it."""

from __future__ import annotations

import logging
from collections.abc import Callable
from datetime import datetime

from telegram.error import BadRequest, Conflict, InvalidToken, NetworkError, RetryAfter, TelegramError

from bot.errors import BotError
from bot.workers import Health

log = logging.getLogger(__name__)

_FIRST_REST_S, _LONGEST_REST_S = 1.0, 60.0
_REFUSED = "Telegram refuses the token: get a new one from @BotFather, put it into token_file and start dropline again"
_TWICE = "another program fetches this bot's messages, or a webhook is set: stop the other one"
_AWAY = "Telegram can't be reached: is this computer on the internet? Trying again"
_SLOW_DOWN = "Telegram asks us to slow down; waiting as long as it says"
_NOT_KEPT = "messages can't be kept: is the disk full, or the database in use? They wait at Telegram"


class Standing:
    """Well or not, since when; and how long to rest before the next try, longer each time."""

    def __init__(self, part: str, clock: Callable[[], datetime]) -> None:
        self._clock = clock
        self._health = Health(part=part, well=True, says="starting", since=clock())
        self._rest_s = _FIRST_REST_S

    def health(self) -> Health:
        """As it is now."""
        return self._health

    def well(self, says: str) -> None:
        """All works."""
        self._rest_s = _FIRST_REST_S
        self._now(well=True, says=says)

    def ill(self, says: str) -> None:
        """Something that staff should look at."""
        self._now(well=False, says=says)

    def failed(self, error: TelegramError | BotError) -> float:
        """Tell of an error; how long to rest now. [s]"""
        self.ill(_said(error))
        rest_s, self._rest_s = self._rest_s, min(self._rest_s * 2, _LONGEST_REST_S)
        return asked_wait_s(error) or rest_s

    def _now(self, *, well: bool, says: str) -> None:
        before = self._health
        if (before.well, before.says) != (well, says):
            self._health = Health(part=before.part, well=well, says=says, since=self._clock())
            log.log(logging.INFO if well else logging.WARNING, "%s: %s", before.part, says)


def asked_wait_s(error: Exception) -> float:
    """How long Telegram asked us to wait; 0: it did not ask."""
    if not isinstance(error, RetryAfter):
        return 0.0
    asked = error.retry_after
    return float(asked if isinstance(asked, int) else asked.total_seconds())


def _said(error: TelegramError | BotError) -> str:
    """An error in words for staff. What the library says of a token holds the token, so that is never repeated."""
    match error:
        case InvalidToken():
            return _REFUSED
        case Conflict():
            return _TWICE
        case RetryAfter():
            return _SLOW_DOWN
        case BadRequest():
            return f"Telegram refuses what we ask: {error.message}"
        case NetworkError():
            return _AWAY
        case TelegramError():
            return f"Telegram answers with an error ({type(error).__name__}). Trying again"
    return _NOT_KEPT
