"""What is watered, told by where it lies, from somebody who gave it no name yet: each place keeps the words used.

Source of the expected values: a plot that the person does not have keeps the words used (DEVELOPERS.md); two readings of
two places must never lie in one plot.
"""

from __future__ import annotations

from datetime import datetime

import pytest

from bot.understand import Context, Fact, Reading, Request, Sign, Watering, read

_NOW = datetime(2026, 7, 15, 9, 30)

_READINGS: list[tuple[str, list[tuple[str | None, float]]]] = [
    ("back row 55 cb at 12, front row 30 cb at 12", [("back row", 55.0), ("front row", 30.0)]),
    ("north block 40 at 12, south block 66 at 12", [("north block", 40.0), ("south block", 66.0)]),
    ("the left bed is 40 and the right bed is 60", [("left bed", 40.0), ("right bed", 60.0)]),
    ("front 30 back 55", [("front", 30.0), ("back", 55.0)]),
    ("bed A 18, bed B 25", [("bed A", 18.0), ("bed B", 25.0)]),
    ("zone 3 45 at 12", [("zone 3", 45.0)]),
    ("hilera de atras 55 a 12, hilera de enfrente 30 a 12", [("hilera de atras", 55.0), ("hilera de enfrente", 30.0)]),
    ("la tabla de arriba 40 y la de abajo 60", [("tabla de arriba", 40.0), ("de abajo", 60.0)]),
    ("primera fila 30, segunda fila 45", [("primera fila", 30.0), ("segunda fila", 45.0)]),
    ("norte 40 sur 60", [("norte", 40.0), ("sur", 60.0)]),
    # two probes of one place, and a day
    ("top 30 bottom 50", [(None, 30.0), (None, 50.0)]),
    ("arriba 30 abajo 50", [(None, 30.0), (None, 50.0)]),
    ("it was 45 back on monday", [(None, 45.0)]),
]


@pytest.mark.parametrize(("text", "expected"), _READINGS)
def test_a_reading_belongs_to_the_place_that_it_was_told_of(
    text: str, expected: list[tuple[str | None, float]]
) -> None:
    made = read(text, Context(now=_NOW, probe="tension")).statements
    assert [(one.plot, one.value) for one in made if isinstance(one, Reading)] == expected
    assert len(made) == len(expected)


def test_waterings_signs_and_plants_belong_to_the_place_that_they_were_told_of() -> None:
    today = _NOW.date()
    expected = {
        "watered the back row 2 hrs and the front row 1 hr": (
            Watering(on=today, minutes=120.0, plot="back row"),
            Watering(on=today, minutes=60.0, plot="front row"),
        ),
        "back row is wilting": (Sign(sign="wilting", plot="back row", on=today),),
        "back row is pears": (Fact(about="plant", value="pears", plot="back row"),),
    }
    for text, statements in expected.items():
        assert read(text, Context(now=_NOW, probe="tension")).statements == statements


@pytest.mark.parametrize(
    ("text", "plants"),
    [
        ("lote 1 almendro 62 a 18, lote 2 nogal 40 a 18", {"lote 1": "almendro", "lote 2": "nogal"}),
        ("block 3 pears 45 at 12, block 4 plums 30 at 12", {"block 3": "pears", "block 4": "plums"}),
        ("bed 1 corn dry, bed 2 beans moist", {"bed 1": "corn", "bed 2": "beans"}),
        ("tabla 3 maiz 50", {"tabla 3": "maiz"}),
        ("zone 2 lawn 20 min and zone 3 roses 10 min", {"zone 2": "lawn", "zone 3": "roses"}),
    ],
)
def test_what_grows_in_a_numbered_block_is_its_plant_and_no_plot(text: str, plants: dict[str, str]) -> None:
    made = read(text, Context(now=_NOW, probe="tension")).statements
    assert {one.plot: one.value for one in made if isinstance(one, Fact)} == plants
    assert [one.plot for one in made if isinstance(one, Reading | Watering)] == [*plants]


@pytest.mark.parametrize(
    ("text", "depths_cm"),
    [
        ("maiz 62 y frijol 40 a 12 pulgadas", [30.48, 30.48]),  # 12 x 2.54 cm
        ("peaches 45, pears 50, plums 60 at 18 in", [45.72, 45.72, 45.72]),  # 18 x 2.54 cm
        ("corn 62 at 6 and beans 40 at 12", [15.24, 30.48]),
        ("yesterday peaches 45, today pears 50 at 12", [None, 30.48]),
    ],
)
def test_one_depth_at_the_end_of_a_list_of_plots_is_that_of_all(text: str, depths_cm: list[float | None]) -> None:
    made = read(text, Context(now=_NOW, probe="tension")).statements
    assert [one.depth_cm for one in made if isinstance(one, Reading)] == pytest.approx(depths_cm)


@pytest.mark.parametrize(
    "text",
    [
        "buenos dias soy el regador del sr del rancho, que riego hoy",
        "que regamos hoy",
        "buenas, que vamos a regar hoy",
        "hola soy el regador, que riego hoy",
        "I am the waterer here. what gets water today?",
    ],
)
def test_who_asks_what_to_water_reports_no_watering(text: str) -> None:
    assert read(text, Context(now=_NOW)).statements == (Request(want="verdict"),)
