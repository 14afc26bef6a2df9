"""The picture: water left over the season with its two lines and the way on, and under it what was watered and what fell.

Drawn once, as SVG; a PNG is that drawing in dots. It needs no legend: every line and mark is named where it stands.
"""

from __future__ import annotations

from bot.graph import font, words
from bot.graph.dates import axis, headline
from bot.graph.frame import framed
from bot.graph.left import left
from bot.graph.look import PHONE, Look
from bot.graph.season import Graph
from bot.graph.sheet import Sheet
from bot.graph.strips import strips
from bot.message import Picture
from bot.word.say import Words


def sheet(shown: Graph, said: Words, look: Look = PHONE) -> Sheet:
    """The drawing, with every label where it stands."""
    drawn, frame = Sheet(look.width, look.height, look.paper), framed(shown, look)
    headline(drawn, frame, shown, said)
    axis(drawn, frame, said)
    left(drawn, frame, shown, said)
    strips(drawn, frame, shown, said)
    return drawn


def svg(shown: Graph, said: Words, look: Look = PHONE) -> str:
    """The picture as SVG text."""
    return sheet(shown, said, look).svg(words.alt(shown, said), words.story(shown, said))


def picture(shown: Graph, said: Words, look: Look = PHONE) -> Picture:
    """The picture as it goes with a reply."""
    return Picture(alt=words.alt(shown, said), draw=lambda: png(shown, said, look))


def png(shown: Graph, said: Words, look: Look = PHONE) -> bytes:
    """The picture as a PNG file of the look's size."""
    import resvg_py  # only who asks for a picture waits for it

    return resvg_py.svg_to_bytes(
        svg_string=svg(shown, said, look),
        skip_system_fonts=True,
        font_files=font.paths(),
        font_family="DejaVu Sans",
        sans_serif_family="DejaVu Sans",
    )
