"""The panel of the water left: the estimate up to today and the way on, the two lines, and the readings by their depth."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import timedelta
from itertools import pairwise

from bot.graph import words
from bot.graph.frame import Frame
from bot.graph.season import Graph
from bot.graph.sheet import Box, Label, Point, Sheet, around, centred
from bot.word.say import Words
from rules.terms import Heard, PastDay

# Half the size of a reading's mark, in letters and in days, whichever is less; and the least of it, in letters.
_MARK, _MARK_DAYS, _LEAST_MARK = 0.36, 0.7, 0.2
_THIN, _THICK = 2.5, 4.5  # pixels: the course is as thick as a day is wide, within these
_NEAR = 2.0  # letters: a reading that stands so near below another has its label below
_FAR = 2.5  # of its reach: a label further from its mark is led to it
_MARK_COUNTS = 12  # labels keep off a reading as off so many points of a line
_FINE = 6.0  # pixels between the points that keep labels off a line


def left(drawn: Sheet, frame: Frame, shown: Graph, said: Words) -> None:
    """Draw the panel, and name all that is in it."""
    look = frame.look
    _scale(drawn, frame, said)
    _outlook(drawn, frame, shown)
    upper = _stepped(frame, shown, lambda day: day.upper)
    limit = _stepped(frame, shown, lambda day: day.limit)
    drawn.line(upper, look.ink, 2.5, "2 6")
    drawn.line(limit, look.ink, 3, "14 7")
    course = _course(frame, shown)
    drawn.line(course, look.ink, min(max(frame.day_width, _THIN), _THICK))
    drawn.avoid(_dense(course), 4)
    for heard in shown.readings:
        _mark(drawn, frame, shown, heard)
    now = (frame.x(shown.today.on), frame.y(shown.today.left))
    drawn.disc(now, 0.24 * look.letters, look.accent, look.paper, 2)
    share = said.value("share", shown.today.left)
    drawn.place(around(share, now, 0.5 * look.letters, 1.15 * look.letters, look.accent, bold=True), frame.room)
    _name_lines(drawn, frame, shown, said, limit, upper)
    _name_readings(drawn, frame, shown, said)


def _scale(drawn: Sheet, frame: Frame, said: Words) -> None:
    """From full to empty."""
    look, em, plot = frame.look, frame.look.letters, frame.plot
    drawn.write(Label(said.say("graph.axis"), frame.edge, plot.top - 0.75 * em, em, look.ink, bold=True))
    marks = {1.0: said.say("graph.full"), 0.5: said.value("share", 0.5), 0.0: said.say("graph.empty")}
    for share, text in marks.items():
        y = frame.y(share)
        drawn.line([(plot.left, y), (plot.right, y)], look.rule, 1.5)
        wide = Label(text, 0, 0, em, look.ink).box.right
        drawn.write(Label(text, plot.left - 0.4 * em - wide, y + 0.36 * em, em, look.ink))


def _stepped(frame: Frame, shown: Graph, share: Callable[[PastDay], float]) -> list[Point]:
    """A line that holds through each day, and through the outlook as it stands today."""
    points: list[Point] = []
    for day in shown.days:
        y = frame.y(share(day))
        if not points or points[-1][1] != y:
            x = frame.x(day.on)
            points += [(x, points[-1][1])] if points else []
            points.append((x, y))
    return [*points, (frame.plot.right, points[-1][1])]


def _course(frame: Frame, shown: Graph) -> list[Point]:
    """Water left through the days: on a day with a reading or a watering the line stands upright."""
    points: list[Point] = []
    for day in shown.days:
        points.append((frame.x(day.on), frame.y(day.dawn)))
        if day.left != day.dawn:
            points.append((frame.x(day.on), frame.y(day.left)))
    return points


def _outlook(drawn: Sheet, frame: Frame, shown: Graph) -> None:
    """The way on without watering: its middle, and where eight of ten chances lie."""
    look, today = frame.look, shown.today
    ends = [(frame.x(day.on + timedelta(days=1)), day) for day in shown.ahead]
    now = frame.x(today.on)
    low = [(now, frame.y(today.low)), *((x, frame.y(day.low)) for x, day in ends)]
    high = [(now, frame.y(today.high)), *((x, frame.y(day.high)) for x, day in ends)]
    middle = [(now, frame.y(today.left)), *((x, frame.y(day.left)) for x, day in ends)]
    drawn.shape([*low, *reversed(high)], look.wash)
    for bound in (low, high):
        drawn.line(bound, look.accent, 2)
    drawn.line(middle, look.accent, 4, "9 6")
    drawn.avoid(_dense(middle), 4)


def _dense(points: Sequence[Point]) -> Iterator[Point]:
    """Points along a line, close together."""
    for (x, y), (to_x, to_y) in pairwise(points):
        count = int(max(abs(to_x - x), abs(to_y - y)) / _FINE) + 1
        for part in range(count):
            yield x + (to_x - x) * part / count, y + (to_y - y) * part / count


# The readings


def _reach(frame: Frame) -> float:
    em = frame.look.letters
    return max(min(_MARK * em, _MARK_DAYS * frame.day_width), _LEAST_MARK * em)


def _at(frame: Frame, heard: Heard) -> Point:
    return frame.x(heard.reading.on), frame.y(heard.left)


def _mark(drawn: Sheet, frame: Frame, shown: Graph, heard: Heard) -> None:
    """A reading: each depth has a shape, and one that does not count is a cross."""
    look, (x, y), r = frame.look, _at(frame, heard), _reach(frame)
    drawn.avoid([(x, y)] * _MARK_COUNTS, 1.2 * r)
    if not heard.counted:
        for turn in (1, -1):
            drawn.line([(x - r, y - turn * r), (x + r, y + turn * r)], look.ink, 3)
        return
    corners = _SHAPES[_shape(shown, heard)]
    if corners:
        drawn.shape([(x + r * right, y + r * down) for right, down in corners], look.paper, look.ink, 3)
    else:
        drawn.disc((x, y), r, look.paper, look.ink, 3)


# A circle, a square, a diamond, a triangle, one on its point: shallow first, of about the same area; and as signs in a label.
_SIGNS, _CROSS = "\u25cb\u25a1\u25c7\u25b3\u25bd", "\u00d7"
_SHAPES: tuple[tuple[Point, ...], ...] = (
    (),
    ((-0.9, -0.9), (0.9, -0.9), (0.9, 0.9), (-0.9, 0.9)),
    ((0, -1.3), (1.3, 0), (0, 1.3), (-1.3, 0)),
    ((0, -1.25), (1.2, 0.95), (-1.2, 0.95)),
    ((0, 1.25), (1.2, -0.95), (-1.2, -0.95)),
)


def _shape(shown: Graph, heard: Heard) -> int:
    return shown.depths_cm.index(heard.depth_cm) % len(_SHAPES)


def _name_readings(drawn: Sheet, frame: Frame, shown: Graph, said: Words) -> None:
    """The last reading of each depth as it was told, and that one does not count."""
    look, em = frame.look, frame.look.letters
    last = {heard.depth_cm: heard for heard in shown.readings if heard.counted}
    named = [(heard, f"{_SIGNS[_shape(shown, heard)]} {words.read(heard, said)}") for heard in last.values()]
    named += [(heard, f"{_CROSS} {said.say('graph.odd')}") for heard in shown.left_out[-1:]]
    placed = sorted(((_at(frame, heard), text) for heard, text in named), key=lambda each: each[0][1])
    for number, (at, text) in enumerate(placed):
        under = any(at[1] - y < _NEAR * em and abs(at[0] - x) < _NEAR * em for (x, y), _ in placed[:number])
        choices = around(text, at, 1.5 * _reach(frame), 0.92 * em, look.ink, under=under)
        set_ = drawn.place(choices, frame.plot_room)
        if set_ is not None:
            _lead(drawn, frame, at, set_.box)


def _lead(drawn: Sheet, frame: Frame, at: Point, box: Box) -> None:
    """A thin line from a mark to a label that stands far from it."""
    near = min(max(at[0], box.left), box.right), min(max(at[1], box.top), box.bottom)
    if max(abs(near[0] - at[0]), abs(near[1] - at[1])) > _FAR * _reach(frame):
        drawn.behind([at, near], frame.look.ink, 1.5)


# The lines


def _name_lines(drawn: Sheet, frame: Frame, shown: Graph, said: Words, limit: list[Point], upper: list[Point]) -> None:
    look, em = frame.look, frame.look.letters
    limit_text = said.say("graph.limit", limit_share=shown.today.limit)
    drawn.place(_along(limit_text, limit, em, look.ink, bold=True), frame.plot_room)
    end = shown.ahead[-1]
    middle = (frame.x(end.on), frame.y(end.left))
    drawn.place(around(said.say("graph.outlook"), middle, 0.6 * em, 0.92 * em, look.accent), frame.plot_room)
    upper_text = said.say("graph.upper", upper_share=shown.today.upper)
    drawn.place(_along(upper_text, upper, 0.92 * em, look.ink), frame.plot_room)


def _along(text: str, line: list[Point], size: float, colour: str, bold: bool = False) -> Iterator[Label]:
    """A label over or under a line, from its right end to its left."""
    for x, y in reversed(list(_dense(line))[::3]):
        for at in (y - 0.4 * size, y + 0.95 * size):
            yield centred(text, (x, at), size, colour, bold)
