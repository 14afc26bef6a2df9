"""A logger's file as a table of texts. Lines above the header, any of the usual separators and encodings are taken."""

from __future__ import annotations

import csv
import io
from collections import Counter

import pandas as pd

from bot.errors import FileError

_SEPARATORS = (",", ";", "\t", "|")
_LOOKED_AT = 60  # lines in which the shape of a file must show
_MOST_COLUMNS = 64


def decoded(data: bytes) -> str:
    """The text of a file: UTF-8 or UTF-16 by its mark, else as old spreadsheets write it.

    Raises: FileError, for what is no text.
    """
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return data.decode("utf-16", "replace")
    if b"\x00" in data[:4096]:
        raise FileError("this is no text file; save the table as CSV first")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", "replace")


def read(text: str) -> pd.DataFrame:
    """The table in a text, every cell as text; the index is the line in the file, counted from one.

    Raises: FileError, when no table can be found.
    """
    lines = text.splitlines()
    separator, header = _shape(lines[:_LOOKED_AT])
    try:
        frame = pd.read_csv(
            io.StringIO("\n".join(lines[header:])),
            sep=separator,
            dtype=str,
            keep_default_na=False,
            skip_blank_lines=False,
            on_bad_lines="skip",
            index_col=False,
            quoting=csv.QUOTE_MINIMAL,
        )
    except (pd.errors.ParserError, pd.errors.EmptyDataError, ValueError) as error:
        raise FileError(
            "no table was found in this file; it needs a line of column names and readings below"
        ) from error
    frame.columns = pd.Index([str(name).strip() for name in frame.columns])
    frame.index = pd.RangeIndex(header + 2, header + 2 + len(frame))
    # Spreadsheets write empty lines, and columns without a name or a value.
    frame = frame.loc[~(frame == "").all(axis=1), ~(frame == "").all(axis=0)]
    if frame.empty or not 2 <= frame.shape[1] <= _MOST_COLUMNS:
        raise FileError(f"a table of a logger has 2 to {_MOST_COLUMNS} columns and some rows; this file has not")
    return frame


def _shape(lines: list[str]) -> tuple[str, int]:
    """The separator, and the line that names the columns: the first as wide as most lines are."""
    for separator in sorted(_SEPARATORS, key=lambda each: -_regularity(lines, each)):
        widths = [line.count(separator) for line in lines if line.strip()]
        usual = Counter(widths).most_common(1)[0][0] if widths else 0
        if usual:
            return separator, next(number for number, line in enumerate(lines) if line.count(separator) == usual)
    raise FileError("no columns were found in this file; save the table as CSV, with commas between the columns")


def _regularity(lines: list[str], separator: str) -> int:
    """In how many lines the separator stands as often as in most; a decimal comma is outdone by a real separator."""
    widths = Counter(line.count(separator) for line in lines if separator in line)
    return widths.most_common(1)[0][1] * 2 + (separator != ",") if widths else 0
