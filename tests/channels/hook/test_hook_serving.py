"""A provider's connection on the real server, which is killed right after it said that a text is kept."""

from __future__ import annotations

import json
import os
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, redirect_stderr
from io import StringIO
from pathlib import Path

import pytest
import requests
from provider import SETTINGS, Provider, signed, wait_until

from bot import config
from bot.cli import main
from bot.serve import assemble
from bot.store import open_store

ANN = "+15550101"


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@contextmanager
def serving(path: Path, url: str) -> Iterator[subprocess.Popen[bytes]]:
    environment = {**os.environ, "PYTHONPATH": str(Path(__file__).resolve().parents[3])}
    with (path.parent / "serve.log").open("ab") as log:
        command = [sys.executable, "-m", "bot", "serve", "--config", str(path)]
        process = subprocess.Popen(command, env=environment, stderr=log, stdout=log)
    try:
        wait_until(lambda: answers(url))
        yield process
    finally:
        process.kill()
        process.wait()


def answers(url: str) -> bool:
    try:
        return requests.get(f"{url}/health", timeout=5).ok
    except requests.RequestException:
        return False


def bring(url: str, number: int) -> int:
    told = {"data": {"from": ANN, "text": f"tomatoes {20 + number} cb at 12 in", "id": f"t{number}"}}
    body = json.dumps(told).encode()
    headers = {"Content-Type": "application/json", **signed(body, time.time())}
    return requests.post(f"{url}/hook/in", data=body, headers=headers, timeout=60).status_code


def told(path: Path) -> str:
    """What a dropline that can't begin says."""
    with redirect_stderr(StringIO()) as said:
        assert main(["serve", "--config", str(path)]) == 2
    return said.getvalue()


def test_what_was_acknowledged_is_answered_once_whatever_is_killed(office: Path, provider: Provider) -> None:
    port = free_port()
    url, path = f"http://127.0.0.1:{port}", office / "dropline.toml"
    path.write_text(SETTINGS.format(url=provider.url, port=port), encoding="utf-8")
    with serving(path, url):
        assert (
            told(path)
            == f"dropline: another dropline serves {office}/line.sqlite already: stop it first, or name another database here\n"
        )
        for number in range(10):
            assert bring(url, number) == 204
    # killed; the provider, in doubt, brings the last one again
    with serving(path, url) as process:
        assert bring(url, 9) == 204
        store = open_store(office / "line.sqlite")
        wait_until(lambda: "waiting" not in store.outbox.counts()["sms"])
        process.terminate()
        assert process.wait() == 0
    person = store.people.known("sms", ANN)
    assert person is not None
    messages = store.messages.of(person)
    assert [message.their_id for message in messages] == [f"t{number}" for number in range(10)]
    replies = sum(len(message.replies) for message in messages)
    assert replies >= len(messages)
    assert store.outbox.counts() == {"sms": {"taken": replies}}
    # A call that was cut off by the kill is made again, with the same key.
    assert len({call.headers["Idempotency-Key"] for call in provider.calls}) == replies
    store.close()


# The server's library leaves sockets open when it can't have a port; the program ends then.
@pytest.mark.filterwarnings("ignore::pytest.PytestUnraisableExceptionWarning")
def test_what_keeps_a_line_from_beginning_is_told_in_a_sentence(office: Path, provider: Provider) -> None:
    path = office / "dropline.toml"
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        path.write_text(SETTINGS.format(url=provider.url, port=port), encoding="utf-8")
        assert f"[http] port {port} on 127.0.0.1 can't be had (Address already in use)" in told(path)
    path.write_text(SETTINGS.format(url=provider.url, port='0\nhost = "nowhere.invalid"'), encoding="utf-8")
    assert '[http] host "nowhere.invalid" is no address of this machine' in told(path)
    path.write_text('database = "other.sqlite"', encoding="utf-8")
    (office / "other.sqlite").write_text("no database " * 100, encoding="utf-8")
    assert f"{office}/other.sqlite can't be opened: file is not a database" in told(path)
    path.write_text('database = "hook.secret/line.sqlite"', encoding="utf-8")
    assert "hook.secret/line.key can't be written" in told(path)


def test_a_key_that_a_full_disk_left_empty_is_made_again(settings: Path) -> None:
    (settings.parent / "line.key").touch()
    assemble(config.read(settings)).line.store.close()
    assert len((settings.parent / "line.key").read_text(encoding="utf-8")) >= 48
