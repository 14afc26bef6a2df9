"""The webhook: Telegram brings messages to the office's own address, and shows a secret that only it was given."""

from __future__ import annotations

import asyncio
import logging
import secrets
from collections.abc import Callable
from datetime import datetime, timedelta
from threading import Event

from flask import Blueprint, Response, request
from telegram import Bot, Update
from telegram.error import TelegramError

from bot.channels.telegram.arriving import WANTED, Arrivals
from bot.channels.telegram.commands import offer
from bot.channels.telegram.settings import PATH, Settings
from bot.channels.telegram.standing import Standing
from bot.errors import StoreError
from bot.workers import Health

log = logging.getLogger(__name__)

_HEADER = "X-Telegram-Bot-Api-Secret-Token"
# So many calls at once leave threads for the pages.
_CONNECTIONS = 4
_LOOK_S = 300.0
_TROUBLE_LASTS = timedelta(minutes=10)


def pages(settings: Settings, arrivals: Arrivals) -> Blueprint:
    """What Telegram calls."""
    part = Blueprint("telegram", __name__)

    @part.post(PATH)
    def take() -> Response:
        shown = request.headers.get(_HEADER, "")
        if not secrets.compare_digest(shown.encode(), (settings.secret or "").encode()) or not shown:
            return Response(status=403)
        given = request.get_json(silent=True)
        try:
            update = Update.de_json(given, None) if isinstance(given, dict) else None
        except (TypeError, ValueError, KeyError, AttributeError):
            update = None
        if update is None:
            return Response(status=400)
        try:
            arrivals.take(update)
        except StoreError:
            log.exception("a message could not be kept")
            return Response(status=503)  # Telegram brings it again.
        return Response(status=200)

    return part


class Hook:
    """Tells Telegram where to bring messages, and asks it now and then whether it can."""

    name = "telegram in"

    def __init__(self, settings: Settings, clock: Callable[[], datetime]) -> None:
        self._settings, self._clock = settings, clock
        self._standing = Standing(self.name, clock)

    def health(self) -> Health:
        """Whether Telegram brings messages."""
        return self._standing.health()

    def run(self, stop: Event) -> None:
        """Keep the webhook set until `stop` is set."""
        while not stop.is_set():
            try:
                asyncio.run(self._watch(stop))
            except TelegramError as error:
                stop.wait(self._standing.failed(error))

    async def _watch(self, stop: Event) -> None:
        async with self._settings.bot() as bot:
            await bot.set_webhook(
                self._settings.url,
                secret_token=self._settings.secret,
                allowed_updates=WANTED,
                max_connections=_CONNECTIONS,
            )
            await offer(bot)
            here = True
            while here and not stop.is_set():
                here = await self._look(bot)
                stop.wait(_LOOK_S if here else 0)

    async def _look(self, bot: Bot) -> bool:
        """See whether Telegram's calls get through; whether they still come here at all."""
        info = await bot.get_webhook_info()
        failed_at = info.last_error_date
        if failed_at and info.pending_update_count and self._clock() - failed_at < _TROUBLE_LASTS:
            self._standing.ill(f"Telegram can't reach {self._settings.url}: {info.last_error_message}")
        else:
            self._standing.well("Telegram brings messages")
        return info.url == self._settings.url
