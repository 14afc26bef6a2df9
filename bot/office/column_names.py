"""What the columns of the specialist's tables are called on a page, and what a cell holds."""

from __future__ import annotations

import csv
from functools import cache
from importlib.resources import files
from typing import NamedTuple


class ColumnName(NamedTuple):
    """A column as people read it; `hint` is its unit or an example."""

    label: str
    hint: str


@cache
def column_names() -> dict[str, ColumnName]:
    """Every column of the tables that an office may change."""
    text = files(__package__).joinpath("columns.csv").read_text(encoding="utf-8")
    return {row["column"]: ColumnName(row["label"], row["hint"]) for row in csv.DictReader(text.splitlines())}


def column_label(name: str) -> str:
    """The column in words."""
    return column_names()[name].label
