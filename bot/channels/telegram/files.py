"""Photos, voices and files that people sent: Telegram keeps them, and gives them out to whoever has the token."""

from __future__ import annotations

import asyncio
import logging

from telegram.error import TelegramError

from bot.channels.telegram.settings import Settings

log = logging.getLogger(__name__)


class Files:
    """Gives out files by Telegram's ids for them."""

    def __init__(self, settings: Settings) -> None:
        self._settings = settings

    def __call__(self, id: str) -> bytes | None:
        """What the file holds; None: Telegram can't be reached, or has it no more."""
        try:
            return asyncio.run(self._fetched(id))
        except TelegramError as error:
            log.warning("a file can't be had from Telegram: %s", type(error).__name__)
            return None

    async def _fetched(self, id: str) -> bytes:
        async with self._settings.bot() as bot:
            file = await bot.get_file(id)
            return bytes(await file.download_as_bytearray())
