"""The alphabet of a text message: what one SMS can carry, what to put for the rest, and how many it takes.

Source: 3GPP TS 23.038 clause 6.2.1 (GSM 7-bit default alphabet and its extension table); lengths 160/153 and 70/67
from the 140 octets of one message less a 6-octet header in each part of a longer one (3GPP TS 23.040).
"""

from __future__ import annotations

import unicodedata

BASIC = (
    "@£$¥èéùìòÇ\nØø\rÅåΔ_ΦΓΛΩΠΨΣΘΞÆæßÉ !\"#¤%&'()*+,-./0123456789:;<=>?"
    "¡ABCDEFGHIJKLMNOPQRSTUVWXYZÄÖÑÜ§¿abcdefghijklmnopqrstuvwxyzäöñüà"
)
EXTENSION = "\f^{}\\[~]|€"  # an escape goes before each: two septets
ALPHABET = frozenset(BASIC + EXTENSION)

ONE, EACH_OF_MORE = 160, 153
ONE_WIDE, EACH_WIDE = 70, 67
_NEAR = 8  # letters given up at most to end a cut text at a blank

_INSTEAD = str.maketrans({
    "‘": "'", "’": "'", "‚": "'", "‛": "'", "′": "'", "´": "'", "`": "'",
    "“": '"', "”": '"', "„": '"', "″": '"', "«": '"', "»": '"',
    "‐": "-", "‑": "-", "‒": "-", "–": "-", "—": "-", "―": "-", "−": "-",
    "°": "", "º": "", "ª": "", "·": "-", "•": "-", "×": "x", "÷": "/", "±": "+-", "≤": "<=", "≥": ">=",
    "⁄": "/", "\t": " ", "œ": "oe", "Œ": "OE", "ł": "l", "Ł": "L", "đ": "d", "ı": "i",
})  # fmt: skip


def fold(text: str) -> str:
    """The text in letters that one SMS can carry: accents lost but for é ñ ü, other scripts as `?`, emoji gone.

    Runs of blanks that this leaves become one.
    """
    sendable = ALPHABET.issuperset(text)
    if sendable and text.isprintable() and "  " not in text:
        return text.strip()
    if not sendable:
        whole = "".join(map(_fraction, unicodedata.normalize("NFC", text))).translate(_INSTEAD)
        text = "\n".join("".join(map(_carried, line)) for line in whole.splitlines())
    lines = (line.split(" ") for line in text.splitlines())
    return "\n".join(" ".join(word for word in words if word) for words in lines).strip()


def _fraction(letter: str) -> str:
    """A fraction sign gets room before it: `1½` is one and a half, not eleven halves."""
    return " " + unicodedata.normalize("NFKD", letter) if "VULGAR FRACTION" in unicodedata.name(letter, "") else letter


def _carried(letter: str) -> str:
    if letter in ALPHABET:
        return letter
    if letter.isspace():
        return " "
    plain = "".join(part for part in unicodedata.normalize("NFKD", letter).translate(_INSTEAD) if part in ALPHABET)
    return plain or ("?" if unicodedata.category(letter).startswith("L") else "")


def septets(text: str) -> int:
    """Length in 7-bit units. The text must be within the alphabet."""
    return len(text) + sum(map(text.count, EXTENSION))


def segments(text: str) -> int:
    """How many SMS carry this text; an empty text takes one. A letter outside the alphabet makes all of it 16-bit."""
    if not ALPHABET.issuperset(text):
        return _parts([len(letter.encode("utf-16-le")) // 2 for letter in text], ONE_WIDE, EACH_WIDE)
    if septets(text) <= ONE:
        return 1
    return _parts([_width(letter) for letter in text], ONE, EACH_OF_MORE)


def cut(text: str, longest: int) -> str:
    """Folded text, ended with two points where it is longer than so many septets; at a blank if one is near."""
    if septets(text) <= longest:
        return text
    kept = text
    while septets(kept) > longest - 2:
        kept = kept[:-1]
    return (kept.rsplit(" ", 1)[0] if " " in kept[-_NEAR:] else kept).rstrip() + ".."


def _width(letter: str) -> int:
    return 2 if letter in EXTENSION else 1


def _parts(widths: list[int], one: int, each: int) -> int:
    """Parts that these letters fill, none of them cut in two."""
    if sum(widths) <= one:
        return 1
    parts, used = 1, 0
    for width in widths:
        if used + width > each:
            parts, used = parts + 1, 0
        used += width
    return parts
