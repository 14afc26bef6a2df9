"""A text cut into words, numbers and marks, each with its place in the text as written.

Words are folded: lower case, no accents, no apostrophes. One pass of one expression, so the time is linear.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from functools import lru_cache

_TOKEN = re.compile(
    r"""
    (?P<phone>(?<![\w-])(?:\+?1[ -]?)?(?:\(?\d{3}\)?[ -]?)?\d{3}-\d{4}(?![\w-]))
  | (?P<number>\d{1,3}(?:,\d{3})+(?![\d])(?:\.\d+)?|\d+[.,]\d+|\d+|(?<![\w.])[.]\d+)
  | (?P<fraction>[½¼¾⅓⅔⅛⅜⅝⅞⅕⅖⅗⅘⅙⅚⅐⅑⅒])
  | (?P<word>(?:m|ft|cm|mts?|pies)[23](?![\w])|[^\W\d_½¼¾⅓⅔⅛⅜⅝⅞⅕⅖⅗⅘⅙⅚⅐⅑⅒]+(?:['’`´][^\W\d_]+)*)
  | (?P<mark>\n|[^\s])
    """,
    re.VERBOSE,
)
_TERMINAL = re.compile(r"\x1b(?:\[[0-?]*[ -/]*[@-~]|[@-Z\\-_])?")
_LETTER_O = re.compile(r"(?<=\d)[oO](?=[\doO]*(?![\w'’]))")
_LONGEST_NUMBER = 15
_MARKS = str.maketrans(
    {
        "’": "'",
        "‘": "'",
        "′": "'",
        "´": "'",
        "`": "'",
        "″": '"',
        "“": '"',
        "”": '"',
        "–": "-",
        "—": "-",
        "−": "-",
        "⁄": "/",
        "×": "x",
        "…": ".",
        "º": "°",
    }
)


@dataclass(frozen=True, slots=True)
class Token:
    """A piece of the text: `kind` is `word`, `number` or `mark`; `glued` when no space stands before it."""

    kind: str
    text: str
    start: int
    end: int
    glued: bool
    value: float = 0.0


def cleaned(text: str) -> str:
    """The text in composed letters, without terminal codes, control characters and marks that nobody sees."""
    plain = _LETTER_O.sub("0", _TERMINAL.sub("", unicodedata.normalize("NFC", text)))
    return plain if plain.isprintable() else "".join(_seen(sign) for sign in plain)


def _seen(sign: str) -> str:
    """A line end stays, any other control character is a blank, what has no width is nothing."""
    kind = "" if sign == "\n" else unicodedata.category(sign)
    return "" if kind == "Cf" else " " if kind == "Cc" else sign


@lru_cache(maxsize=8192)
def fold(word: str) -> str:
    """Lower case without accents and apostrophes: "Mañana" is "manana", "didn't" is "didnt"."""
    plain = unicodedata.normalize("NFKD", word.translate(_MARKS).casefold())
    return "".join(sign for sign in plain if not unicodedata.combining(sign) and sign != "'")


def figure(text: str) -> float:
    """The value of digits: a comma before exactly three digits parts thousands, any other comma is decimal."""
    whole, comma, rest = text.partition(",")
    if not comma:
        return float(text[:_LONGEST_NUMBER])
    if len(whole) <= 3 and not whole.startswith("0") and re.fullmatch(r"\d{3}(,\d{3})*(\.\d+)?", rest):
        return float(text.replace(",", "")[:_LONGEST_NUMBER])
    return float(text.replace(",", ".")[:_LONGEST_NUMBER])


def tokenise(text: str) -> list[Token]:
    """The words, numbers and marks of a text, in order. Line ends are marks; other blanks part tokens."""
    tokens: list[Token] = []
    before = -1
    for match in _TOKEN.finditer(text):
        kind, start, end = str(match.lastgroup), match.start(), match.end()
        written, glued, value = match.group(), match.start() == before, 0.0
        if kind == "number":
            value = figure(written)
        elif kind == "phone":
            kind = "mark"
        elif kind == "fraction":
            kind, value = "number", unicodedata.numeric(written)
        elif kind == "word" and written in ("×", "º"):
            kind = "mark"
        shown = fold(written) if kind == "word" else written.translate(_MARKS)
        shown = "que" if shown == "q" else shown
        if shown:
            kind = "word" if shown == "x" else kind
            tokens.append(Token(kind, shown, start, end, glued, value))
        before = end
    return tokens
