"""The weather service on this machine, started for one test, and a client for it."""

import threading
from collections.abc import Iterator
from http.server import ThreadingHTTPServer

import pytest
from weather_services import Handler, Services

from bot.feeds.http import Http


@pytest.fixture
def services(monkeypatch: pytest.MonkeyPatch) -> Iterator[Services]:
    monkeypatch.setenv("NO_PROXY", "127.0.0.1")
    handler = type("OneTestsHandler", (Handler,), {})
    server = ThreadingHTTPServer(("127.0.0.1", 0), handler)
    server.daemon_threads = True
    handler.services = Services(f"http://127.0.0.1:{server.server_address[1]}")
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02})
    thread.start()
    yield handler.services
    handler.services.closing.set()
    server.shutdown()
    thread.join()
    server.server_close()


@pytest.fixture
def http() -> Iterator[Http]:
    """Impatient, so that the tests are not slow."""
    client = Http("desk@office.example", timeout_s=0.3, back_off_s=0.01)
    yield client
    client.close()
