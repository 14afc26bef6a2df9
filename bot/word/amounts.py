"""Numbers and days as a person says them, in that person's units and language. SI in, text out.

A value's name says its unit and so how it is written: `water_mm` in inches or mm, `probe_cm` in inches or cm, `minutes`
as hours and minutes, `when` as a day. Decimals have a point in both languages, as in Mexico and the United States.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache, lru_cache
from typing import Any

from babel.dates import format_date

from bot.word import catalogue
from rules.units import CM_PER_FOOT, CM_PER_INCH, LITRES_PER_GALLON, M2_PER_SQUARE_FOOT, MM_PER_INCH, fahrenheit

_LONG_AGO_DAYS = 300


@dataclass(frozen=True)
class Amounts:
    """How one person is told numbers: `language`, `units` (`us` or `metric`) and the day it is there."""

    language: str
    units: str
    today: date

    def say(self, name: str, value: Any) -> str:
        """The value in words; the end of its name chooses how. A string is said as it is."""
        if isinstance(value, str):
            return value
        return (_how(name) or Amounts._plain)(self, value)

    @property
    def us(self) -> bool:
        return self.units == "us"

    @property
    def _inch(self) -> str:
        return catalogue.text("unit.inch", self.language)

    def advised_depth(self, mm: float) -> str:
        """A depth that nobody measures closer than this: inches to 0.05, from 1 in on to 0.1; whole mm."""
        if not self.us:
            return f"{max(round(mm), 1)} mm"
        inches = mm / MM_PER_INCH
        step = 0.05 if inches < 1 else 0.1
        return f"{number(max(round(inches / step), 1) * step, 2)} {self._inch}"

    def depth(self, mm: float) -> str:
        """A depth as told or reckoned: to 0.01 in or 0.1 mm."""
        return f"{number(mm / MM_PER_INCH, 2)} {self._inch}" if self.us else f"{number(mm, 1)} mm"

    def length(self, cm: float) -> str:
        """Down into the soil: whole inches or cm; to the half under 6 in or 10 cm."""
        amount, unit, coarse = (cm / CM_PER_INCH, self._inch, 6) if self.us else (cm, "cm", 10)
        return f"{number(round(amount) if amount >= coarse else round(2 * amount) / 2, 1)} {unit}"

    def distance(self, m: float) -> str:
        """Whole feet or metres."""
        return f"{m * 100 / CM_PER_FOOT:.0f} {catalogue.text('unit.foot', self.language)}" if self.us else f"{m:.0f} m"

    def rate(self, mm_h: float) -> str:
        """To two figures at least, as run times are worked out with it."""
        rate, unit, fine = (mm_h / MM_PER_INCH, self._inch, 0.2) if self.us else (mm_h, "mm", 2)
        return f"{number(rate, (3 if rate < fine else 2) if self.us else (2 if rate < fine else 1))} {unit}/h"

    def volume(self, litres: float) -> str:
        """Gallons or litres: to 0.1 under ten, then whole."""
        amount = litres / LITRES_PER_GALLON if self.us else litres
        return f"{number(amount, 1 if amount < 9.95 else 0)} {'gal' if self.us else 'L'}"

    def flow(self, l_h: float) -> str:
        return f"{number(l_h / LITRES_PER_GALLON, 2)} gal/h" if self.us else f"{number(l_h, 1)} L/h"

    def area(self, m2: float) -> str:
        if not self.us:
            return f"{number(m2, 1)} m2"
        return f"{number(m2 / M2_PER_SQUARE_FOOT, 0)} {catalogue.text('unit.square_feet', self.language)}"

    def duration(self, minutes: float) -> str:
        """`45 min`, `2 h`, `1 h 50 min`; never less than a minute."""
        hours, rest = divmod(max(round(minutes), 1), 60)
        return " ".join([f"{hours} h"] * bool(hours) + [f"{rest} min"] * bool(rest))

    def temperature(self, c: float) -> str:
        return f"{fahrenheit(c):.0f}°F" if self.us else f"{c:.0f}°C"

    def share(self, part: float) -> str:
        return f"{100 * part:.0f}%"

    def day(self, on: date) -> str:
        """`Fri Jul 3`, `vie 3 jul`; of long ago the month, `Jul 2012`."""
        return self.dated(on, "date.month" if (self.today - on).days > _LONG_AGO_DAYS else "date.pattern")

    def dated(self, on: date, pattern: str) -> str:
        """A day by the pattern under that key: `Jul 3`, `jul`."""
        return _dated(on, catalogue.text(pattern, self.language), self.language)

    def when(self, on: date) -> str:
        """A day inside a sentence: `today`, `tomorrow`, `Fri Jul 3`; `el vie 3 jul`."""
        near = {0: "date.today", 1: "date.tomorrow", -1: "date.yesterday"}.get((on - self.today) // timedelta(days=1))
        return (
            catalogue.text(near, self.language) if near else catalogue.text("date.on", self.language, day=self.day(on))
        )

    def listed(self, things: tuple[str, ...] | list[str]) -> str:
        """`a, b and c`."""
        if len(things) < 2:
            return "".join(things)
        return catalogue.text("list.and", self.language, first=", ".join(things[:-1]), last=things[-1])

    def _plain(self, value: Any) -> str:
        if isinstance(value, date):
            return self.when(value)
        if isinstance(value, bool):
            return catalogue.text("yes" if value else "no", self.language)
        if isinstance(value, (tuple, list)):
            return self.listed([self._plain(each) for each in value])
        return number(value, 2) if isinstance(value, float) else str(value)


@lru_cache(maxsize=512)
def _dated(on: date, pattern: str, language: str) -> str:
    return format_date(on, pattern, locale=language)


def number(value: float, places: int) -> str:
    """A figure without idle zeros; thousands parted by a comma from ten thousand on."""
    text = f"{value:,.{places}f}" if abs(value) >= 9999.5 else f"{value:.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


_HOW: dict[str, Callable[[Amounts, Any], str]] = {
    "advised_mm": Amounts.advised_depth,
    "mm_h": Amounts.rate,
    "mm": Amounts.depth,
    "cm": Amounts.length,
    "m": Amounts.distance,
    "l_h": Amounts.flow,
    "m2": Amounts.area,
    "minutes": Amounts.duration,
    "litres": Amounts.volume,
    "litres_each": Amounts.volume,
    "litres_a_day": Amounts.volume,
    "c": Amounts.temperature,
    "share": Amounts.share,
    "on": Amounts.day,
    "when": Amounts.when,
}


@cache
def _how(name: str) -> Callable[[Amounts, Any], str] | None:
    """How a value of this name is said; None: as what it is."""
    return next((how for ending, how in _HOW.items() if f"_{name}".endswith(f"_{ending}")), None)
