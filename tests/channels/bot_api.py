"""A local server that speaks the Bot API, as far as dropline needs it: people write to it, and see what the bot sent them.

Shapes of requests and answers as in the public Bot API (core.telegram.org/bots/api), from memory and from what the real library
sends and takes: POST, fields as a form, nested objects as JSON in a field, files as multipart.
"""

from __future__ import annotations

import json
import re
import time
from collections import deque
from dataclasses import dataclass, field
from email.parser import BytesParser
from email.policy import HTTP
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from threading import Condition, Thread
from typing import Any
from urllib.parse import parse_qs, unquote

TOKEN = "110201:TEST-not-a-real-token"
# Nothing in a test takes so long; it only ends a test that has failed.
PATIENCE_S = 120.0
_BOT = {"id": 110201, "is_bot": True, "first_name": "Dry Fork desk", "username": "dry_fork_desk_bot"}


@dataclass
class Said:
    """One message that the bot sent."""

    chat: int
    text: str
    message_id: int
    keyboard: list[list[dict[str, Any]]] | None
    removes_keyboard: bool
    picture: bytes | None = None
    at_s: float = field(default_factory=time.monotonic)

    @property
    def buttons(self) -> list[str]:
        return [button["text"] for row in self.keyboard or [] for button in row]


class BotApi:
    """The service, with one bot. Use it as a context."""

    def __init__(self) -> None:
        self.said: list[Said] = []
        self.calls: list[tuple[str, dict[str, Any]]] = []
        self.webhook: dict[str, Any] = {"url": ""}
        self.commands: dict[str, list[dict[str, str]]] = {}
        self.token, self.away = TOKEN, False
        self.blocked: set[int] = set()
        self.files: dict[str, bytes] = {}
        self.confirmed = 0
        self._updates: list[dict[str, Any]] = []
        self._all: list[dict[str, Any]] = []
        self._errors: dict[str, deque[tuple[int, str, dict[str, Any]]]] = {}
        self._last_id, self._changed, self._closed = 1000, Condition(), False
        self._server = ThreadingHTTPServer(("127.0.0.1", 0), _handler(self))
        self._server.daemon_threads = True

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self._server.server_port}"

    def __enter__(self) -> BotApi:
        Thread(target=self._server.serve_forever, args=(0.05,), daemon=True).start()
        return self

    def __exit__(self, *_: object) -> None:
        with self._changed:
            self._closed = True
            self._changed.notify_all()
        self._server.shutdown()
        self._server.server_close()

    # What people do

    def message(self, chat: int, date: int, **content: Any) -> dict[str, Any]:
        """A message as the service tells of it. `language` is that of the sender's telephone."""
        language = content.pop("language", "en")
        kind = "private" if chat > 0 else "group"
        sender = {"id": abs(chat), "is_bot": False, "first_name": "Invented", "language_code": language}
        return {
            "message_id": content.pop("message_id", None) or self._id(),
            "date": date,
            "chat": {"id": chat, "type": kind, **({"title": "Garden club"} if kind == "group" else {})},
            "from": sender,
            **content,
        }

    def update(self, **content: Any) -> dict[str, Any]:
        """An update that the webhook may bring."""
        return {"update_id": self._id(), **content}

    def arrives(self, **content: Any) -> dict[str, Any]:
        """Something arrived for the bot, and waits until it is fetched."""
        update = self.update(**content)
        with self._changed:
            self._updates.append(update)
            self._all.append(update)
            self._changed.notify_all()
        return update

    def stir(self) -> None:
        """Let go of the polls that are held open."""
        with self._changed:
            self._changed.notify_all()

    def forget_confirmed(self) -> None:
        """Bring again what was confirmed, as if the last poll had never come."""
        with self._changed:
            self._updates, self.confirmed = list(self._all), 0
            self._changed.notify_all()

    # What the test sees

    def fails(self, method: str, status: int, description: str, times: int = 1, **parameters: Any) -> None:
        """The next calls of a method are refused."""
        self._errors.setdefault(method, deque()).extend([(status, description, parameters)] * times)

    def to(self, chat: int) -> list[Said]:
        return [each for each in self.said if each.chat == chat]

    def until(self, true: Any) -> None:
        """Wait until something that the bot does has come true."""
        patience_ends = time.monotonic() + PATIENCE_S
        while not true():
            assert time.monotonic() < patience_ends, [each.text for each in self.said]
            with self._changed:
                self._changed.wait(0.02)

    @property
    def last_update(self) -> int:
        """The id of what arrived last."""
        return max((each["update_id"] for each in self._updates), default=self.confirmed)

    def called(self, method: str) -> list[dict[str, Any]]:
        return [fields for name, fields in self.calls if name == method]

    # The service

    def answer(self, token: str, method: str, fields: dict[str, Any]) -> tuple[int, dict[str, Any]] | None:
        """Status and body of the answer to one call; None: the connection breaks."""
        with self._changed:
            self.calls.append((method, fields))
            self._changed.notify_all()
            if self.away:
                return None
            if token != self.token:
                return _refusal(401, "Unauthorized")
            if self._errors.get(method):
                status, description, parameters = self._errors[method].popleft()
                return _refusal(status, description, **parameters)
            result = getattr(self, f"_{method}")(fields)
            self._changed.notify_all()
            if result is None:
                return None
            return result if isinstance(result, tuple) else (200, {"ok": True, "result": result})

    def _getMe(self, _: dict[str, Any]) -> Any:  # noqa: N802 - the service's own name, as all below
        return _BOT

    def _getFile(self, fields: dict[str, Any]) -> Any:  # noqa: N802
        id_ = fields["file_id"]
        if id_ not in self.files:
            return _refusal(400, "Bad Request: invalid file_id")
        return {"file_id": id_, "file_unique_id": id_, "file_path": f"photos/{id_}"}

    def _setMyCommands(self, fields: dict[str, Any]) -> Any:  # noqa: N802
        self.commands[fields.get("language_code", "")] = json.loads(fields["commands"])
        return True

    def _getUpdates(self, fields: dict[str, Any]) -> Any:  # noqa: N802
        if self.webhook["url"]:
            return _refusal(409, "Conflict: can't use getUpdates method while webhook is active")
        offset = int(fields.get("offset", 0))
        self.confirmed = max(self.confirmed, offset - 1)
        self._updates = [each for each in self._updates if each["update_id"] >= offset]
        self._changed.wait_for(lambda: self._updates or self._closed or self.away, float(fields.get("timeout", 0)))
        return None if self.away else list(self._updates)

    def _setWebhook(self, fields: dict[str, Any]) -> Any:  # noqa: N802
        self.webhook = {"has_custom_certificate": False, "pending_update_count": 0, **self.webhook, **fields}
        return True

    def _deleteWebhook(self, _: dict[str, Any]) -> Any:  # noqa: N802
        self.webhook = {"url": ""}
        return True

    def _getWebhookInfo(self, _: dict[str, Any]) -> Any:  # noqa: N802
        known = ("url", "has_custom_certificate", "pending_update_count", "last_error_date", "last_error_message")
        return {name: self.webhook[name] for name in known if name in self.webhook}

    def _sendMessage(self, fields: dict[str, Any]) -> Any:  # noqa: N802
        if len(fields["text"]) > 4096:
            return _refusal(400, "Bad Request: message is too long")
        return self._send(fields, fields["text"], None)

    def _sendPhoto(self, fields: dict[str, Any]) -> Any:  # noqa: N802
        if len(fields.get("caption", "")) > 1024:
            return _refusal(400, "Bad Request: message caption is too long")
        return self._send(fields, fields.get("caption", ""), fields["photo"])

    def _send(self, fields: dict[str, Any], text: str, picture: Any) -> Any:
        chat = int(fields["chat_id"])
        if chat in self.blocked:
            return _refusal(403, "Forbidden: bot was blocked by the user")
        markup = json.loads(fields.get("reply_markup", "{}"))
        said = Said(chat, text, self._id(), markup.get("keyboard"), bool(markup.get("remove_keyboard")), picture)
        self.said.append(said)
        kind = "private" if chat > 0 else "group"
        return {
            "message_id": said.message_id,
            "date": 1784000000,
            "chat": {"id": chat, "type": kind},
            "from": _BOT,
            "text": text,
        }

    def _id(self) -> int:
        self._last_id += 1
        return self._last_id


