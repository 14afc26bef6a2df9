"""Whether a call is the provider's own.

A signature is HMAC-SHA256 (RFC 2104) over the time and the body as it came, in hex or base64. A call from more than five
minutes away is refused; one repeated within them is known by the id of the text that it brings.
"""

from __future__ import annotations

import hashlib
import hmac
from base64 import b64encode
from datetime import datetime

from werkzeug.datastructures import Headers

from bot.channels.hook.settings import Guard

_WINDOW_S = 300.0
_MILLISECONDS = 10**11  # a count of seconds that large is one of milliseconds


def proven(guard: Guard, headers: Headers, body: bytes, now: datetime) -> bool:
    """Whether this call was made by whoever has the secret, and now.

    Args:
        now: with its zone.
    """
    shown = headers.get(guard.header, "").removeprefix(guard.prefix).strip()
    if not guard.pattern:
        return _same(shown, guard.secret)
    time = headers.get(guard.time_header, "")
    if not _recent(time, now):
        return False
    before, _, after = guard.pattern.replace("{time}", time).partition("{body}")
    made = hmac.new(guard.secret.encode(), before.encode() + body + after.encode(), hashlib.sha256).digest()
    return _same(shown.lower(), made.hex()) or _same(shown, b64encode(made).decode())


def _recent(time: str, now: datetime) -> bool:
    if not (time.isascii() and time.isdigit() and len(time) < 15):
        return False
    seconds = int(time) / (1000 if int(time) >= _MILLISECONDS else 1)
    return abs(now.timestamp() - seconds) <= _WINDOW_S


def _same(shown: str, due: str) -> bool:
    """Compared in a time that does not tell how much of it is right."""
    return hmac.compare_digest(shown.encode(), due.encode())
