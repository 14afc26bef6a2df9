"""Sending: letters leave the post in order, no faster than Telegram takes them, and none is lost when it is away."""

from __future__ import annotations

import asyncio
import logging
import time
from collections.abc import Callable
from datetime import datetime
from threading import Event

from telegram import Bot, Message
from telegram.error import BadRequest, ChatMigrated, Forbidden, TelegramError

from bot.channels.telegram.arriving import CHANNEL
from bot.channels.telegram.letters import Piece, pieces
from bot.channels.telegram.pace import Pace
from bot.channels.telegram.settings import Settings
from bot.channels.telegram.standing import Standing, asked_wait_s
from bot.errors import BotError
from bot.post import Letter, Post
from bot.workers import Health

log = logging.getLogger(__name__)

_LOOK_S = 1.0
_AT_MOST = 200
_MOST_DOUBLINGS = 8


class Sender:
    """Sends what is due until it is stopped."""

    name = "telegram out"

    def __init__(self, settings: Settings, post: Post, clock: Callable[[], datetime], pace: Pace | None = None) -> None:
        self._settings, self._post, self._pace = settings, post, pace or Pace()
        self._standing = Standing(self.name, clock)
        # Of a letter in pieces, how many were taken before one could not be.
        self._taken: dict[int, int] = {}

    def health(self) -> Health:
        """Whether letters can be sent."""
        return self._standing.health()

    def run(self, stop: Event) -> None:
        """Send until `stop` is set."""
        while not stop.is_set():
            try:
                asyncio.run(self._send_on(stop))
            except (TelegramError, BotError) as error:
                stop.wait(self._standing.failed(error))

    async def _send_on(self, stop: Event) -> None:
        async with self._settings.bot() as bot:
            self._standing.well("sending letters")
            while not stop.is_set():
                self._post.wait(await self._round(bot, stop))

    async def _round(self, bot: Bot, stop: Event) -> float:
        """Send what is due and may go now; how long until there may be more. [s]"""
        waits_s: dict[str, float] = {}
        for letter in self._post.due(CHANNEL, _AT_MOST):
            if stop.is_set():
                break
            chat = letter.address
            if chat not in waits_s and (wait_s := self._pace.wait_in_chat_s(chat, time.monotonic())):
                waits_s[chat] = wait_s
            if chat in waits_s:
                continue  # so is all else that goes there, to keep the order
            await asyncio.sleep(self._pace.wait_s(time.monotonic()))
            await self._send(bot, letter)
            self._pace.sent(chat, time.monotonic())
        return min(waits_s.values(), default=_LOOK_S)

    async def _send(self, bot: Bot, letter: Letter) -> None:
        """Send one letter, and tell the post how that went.

        Raises: TelegramError, when no letter can be sent now.
        """
        try:
            sent = await self._pieces(bot, letter)
        except Forbidden:
            self._post.refused(letter, "the person has blocked the bot", stopped=True)
        except (BadRequest, ChatMigrated) as error:
            self._post.refused(letter, error.message)
        except TelegramError as error:
            # Others come first at the next try, so that one that is never taken keeps nobody waiting.
            wait_s = asked_wait_s(error) or 2.0 ** min(letter.tries, _MOST_DOUBLINGS)
            self._post.failed(letter, type(error).__name__, wait_s=wait_s)
            raise
        else:
            self._post.took(letter, f"{letter.address}/{sent}")

    async def _pieces(self, bot: Bot, letter: Letter) -> int:
        """Send the pieces that were not yet taken; Telegram's id of the last."""
        sent = 0
        for number, piece in enumerate(pieces(letter, self._post.picture(letter))):
            if number >= self._taken.get(letter.id, 0):
                sent = (await _sent(bot, letter, piece)).message_id
                self._taken[letter.id] = number + 1
        self._taken.pop(letter.id, None)
        return sent


async def _sent(bot: Bot, letter: Letter, piece: Piece) -> Message:
    chat = int(letter.address)
    if piece.picture:
        return await bot.send_photo(
            chat, piece.picture, caption=piece.text, filename="graph.png", reply_markup=piece.buttons
        )
    return await bot.send_message(chat, piece.text, reply_markup=piece.buttons)
