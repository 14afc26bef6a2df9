"""How big and in what colours a picture is drawn: for a phone, for a page of the office, and for black print."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Look:
    """Width and height, and the size of the letters, in pixels; one ink, one accent, and their paler shades for areas and rules.

    Nothing is told by colour alone: what the accent marks has a shape and a label of its own.
    """

    width: int
    height: int
    letters: float
    paper: str = "#ffffff"
    ink: str = "#2a2721"
    accent: str = "#0d5a66"
    wash: str = "#dfeae8"
    rule: str = "#8b8069"


# A phone shows it at half this size: its letters come out at 13 pixels, and the sun is the reason for the white paper.
PHONE = Look(width=720, height=900, letters=26)
# The colours of the office's pages, on their sheets.
OFFICE = Look(width=1280, height=680, letters=18, paper="#fffdf8")
PRINT = Look(width=1280, height=800, letters=22, ink="#000000", accent="#000000", wash="#e4e4e4", rule="#6e6e6e")
