"""The whole line in one process: the pages, every channel, and the workers behind them."""

from __future__ import annotations

import fcntl
import logging
import secrets
import signal
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path
from types import FrameType
from typing import Any

from flask import Blueprint, Flask
from waitress.server import create_server

from bot import config, logs, office, places, wire
from bot.channels import hook, telegram, web
from bot.channels.sim import worker as sim
from bot.config import Config
from bot.endings import Endings
from bot.errors import ConfigError, StoreError
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
    settings = config.read(path)
    with _alone(settings.database):
        return _serve(assemble(settings))


def _serve(running: Running) -> int:
    settings = running.settings
    with closing(running.line.store):
        server = _listening(running.app, settings)

        def leave(_signal: int, _frame: FrameType | None) -> None:
            raise KeyboardInterrupt

        signal.signal(signal.SIGTERM, leave)
        running.crew.start()
        log.info("serving at %s", settings.url)
        try:
            server.run()
        finally:
            running.crew.stop()
    return 0


def _listening(app: Flask, settings: Config) -> Any:
    """The server, at its port. Raises: ConfigError."""
    try:
        return create_server(app, host=settings.host, port=settings.port, threads=_THREADS)
    except OSError as error:
        said = "is another dropline running, or another program? Stop it, or write another port"
        raise ConfigError(
            f"[http] port {settings.port} on {settings.host} can't be had ({error.strerror}): {said}"
        ) from error
    except ValueError as error:
        raise ConfigError(f'[http] host "{settings.host}" is no address of this machine: write "127.0.0.1"') from error


@contextmanager
def _alone(database: Path) -> Iterator[None]:
    """While this runs no other dropline serves the same database: two would send each letter twice.

    Raises: ConfigError.
    """
    with _key(database).open(encoding="utf-8") as held:
        try:
            fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError as error:
            said = "stop it first, or name another database here"
            raise ConfigError(f"another dropline serves {database} already: {said}") from error
        yield


def assemble(settings: Config) -> Running:
    """All parts joined, from the file of settings.

    Raises: ConfigError, StoreError.
    """
    places.load()
    secret = _key(settings.database).read_text(encoding="utf-8")
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
    try:
        counts = line.store.outbox.counts()
    except StoreError as error:
        said = f"the database can't be read ({error}): is its disk there? Or bring back a backup: dropline restore"
        return Health(part="store", well=False, says=said)
    waiting = sum(states.get("waiting", 0) for states in counts.values())
    return Health(part="store", well=True, says=f"{waiting} letters wait")


def _key(database: Path) -> Path:
    """The file with what links and sessions are signed with: made once, readable by this account alone.

    Raises: ConfigError.
    """
    path = database.with_suffix(".key")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.touch(mode=0o600)
        if not path.read_text(encoding="utf-8"):  # new, or the disk was full when it was
            path.write_text(secrets.token_urlsafe(48), encoding="utf-8")
    except OSError as error:
        said = "let this account write there, or name another database"
        raise ConfigError(f"{path} can't be written ({error.strerror}): {said}") from error
    return path
