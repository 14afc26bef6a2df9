"""Messages that look like a new report and are none: a pot's size, the rain of before told again, a sum of money.

Source of the expected values: common sense of the trade, no published source; in doubt nothing is stored.
"""

from __future__ import annotations

from datetime import datetime

import pytest

from bot.understand import Context, Fact, Rain, Request, Unclear, Watering, read

_NOW = datetime(2026, 7, 15, 9, 30)
_LITRES_OF_5_GALLONS = 18.927  # 5 x 3.785 l


@pytest.mark.parametrize(
    ("text", "litres", "plot"),
    [
        ("tomatoes 5 gallon bucket on the deck", _LITRES_OF_5_GALLONS, "tomatoes"),
        ("peppers 5 gal buckets on the porch", _LITRES_OF_5_GALLONS, "peppers"),
        ("tomato in 5 gal bucket", _LITRES_OF_5_GALLONS, "tomato"),
        ("jitomate cubeta de 20 litros en el patio", 20.0, "jitomate"),
        ("jitomates en cubetas de 20 litros", 20.0, "jitomates"),
    ],
)
def test_the_bucket_that_a_plant_stands_in_is_its_container(text: str, litres: float, plot: str) -> None:
    (told,) = read(text, Context(now=_NOW)).statements
    assert told == Fact(about="container_litres", value=pytest.approx(litres, abs=0.001), plot=plot)


def test_a_bucket_that_was_given_is_a_watering_and_one_of_no_telling_is_asked_about() -> None:
    for text in ("gave the tomatoes a 5 gallon bucket", "5 gallon bucket on the tomatoes", "tomatoes one 5 gal bucket"):
        (told,) = read(text, Context(now=_NOW, plots=("tomatoes",))).statements
        assert isinstance(told, Watering), text
    assert read("basil 5 gal bucket", Context(now=_NOW)).statements == (Unclear(text="basil 5 gal bucket"),)


@pytest.mark.parametrize(
    "text", ["oops rain was .05", "sorry rain was .05", "oops, the rain was .05", "i meant rain .05", "rain .05 not .5"]
)
def test_rain_told_again_takes_the_first_back(text: str) -> None:
    rain = Rain(on=_NOW.date(), depth_mm=pytest.approx(1.27))  # 0.05 x 25.4 mm
    assert read(text, Context(now=_NOW)).statements == (Request(want="undo"), rain)


def test_rain_of_a_day_of_its_own_takes_nothing_back() -> None:
    made = read("sorry, rain was .05 on monday", Context(now=_NOW)).statements
    assert Request(want="undo") not in made


@pytest.mark.parametrize("text", ["45!! my water bill", "98 and humid", "my water bill was 45"])
def test_money_and_weather_are_no_readings(text: str) -> None:
    made = read(text, Context(now=_NOW, probe="tension")).statements
    assert {type(one) for one in made} == {Unclear}


def test_one_watered_and_another_not_is_asked_about() -> None:
    text = "watered peppers not tomatoes"
    assert read(text, Context(now=_NOW, plots=("tomatoes",))).statements == (Unclear(text=text),)
