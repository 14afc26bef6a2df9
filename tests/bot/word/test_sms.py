"""What leaves by SMS: 10,000 texts from a seed, plain and awkward plot names, both languages, both units."""

import random
import re
from collections.abc import Iterator
from datetime import timedelta
from itertools import product

import pytest
from drawn import AWKWARD, ORDINARY, TODAY, advice

from bot.understand.statements import Fact, Rain, Reading, Watering
from bot.word import catalogue
from bot.word.asking import CHOICES
from bot.word.gsm7 import ALPHABET
from bot.word.say import Words
from rules.terms import Day

VOICES = [Words(language, units, "sms", TODAY) for language, units in product(("en", "es"), ("us", "metric"))]
US_UNITS = re.compile(r"\d ?(in|pulg|ft|pies|gal|sq ft|°?F)\b(?! all)|inches|pulgadas|gallons|galones")
METRIC_UNITS = re.compile(r"\d ?(mm|cm|m|L|m2|°?C|mm/h|L/h)\b")
LETTERS = "abc ñÑáéíóúüÁ¿?¡!€{}[]~|^\\½¼°“”’—…•×🌵💧中жΔλ\n\t\u200b\u0301\u00a0&%$#@<>"


def texts(words: Words, draw: random.Random) -> Iterator[str]:
    """Everything that one advice and one message may bring out."""
    names = (*ORDINARY, *AWKWARD, "".join(draw.choices(LETTERS, k=draw.randint(1, 50))))
    given = [advice(draw, names, cautious=draw.random() < 0.4) for _ in range(draw.randint(2, 12))]
    kept = words.kept(statements(draw, names))
    yield kept
    yield words.advice(given[0])
    yield words.advice(given[0], [kept])
    yield words.several(given)
    yield from words.why(given[1])
    yield from words.sources(given[1])
    about = draw.choice([*CHOICES, "plant", "place", "depth", "rate", "amount", "date", "stage"])
    yield words.question(about, plot=draw.choice(names), value=draw.uniform(0, 900))
    yield words.question("plot", offered=draw.sample(names, 5))
    yield words.plots(names)
    yield words.forecast(days(draw))
    yield words.say("unread", words="".join(draw.choices(LETTERS, k=200)), example=words.example())
    yield words.say("plant.unknown", words=draw.choice(names), choices=", ".join(ORDINARY[:3]))


def statements(draw: random.Random, names: tuple[str, ...]) -> list:
    plot, on = draw.choice(names), TODAY - timedelta(days=draw.randint(0, 90))
    return draw.sample([
        Reading(quantity="tension", value=draw.uniform(0, 200), depth_cm=draw.uniform(5, 120), plot=plot, on=on),
        Reading(quantity="rod", value=draw.uniform(1, 90), plot=plot, on=on),
        Watering(on=on, minutes=draw.uniform(1, 2000), depth_mm=draw.uniform(1, 90), plot=plot),
        Watering(on=on, litres=draw.uniform(1, 90000), plot=draw.choice(names)),
        Rain(on=on, depth_mm=draw.uniform(0, 90)),
        Fact(about="plant", value=draw.choice(names), plot=plot),
        Fact(about="area_m2", value=draw.uniform(1, 9000), plot=plot),
        Fact(about="flow_l_h", value=draw.uniform(1, 900), plot=plot),
    ], draw.randint(1, 8))  # fmt: skip


def days(draw: random.Random) -> list[Day]:
    return [
        Day(on=TODAY + timedelta(days=n), tmax_c=draw.choice([None, draw.uniform(-10, 45)]),
            rain_mm=draw.uniform(0, 60), pop=draw.choice([None, draw.random()]))
        for n in range(draw.randint(0, 7))
    ]  # fmt: skip


@pytest.fixture(scope="module")
def sent() -> list[tuple[Words, str]]:
    draw, made = random.Random(20260701), []
    while len(made) < 10_000:
        made.extend((words, text) for words in VOICES for text in texts(words, draw))
    return made


def test_no_letter_outside_the_alphabet_is_ever_sent(sent):
    assert [text for _, text in sent if not ALPHABET.issuperset(text)] == []


def test_no_text_is_longer_than_two_segments_or_empty(sent):
    assert [text for words, text in sent if words.segments(text) > 2 or not text.strip()] == []


def test_units_are_never_mixed(sent):
    """A person's own words may hold any unit; these names hold none."""
    for words, text in sent:
        other = METRIC_UNITS if words.units == "us" else US_UNITS
        assert not other.search(text), text


def test_every_sentence_alone_is_within_the_alphabet_and_one_unit():
    for words, key in product(VOICES, sorted(catalogue.keys("en"))):
        values = dict.fromkeys(catalogue.placeholders(key, "en"), 1.0)
        dated = {name: TODAY for name in values if name in ("on", "when")}
        said = words.say(key, **{**values, **dated, **({"n": 1} if "n" in values else {})})
        assert ALPHABET.issuperset(said)
        assert key.startswith("units.") or not (METRIC_UNITS if words.units == "us" else US_UNITS).search(said), said
