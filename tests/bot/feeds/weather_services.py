"""A weather service on this machine: answers in order by path, remembers requests, can be slow or break off."""

import json
import threading
import time
from collections import defaultdict
from contextlib import suppress
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs, urlsplit

FIXTURES = Path(__file__).parents[3] / "fixtures" / "feeds"


@dataclass(frozen=True)
class Answer:
    """`body`: JSON value or raw bytes. `cut`: say the whole length, send that many bytes. `drip_s`: pause a byte."""

    body: Any = None
    status: int = 200
    headers: dict[str, str] = field(default_factory=dict)
    wait_s: float = 0.0
    cut: int | None = None
    drip_s: float = 0.0

    @property
    def bytes(self) -> bytes:
        return self.body if isinstance(self.body, bytes) else json.dumps(self.body).encode()


class Services:
    """The last answer of a path is given again and again."""

    def __init__(self, url: str) -> None:
        self.url = url
        self.asked: list[tuple[str, dict[str, list[str]], dict[str, str]]] = []
        self.closing = threading.Event()
        self._answers: dict[str, list[Answer]] = defaultdict(list)

    def give(self, path: str, *answers: Answer) -> None:
        self._answers[path] = list(answers)

    def paths(self) -> list[str]:
        return [path for path, _, _ in self.asked]

    def answer(self, path: str) -> Answer:
        left = self._answers.get(path) or [Answer({"title": "Not Found", "status": 404}, status=404)]
        return left.pop(0) if len(left) > 1 else left[0]


class Handler(BaseHTTPRequestHandler):
    services: Services

    def do_GET(self) -> None:
        parts = urlsplit(self.path)
        self.services.asked.append((parts.path, parse_qs(parts.query), dict(self.headers)))
        answer = self.services.answer(parts.path)
        self.services.closing.wait(answer.wait_s)
        with suppress(BrokenPipeError, ConnectionResetError):
            self._send(answer)

    def _send(self, answer: Answer) -> None:
        self.send_response(answer.status)
        self.send_header("Content-Length", str(len(answer.bytes)))
        for name, value in answer.headers.items():
            self.send_header(name, value)
        self.end_headers()
        body = answer.bytes[: answer.cut]
        if not answer.drip_s:
            self.wfile.write(body)
        for byte in body if answer.drip_s else b"":
            self.wfile.write(bytes([byte]))
            time.sleep(answer.drip_s)
            if self.services.closing.is_set():
                return

    def log_message(self, *_: object) -> None:
        pass


def fixture(name: str) -> Any:
    return json.loads((FIXTURES / name).read_text(encoding="utf-8"))
