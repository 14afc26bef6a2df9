"""Invented plots whose graphs are awkward: nothing read, one day, a year, three depths, empty ground, gaps. From seeds alone."""

from __future__ import annotations

import math
import random
from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta

from bot.graph.season import Graph, graph
from bot.word.say import Words
from rules import advise
from rules.history import history
from rules.terms import Day, Observation, Plot, Rain, Reading, Watering, Weather

ON = date(2032, 7, 30)
PEACHES = Plot(
    soil="sandy_loam",
    plant="peach",
    latitude=36.0,
    longitude=-96.0,
    method="drip",
    rate_mm_h=5.0,
    rate_source="measured",
    planted_on=date(2020, 3, 1),
    probe="tension",
)
LAWN = Plot(soil="sand", plant="lawn_cool", latitude=36.0, method="sprinkler", rate_mm_h=20.0, rate_source="measured")
TOMATOES = Plot(
    soil="clay_loam", plant="tomato", latitude=36.0, planted_on=date(2032, 5, 1), method="soaker", rate_mm_h=8.0
)


def ago(days: int) -> date:
    return ON - timedelta(days=days)


def weather(past: int, seed: int, unknown: Iterable[int] = (), ahead: int = 10) -> Weather:
    """Days as warm as the season, with showers; of the days `unknown` ago nothing is known."""
    draw, gap = random.Random(seed), set(unknown)
    days = [_day(draw, ago(back)) for back in range(past, 0, -1)]
    coming = [
        Day(on=ago(-k), tmax_c=31, tmin_c=18, rain_mm=draw.expovariate(1 / 8), pop=draw.choice([0, 0.2, 0.6]), et0_mm=6)
        for k in range(ahead)
    ]
    return Weather(past=tuple(day for day in days if (ON - day.on).days not in gap), forecast=tuple(coming))


def _day(draw: random.Random, on: date) -> Day:
    season = math.cos((on.timetuple().tm_yday - 200) / 365 * 2 * math.pi)
    warm, rain_mm = 18 + 14 * season + draw.uniform(-3, 3), draw.expovariate(1 / 9)
    rain_mm = round(rain_mm, 1) if draw.random() < 0.15 else 0.0
    return Day(on=on, tmax_c=warm, tmin_c=warm - 12, rain_mm=rain_mm, et0_mm=max(0.5, 3.5 + 3 * season))


def every(days: int, back: int, minutes: float | None = 300.0) -> list[Observation]:
    return [Watering(on=ago(each), minutes=minutes) for each in range(back, 0, -days)]


def tensions(days: int, back: int, depth_cm: float, seed: int) -> list[Observation]:
    draw = random.Random(seed)
    kpa = (float(draw.randint(12, 80)) for _ in range(back))
    return [
        Reading(on=ago(each), quantity="tension", value=next(kpa), depth_cm=depth_cm) for each in range(back, -1, -days)
    ]


def felt(**by_day: str) -> list[Observation]:
    """`felt(d9="dry")`: what a hand felt so many days ago, at 15 cm."""
    return [Reading(on=ago(int(day[1:])), quantity="feel", value=feel, depth_cm=15.0) for day, feel in by_day.items()]


def made(name: str, plot: Plot, told: list[Observation], seen: Weather | None) -> Graph:
    return graph(name, history(plot, told, seen, ON), advise(plot, told, seen, ON))


def stretched(shown: Graph, days: int) -> Graph:
    """The same graph with its days repeated up to so many, as the rules remember no whole year."""
    past = [replace(shown.days[k % len(shown.days)], on=ago(days - 1 - k)) for k in range(days - 1)]
    return replace(shown, days=(*past, shown.today))


THREE_DEPTHS = [
    *every(8, 30, 400.0),
    *tensions(3, 30, 30.0, 33),
    *tensions(3, 30, 60.0, 63),
    *tensions(6, 28, 90.0, 93),
]
STUCK = [Reading(on=ago(back), quantity="tension", value=28.0, depth_cm=30.0) for back in range(9, 0, -1)]
LONG = [*every(8, 264), *tensions(6, 260, 30.0, 31), *tensions(9, 260, 60.0, 61)]
HANDS = [*felt(d20="moist", d9="dry", d2="slightly_moist"), Rain(on=ago(11), depth_mm=14.0)]

GRAPHS: dict[str, Graph] = {
    "nothing read": made("Back peaches", PEACHES, every(9, 40), weather(60, 1)),
    "one day": made("New bed", Plot(plant="tomato", soil="loam"), felt(d0="moist"), None),
    "three depths": made("Duraznos de abajo", PEACHES, THREE_DEPTHS, weather(40, 5)),
    "empty": made("Lawn", LAWN, every(40, 30, 20.0), weather(40, 9, ahead=0)),
    "gaps": made(
        "Tomatoes", TOMATOES, [*every(10, 27, None), *every(10, 22, 90.0), *HANDS], weather(40, 4, range(3, 9))
    ),
    "stuck": made("Blackberries", PEACHES, STUCK, weather(30, 7)),
    "nothing told": made("", PEACHES, [], None),
    "a season": made("Old orchard by the county road, lower block", PEACHES, LONG, weather(300, 2)),
}
GRAPHS["a year"] = stretched(GRAPHS["a season"], 365)


def voice(language: str = "en", units: str = "us", channel: str = "picture") -> Words:
    return Words(language, units, channel, ON)
