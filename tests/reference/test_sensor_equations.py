"""The granular-matrix equations against published and worked values, and the tensiometer against air pressure."""

import pytest

from rules import instruments

# Worked from the three-range set (Shock et al. 1998 in the middle, Allen 2000 outside) by another program, to 0.01 kPa:
# kohm, degrees C, kPa. No table of values was published with the set.
THREE_RANGES = [
    (0.55, 24, 0),
    (0.75, 24, 4.63),
    (1, 24, 10.42),
    (2, 24, 15.22),
    (3, 24, 20.15),
    (5, 24, 30.44),
    (8, 24, 47.08),
    (8.01, 24, 48.55),
    (10, 24, 61.39),
    (15, 24, 96.03),
    (20, 24, 134.05),
    (27.5, 24, 197.41),
    (35, 24, 268.37),
    (5, 10, 24.26),
    (5, 15, 26.16),
    (5, 20, 28.38),
    (5, 30, 34.18),
    (5, 35, 38.06),
    (15, 10, 69.53),
    (15, 30, 107.98),
]

# Printed check values of two other published conversions at 21 degrees C: kohm, kPa of Thomson and Armstrong (1987),
# kPa of the linear form. The three sets are known to differ by 10 to 50 percent.
OTHERS = [(2, 9, 11), (5, 27, 33), (8, 56, 56), (10, 85, 70)]

# Usable maximum of a tensiometer: 80 kPa at sea level (NCSU AG-452-2) times FAO-56 Eq. 7 over 101.3: m, kPa.
ALTITUDES = [(0, 80), (300, 77.2), (600, 74.6), (1000, 71.1), (1500, 67), (2000, 63), (2500, 59.3)]


@pytest.mark.parametrize(("kohm", "soil_temp_c", "kpa"), THREE_RANGES)
def test_resistance_becomes_tension_by_the_three_range_set(kohm: float, soil_temp_c: float, kpa: float) -> None:
    assert instruments.tension_kpa(1000 * kohm, soil_temp_c) == pytest.approx(kpa, abs=0.006)


@pytest.mark.parametrize(("kohm", "by_1987", "by_line"), OTHERS)
def test_the_chosen_set_is_no_further_from_the_others_than_they_are_known_to_differ(
    kohm: float, by_1987: float, by_line: float
) -> None:
    chosen = instruments.tension_kpa(1000 * kohm, 21)
    assert min(by_1987, by_line) / 1.5 <= chosen <= max(by_1987, by_line) * 1.6


@pytest.mark.parametrize(("elevation_m", "kpa"), ALTITUDES)
def test_a_tensiometer_can_show_less_the_higher_it_stands(elevation_m: float, kpa: float) -> None:
    assert instruments.tensiometer_top_kpa(80, elevation_m) == pytest.approx(kpa, abs=0.06)
