"""Passwords: what makes one good enough, and its hash (Argon2id with the library's own settings, RFC 9106)."""

from __future__ import annotations

from functools import cache
from threading import Semaphore

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

# Length is what counts; rules on kinds of signs only annoy (NIST SP 800-63B 3.1.1.2 advises against them).
SHORTEST, LONGEST = 12, 256

_hasher = PasswordHasher()
# One check takes 64 MiB: a flood of logins must not take the machine's memory.
_few_at_a_time = Semaphore(2)


def problem(password: str, name: str) -> str | None:
    """What is wrong with a new password; None: nothing."""
    if len(password) < SHORTEST:
        return f"The password needs {SHORTEST} signs or more. Four words in a row are easy to keep."
    if len(password) > LONGEST:
        return f"The password may have {LONGEST} signs at most."
    if name.casefold() in password.casefold() or len(set(password)) < 5:
        return "That password is too easy to guess. Four words in a row are easy to keep."
    return None


def hashed(password: str) -> str:
    """What is stored in its place."""
    with _few_at_a_time:
        return _hasher.hash(password)


def fits(password: str, stored: str | None) -> bool:
    """Whether it is the password of this hash. Without a hash it takes as long, and never is."""
    with _few_at_a_time:
        try:
            return _hasher.verify(stored or _nobodys(), password[: LONGEST + 1]) and stored is not None
        except (VerificationError, InvalidHashError):
            return False


@cache
def _nobodys() -> str:
    return _hasher.hash("nobody has this password")
