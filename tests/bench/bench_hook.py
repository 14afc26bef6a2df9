"""What a provider's connection bears: texts a second on the webhook, beside a bare page that makes one durable commit.

    python tests/bench/bench_hook.py [SECONDS [MESSAGES]]

Both pages stand on the same server (waitress, as many threads as `dropline serve` has) and are called in turns by 8 standing
connections, each a thread with proven texts of ever new people. A text counts once the server has said that it is kept. Then
MESSAGES are brought, and the memory of the server is told on the way. Nothing here is run by the tests.
"""

from __future__ import annotations

import http.client
import itertools
import json
import os
import random
import socket
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from dataclasses import dataclass, field
from pathlib import Path

HERE = Path(__file__).resolve()
sys.path[:0] = [str(HERE.parents[2]), str(HERE.parents[1] / "channels" / "hook")]

from provider import SECRET, Provider, signed  # noqa: E402

CONNECTIONS, ROUNDS, TEXTS_EACH = 8, 3, 10
SETTINGS = """database = "line.sqlite"
weather = "weather.json"
[http]
port = {port}
[hook.in]
secret = "hook.secret"
[hook.out]
url = "{url}"
"""


def serve(folder: Path, sends: bool) -> None:
    """The line of this folder, with a bare page beside it."""
    from flask import Response, request
    from waitress.server import create_server

    from bot import config
    from bot.serve import _THREADS, assemble

    running = assemble(config.read(folder / "dropline.toml"))
    lock, bare = (
        threading.Lock(),
        sqlite3.connect(folder / "bare.sqlite", isolation_level=None, check_same_thread=False),
    )
    for statement in ("PRAGMA journal_mode = WAL", "PRAGMA synchronous = FULL", "CREATE TABLE kept (body BLOB)"):
        bare.execute(statement)

    @running.app.post("/bare")
    def keep() -> Response:
        with lock:
            bare.execute("INSERT INTO kept VALUES (?)", (request.get_data(),))
        return Response(status=204)

    if sends:
        running.crew.start()
    create_server(running.app, host="127.0.0.1", port=running.settings.port, threads=_THREADS).run()


class Caller:
    """Brings texts: a few of each of ever new people, as a season does."""

    def __init__(self, port: int) -> None:
        self.port, self._number = port, itertools.count()

    def bring(self, connection: http.client.HTTPConnection, page: str) -> None:
        number = next(self._number)
        person, turn = divmod(number, TEXTS_EACH)
        words = random.Random(number).choice([
            f"tomatoes {20 + 5 * turn} cb at 12 in",
            f"watered tomatoes {20 + turn} min",
            f"0.{1 + turn % 9} in rain",
            f"lawn {30 + 4 * turn} cb at 6 in",
            "should I water tomatoes?",
        ])  # fmt: skip
        told = {"from": f"+1555{person:07}", "text": words, "id": f"t{number}"}
        body = json.dumps(told).encode()
        connection.request("POST", page, body, {"Content-Type": "application/json", **signed(body, time.time())})
        answer = connection.getresponse()
        answer.read()
        assert answer.status == 204, answer.status

    def load(self, page: str, seconds: float, at_most: int = 10**9) -> tuple[float, list[float]]:
        """Texts a second, and how long each took. [s]"""
        took: list[float] = []
        begun = time.monotonic()

        def work() -> None:
            connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)
            while time.monotonic() - begun < seconds and len(took) < at_most:
                before = time.monotonic()
                self.bring(connection, page)
                took.append(time.monotonic() - before)
            connection.close()

        threads = [threading.Thread(target=work) for _ in range(CONNECTIONS)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        return len(took) / (time.monotonic() - begun), took


def listens(port: int) -> bool:
    with socket.socket() as probe:
        return probe.connect_ex(("127.0.0.1", port)) == 0


def memory_mb(pid: int) -> float:
    held = next(line for line in Path(f"/proc/{pid}/status").read_text().splitlines() if line.startswith("VmRSS"))
    return int(held.split()[1]) / 1024


def busy_s(pid: int) -> float:
    """Processor time of the server, which other programs on the machine do not change."""
    fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


@dataclass
class Page:
    """What calling one page gave, over all rounds."""

    path: str
    rates: list[float] = field(default_factory=list)
    took: list[float] = field(default_factory=list)
    busy_s: float = 0.0

    def tell(self, name: str) -> float:
        middle, late = statistics.median(self.took), statistics.quantiles(self.took, n=100)[98]
        rate = statistics.median(self.rates)
        print(  # noqa: T201
            f"{name:20}{rate:7.0f}/s   half within {middle * 1000:.1f} ms, 99 % within {late * 1000:.1f} ms,"
            f" {self.busy_s / len(self.took) * 1000:.1f} ms of the processor each"
        )
        return rate


def measure(folder: Path, seconds: float, messages: int, sends: bool) -> None:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    provider = Provider()
    (folder / "hook.secret").write_text(SECRET)
    (folder / "weather.json").write_text('{"past": [], "forecast": []}')
    (folder / "dropline.toml").write_text(SETTINGS.format(port=port, url=provider.url))
    command = [sys.executable, str(HERE), "serve", str(folder), "sends" if sends else ""]
    with (folder / "serve.log").open("wb") as log, subprocess.Popen(command, stderr=log) as server:
        try:
            caller = Caller(port)
            while not listens(port):
                time.sleep(0.5)
            caller.load("/hook/in", 2)
            bare, ours = Page("/bare"), Page("/hook/in")
            for page in (bare, ours) * ROUNDS:
                before = busy_s(server.pid)
                rate, took = caller.load(page.path, seconds)
                page.rates.append(rate)
                page.took += took
                page.busy_s += busy_s(server.pid) - before
            share = ours.tell("webhook" + (", sending" if sends else "")) / bare.tell("bare page")
            print(f"share {share:.2f}")  # noqa: T201
            for _ in range(10 if messages else 0):
                rate, _took = caller.load("/hook/in", 10**6, messages // 10)
                print(f"after {messages // 10} more: {rate:.0f}/s, server holds {memory_mb(server.pid):.0f} MB")  # noqa: T201
        finally:
            server.kill()
            provider.close()


if __name__ == "__main__":
    os.environ["NO_PROXY"] = "127.0.0.1"
    if sys.argv[1:2] == ["serve"]:
        serve(Path(sys.argv[2]), sys.argv[3:4] == ["sends"])
    else:
        span = float(sys.argv[1]) if len(sys.argv) > 1 else 10.0
        number = int(sys.argv[2]) if len(sys.argv) > 2 else 50_000
        for sending in (False, True):
            with tempfile.TemporaryDirectory() as place:
                measure(Path(place), span, 0 if sending else number, sending)
