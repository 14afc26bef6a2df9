"""Invented plots and plain weather for tests of the verdict: the same day over and over, with nothing left to chance."""

from __future__ import annotations

from datetime import date, timedelta

from rules import advise
from rules.terms import Advice, Day, Plot, Reading, Watering, Weather

MONDAY = date(2031, 7, 14)


def ago(days: int, on: date = MONDAY) -> date:
    return on - timedelta(days=days)


def tomato(**told: object) -> Plot:
    """Staked tomatoes under a sprinkler, full grown by mid July."""
    usual = {
        "soil": "loam", "plant": "tomato", "planted_on": date(2031, 4, 20), "latitude": 36.0,
        "method": "sprinkler", "rate_mm_h": 12.0, "rate_source": "measured",
    }  # fmt: skip
    return Plot(**{**usual, **told})  # type: ignore[arg-type]


def peach(**told: object) -> Plot:
    usual = {"soil": "sandy_loam", "plant": "peach", "planted_on": date(2015, 3, 1), "method": "drip", "rate_mm_h": 5.0}
    return tomato(**{**usual, **told})


def spell(
    on: date = MONDAY,
    *,
    past: int = 30,
    et0_mm: float = 6.0,
    tmax_c: float = 31.0,
    rain: dict[int, tuple[float, float]] | None = None,
) -> Weather:
    """Dry days past and to come, all alike; `rain` gives amount and chance by days ahead."""
    coming = rain or {}
    alike = {"tmax_c": tmax_c, "tmin_c": tmax_c - 14, "et0_mm": et0_mm}
    return Weather(
        past=tuple(Day(on=ago(back, on), rain_mm=0.0, **alike) for back in range(past, 0, -1)),
        forecast=tuple(
            Day(on=ago(-ahead, on), rain_mm=coming.get(ahead, (0, 0))[0], pop=coming.get(ahead, (0, 0))[1], **alike)
            for ahead in range(10)
        ),
    )


def filled(days: int, on: date = MONDAY) -> Watering:
    """A watering that fills any root zone here."""
    return Watering(on=ago(days, on), depth_mm=200.0)


def felt(feel: str, on: date = MONDAY, depth_cm: float = 20.0) -> Reading:
    return Reading(on=on, quantity="feel", value=feel, depth_cm=depth_cm)


def probe(kpa: float, days: int = 0, depth_cm: float = 30.0) -> Reading:
    return Reading(on=ago(days), quantity="tension", value=kpa, depth_cm=depth_cm)


def rule(advice: Advice) -> str:
    """The rule that decided."""
    return advice.reasons[-1].rule


def ask(plot: Plot, *events: object, weather: Weather | None = None, on: date = MONDAY) -> Advice:
    return advise(plot, events, spell(on) if weather is None else weather, on)  # type: ignore[arg-type]
