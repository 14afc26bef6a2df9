"""Plants against FAO-56: depletion fractions, crop coefficients and greatest root depths."""

import csv
from pathlib import Path

import pytest

from rules.limits import depletion_at_use
from rules.tables import base

REFERENCE = Path(__file__).parents[2] / "fixtures" / "reference"
PLANTS = base().plants


def published(name: str) -> list[dict[str, str]]:
    with (REFERENCE / f"{name}.csv").open(encoding="utf-8") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("row", published("fao56_table22"), ids=lambda row: row["plant"])
def test_depletion_fraction_and_greatest_root_depth_are_those_of_fao_56_table_22(row: dict[str, str]) -> None:
    ours = PLANTS[row["plant"]]
    assert ours.p == float(row["p"])
    assert ours.root_max_cm == pytest.approx(100 * float(row["root_high_m"]))


@pytest.mark.parametrize("row", published("fao56_table12"), ids=lambda row: row["plant"])
def test_crop_coefficients_are_those_of_fao_56_table_12(row: dict[str, str]) -> None:
    ours = PLANTS[row["plant"]]
    assert (ours.kc_ini, ours.kc_mid, ours.kc_end) == tuple(float(row[kc]) for kc in ("kc_ini", "kc_mid", "kc_end"))


@pytest.mark.parametrize("plant", PLANTS.values(), ids=lambda plant: plant.id)
def test_managed_roots_are_never_deeper_than_published_ones(plant) -> None:
    assert plant.root_max_cm is None or plant.root_cm <= plant.root_max_cm


# FAO-56, footnote to Table 22: p is for 5 mm a day, p + 0.04 (5 - ETc), kept between 0.1 and 0.8.
@pytest.mark.parametrize(("p", "et_mm", "expected"), [(0.5, 5, 0.5), (0.5, 3, 0.58), (0.2, 9, 0.1), (0.7, 1, 0.8)])
def test_depletion_fraction_follows_the_use_of_the_day(p: float, et_mm: float, expected: float) -> None:
    assert depletion_at_use(p, et_mm) == pytest.approx(expected, abs=1e-9)


# Managed depths in cm. KSTURF wets 15 to 20 for lawns; EMSWCD Table 2 prints 3 ft for fruit trees; the rest is
# the habit of extension practice (vegetables 30 to 45, vines 60 to 90), with no published source.
@pytest.mark.parametrize(
    ("category", "low", "high"),
    [
        ("lawn", 8, 20),
        ("vegetable", 20, 60),
        ("fruit_tree", 40, 90),
        ("citrus", 45, 90),
        ("nut", 60, 90),
        ("vine", 60, 90),
    ],
)
def test_managed_depths_are_those_of_extension_practice(category: str, low: float, high: float) -> None:
    grown = [plant.root_cm for plant in PLANTS.values() if plant.category == category]
    assert grown
    assert low <= min(grown)
    assert max(grown) <= high
