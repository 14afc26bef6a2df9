"""The commands with a slash: what people tap in the menu, as the words that the line reads."""

from __future__ import annotations

import re
from typing import Any

from telegram import Bot, BotCommand

from bot.word.say import Words

# In the order of the menu. Each has a sentence `command.` of its name in the catalogues.
MENU = ("help", "language", "privacy", "export", "forget", "stop", "start")
_COMMAND = re.compile(r"/(\w+)(?:@\w+)?\s*(.*)", re.DOTALL)


def as_words(text: str) -> str:
    """`/help` is HELP, `/why tomatoes` is `why tomatoes`; what stands after `/start` is how the person found us."""
    command = _COMMAND.fullmatch(text)
    if command is None:
        return text
    name = command[1].lower()
    return name if name in MENU else f"{name} {command[2]}".strip()


async def offer(bot: Bot) -> None:
    """Put the commands into the menu: in Spanish for telephones in Spanish, in English for all others."""
    for language, code in (("en", None), ("es", "es")):
        words = Words(language, channel="telegram")
        menu = [BotCommand(name, words.say(f"command.{name}")) for name in MENU]
        known: dict[str, Any] = {"language_code": code} if code else {}
        await bot.set_my_commands(menu, **known)
