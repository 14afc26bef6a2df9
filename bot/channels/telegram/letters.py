"""A letter as Telegram takes it: in pieces that are not too long, with its picture first and its buttons last."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from telegram import KeyboardButton, ReplyKeyboardMarkup, ReplyKeyboardRemove
from telegram.constants import MessageLimit

from bot.post import Letter
from bot.word.say import Words

_LONGEST, _LONGEST_BESIDE_PICTURE = MessageLimit.MAX_TEXT_LENGTH, MessageLimit.CAPTION_LENGTH
# Where a text is best parted, best first.
_ENDS = ("\n\n", "\n", ". ", "; ", ", ", " ")
# As many letters stand beside each other on a narrow telephone.
_ROW_LETTERS, _ROW_BUTTONS = 28, 3

Buttons = ReplyKeyboardMarkup | ReplyKeyboardRemove | None


@dataclass(frozen=True)
class Piece:
    """One message of Telegram's: a text, or a picture with the text below it."""

    text: str
    picture: bytes | None = None
    buttons: Buttons = None


def pieces(letter: Letter, picture: bytes | None = None) -> list[Piece]:
    """The messages that a letter makes with its picture, in order."""
    found = _pictured(letter, picture) if picture else [Piece(each) for each in parted(letter.text)]
    return [*found[:-1], Piece(found[-1].text, found[-1].picture, _buttons(letter))]


def _pictured(letter: Letter, picture: bytes) -> list[Piece]:
    """A picture with its words below it; long ones follow it, and what it shows stands below."""
    words = letter.text if letter.alt in letter.text else f"{letter.text}\n\n{letter.alt}"
    if len(words) <= _LONGEST_BESIDE_PICTURE:
        return [Piece(words, picture)]
    caption, *more = parted(letter.alt, _LONGEST_BESIDE_PICTURE)
    return [Piece(caption, picture), *(Piece(each) for text in (*more, letter.text) for each in parted(text))]


def parted(text: str, longest: int = _LONGEST) -> list[str]:
    """A text in parts that are not too long, each ended where a reader would pause."""
    parts = []
    while len(text) > longest:
        head = text[: longest + 1]
        end = next((head.rindex(mark) + len(mark.rstrip()) for mark in _ENDS if mark in head[longest // 2 :]), longest)
        parts.append(text[:end].rstrip())
        text = text[end:].lstrip()
    return [*parts, text]


def _buttons(letter: Letter) -> Buttons:
    """The answers as buttons; those of an earlier question go with the next answer."""
    rows = [list(map(KeyboardButton, row)) for row in _rows(letter.choices)]
    if letter.asks == "place":
        here = Words(letter.language, channel=letter.channel).say("button.here")
        rows.insert(0, [KeyboardButton(here, request_location=True)])
    if rows:
        return ReplyKeyboardMarkup(rows, resize_keyboard=True, one_time_keyboard=True)
    return None if letter.kind == "notice" else ReplyKeyboardRemove()


def _rows(choices: Sequence[str]) -> Iterator[list[str]]:
    """Short answers beside each other, long ones each in a row."""
    row: list[str] = []
    for choice in choices:
        if row and (len(row) == _ROW_BUTTONS or sum(map(len, row)) + len(choice) > _ROW_LETTERS):
            yield row
            row = []
        row.append(choice)
    if row:
        yield row
