"""Joins the parts of a running line; the only place that picks concrete ones."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from platformdirs import user_data_path

from bot.feeds.world import open_feed
from bot.line import Line, Office, open_line
from bot.store import open_store
from rules import tables

# Sent to the weather services, who ask who is calling; an office puts its own address in its place.
CONTACT = "an office's dropline; contact its operator"


def console_line(database: Path | None, weather: Path | None) -> Line:
    """A line for one terminal: a file in the user's data folder, and the public weather services unless a file is named."""
    path = database or user_data_path("dropline", ensure_exists=True) / "dropline.sqlite"
    if weather is not None:
        return open_line(path, weather)
    store = open_store(path)
    feed = open_feed(CONTACT, store.shelf, lambda: datetime.now().astimezone())
    return Line(store, feed, datetime.now, Office(), tables.base())
