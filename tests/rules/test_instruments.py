"""When a reading can't be used, what coarse instruments say, and the laws of the resistance equation."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rules import instruments
from rules.tables import base
from rules.terms import Reading

INCH = 2.54


def reading(quantity: str, value: float | str, soil_temp_c: float | None = None) -> Reading:
    return Reading(on=date(2026, 7, 15), quantity=quantity, value=value, soil_temp_c=soil_temp_c)


@pytest.mark.parametrize(
    ("quantity", "value"),
    [
        ("percent", 140.0),
        ("percent", -1.0),
        ("tension", 900.0),
        ("tension", -5.0),
        ("tension", 255.1),
        ("dial", 11.0),
        ("resistance", 36000.0),
        ("rod", -2.0),
        ("rod", 300.0),
    ],
)
def test_what_an_instrument_cannot_show_is_out_of_range(quantity: str, value: float) -> None:
    assert instruments.unusable(reading(quantity, value), None) == "out_of_range"


@pytest.mark.parametrize(
    ("quantity", "value"),
    [
        ("percent", 0.0),
        ("percent", 100.0),
        ("tension", 0.0),
        ("tension", 199.0),
        ("tension", 255.0),
        ("dial", 10.0),
        ("resistance", 35000.0),
        ("rod", 36 * INCH),
        ("feel", "moist"),
        ("bare", 45.0),
    ],
)
def test_what_an_instrument_can_show_is_usable(quantity: str, value: float | str) -> None:
    assert instruments.unusable(reading(quantity, value), "tension") is None


def test_a_tensiometer_at_199_is_out_of_range_where_a_matrix_sensor_is_not() -> None:
    assert instruments.unusable(reading("tension", 199.0), "tensiometer") == "out_of_range"
    assert instruments.unusable(reading("tension", 199.0), "tension") is None


def test_a_tensiometer_in_the_mountains_breaks_sooner() -> None:
    """80 kPa stands below the 85 of sea level and above the 71 of 1500 m."""
    assert instruments.unusable(reading("tension", 80.0), "tensiometer", None) is None
    assert instruments.unusable(reading("tension", 80.0), "tensiometer", 1500.0) == "out_of_range"


@pytest.mark.parametrize(("soil_temp_c", "said"), [(-3.0, "frozen"), (0.0, "frozen"), (0.1, None), (None, None)])
def test_a_probe_in_frozen_ground_is_not_believed(soil_temp_c: float | None, said: str | None) -> None:
    assert instruments.unusable(reading("tension", 150.0, soil_temp_c), None) == said


def test_a_hand_meter_does_not_mind_the_cold_of_the_ground() -> None:
    assert instruments.unusable(reading("dial", 4.0, -1.0), None) is None


@given(st.floats(0, 35000), st.floats(0, 3000), st.floats(-10, 70))
def test_a_drier_sensor_never_reads_wetter(ohm: float, more: float, soil_temp_c: float) -> None:
    assert instruments.tension_kpa(ohm + more, soil_temp_c) >= instruments.tension_kpa(ohm, soil_temp_c) - 1e-9


@given(st.floats(1000, 35000), st.floats(0, 40), st.floats(0, 10))
def test_the_same_resistance_in_warmer_ground_is_drier(ohm: float, soil_temp_c: float, warmer: float) -> None:
    cold = instruments.tension_kpa(ohm, soil_temp_c)
    assert instruments.tension_kpa(ohm, soil_temp_c + warmer) >= cold - 1e-9


def test_without_a_soil_temperature_24_degrees_are_taken() -> None:
    assert instruments.tension_kpa(15000) == instruments.tension_kpa(15000, 24)


# University of Arizona Cooperative Extension, Cochise County, "Soil Probes": inches pushed in and what they mean.
@pytest.mark.parametrize(
    ("category", "inches", "said"),
    [
        ("lawn", 3, "dry"),
        ("lawn", 4, "dry"),
        ("lawn", 5, "enough"),
        ("lawn", 12, "enough"),
        ("lawn", 14, "overwatered"),
        ("vegetable", 14, "overwatered"),
        ("ornamental", 24, "enough"),
        ("ornamental", 26, "overwatered"),
        ("fruit_tree", 4, "dry"),
        ("fruit_tree", 36, "enough"),
        ("nut", 40, "overwatered"),
        ("", 13, "overwatered"),
    ],
)
def test_a_rod_is_judged_by_the_kind_of_plant(category: str, inches: float, said: str) -> None:
    assert instruments.rod_band(inches * INCH, category).name == said


def test_a_hand_meter_says_only_dry_moist_or_wet_and_its_bands_overlap() -> None:
    dry, moist, wet = (instruments.dial_band(shown) for shown in (3, 5, 9))
    assert (dry.name, moist.name, wet.name) == ("dry", "moist", "wet")
    assert moist.low < dry.high
    assert wet.low < moist.high


@given(st.floats(0, 10), st.floats(0, 10))
def test_a_higher_dial_never_means_less_water(shown: float, other: float) -> None:
    low, high = sorted((shown, other))
    assert instruments.dial_band(low).low <= instruments.dial_band(high).low
    assert instruments.dial_band(low).high <= instruments.dial_band(high).high


# USDA-NRCS (1998) Estimating soil moisture by feel and appearance: shares of available water of the five bands.
@pytest.mark.parametrize("soil", ["sand", "sandy_loam", "loam", "clay", None])
@pytest.mark.parametrize(
    ("feel", "low", "high"),
    [("dry", 0, 0.25), ("slightly_moist", 0.25, 0.5), ("moist", 0.5, 0.75), ("wet", 0.75, 1), ("free_water", 1, 1)],
)
def test_a_feel_is_a_quarter_of_the_available_water(soil: str | None, feel: str, low: float, high: float) -> None:
    band = instruments.feel_band(feel, soil, base())
    assert (band.low, band.high) == (low, high)
