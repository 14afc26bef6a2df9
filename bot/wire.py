"""Joins the parts of a running line; the only place that picks concrete ones."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from platformdirs import user_data_path

from bot.config import Config
from bot.errors import ConfigError
from bot.feeds.feed import Feed
from bot.feeds.file import FileFeed
from bot.line import Line, Office, open_line
from bot.links import Links
from bot.store import Store, open_store
from rules import tables
from rules.errors import TableError
from rules.tables import Tables

# Sent to the weather services, who ask who is calling; an office puts its own address in its place.
CONTACT = "an office's dropline; contact its operator"


def office_tables(folder: Path | None) -> Tables:
    """The tables that come with dropline, with an office's own rows from a folder of CSV files laid over them.

    Raises: ConfigError, naming the file, line and column that can't be used.
    """
    if folder is None:
        return tables.base()
    try:
        if not folder.is_dir():
            raise ConfigError(f"tables: {folder} is no folder")
        rows = {path.name: path.read_text(encoding="utf-8-sig") for path in sorted(folder.glob("*.csv"))}
        return tables.overlay(tables.base(), rows)
    except (OSError, UnicodeError, TableError) as error:
        raise ConfigError(f"the tables in {folder} can't be used: {error}") from error


def serving_line(settings: Config, links: Links) -> Line:
    """The line of an office's settings. It texts links where the settings say how its pages are reached.

    Raises: ConfigError, StoreError.
    """
    store = open_store(settings.database)
    feed = FileFeed(settings.weather) if settings.weather else _services(settings.contact, store)
    tables = office_tables(settings.tables)
    return Line(store, feed, now, settings.office, tables, links if settings.public else None)


def console_line(database: Path | None, weather: Path | None, folder: Path | None) -> Line:
    """A line for one terminal: a file in the user's data folder, and the public weather services unless a file is named."""
    path = database or user_data_path("dropline", ensure_exists=True) / "dropline.sqlite"
    if weather is not None:
        return open_line(path, weather, tables=office_tables(folder))
    store = open_store(path)
    return Line(store, _services(CONTACT, store), datetime.now, Office(), office_tables(folder))


def _services(contact: str, store: Store) -> Feed:
    """The public weather services; who reads a file of weather need not wait for what fetches them."""
    from bot.feeds.world import open_feed

    return open_feed(contact, store.shelf, now)


def now() -> datetime:
    """The time of this machine, with its zone."""
    return datetime.now().astimezone()
