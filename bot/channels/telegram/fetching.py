"""Polling: messages are fetched, and counted as delivered only once they are kept."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from datetime import datetime
from threading import Event

from telegram import Bot, Update
from telegram.error import TelegramError

from bot.channels.telegram.arriving import WANTED, Arrivals
from bot.channels.telegram.commands import offer
from bot.channels.telegram.settings import Settings
from bot.channels.telegram.standing import Standing
from bot.errors import BotError
from bot.workers import Health

# How long Telegram holds a poll open while nothing arrives, and how often we look whether to stop.
_POLL_S, _LOOK_S = 25, 0.2


class Fetcher:
    """Fetches messages until it is stopped."""

    name = "telegram in"

    def __init__(self, settings: Settings, arrivals: Arrivals, clock: Callable[[], datetime]) -> None:
        self._settings, self._arrivals = settings, arrivals
        self._standing = Standing(self.name, clock)
        self._next: int | None = None

    def health(self) -> Health:
        """Whether messages can be fetched."""
        return self._standing.health()

    def run(self, stop: Event) -> None:
        """Fetch until `stop` is set."""
        while not stop.is_set():
            try:
                asyncio.run(self._fetch_on(stop))
            except (TelegramError, BotError) as error:
                stop.wait(self._standing.failed(error))

    async def _fetch_on(self, stop: Event) -> None:
        async with self._settings.bot() as bot:
            # While a webhook is set Telegram gives nothing out to a poll.
            await bot.delete_webhook()
            await offer(bot)
            hold_s = 0  # the first poll shows at once whether we may fetch
            while not stop.is_set():
                for update in await self._fetched(bot, hold_s, stop):
                    self._arrivals.take(update)
                    self._next = update.update_id + 1
                self._standing.well("fetching messages")
                hold_s = _POLL_S

    async def _fetched(self, bot: Bot, hold_s: int, stop: Event) -> tuple[Update, ...]:
        """The next updates; those before `_next` are confirmed by asking for it."""
        poll = asyncio.ensure_future(bot.get_updates(self._next, timeout=hold_s, allowed_updates=WANTED))
        while not poll.done() and not stop.is_set():
            await asyncio.wait({poll}, timeout=_LOOK_S)
        if poll.done():
            return poll.result()
        poll.cancel()
        await asyncio.wait({poll})
        return ()
