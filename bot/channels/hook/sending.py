"""The worker that sends: one call to the provider a letter, in order, tried again as the post says."""

from __future__ import annotations

import logging
from collections.abc import Callable
from datetime import datetime
from threading import Event
from typing import Any

import requests

from bot.channels.hook.settings import Out, at
from bot.errors import BotError
from bot.post import Letter, Post
from bot.workers import Health

log = logging.getLogger(__name__)

_ROUND_S = 1.0
_CONNECT_S, _ANSWER_S = 5.0, 15.0
_AFTER_TROUBLE_S, _LONGEST_S = 5.0, 300.0
# One number that can't be reached fails once; after so many in a row it is the connection.
_FAILURES = 3
_OUR_FAULT = {
    401: "the provider does not take our secret: is the file that [hook.out] secret names the right one?",
    403: "the provider does not let us send: is the account paid, and the number allowed?",
    404: "the provider knows no such address: is [hook.out] url right?",
}


class _Down(Exception):
    """Nothing can be sent just now; `wait_s` is how long the provider asked us to wait."""

    def __init__(self, problem: str, wait_s: float | None = None) -> None:
        self.problem, self.wait_s = problem, wait_s
        super().__init__(problem)


class Sender:
    """Texts by a provider's connection.

    Args:
        clock: the line's.
    """

    name = "sms"

    def __init__(self, out: Out, post: Post, clock: Callable[[], datetime]) -> None:
        self._out, self._post, self._clock = out, post, clock
        self._session = requests.Session()
        self._failures, self._problem = 0, ""
        self._since = clock()

    def run(self, stop: Event) -> None:
        """Send what is due until told to stop; after trouble with the connection wait first."""
        while not stop.is_set():
            try:
                self._round(stop)
                self._post.wait(_ROUND_S)
            except _Down as trouble:
                stop.wait(min(trouble.wait_s or _AFTER_TROUBLE_S, _LONGEST_S))
            except BotError:
                log.exception("the post can't be read")
                stop.wait(_AFTER_TROUBLE_S)

    def health(self) -> Health:
        """Whether texts go out, and what to do where they don't."""
        well = self._failures < _FAILURES
        return Health(part=self.name, well=well, says="texts go out" if well else self._problem, since=self._since)

    def _round(self, stop: Event) -> None:
        held_up: set[str] = set()
        for letter in self._post.due("sms"):
            if stop.is_set():
                return
            if letter.address not in held_up and not self._send(letter):
                held_up.add(letter.address)

    def _send(self, letter: Letter) -> bool:
        """Send one letter and tell the post; whether the next to this number may follow.

        Raises: _Down, when there is no use in trying others now.
        """
        try:
            answer = self._call(letter)
        except requests.RequestException as error:
            self._failed(letter, f"no answer ({type(error).__name__})")
            raise _Down("no answer") from error
        status = answer.status_code
        if 200 <= status < 300:
            self._post.took(letter, at(_json(answer), self._out.id) or None)
            self._went_well()
            return True
        if not self._out.stopped.isdisjoint({str(status), at(_json(answer), self._out.error)}):
            self._post.refused(letter, "the person has blocked the line", stopped=True)
            self._went_well()
        else:
            wait_s = _retry_after_s(answer)
            self._failed(letter, f"HTTP {status}", wait_s)
            if status == 429 or status >= 500 or status in _OUR_FAULT:
                raise _Down(f"HTTP {status}", wait_s)
        return False

    def _call(self, letter: Letter) -> requests.Response:
        fields = {**self._out.fixed, self._out.to: letter.address, self._out.text: letter.text}
        # The same at each try, and another after the store was begun anew.
        key = f"dropline-{letter.id}-{letter.made_at:%Y%m%d%H%M%S}"
        return self._session.request(
            self._out.method,
            self._out.url,
            headers={**self._out.headers, self._out.key_header: key},
            data=fields if self._out.form else None,
            json=None if self._out.form else fields,
            timeout=(_CONNECT_S, _ANSWER_S),
            allow_redirects=False,  # our secret goes to no other address
        )

    def _failed(self, letter: Letter, problem: str, wait_s: float | None = None) -> None:
        self._post.failed(letter, problem, wait_s=wait_s)
        self._failures += 1
        status = int(problem.removeprefix("HTTP ")) if problem.startswith("HTTP ") else 0
        self._problem = _OUR_FAULT.get(status, f"texts don't go out: {problem} from the provider; they are tried again")
        if self._failures == _FAILURES:
            self._since = self._clock()

    def _went_well(self) -> None:
        if self._failures >= _FAILURES:
            self._since = self._clock()
        self._failures = 0


def _json(answer: requests.Response) -> Any:
    try:
        return answer.json()
    except ValueError:
        return None


def _retry_after_s(answer: requests.Response) -> float | None:
    """What the provider asked for in seconds (RFC 9110, 10.2.3); a date there is not looked at."""
    asked = answer.headers.get("Retry-After", "")
    return float(asked) if asked.isdecimal() and len(asked) < 7 else None
