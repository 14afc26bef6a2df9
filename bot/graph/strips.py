"""The strips below: what was watered, in full bars, and what fell or may fall, in hollow ones, to one scale."""

from __future__ import annotations

from dataclasses import dataclass

from bot.graph.frame import Frame
from bot.graph.season import Graph
from bot.graph.sheet import Box, Label, Sheet, beside
from bot.word.say import Words

# Widths in days, and the least and the most of them in letters.
_WIDE_DAYS, _LEAST, _MOST = 0.7, 0.16, 0.7
_FIGURE = 0.85  # of the letters
_FIGURES = 4  # the tallest bars have their figures, on each side of today
_LEAST_BAR = 3.0  # pixels
_UNKNOWN_BAR = 0.45  # of the tallest: a watering of which no amount is known


@dataclass(frozen=True)
class Bar:
    """One bar.

    Args:
        x: where its middle stands.
        mm: its depth; None: not known.
        texts: what may be written over it, best first.
        full: water put on, not rain; `sure`: it did come, and so much.
    """

    x: float
    mm: float | None
    texts: tuple[str, ...]
    full: bool
    sure: bool = True


def strips(drawn: Sheet, frame: Frame, shown: Graph, said: Words) -> None:
    """Draw both strips under their headings."""
    water, rain = _water_bars(frame, shown, said), _rain_bars(frame, shown, said)
    tallest = max((bar.mm or 0.0 for bar in (*water, *rain)), default=0.0) or 1.0
    for strip, bars, heading in (
        (frame.water, water, _watered(shown, said)),
        (frame.rain, rain, _rain(shown, said)),
    ):
        _strip(drawn, frame, strip, heading)
        for bar in bars:
            _bar(drawn, frame, strip, bar, tallest)
        for sure in (True, False):
            alike = [bar for bar in bars if bar.sure is sure]
            for bar in sorted(alike, key=lambda bar: bar.mm or tallest, reverse=True)[:_FIGURES]:
                _figure(drawn, frame, strip, bar, tallest)


def _water_bars(frame: Frame, shown: Graph, said: Words) -> list[Bar]:
    bars = []
    for day in shown.days:
        x = frame.x(day.on)
        for mm in day.waterings:
            texts = ("?",) if mm is None else (said.value("water_mm", mm),)
            bars.append(Bar(x, mm, texts, full=True, sure=mm is not None))
        if day.advised_mm is not None:
            bars.append(Bar(x, day.advised_mm, (said.say("graph.advised"),), full=True, sure=False))
    return bars


def _rain_bars(frame: Frame, shown: Graph, said: Words) -> list[Bar]:
    fell = [
        Bar(frame.x(day.on, 0.5), day.rain_mm, (said.value("rain_mm", day.rain_mm),), full=False)
        for day in shown.days
        if day.rain_mm
    ]
    may_fall = [
        Bar(frame.x(day.on, 0.5), day.rain_mm, _chances(day.chance or 0.0, said), full=False, sure=False)
        for day in shown.rain_ahead
    ]
    return fell + may_fall


def _chances(chance: float, said: Words) -> tuple[str, ...]:
    return said.say("graph.chance", chance_share=chance), said.value("share", chance)


def _watered(shown: Graph, said: Words) -> str:
    if not shown.waterings:
        return said.say("graph.watered_none")
    return said.say("graph.watered", water_mm=shown.water_mm) if shown.water_mm else said.say("graph.watered_some")


def _rain(shown: Graph, said: Words) -> str:
    if all(day.rain_mm is None for day in shown.days):
        return said.say("graph.rain_unknown")
    return said.say("graph.rain_gaps" if shown.unknown_days else "graph.rain", rain_mm=shown.rain_mm)


def _strip(drawn: Sheet, frame: Frame, strip: Box, heading: str) -> None:
    em, ink = frame.look.letters, frame.look.ink
    drawn.line([(strip.left, strip.bottom), (strip.right, strip.bottom)], ink, 2)
    drawn.write(Label(heading, frame.edge, strip.top - 0.35 * em, em, ink, bold=True))


def _height(frame: Frame, strip: Box, bar: Bar, tallest: float) -> float:
    """Bars leave the top of the strip to their figures."""
    room = strip.bottom - strip.top - 1.05 * _FIGURE * frame.look.letters
    return max(room * (_UNKNOWN_BAR if bar.mm is None else bar.mm / tallest), _LEAST_BAR)


def _bar(drawn: Sheet, frame: Frame, strip: Box, bar: Bar, tallest: float) -> None:
    """Full for water, hollow for rain, dashed for what is not sure."""
    look, em = frame.look, frame.look.letters
    half = min(max(_WIDE_DAYS * frame.day_width, _LEAST * em), _MOST * em) / 2
    top = strip.bottom - _height(frame, strip, bar, tallest)
    corners = [(bar.x - half, strip.bottom), (bar.x - half, top), (bar.x + half, top), (bar.x + half, strip.bottom)]
    fill = look.accent if bar.full and bar.sure else look.paper
    drawn.shape(corners, fill, _colour(frame, bar), 2, "" if bar.sure else "5 4")
    drawn.marks.append(Box(bar.x - half, top, bar.x + half, strip.bottom))


def _figure(drawn: Sheet, frame: Frame, strip: Box, bar: Bar, tallest: float) -> None:
    size = _FIGURE * frame.look.letters
    at = (bar.x, strip.bottom - _height(frame, strip, bar, tallest) - 0.25 * size)
    choices = [label for text in bar.texts for label in beside(text, at, size, _colour(frame, bar))]
    drawn.place(choices, Box(strip.left, 0, frame.room.right, strip.bottom), clear=True)


def _colour(frame: Frame, bar: Bar) -> str:
    return frame.look.ink if bar.sure and not bar.full else frame.look.accent
