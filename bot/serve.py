"""The whole line in one process: the pages, every channel, and the workers behind them."""

from __future__ import annotations

import logging
import secrets
import signal
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import FrameType

from flask import Blueprint, Flask
from waitress.server import create_server

from bot import config, logs, office, places, wire
from bot.channels import hook, telegram, web
from bot.channels.sim import worker as sim
from bot.config import Config
from bot.endings import Endings
from bot.errors import ConfigError
from bot.keeping import Keeping, rules
from bot.line import Line
from bot.links import Links
from bot.office.forecast import Forecast
from bot.office.house import House
from bot.office.seasons import Seasons
from bot.web import create_app, mine, sensors
from bot.workers import Crew, Health, Worker

log = logging.getLogger(__name__)

_THREADS = 8


@dataclass(frozen=True)
class Running:
    """A line put together, not yet at work."""

    line: Line
    crew: Crew
    app: Flask
    settings: Config


def serve(path: Path) -> int:
    """Run the line of these settings until it is told to stop; the exit code.

    Raises: ConfigError, StoreError.
    """
    logs.start()
    running = assemble(config.read(path))
    settings = running.settings
    server = create_server(running.app, host=settings.host, port=settings.port, threads=_THREADS)

    def leave(_signal: int, _frame: FrameType | None) -> None:
        raise KeyboardInterrupt

    signal.signal(signal.SIGTERM, leave)
    running.crew.start()
    log.info("serving at %s", settings.url)
    try:
        server.run()
    finally:
        running.crew.stop()
        running.line.store.close()
    return 0


def assemble(settings: Config) -> Running:
    """All parts joined, from the file of settings.

    Raises: ConfigError, StoreError.
    """
    places.load()
    secret = _secret(settings.database.with_suffix(".key"))
    links = Links(secret, settings.url)
    line = wire.serving_line(settings, links)
    workers, parts, files = _channels(settings, line, links)
    keeping = Keeping(line.store, settings, rules(settings.file.table("keeping")), wire.now)
    settings.file.done()
    forecast = Forecast(line, settings.office)
    seasons = Seasons(line)
    crew = Crew([*workers, forecast, seasons, keeping, Endings(line, wire.now)], wire.now)

    def health() -> list[Health]:
        return [_store_health(line), *crew.health()]

    house = House(
        line=line,
        office=settings.office,
        clock=wire.now,
        secure=settings.url.startswith("https:"),
        health=health,
        forecast=forecast,
        seasons=seasons,
        files=files,
    )
    own = [office.pages(house), mine.own_pages(line, links, settings.office)]
    return Running(line, crew, create_app(secret, [*parts, sensors.pages(line), *own], health), settings)


def _channels(
    settings: Config, line: Line, links: Links
) -> tuple[Sequence[Worker], Sequence[Blueprint], Mapping[str, Callable[[str], bytes | None]]]:
    """The workers and pages of the channels that the settings name, and what gives out the files that came by them."""
    files: dict[str, Callable[[str], bytes | None]] = {}
    workers: list[Worker] = []
    parts: list[Blueprint] = [web.graph_pages(line.drawings.by_id, links, settings.office)]
    if settings.file.has("telegram"):
        joined = telegram.connect(settings.file.table("telegram"), settings.url, line, wire.now)
        workers += joined[0]
        parts += joined[1]
        files["telegram"] = joined[2]
    if settings.file.has("sim") and settings.file.has("hook"):
        raise ConfigError("[sim] and [hook] both carry text messages: keep one of them")
    if settings.file.has("hook"):
        sender, pages = hook.connect(settings.file.table("hook"), line.take, line.post, wire.now)
        workers.append(sender)
        parts.append(pages)
    if settings.file.has("sim"):
        workers.append(sim.from_settings(settings.file.table("sim"), line.take, line.post, wire.now))
    if settings.file.has("web"):
        settings.file.table("web").done()
        workers.append(web.Pages(line.post))
        parts.append(web.chat_pages(line, settings.office, settings.url))
    return workers, parts, files


def _store_health(line: Line) -> Health:
    waiting = sum(states.get("waiting", 0) for states in line.store.outbox.counts().values())
    return Health(part="store", well=True, says=f"{waiting} letters wait")


def _secret(path: Path) -> str:
    """What links and sessions are signed with: made once, readable by this account alone."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        if not path.exists():
            path.touch(mode=0o600)
            path.write_text(secrets.token_urlsafe(48), encoding="utf-8")
        return path.read_text(encoding="utf-8")
    except OSError as error:
        raise ConfigError(f"{path} can't be written or read: {error}") from error
