"""A line that is really served, at a noon that stands still, for a browser to look at."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime, timedelta
from threading import Thread

from waitress.server import create_server

from bot import places
from bot.channels.web import Pages, chat_pages, graph_pages
from bot.line import Line, Office, open_line
from bot.links import Links
from bot.web import create_app
from bot.workers import Crew

# Invented: a hot, dry July in an invented county.
NOON = datetime(2026, 7, 14, 12, 0)
WEATHER = {
    "past": [
        {"date": (NOON - timedelta(days=back)).date().isoformat(), "rain_mm": 0.0, "et0_mm": 6.0}
        for back in range(30, 0, -1)
    ],
    "forecast": [
        {"date": (NOON + timedelta(days=on)).date().isoformat(), "rain_mm": 0.0, "et0_mm": 6.0} for on in range(7)
    ],
}
OFFICE = Office(name="Dry Fork water line", phone="555-0142")


@dataclass
class Site:
    """A line with its pages, and where they are."""

    line: Line
    url: str


@contextmanager
def served() -> Iterator[Site]:
    """A fresh line with its pages and workers, on a free port."""
    places.load()  # as the served line does, so that no answer waits for it
    links = Links("a secret of these tests", "")
    line = open_line(None, WEATHER, lambda: NOON, office=OFFICE, links=links)
    crew = Crew([Pages(line.post)], lambda: NOON)
    pages = [chat_pages(line, OFFICE, ""), graph_pages(line.drawings.by_id, links, OFFICE)]
    app = create_app("a secret of these tests", pages, crew.health)
    server = create_server(app, host="127.0.0.1", port=0, threads=4)
    serving = Thread(target=server.run, daemon=True)
    serving.start()
    crew.start()
    yield Site(line, f"http://127.0.0.1:{server.effective_port}")
    crew.stop()
    server.task_dispatcher.shutdown()
    for channel in list(server.active_channels.values()):
        channel.will_close = True
    server.close()
    serving.join(5)
    line.store.close()
