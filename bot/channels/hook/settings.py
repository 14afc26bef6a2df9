"""The office's settings of a provider's connection. A field is a path into what is sent: `data.from`, `messages.0.text`."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any
from urllib.parse import urlsplit

from bot.config import Section
from bot.errors import ConfigError


@dataclass(frozen=True, kw_only=True)
class Guard:
    """How the provider proves that a call is its own.

    Args:
        pattern: what is signed, with `{time}` and `{body}` in it; empty: the header holds the secret itself.
        prefix: what stands in the header before the signature or the secret.
    """

    pattern: str
    secret: str
    header: str
    prefix: str
    time_header: str


@dataclass(frozen=True, kw_only=True)
class In:
    """The fields of a text that came in; `time` and `media` may be empty: the provider has none."""

    guard: Guard
    sender: str
    text: str
    id: str
    time: str
    media: str


@dataclass(frozen=True, kw_only=True)
class Status:
    """The fields of a report of delivery, and which of its words mean what."""

    guard: Guard
    id: str
    state: str
    arrived: tuple[str, ...]
    lost: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class Out:
    """The call that sends a text.

    Args:
        fixed: fields that are the same in each, such as the office's number.
        key_header: bears a key by which the provider knows a repeat.
        id: where its answer has its own id of the text.
        error: where an answer of refusal has its code.
        stopped: codes, or HTTP statuses, that mean that the person has blocked the line.
    """

    url: str
    method: str
    headers: Mapping[str, str]
    form: bool
    to: str
    text: str
    fixed: Mapping[str, str]
    key_header: str
    id: str
    error: str
    stopped: frozenset[str]


@dataclass(frozen=True, kw_only=True)
class Settings:
    """All of `[hook]`; `status` is None where the provider reports nothing."""

    country: str
    arriving: In
    status: Status | None
    out: Out


def read(section: Section) -> Settings:
    """The settings of this table. Raises: ConfigError."""
    settings = Settings(
        country=section.text("country", "1"),
        arriving=_in(section.table("in")),
        status=_status(section.table("status")) if section.has("status") else None,
        out=_out(section.table("out")),
    )
    section.done()
    return settings


def at(body: Any, path: str) -> str:
    """What stands at this path of a body, as text; empty where there is nothing."""
    for key in path.split("."):
        if isinstance(body, list):
            body = body[int(key)] if key.isdecimal() and int(key) < len(body) else None
        else:
            body = body.get(key) if isinstance(body, Mapping) else None
    return "" if body is None or isinstance(body, Mapping | list) else str(body)


def _in(section: Section) -> In:
    found = In(
        guard=_guard(section),
        sender=section.text("from", "from"),
        text=section.text("text", "text"),
        id=section.text("id", "id"),
        time=section.text("time") if section.has("time") else "",
        media=section.text("media") if section.has("media") else "",
    )
    section.done()
    return found


def _status(section: Section) -> Status:
    found = Status(
        guard=_guard(section),
        id=section.text("id", "id"),
        state=section.text("state", "status"),
        arrived=section.texts("arrived"),
        lost=section.texts("lost"),
    )
    section.done()
    return found


def _guard(section: Section) -> Guard:
    signed = section.choice("guard", ("signature", "bearer")) == "signature"
    pattern = section.text("signed", "{time}.{body}") if signed else ""
    if signed and ("{time}" not in pattern or "{body}" not in pattern):
        raise ConfigError("[hook] signed must hold {time} and {body}: what the signature is made over")
    return Guard(
        pattern=pattern,
        secret=section.secret("secret"),
        header=section.text("header", "X-Signature" if signed else "Authorization"),
        prefix=section.text("prefix", "sha256=" if signed else "Bearer "),
        time_header=section.text("time_header", "X-Timestamp"),
    )


def _out(section: Section) -> Out:
    url = section.text("url")
    if urlsplit(url).scheme != "https" and urlsplit(url).hostname not in ("127.0.0.1", "localhost"):
        raise ConfigError("[hook.out] url must begin with https://, as it carries people's texts")
    secret = section.secret("secret") if section.has("secret") else ""
    found = Out(
        url=url,
        method=section.choice("method", ("POST", "PUT")),
        headers={name: value.replace("{secret}", secret) for name, value in section.named_texts("headers").items()},
        form=section.choice("body", ("json", "form")) == "form",
        to=section.text("to", "to"),
        text=section.text("text", "text"),
        fixed=section.named_texts("fixed"),
        key_header=section.text("key_header", "Idempotency-Key"),
        id=section.text("id", "id"),
        error=section.text("error", "error.code"),
        stopped=frozenset(section.texts("stopped")),
    )
    section.done()
    return found
