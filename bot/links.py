"""Links that open one thing for a while, for people without an account: signed, so that nobody can make or change one."""

from __future__ import annotations

from datetime import timedelta

from itsdangerous import BadSignature, URLSafeTimedSerializer

LASTS = timedelta(days=1)


class Links:
    """Makes and reads the signed part of a link.

    Args:
        secret: the line's.
        url: where the pages are reached from outside, without a slash at the end.
    """

    def __init__(self, secret: str, url: str) -> None:
        self._signer = URLSafeTimedSerializer(secret, salt="link")
        self._url = url

    def make(self, page: str, what: int | str) -> str:
        """An address of `page` that opens `what` until `LASTS` has gone by."""
        return f"{self._url}/{page}/{self._signer.dumps([page, what])}"

    def read(self, page: str, signed: str) -> int | str | None:
        """What a link of this page opens; None for one that is old, changed, or of another page."""
        try:
            made_for, what = self._signer.loads(signed, max_age=int(LASTS.total_seconds()))
        except (BadSignature, ValueError, TypeError):
            return None
        return what if made_for == page and isinstance(what, int | str) else None
