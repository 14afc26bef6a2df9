"""What somebody says first, and what is told beside an answer: no fact of it may be lost.

Source of the expected values: a plot named once governs what follows (DEVELOPERS.md).
"""

from __future__ import annotations

from datetime import datetime

import pytest

from bot.understand import Asked, Context, Fact, Rain, Reading, Request, Watering, read

_NOW = datetime(2026, 7, 15, 9, 30)


@pytest.mark.parametrize(
    ("text", "plot", "told"),
    [
        (
            "Hello, I have 12 apple trees on drip in sandy loam near 58703",
            "apple trees",
            {"count": 12.0, "method": "drip", "soil": "sandy_loam", "place": "58703"},
        ),
        (
            "tengo 12 manzanos con goteo en franco arenoso cerca de 58703",
            "manzanos",
            {"count": 12.0, "method": "drip", "soil": "sandy_loam", "place": "58703"},
        ),
        (
            "i have 3 rose bushes with a soaker hose in clay near 58703",
            "rose bushes",
            {"count": 3.0, "method": "soaker", "soil": "clay", "place": "58703"},
        ),
        ("we have pears on drip near 58703", "pears", {"method": "drip", "place": "58703"}),
    ],
)
def test_every_fact_of_an_opening_is_read(text: str, plot: str, told: dict[str, object]) -> None:
    made = read(text, Context(now=_NOW)).statements
    assert all(isinstance(one, Fact) for one in made)
    facts = [one for one in made if isinstance(one, Fact)]
    assert {one.about: one.value for one in facts} == told
    assert all(one.plot == (None if one.about == "place" else plot) for one in facts)


@pytest.mark.parametrize("text", ["grapes done. 12in 110 24in 140", "grapes. 12in 110 24in 140"])
def test_a_plant_that_heads_a_message_governs_its_readings(text: str) -> None:
    made = [one for one in read(text, Context(now=_NOW, probe="tension")).statements if isinstance(one, Reading)]
    assert [(one.plot, one.value) for one in made] == [("grapes", 110.0), ("grapes", 140.0)]


def test_the_method_told_beside_the_soil_asked_for_is_kept() -> None:
    for text, soil, method in (
        ("clay loam, drip", "clay_loam", "drip"),
        ("sandy, sprinklers", "sand", "sprinkler"),
        ("arcilla y goteo", "clay", "drip"),
    ):
        context = Context(now=_NOW, plots=("peaches", "lawn"), asked=Asked(about="soil", plot="lawn"))
        expected = (Fact(about="soil", value=soil, plot="lawn"), Fact(about="method", value=method, plot="lawn"))
        assert read(text, context).statements == expected


@pytest.mark.parametrize(
    ("text", "plant", "plot"),
    [
        ("back row is pears", "pears", "back row"),
        ("la hilera de atras son perales", "perales", "hilera de atras"),
        ("the tree is an oak", "oak", "plot 1"),
        ("that's a lemon tree", "lemon tree", "plot 1"),
        ("they are roses", "roses", "plot 1"),
    ],
)
def test_a_plant_asked_for_is_told_without_the_words_round_it(text: str, plant: str, plot: str) -> None:
    context = Context(now=_NOW, plots=("plot 1",), asked=Asked(about="plant", plot="plot 1"))
    assert read(text, context).statements == (Fact(about="plant", value=plant, plot=plot),)


@pytest.mark.parametrize("text", ["snady laom", "sandy laom", "snady loam"])
def test_letters_that_changed_places_make_no_other_soil(text: str) -> None:
    made = read(text, Context(now=_NOW, asked=Asked(about="soil"))).statements
    assert made == (Fact(about="soil", value="sandy_loam"),)


def test_what_people_got_is_rain_and_what_a_plot_got_is_water() -> None:
    rain = Rain(on=_NOW.date(), depth_mm=pytest.approx(12.7))  # 0.5 x 25.4 mm
    assert read("got half an inch", Context(now=_NOW)).statements == (rain,)
    (told,) = read("peaches got half an inch", Context(now=_NOW, plots=("peaches",))).statements
    assert isinstance(told, Watering)


@pytest.mark.parametrize(
    ("text", "request_made"),
    [
        ("so how long should the timer run", Request(want="amount")),
        ("how many minutes for the timer", Request(want="amount")),
        ("what time should the timer run", Request(want="other")),
        ("enough?", Request(want="verdict")),
        ("now what", Request(want="verdict")),
        ("suficiente?", Request(want="verdict")),
        ("hola tengo unos tomates y no se cuando regarlos", Request(want="when", plot="tomates")),
        ("tengo un limon y no se cuando regarlo", Request(want="when", plot="limon")),
    ],
)
def test_short_questions_are_understood(text: str, request_made: Request) -> None:
    assert read(text, Context(now=_NOW)).statements == (request_made,)


@pytest.mark.parametrize(
    ("text", "rate_mm_h"),
    [
        ("half inch in 20 min", 38.1),  # 0.5 x 25.4 mm, three times an hour
        ("1/2 inch in 30 minutes", 25.4),
        ("media pulgada en 20 minutos", 38.1),
        ("1 inch", 25.4),
    ],
)
def test_a_depth_in_a_time_answers_how_fast_water_comes(text: str, rate_mm_h: float) -> None:
    context = Context(now=_NOW, plots=("lawn",), asked=Asked(about="rate_mm_h", plot="lawn"))
    fact = Fact(about="rate_mm_h", value=pytest.approx(rate_mm_h), plot="lawn")
    assert read(text, context).statements == (fact,)


@pytest.mark.parametrize(
    "text", ["its peppers not tomatoes", "it's peppers, not tomatoes", "they are peppers not tomatoes"]
)
def test_another_plant_grows_in_the_plot_that_is_named(text: str) -> None:
    made = read(text, Context(now=_NOW, plots=("tomatoes",))).statements
    assert made == (Fact(about="plant", value="peppers", plot="tomatoes"),)
