"""Text messages by a provider's connection: the provider calls a page of ours for what came in, and is called to send.

What its fields are called, how it proves itself and what it answers stands in the office's settings, table `[hook]`.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from flask import Blueprint

from bot.channels.hook.arriving import pages
from bot.channels.hook.sending import Sender
from bot.channels.hook.settings import read
from bot.config import Section
from bot.message import Message
from bot.post import Post


def connect(
    section: Section, take: Callable[[Message], None], post: Post, clock: Callable[[], datetime]
) -> tuple[Sender, Blueprint]:
    """The worker that sends, and the pages that the provider calls.

    Args:
        section: `[hook]` of the office's settings.
    Raises: ConfigError.
    """
    settings = read(section)
    return Sender(settings.out, post, clock), pages(settings, take, post, clock)