def _refusal(status: int, description: str, **parameters: Any) -> tuple[int, dict[str, Any]]:
    body: dict[str, Any] = {"ok": False, "error_code": status, "description": description}
    return status, {**body, **({"parameters": parameters} if parameters else {})}


def _handler(api: BotApi) -> type[BaseHTTPRequestHandler]:
    class Handler(BaseHTTPRequestHandler):
        protocol_version, wbufsize = "HTTP/1.1", -1

        def do_POST(self) -> None:
            body = self.rfile.read(int(self.headers.get("Content-Length", 0)))
            path = re.fullmatch(r"/bot([^/]+)/(\w+)", self.path)
            assert path, self.path
            answer = api.answer(path[1], path[2], _fields(self.headers.get("Content-Type", ""), body))
            if answer is None:
                self.close_connection = True
                return
            status, said = answer
            content = json.dumps(said).encode()
            self.send_response(status)
            self.send_header("Content-Type", "application/json")
            self.send_header("Content-Length", str(len(content)))
            self.end_headers()
            self.wfile.write(content)
            self.wfile.flush()

        def do_GET(self) -> None:
            path = re.fullmatch(r"/file/bot([^/]+)/photos/(\w+)", unquote(self.path))
            found = api.files.get(path[2]) if path and path[1] == api.token else None
            self.send_response(200 if found else 404)
            self.send_header("Content-Length", str(len(found or b"")))
            self.end_headers()
            self.wfile.write(found or b"")
            self.wfile.flush()

        def log_message(self, *_: object) -> None:
            pass

    return Handler


def _fields(content_type: str, body: bytes) -> dict[str, Any]:
    if content_type.startswith("multipart/"):
        whole = BytesParser(policy=HTTP).parsebytes(b"Content-Type: " + content_type.encode() + b"\r\n\r\n" + body)
        fields: dict[str, Any] = {}
        for part in whole.iter_parts():
            content = part.get_payload(decode=True)
            name = str(part.get_param("name", header="content-disposition"))
            fields[name] = content if part.get_filename() else content.decode()
        for name, value in list(fields.items()):
            if isinstance(value, str) and value.startswith("attach://"):
                fields[name] = fields.pop(value.removeprefix("attach://"))
        return fields
    return {name: values[0] for name, values in parse_qs(body.decode(), keep_blank_values=True).items()}
