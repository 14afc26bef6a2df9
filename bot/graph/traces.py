"""The traces of a plot's probes, a panel for each depth, against the two lines of the plot. Lengths are in pixels."""

from __future__ import annotations

from datetime import date, timedelta
from typing import NamedTuple

import pandas as pd

from bot.graph.look import OFFICE, Look
from bot.graph.sheet import Box, Label, Sheet, beside
from bot.logger.traced import Traced
from bot.word.say import Words

# Heights in letters: the edge, the heading of a panel, the dates at the foot. A panel shows shares from empty to a surplus.
_EDGE, _HEADING, _DATES, _SCALE = 1.0, 1.8, 2.2, 3.4
_TOP_SHARE = 1.15
_MOST_POINTS = 1500
_DAY = pd.Timedelta(days=1)
_TIMINGS = {"too soon": "trace.soon", "in time": "trace.in_time", "too late": "trace.late"}


class _Panel(NamedTuple):
    """One depth's box, and the days that it spans."""

    box: Box
    first: date
    days: int

    def x(self, at: pd.Timestamp) -> float:
        return self._x((at - pd.Timestamp(self.first)) / _DAY)

    def day_x(self, on: date) -> float:
        return self._x((on - self.first).days)

    def y(self, share: float) -> float:
        held = min(max(share, 0.0), _TOP_SHARE)
        return self.box.bottom - held / _TOP_SHARE * (self.box.bottom - self.box.top)

    def points(self, at: pd.Series[pd.Timestamp], shares: pd.Series[float]) -> list[tuple[float, float]]:
        days = ((at - pd.Timestamp(self.first)) / _DAY).tolist()
        return [(self._x(day), self.y(share)) for day, share in zip(days, shares.tolist(), strict=True)]

    def _x(self, days: float) -> float:
        return self.box.left + days / self.days * (self.box.right - self.box.left)


def svg(shown: Traced, said: Words, title: str, told: str, look: Look = OFFICE) -> str:
    """The traces as SVG text, with a title and a description for who can't see them."""
    depths = shown.depths_cm
    em = look.letters
    height = (look.height * 0.42) * len(depths) + _DATES * em
    sheet = Sheet(look.width, height, look.paper)
    panels = [_panel(shown, look, number, len(depths), height) for number in range(len(depths))]
    for depth_cm, panel in zip(depths, panels, strict=True):
        _draw_lines(sheet, panel, shown, look, said)
        _draw_trace(sheet, panel, shown, depth_cm, look)
        _draw_faults(sheet, panel, shown, depth_cm, look, said)
        _draw_wettings(sheet, panel, shown, depth_cm, look, said, judged=depth_cm == depths[0])
        heading = said.say("trace.depth", depth_cm=depth_cm)
        sheet.write(Label(heading, panel.box.left, panel.box.top - 0.5 * em, em, look.ink, True))
    _dates(sheet, panels[-1], look, said)
    return sheet.svg(title, told)


def _panel(shown: Traced, look: Look, number: int, count: int, height: float) -> _Panel:
    em = look.letters
    each = (height - _DATES * em) / count
    top = number * each + (_EDGE + _HEADING) * em
    box = Box((_EDGE + _SCALE) * em, top, look.width - _EDGE * em, (number + 1) * each - 0.4 * em)
    return _Panel(box, shown.first, (shown.last - shown.first).days + 1)


def _draw_lines(sheet: Sheet, panel: _Panel, shown: Traced, look: Look, said: Words) -> None:
    days = sorted(shown.lines)
    for index, name in enumerate(("trace.limit", "trace.upper")):
        points = []
        for day in days:
            y = panel.y(shown.lines[day][index])
            points += [(panel.day_x(day), y), (panel.day_x(day + timedelta(days=1)), y)]
        sheet.line(
            points, look.ink if index == 0 else look.rule, 2.0 if index == 0 else 1.5, "" if index == 0 else "7 5"
        )
        label = said.say(name)
        y = points[-1][1] + (0.95 if index == 0 else -0.3) * look.letters * 0.9
        sheet.place(beside(label, (panel.box.right - 3 * look.letters, y), look.letters * 0.85, look.ink), panel.box)
    sheet.line([(panel.box.left, panel.box.bottom), (panel.box.right, panel.box.bottom)], look.rule, 1)
    for share in (0.0, 0.5, 1.0):
        size = look.letters * 0.85
        text = said.amounts.share(share)
        sheet.write(Label(text, panel.box.left - 3.1 * look.letters, panel.y(share) + 0.35 * size, size, look.ink))


def _draw_trace(sheet: Sheet, panel: _Panel, shown: Traced, depth_cm: float, look: Look) -> None:
    """The readings of one depth as lines, broken where they were missing for a day."""
    mine = shown.frame[shown.frame["depth_cm"] == depth_cm].sort_values("at")
    mine = mine.iloc[:: -(-len(mine) // _MOST_POINTS)]
    breaks = (mine["at"].diff() > _DAY).cumsum()
    for _, part in mine.groupby(breaks):
        sheet.line(panel.points(part["at"], part["left"]), look.accent, 2.5)


def _draw_wettings(
    sheet: Sheet, panel: _Panel, shown: Traced, depth_cm: float, look: Look, said: Words, *, judged: bool
) -> None:
    """A mark where water came in, and at the top depth whether it was too soon, in time or too late."""
    reach = 0.35 * look.letters
    for wetting in shown.told.wettings:
        if depth_cm not in wetting.depths_cm:
            continue
        x = panel.x(wetting.at)
        tip = (x, panel.box.top + 2.4 * reach)
        sheet.shape([(x - reach, panel.box.top), (x + reach, panel.box.top), tip], look.ink)
        if judged and wetting.timing is not None:
            text = said.say(_TIMINGS[wetting.timing])
            sheet.place(
                beside(text, (x, panel.box.top - 0.35 * look.letters), look.letters * 0.8, look.ink),
                _above(panel, look),
            )


def _above(panel: _Panel, look: Look) -> Box:
    return Box(panel.box.left + 6 * look.letters, panel.box.top - 2 * look.letters, panel.box.right, panel.box.top + 1)


def _draw_faults(sheet: Sheet, panel: _Panel, shown: Traced, depth_cm: float, look: Look, said: Words) -> None:
    for fault in shown.told.faults:
        if fault.depth_cm != depth_cm:
            continue
        left, right = panel.x(fault.first), max(panel.x(fault.last), panel.x(fault.first) + 4)
        top, bottom = panel.box.top + look.letters, panel.box.bottom
        corners = [(left, top), (right, top), (right, bottom), (left, bottom)]
        sheet.shape(corners, "none", look.ink, 1.5, "3 4")
        text = said.say(f"trace.{fault.why}")
        sheet.place(
            beside(text, ((left + right) / 2, bottom - 0.4 * look.letters), look.letters * 0.8, look.ink), panel.box
        )


def _dates(sheet: Sheet, panel: _Panel, look: Look, said: Words) -> None:
    size = look.letters * 0.85
    room = Box(0, panel.box.bottom, look.width, panel.box.bottom + _DATES * look.letters)
    every = max(panel.days // 6, 1)
    for count in range(0, panel.days, every):
        on = panel.first + timedelta(days=count)
        at = (panel.day_x(on), panel.box.bottom + 1.4 * look.letters)
        if sheet.place(beside(said.amounts.day(on), at, size, look.ink), room):
            sheet.line([(at[0], panel.box.bottom), (at[0], panel.box.bottom + 0.3 * size)], look.rule, 1)
