"""Telephone numbers as they are kept: E.164, a plus sign, the country and the number there, so that a person is one person."""

from __future__ import annotations

import re

# Fewer digits than this are a short code: a machine of the network or of a company, and nobody to answer.
_SHORTEST, _LONGEST = 7, 15


def e164(written: str, country: str) -> str | None:
    """The number in one form; None for what no person texts from: a short code, or a sender that is a word.

    Args:
        country: the calling code of the office's country, put before numbers that come without one.
    """
    if not re.fullmatch(r"[+0-9()./ -]+", written.strip()):
        return None
    digits = re.sub(r"\D", "", written)
    if written.strip().startswith("+"):
        whole = digits
    elif digits.startswith("00"):
        whole = digits[2:]
    elif digits.startswith(country) and len(digits) > 10:
        whole = digits
    else:
        whole = country + digits.removeprefix("0") if len(digits) >= _SHORTEST else ""
    return f"+{whole}" if _SHORTEST <= len(whole) <= _LONGEST and whole[0] != "0" else None
