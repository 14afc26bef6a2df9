"""Around the panels: the headline above, and below them the days, with today marked through all."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from itertools import pairwise

from bot.graph import font, words
from bot.graph.frame import Frame
from bot.graph.season import Graph
from bot.graph.sheet import Box, Label, Sheet, beside, centred
from bot.word.say import Words

# Marked days lie as many days apart as give their names room; where a week has none, months.
_DAYS = (1, 2, 7, 14)
_MONTHS = (1, 2, 3)
_APART = 0.7  # in letters
_NAME = (1.35, 1.2, 1.05)


def headline(drawn: Sheet, frame: Frame, shown: Graph, said: Words) -> None:
    """The plot's name and the day, how it stands, and what to do."""
    em, ink, edge = frame.look.letters, frame.look.ink, frame.edge
    day = said.amounts.dated(shown.today.on, "graph.day_pattern")
    at = frame.plot.right - font.width(day, em)
    drawn.write(_name(said.plot(shown.plot), edge, 2.3 * em, at - em - edge, em, ink))
    drawn.write(Label(day, at, 2.3 * em, em, ink))
    state = said.say("graph.state", left_share=shown.today.left, limit_share=shown.today.limit)
    drawn.write(Label(state, edge, 3.65 * em, em, ink))
    drawn.write(Label(words.then(shown, said), edge, 5.0 * em, em, ink, bold=True))


def _name(text: str, x: float, y: float, wide: float, em: float, ink: str) -> Label:
    """The name in letters as large as fit, and cut where the smallest don't."""
    size = next((size * em for size in _NAME if font.width(text, size * em, bold=True) <= wide), _NAME[-1] * em)
    kept = len(text)
    while kept and font.width(text, size, bold=True) > wide:
        kept -= 1
        text = text[:kept].rstrip(" .") + ".."
    return Label(text, x, y, size, ink, bold=True)


def axis(drawn: Sheet, frame: Frame, said: Words) -> None:
    """The line of today through all panels, and dates as close as they have room."""
    look, em = frame.look, frame.look.letters
    x, foot = frame.x(frame.today), frame.rain.bottom
    drawn.line([(x, frame.plot.top), (x, foot)], look.rule, 2)
    drawn.marks += [Box(x - 2, strip.top, x + 2, strip.bottom) for strip in (frame.water, frame.rain)]
    y = foot + 1.35 * em
    today = drawn.place(beside(said.say("date.today"), (x, y), em, look.ink, bold=True), frame.room)
    for at, text in next(ticks for ticks in _ticks(frame, said) if _roomy(ticks, em)):
        name = centred(text, (at, y), em, look.ink)
        clear = today is None or not name.box.meets(today.box, _APART * em)
        if clear and drawn.place([name], frame.room):
            drawn.line([(at, foot), (at, foot + 0.35 * em)], look.ink, 2)


def _ticks(frame: Frame, said: Words) -> Iterator[list[tuple[float, str]]]:
    """Days to mark with their names, ever fewer; none at last."""
    for step in _DAYS:
        yield [(frame.x(on), said.amounts.dated(on, "graph.day_pattern")) for on in frame.every_day if _on(on, step)]
    firsts = [on for on in frame.every_day if on.day == 1]
    for step in _MONTHS:
        marked = [on for on in firsts if (on.month - 1) % step == 0]
        yield [(frame.x(on), said.amounts.dated(on, "graph.month_pattern")) for on in marked]
    yield []


def _on(on: date, step: int) -> bool:
    """Whether the day is one of those so many days apart; weeks begin on Monday."""
    return (on.toordinal() - 1) % step == 0


def _roomy(ticks: list[tuple[float, str]], em: float) -> bool:
    """Whether the names stand clear of each other."""
    spans = [(at - font.width(text, em) / 2, at + font.width(text, em) / 2) for at, text in ticks]
    return all(after[0] - before[1] > _APART * em for before, after in pairwise(spans))
