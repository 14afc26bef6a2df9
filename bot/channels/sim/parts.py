"""A text in the parts that one SMS each carries, with the header by which a phone joins them again.

Sources: 3GPP TS 23.040 clause 9.2.3.24.1 (concatenated short messages, 8-bit and 16-bit reference), TS 23.038 (alphabets).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from bot.word import gsm7


@dataclass(frozen=True)
class Part:
    """One SMS. `header` is the user data header in hex; empty where the text is whole."""

    text: str
    wide: bool
    header: str = ""


@dataclass(frozen=True)
class Place:
    """Which part of which text an SMS is."""

    reference: int
    of: int
    number: int


def split(text: str, reference: int) -> list[Part]:
    """The parts that carry this text; no letter is cut in two.

    Args:
        reference: what the parts have in common; only its last eight bits count.
    """
    wide = not gsm7.ALPHABET.issuperset(text)
    width, whole, each = (_units, gsm7.ONE_WIDE, gsm7.EACH_WIDE) if wide else (_septets, gsm7.ONE, gsm7.EACH_OF_MORE)
    if sum(map(width, text)) <= whole:
        return [Part(text, wide)]
    pieces = list(_pieces(text, width, each))
    return [
        Part(piece, wide, f"050003{reference % 256:02X}{len(pieces):02X}{number:02X}")
        for number, piece in enumerate(pieces, 1)
    ]


def place(header: str) -> Place | None:
    """What a header says of joining; None where it says nothing of it."""
    try:
        octets = bytes.fromhex(header)[1:]
    except ValueError:
        return None
    while len(octets) >= 2:
        element, length, body = octets[0], octets[1], octets[2 : 2 + octets[1]]
        if (element, length) in ((0x00, 3), (0x08, 4)) and len(body) == length:
            return Place(int.from_bytes(body[:-2]), body[-2], body[-1])
        octets = octets[2 + length :]
    return None


def _pieces(text: str, width: Callable[[str], int], each: int) -> Iterator[str]:
    piece, used = "", 0
    for letter in text:
        if used + width(letter) > each:
            yield piece
            piece, used = "", 0
        piece, used = piece + letter, used + width(letter)
    yield piece


def _septets(letter: str) -> int:
    return gsm7.septets(letter)


def _units(letter: str) -> int:
    """Sixteen-bit units: an emoji takes two."""
    return 2 if ord(letter) > 0xFFFF else 1
