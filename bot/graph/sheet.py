"""A sheet to draw on: lines, shapes and labels that keep out of each other's way, written as SVG. Lengths are in pixels."""

from __future__ import annotations

import html
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from bot.graph import font

_NOT_IN_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
# Of the size of the letters: how far they stand above the line they are set on, and below it.
_ABOVE, _BELOW = 0.76, 0.24
_HALO = 0.28
_GAP = 3.0
# A choice is passed over for a later one when that covers one mark less for every so many choices.
_LATER = 0.35

Point = tuple[float, float]


@dataclass(frozen=True)
class Box:
    """What a thing covers."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Box, gap: float = 0.0) -> bool:
        """Whether they overlap, or come nearer than `gap`."""
        apart = (
            self.right + gap <= other.left
            or other.right + gap <= self.left
            or self.bottom + gap <= other.top
            or other.bottom + gap <= self.top
        )
        return not apart

    def inside(self, other: Box) -> bool:
        return (
            other.left <= self.left
            and other.top <= self.top
            and self.right <= other.right
            and self.bottom <= other.bottom
        )


@dataclass(frozen=True)
class Label:
    """A text on the sheet. `x` is its left edge, `y` the line it is set on."""

    text: str
    x: float
    y: float
    size: float
    colour: str
    bold: bool = False

    @cached_property
    def box(self) -> Box:
        wide = font.width(self.text, self.size, self.bold)
        return Box(self.x, self.y - _ABOVE * self.size, self.x + wide, self.y + _BELOW * self.size)


@dataclass
class Sheet:
    """What is drawn so far; `marks` are things that labels rather keep off."""

    width: float
    height: float
    paper: str
    shapes: list[str] = field(default_factory=list)
    labels: list[Label] = field(default_factory=list)
    marks: list[Box] = field(default_factory=list)

    def line(self, points: Sequence[Point], colour: str, width: float, dash: str = "") -> None:
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        self.shapes.append(
            f'<path d="{_path(points)}" fill="none" stroke="{colour}" stroke-width="{width:g}"{dashed} '
            'stroke-linejoin="round"/>'
        )

    def behind(self, points: Sequence[Point], colour: str, width: float) -> None:
        """A line under all that is drawn so far."""
        self.line(points, colour, width)
        self.shapes.insert(0, self.shapes.pop())

    def shape(self, points: Sequence[Point], fill: str, stroke: str = "none", width: float = 0, dash: str = "") -> None:
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        self.shapes.append(
            f'<path d="{_path(points)}Z" fill="{fill}" stroke="{stroke}" stroke-width="{width:g}"{dashed}/>'
        )

    def disc(self, at: Point, radius: float, fill: str, stroke: str, width: float) -> None:
        self.shapes.append(
            f'<circle cx="{at[0]:.1f}" cy="{at[1]:.1f}" r="{radius:g}" fill="{fill}" stroke="{stroke}" '
            f'stroke-width="{width:g}"/>'
        )

    def avoid(self, points: Iterable[Point], reach: float) -> None:
        """Keep labels off these points."""
        self.marks += [Box(x - reach, y - reach, x + reach, y + reach) for x, y in points]

    def write(self, label: Label) -> None:
        """Set a label where it is told to stand."""
        self.labels.append(label)

    def place(self, choices: Iterable[Label], room: Box, *, clear: bool = False) -> Label | None:
        """Set one of the same label's choices: inside the room, off every other label, and over few marks.

        Args:
            choices: best first: a later one is taken for the sake of the marks alone.
            clear: over no mark at all.
        Returns: the label as set, or None where there is no such place.
        """
        best, least = None, float("inf")
        for number, label in enumerate(choices):
            cost = number * _LATER
            if cost >= least:
                break
            if not label.box.inside(room) or any(label.box.meets(other.box, _GAP) for other in self.labels):
                continue
            covered = sum(label.box.meets(mark) for mark in self.marks)
            if cost + covered < least and not (clear and covered):
                best, least = label, cost + covered
        if best is not None:
            self.write(best)
        return best

    def svg(self, title: str, told: str) -> str:
        """The sheet as SVG, with a title and a description for who can't see it."""
        head = (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {self.width:g} {self.height:g}" '
            f'width="{self.width:g}" height="{self.height:g}" role="img" font-family="{font.FAMILY}">'
        )
        paper = f'<rect width="{self.width:g}" height="{self.height:g}" fill="{self.paper}"/>'
        texts = [_text(label, self.paper) for label in self.labels]
        told = f"<title>{_clean(title)}</title><desc>{_clean(told)}</desc>"
        return "\n".join([head, told, paper, *self.shapes, *texts, "</svg>"])


def _path(points: Sequence[Point]) -> str:
    return "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in points)


def _text(label: Label, paper: str) -> str:
    """One label, with a rim of paper that keeps it legible over lines."""
    bold = ' font-weight="bold"' if label.bold else ""
    return (
        f'<text x="{label.x:.1f}" y="{label.y:.1f}" font-size="{label.size:g}"{bold} fill="{label.colour}" '
        f'stroke="{paper}" stroke-width="{_HALO * label.size:.1f}" stroke-linejoin="round" paint-order="stroke" '
        f'xml:space="preserve">{_clean(label.text)}</text>'
    )


def _clean(text: str) -> str:
    """Text as XML holds it: nothing in it is read as a mark, and what XML can't hold is left out."""
    return html.escape(_NOT_IN_XML.sub("", text), quote=False)


def centred(text: str, at: Point, size: float, colour: str, bold: bool = False) -> Label:
    """A label with its middle over a point of the line it is set on."""
    return Label(text, at[0] - font.width(text, size, bold) / 2, at[1], size, colour, bold)


def beside(text: str, at: Point, size: float, colour: str, bold: bool = False) -> list[Label]:
    """A label centred on a point, or moved to either side of it."""
    middle = centred(text, at, size, colour, bold)
    wide = font.width(text, size, bold)
    return [middle, Label(text, at[0] - wide, at[1], size, colour, bold), Label(text, at[0], at[1], size, colour, bold)]


def around(
    text: str, at: Point, reach: float, size: float, colour: str, *, bold: bool = False, under: bool = False
) -> list[Label]:
    """A label near a mark of that reach: over, beside and under it, ever further off; `under` it first if so wished."""
    (x, y), wide = at, font.width(text, size, bold)
    choices = []
    for far in (reach, 2.2 * reach, 4 * reach, 7 * reach):
        over, level, below = y - far - _BELOW * size, y + 0.36 * size, y + far + _ABOVE * size
        middle, right, left = x - wide / 2, x + far, x - far - wide
        near, other = (below, over) if under else (over, below)
        places = [(middle, near), (right, level), (middle, other), (left, level)]
        places += [(right, near), (left, near), (right, other), (left, other)]
        choices += [Label(text, *place, size, colour, bold) for place in places]
    return choices
