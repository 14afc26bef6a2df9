"""The weather services joined: the US government's where they reach, the global one elsewhere and behind them."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from bot.feeds.acis import ObservedGrid
from bot.feeds.cached import CachedFeed, Shelf
from bot.feeds.globe import GlobeService
from bot.feeds.http import Http
from bot.feeds.nws import NationalForecast


def open_feed(contact: str, shelf: Shelf, clock: Callable[[], datetime]) -> CachedFeed:
    """The feed of a running line. `contact` is sent to the services; `clock` tells the time with its zone."""
    http = Http(contact)
    return CachedFeed([NationalForecast(http, clock), ObservedGrid(http), GlobeService(http, clock)], shelf, clock)
