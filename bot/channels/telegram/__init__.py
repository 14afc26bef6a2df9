"""Telegram: people write to the office's bot and are answered there, with buttons, places on the map and pictures.

A small office polls; a large one has Telegram call its own address (`mode = "webhook"`). Either way a message counts as
delivered only once the line has kept it, and replies leave from the line's post.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from datetime import datetime

from flask import Blueprint

from bot.channels.telegram.arriving import Arrivals
from bot.channels.telegram.fetching import Fetcher
from bot.channels.telegram.files import Files
from bot.channels.telegram.hook import Hook, pages
from bot.channels.telegram.sending import Sender
from bot.channels.telegram.settings import read
from bot.config import Section
from bot.line import Line
from bot.workers import Worker

# The library then gives waits as timedelta, as all its later versions will.
os.environ.setdefault("PTB_TIMEDELTA", "1")


def connect(
    section: Section, url: str, line: Line, clock: Callable[[], datetime]
) -> tuple[Sequence[Worker], Sequence[Blueprint], Files]:
    """The workers and pages of this channel, and what gives out the files that people sent.

    Args:
        section: `[telegram]` of the office's settings.
        url: where the office's pages are reached from outside.
    Raises: ConfigError.
    """
    settings = read(section, url)
    arrivals, sender = Arrivals(line), Sender(settings, line.post, clock)
    if settings.polls:
        return [Fetcher(settings, arrivals, clock), sender], [], Files(settings)
    return [Hook(settings, clock), sender], [pages(settings, arrivals)], Files(settings)
