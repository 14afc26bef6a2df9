"""A provider of text messages on this machine: it signs what it brings, and answers what it is called with as a test tells it."""

from __future__ import annotations

import hashlib
import hmac
import json
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any
from urllib.parse import parse_qsl

SECRET, TOKEN = "invented secret", "invented token"
SETTINGS = """database = "line.sqlite"
weather = "weather.json"
[http]
port = {port}
[hook.in]
from = "data.from"
text = "data.text"
id = "data.id"
time = "data.at"
media = "data.pictures"
secret = "hook.secret"
[hook.status]
secret = "hook.secret"
id = "message.id"
arrived = ["delivered"]
lost = ["undelivered", "rejected"]
[hook.out]
url = "{url}"
secret = "hook.token"
headers = {{ Authorization = "Bearer {{secret}}" }}
fixed = {{ from = "+15550100" }}
id = "message.id"
error = "code"
stopped = ["410", "blocked"]
"""
# Only ends a test that would never end.
PATIENCE_S = 600.0


def wait_until(holds: Callable[[], Any]) -> Any:
    """What `holds` gives once it is true."""
    end = time.monotonic() + PATIENCE_S
    while not (found := holds()):
        assert time.monotonic() < end, f"waited in vain for {holds}"
        time.sleep(0.1)
    return found


def signed(body: bytes, at: float, secret: str = SECRET) -> dict[str, str]:
    """The headers of a signed call."""
    stamp = str(int(at))
    made = hmac.new(secret.encode(), stamp.encode() + b"." + body, hashlib.sha256).hexdigest()
    return {"X-Timestamp": stamp, "X-Signature": f"sha256={made}"}


@dataclass(frozen=True)
class Call:
    """One call that reached the provider."""

    path: str
    fields: dict[str, Any]
    headers: dict[str, str]


class Provider:
    """Texts that it was given, and what it says to the next ones: an HTTP status and a body; then 201 with an id."""

    def __init__(self) -> None:
        self.calls: list[Call] = []
        self.answers: list[tuple[int, dict[str, Any], dict[str, str]]] = []
        self.keys: dict[str, str] = {}
        handler = type("OneTestsHandler", (_Handler,), {"provider": self})
        self._server = ThreadingHTTPServer(("127.0.0.1", 0), handler)
        self._server.daemon_threads = True
        self.url = f"http://127.0.0.1:{self._server.server_address[1]}/texts"
        self._thread = threading.Thread(target=self._server.serve_forever, kwargs={"poll_interval": 0.02})
        self._thread.start()

    def close(self) -> None:
        self._server.shutdown()
        self._thread.join()
        self._server.server_close()

    def say(self, status: int, headers: dict[str, str] | None = None, **body: Any) -> None:
        self.answers.append((status, body, headers or {}))

    def texts(self) -> list[tuple[str, str]]:
        return [(call.fields["to"], call.fields["text"]) for call in self.calls]


class _Handler(BaseHTTPRequestHandler):
    provider: Provider
    protocol_version = "HTTP/1.1"

    def do_POST(self) -> None:
        raw = self.rfile.read(int(self.headers["Content-Length"]))
        is_json = self.headers["Content-Type"] == "application/json"
        fields = json.loads(raw) if is_json else dict(parse_qsl(raw.decode()))
        told = self.provider
        told.calls.append(Call(self.path, fields, dict(self.headers)))
        key = self.headers["Idempotency-Key"]
        status, body, headers = told.answers.pop(0) if told.answers else (201, {}, {})
        if status == 201:
            body = {"message": {"id": told.keys.setdefault(key, f"m{len(told.keys) + 1}")}}
        answer = json.dumps(body).encode()
        self.send_response(status)
        for name, value in {"Content-Length": str(len(answer)), **headers}.items():
            self.send_header(name, value)
        self.end_headers()
        self.wfile.write(answer)

    def log_message(self, *_: Any) -> None:
        """Say nothing."""
