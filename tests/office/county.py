"""An invented county: people who text a real line over some weeks, drawn from a seed. No name, place or number is real.

Addresses begin with 555-0100 to 555-0199 and are longer than any telephone number.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from heapq import heapify, heappop, heappush
from pathlib import Path

from bot.line import Line, Message, Office, open_line
from bot.links import Links

TODAY = datetime(2031, 7, 15, 9, 30)  # a year ahead, so that nobody takes it for real
PLACES = ("Dry Fork", "Sandhollow", "Millrace", "Two Barns", "Cold Spring Flat", "Lower Bench")
OFFICE = Office(
    name="Sage County water desk",
    phone="555-0142",
    places=tuple(
        {"name": name, "latitude": 44.0 + 0.07 * number, "longitude": -103.0 - 0.05 * number}
        for number, name in enumerate(PLACES)
    ),
)
WEATHER = {
    "past": [
        {"date": (TODAY - timedelta(days=back)).date().isoformat(), "tmax_c": 31.0, "rain_mm": 0.0, "et0_mm": 5.5}
        for back in range(60, 0, -1)
    ],
    "forecast": [
        {
            "date": (TODAY + timedelta(days=ahead)).date().isoformat(),
            "tmax_c": 30.0 + ahead % 3,
            "rain_mm": 6.0 if ahead == 3 else 0.0,
            "pop": 0.4 if ahead == 3 else 0.05,
            "et0_mm": 5.5,
        }
        for ahead in range(7)
    ],
}

# What somebody begins with, tells later, and answers to the line's own questions; with blanks drawn.
_BEGINNINGS = {
    "en": ("{plant} {cb} cb at 12 in", "my {plant} look sad", "watered the {plant} {minutes} min yesterday", "{plant}"),
    "es": ("{planta} {cb} centibares a 12 pulgadas", "regue {planta} ayer {minutes} minutos", "{planta}"),
}
_LATER = {
    "en": (
        "{cb} cb at 12 in",
        "watered {minutes} min",
        "why",
        "{cb} cb at 8 in",
        "ran {minutes} minutes yesterday",
        "list",
    ),
    "es": ("{cb} cb a 12 pulgadas", "regue {minutes} min", "porque", "lista"),
}
_ANSWERS = {
    "en": {"plant": "{plant}", "place": "{place}", "soil": "{soil}", "method": "{method}", "feel": "{feel}"},
    "es": {"plant": "{planta}", "place": "{place}", "soil": "{suelo}", "method": "{metodo}", "feel": "{tacto}"},
}
_CALLS = {
    "en": (
        "the well went dry, I need a person",
        "40 trees, we sell at market, can I talk to a person",
        "I want to talk to a person about the bill",
        "got a shock from the pump box",
    ),
    "es": ("necesito una persona por favor", "quiero hablar con una persona, las matas se ven mal"),
}
_WORDS = {
    "plant": ("tomatoes", "peaches", "lawn", "roses", "apples", "wine grapes", "peppers", "blueberries", "corn"),
    "planta": ("tomates", "duraznos", "chiles", "manzanas", "rosas"),
    "place": PLACES,
    "soil": ("sand", "sandy loam", "loam", "clay loam", "clay"),
    "suelo": ("arena", "franco", "franco arenoso", "arcilla"),
    "method": ("drip", "sprinkler", "hose", "soaker hose"),
    "metodo": ("goteo", "aspersor", "manguera"),
    "feel": ("dry", "moist", "wet"),
    "tacto": ("seca", "humeda"),
    "cb": tuple(map(str, range(5, 95, 3))),
    "minutes": ("10", "20", "30", "45", "90"),
}


@dataclass
class Clock:
    """A clock that the county moves."""

    now: datetime = TODAY

    def __call__(self) -> datetime:
        return self.now


def open_county(
    people: int, seed: int = 1, database: Path | None = None, days: int = 20, links: Links | None = None
) -> tuple[Line, Clock]:
    """A line on which so many people have texted in the days before TODAY."""
    clock = Clock()
    line = open_line(database, WEATHER, clock, office=OFFICE, links=links)
    drawn = random.Random(seed)
    waiting = [(at, number, text) for number in range(people) for at, text in _talk(drawn, days, _spanish(number))]
    heapify(waiting)
    while waiting:
        clock.now, number, text = heappop(waiting)
        replies = line.receive(Message(channel="sms", sender=address(number), text=text))
        answer = _ANSWERS[_spanish(number)].get(next((each.asks for each in replies if each.asks), ""))
        soon = clock.now + timedelta(minutes=drawn.choice((1, 2, 5)))
        if answer and soon < TODAY and drawn.random() < 0.9:
            heappush(waiting, (soon, number, _said(answer, drawn)))
    clock.now = TODAY
    return line, clock


def address(number: int) -> str:
    return f"+1555{100 + number % 100:04d}{10000 + number}"


def _spanish(number: int) -> str:
    return "es" if number % 5 == 4 else "en"


def _talk(drawn: random.Random, days: int, language: str) -> Iterator[tuple[datetime, str]]:
    """When one person writes by themselves, and what."""
    at = TODAY - timedelta(minutes=drawn.randrange(1, days * 24 * 60))
    texts = [drawn.choice(_BEGINNINGS[language]), *drawn.sample(_LATER[language], drawn.randrange(3))]
    if drawn.random() < 0.02:
        texts.append(drawn.choice(_CALLS[language]))
    for text in texts:
        yield at, _said(text, drawn)
        at += timedelta(minutes=drawn.randrange(20, 5000))
        if at >= TODAY:
            break


def _said(text: str, drawn: random.Random) -> str:
    return text.format(**{name: drawn.choice(words) for name, words in _WORDS.items()})
