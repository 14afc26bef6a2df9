"""All that dropline remembers, in one SQLite file. Nobody else knows SQL.

One message is one transaction: `with store.transaction():` around all that a message changes. It is durable when left.
A store serves any number of threads; each waits while another is inside a transaction.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from bot.errors import StoreError
from bot.store.advices import Advices
from bot.store.baselines import Baselines
from bot.store.calls import Calls
from bot.store.canned import Canned
from bot.store.corrections import Corrections
from bot.store.database import Database, connect, store_errors
from bot.store.deeds import Deed, Deeds
from bot.store.exceptions import Exceptions
from bot.store.facts import Facts
from bot.store.held import (
    Inputs,
    Kept,
    Letter,
    Note,
    Person,
    StoredAdvice,
    StoredCall,
    StoredFact,
    StoredMessage,
    StoredObservation,
    StoredPlot,
)
from bot.store.holdings import Holdings
from bot.store.log import Log
from bot.store.messages import Messages
from bot.store.migrations import migrate
from bot.store.misses import Misses
from bot.store.notices import Notices
from bot.store.outbox import Outbox
from bot.store.overview import Overview
from bot.store.people import People
from bot.store.period import Period
from bot.store.plots import Plots
from bot.store.probes import Probes
from bot.store.seasons import Seasons
from bot.store.series import Series
from bot.store.shares import Shares, Told
from bot.store.shelf import Shelf
from bot.store.staff import Colleague, Sitting, Staff
from bot.store.table_rows import TableRows
from bot.store.tokens import Tokens

__all__ = [
    "Colleague",
    "Deed",
    "Inputs",
    "Kept",
    "Letter",
    "Note",
    "Person",
    "Sitting",
    "Store",
    "StoredAdvice",
    "StoredCall",
    "StoredFact",
    "StoredMessage",
    "StoredObservation",
    "StoredPlot",
    "Told",
    "open_store",
]


class Store:
    """The verbs, by subject."""

    def __init__(self, database: Database) -> None:
        self._database = database
        self.people = People(database)
        self.facts = Facts(database)
        self.plots = Plots(database, self.facts)
        self.shares = Shares(database, self.people, self.plots)
        self.messages = Messages(database)
        self.log = Log(database)
        self.corrections = Corrections(database, self.facts)
        self.advices = Advices(database)
        self.calls = Calls(database)
        self.misses = Misses(database)
        self.series = Series(database)
        self.canned = Canned(database)
        self.shelf = Shelf(database)
        self.tokens = Tokens(database, self.plots)
        self.notices = Notices(database)
        self.baselines = Baselines(database)
        self.exceptions = Exceptions(database, self.facts)
        self.seasons = Seasons(database)
        self.probes = Probes(database)
        self.table_rows = TableRows(database)
        self.outbox = Outbox(database)
        self.overview = Overview(database)
        self.period = Period(database)
        self.staff = Staff(database)
        self.deeds = Deeds(database)
        self.holdings = Holdings(database, self.people, self.plots, self.facts, self.log)

    @contextmanager
    def transaction(self) -> Iterator[None]:
        """All that happens inside, or nothing of it; durable once left. One inside another is a part of it.

        Raises: StoreBusy, when another process keeps the file locked.
        """
        with self._database.transaction():
            yield

    def size(self) -> int:
        """How large the store is. [bytes]"""
        row = self._database.row("SELECT page_count * page_size AS n FROM pragma_page_count, pragma_page_size")
        return int(row["n"]) if row else 0

    def close(self) -> None:
        """Close the file. The store is of no use afterwards."""
        self._database.close()


def open_store(path: Path | None) -> Store:
    """The store in this file, made if missing and brought up to date if older; None: one in memory.

    Raises: StoreError, when it can't be opened or was written by a newer program.
    """
    try:
        with store_errors():
            connection = connect(path)
        migrate(connection, in_memory=path is None)
        store = Store(Database(connection))
        store.holdings.sweep()
    except StoreError as error:
        raise type(error)(f"{path} can't be opened: {error}") from error
    return store
