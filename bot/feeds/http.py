"""One polite way to ask a weather service for JSON: in time, with few tries, and with our name on it."""

from __future__ import annotations

import json
import logging
import math
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from datetime import UTC, datetime
from email.utils import parsedate_to_datetime
from typing import Any

import requests
import urllib3

from bot.errors import FeedChanged, FeedDown

log = logging.getLogger(__name__)

MOST_BYTES = 4_000_000  # ten times a gridpoint answer, the largest we ask for
MOST_PAUSE_S = 5.0  # a longer wait is not ours to sit out; whoever asked is told how long
_CHUNK_BYTES = 65_536
_deadline: ContextVar[float] = ContextVar("deadline", default=math.inf)


@contextmanager
def time_budget(seconds: float) -> Iterator[None]:
    """Within the block all requests together take no longer than this; of nested budgets the nearest end counts.

    Looking up a host name can't be cut short and is not counted.
    """
    token = _deadline.set(min(_deadline.get(), time.monotonic() + seconds))
    try:
        yield
    finally:
        _deadline.reset(token)


def time_left_s() -> float:
    """What is left of the time budget. [s] Infinite where none is set."""
    return _deadline.get() - time.monotonic()


class Http:
    """GET requests for JSON.

    Args:
        contact: an e-mail or web address of the office, sent along so that a service can reach us before it blocks us.
        timeout_s: longest wait for a connection, and then for each piece of the answer. [s]
        tries: how often a request that failed for a passing reason is sent in all.
        back_off_s: pause before the second try; four times as long before each further one. [s]
    """

    def __init__(self, contact: str, *, timeout_s: float = 4.0, tries: int = 2, back_off_s: float = 0.5) -> None:
        self._timeout_s, self._tries, self._back_off_s = timeout_s, tries, back_off_s
        self._session = requests.Session()
        self._session.headers["User-Agent"] = f"dropline ({contact})" if contact else "dropline"
        self._session.headers["Accept"] = "application/geo+json, application/json"

    def json(self, service: str, url: str, params: Mapping[str, str] | None = None) -> Any:
        """The JSON answer to a GET.

        Raises: FeedDown, when nothing usable came in time, with the status 404 also when it is not there;
            FeedChanged, when the service refuses the request itself.
        """
        for tried in range(1, self._tries):
            try:
                return self._once(service, url, params)
            except FeedDown as down:
                pause_s = max(down.after_s, self._back_off_s * 4 ** (tried - 1))
                if down.status == 404 or pause_s > min(MOST_PAUSE_S, time_left_s()):
                    raise
                log.info("%s, try %d; again in %.1f s", down, tried, pause_s)
            time.sleep(pause_s)
        return self._once(service, url, params)

    def close(self) -> None:
        """Let go of open connections."""
        self._session.close()

    def _once(self, service: str, url: str, params: Mapping[str, str] | None) -> Any:
        timeout_s = min(self._timeout_s, time_left_s())
        if timeout_s <= 0:
            raise FeedDown(service, "no time left to ask")
        try:
            with self._session.get(url, params=params, timeout=timeout_s, stream=True) as answer:
                _check_status(service, answer)
                return json.loads(_body(service, answer))
        except ValueError as error:  # requests' own JSON and decoding errors are ValueErrors too
            raise FeedDown(service, "an answer that is no JSON, or only the beginning of it") from error
        except (requests.RequestException, urllib3.exceptions.HTTPError) as error:
            raise FeedDown(service, type(error).__name__, everywhere=True) from error


def _check_status(service: str, answer: requests.Response) -> None:
    status = answer.status_code
    if status == 200:
        return
    problem = f"status {status}"
    if status == 429:
        raise FeedDown(service, problem, status=status, everywhere=True, after_s=_retry_after_s(answer))
    if status >= 500 or status == 404:
        raise FeedDown(service, problem, status=status, after_s=_retry_after_s(answer))
    raise FeedChanged(service, problem)


def _body(service: str, answer: requests.Response) -> bytes:
    """The whole body. Read piece by piece as it arrives, so that a slow drip can't outlast the time budget."""
    body = bytearray()
    while piece := answer.raw.read1(_CHUNK_BYTES, decode_content=True):
        body += piece
        if len(body) > MOST_BYTES:
            raise FeedDown(service, f"an answer of more than {MOST_BYTES} bytes")
        if time_left_s() <= 0:
            raise FeedDown(service, "an answer that came too slowly")
    return bytes(body)


def _retry_after_s(answer: requests.Response) -> float:
    """The Retry-After header, given in seconds or as a date. [s] 0 without one."""
    given = answer.headers.get("Retry-After", "")
    if given.isdigit():
        return float(given)
    try:
        return max(0.0, (parsedate_to_datetime(given) - datetime.now(UTC)).total_seconds())
    except (TypeError, ValueError):
        return 0.0
