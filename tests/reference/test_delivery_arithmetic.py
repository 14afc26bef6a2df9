"""Arithmetic of delivery against printed constants, and the trade's own cases for cans, meters, drip and turns."""

from datetime import date

import pytest

from rules import can_test, delivery, trees
from rules.tables import base
from rules.terms import Plot, Watering
from rules.units import (
    KPA_PER_PSI,
    LITRES_PER_GALLON,
    M2_PER_ACRE,
    M2_PER_SQUARE_FOOT,
    MM_PER_INCH,
    MM_PER_M_PER_INCH_PER_FOOT,
    litres_over,
)

TABLES = base()
ON = date(2026, 7, 14)
CLAY_LAWN = Plot(soil="clay", plant="lawn_tall_fescue", method="sprinkler")


def test_the_sprinkler_constant_of_the_trade_is_96_25() -> None:
    """in/h = 96.25 x gpm / ft2 (60 x 231 / 144, exact; others print 96.3)."""
    one_gpm_on_one_ft2 = can_test.meter_rate_mm_h(LITRES_PER_GALLON, 1, M2_PER_SQUARE_FOOT)
    assert one_gpm_on_one_ft2 / MM_PER_INCH == pytest.approx(96.25, abs=0.005)


def test_18_gallons_a_minute_on_2000_square_feet_are_0_87_inches_an_hour() -> None:
    """96.3 x gpm / sq ft, the common formula of utility water checks (Utah State water checks use it)."""
    rate = can_test.meter_rate_mm_h(18 * 5 * LITRES_PER_GALLON, 5, 2000 * M2_PER_SQUARE_FOOT)
    assert rate / MM_PER_INCH == pytest.approx(0.87, abs=0.005)


def test_a_five_gallon_bucket_in_a_minute_is_five_gallons_a_minute() -> None:
    """gpm = 300 / seconds to fill 5 gal."""
    assert can_test.flow_l_h(5 * LITRES_PER_GALLON, 60) == pytest.approx(300 * LITRES_PER_GALLON)


# Gallons of an inch over an area: 0.6234 a square foot, 623.38 a thousand, 27154 an acre (exact definitions; the
# handbooks print 0.623, 623 and 27 154).
@pytest.mark.parametrize(
    ("area_m2", "gallons"),
    [(M2_PER_SQUARE_FOOT, 0.6234), (1000 * M2_PER_SQUARE_FOOT, 623.38), (M2_PER_ACRE, 27154.3)],
)
def test_an_inch_over_an_area_in_gallons(area_m2: float, gallons: float) -> None:
    assert litres_over(MM_PER_INCH, area_m2) / LITRES_PER_GALLON == pytest.approx(gallons, rel=1e-4)


def test_units_of_soil_water_and_pressure() -> None:
    """1 in/ft is 83.33 mm/m and 1 psi is 6.894757 kPa (exact definitions)."""
    assert pytest.approx(83.3333, abs=1e-4) == MM_PER_M_PER_INCH_PER_FOOT
    assert pytest.approx(6.894757, abs=1e-6) == KPA_PER_PSI


def test_a_drip_line_of_0_9_gallon_emitters_a_foot_apart_in_rows_of_18_inches() -> None:
    """in/h = 231 x gph / (row x emitter in inches): 0.96 in/h."""
    plot = Plot(method="drip", emitters_each=1, flow_l_h=0.9 * LITRES_PER_GALLON, area_m2=1.5 * M2_PER_SQUARE_FOOT)
    rate = delivery.rate_mm_h(plot, TABLES)
    assert rate is not None
    assert rate.mm_h / MM_PER_INCH == pytest.approx(0.96, abs=0.005)
    assert rate.source == "flow"


def test_two_half_gallon_drippers_on_a_strip_of_3_by_5_feet() -> None:
    """10 h are 10 gal, 1.07 in on the strip and not the 0.40 in of the whole 8 by 5 ft (trade practice for vines)."""
    half_gallon_l_h = 0.5 * LITRES_PER_GALLON
    strip = Plot(method="drip", emitters_each=2, flow_l_h=half_gallon_l_h, area_m2=15 * M2_PER_SQUARE_FOOT)
    rate = delivery.rate_mm_h(strip, TABLES)
    assert rate is not None
    assert rate.mm_h * 10 / MM_PER_INCH == pytest.approx(1.07, abs=0.005)
    assert delivery.litres(rate.mm_h * 10, strip, TABLES) == pytest.approx(10 * LITRES_PER_GALLON)
    assert delivery.run_minutes(1.07 * MM_PER_INCH, rate.mm_h) == 600
    efficiency = delivery.trait(strip, "efficiency", TABLES).value
    net = delivery.watering_depth_mm(Watering(on=ON, minutes=600), strip, TABLES)
    assert net == pytest.approx(1.07 * MM_PER_INCH * efficiency, rel=0.005)


def test_six_uneven_cans_in_a_quarter_hour() -> None:
    """1/8 1/8 1/4 1/8 1/4 1/8 in in 15 min: 0.67 in/h, and uneven (Texas A&M catch can test, arithmetic)."""
    caught = [inches * MM_PER_INCH for inches in (1 / 8, 1 / 8, 1 / 4, 1 / 8, 1 / 4, 1 / 8)]
    test = can_test.can_test(caught, 15)
    assert test is not None
    assert test.rate_mm_h / MM_PER_INCH == pytest.approx(0.67, abs=0.005)
    assert test.enough
    assert test.uneven


def test_three_cans_are_too_few() -> None:
    test = can_test.can_test([6.0, 6.0, 6.0], 15)
    assert test is not None
    assert not test.enough
    assert not test.uneven


def test_sixteen_cans_worked_by_hand() -> None:
    """Invented depths, worked by hand: mean 7.75 mm, 31 mm/h, driest four 5.5 mm, evenness 0.71."""
    test = can_test.can_test([12, 11, 10, 9, 9, 8, 8, 8, 7, 7, 7, 6, 6, 6, 5, 5], 15)
    assert test is not None
    assert test.rate_mm_h == pytest.approx(31)
    assert test.evenness == pytest.approx(0.71, abs=0.005)


def test_half_an_inch_at_0_67_inches_an_hour_takes_45_minutes() -> None:
    """Minutes = depth / rate x 60 = 44.8, as a timer can be set."""
    assert delivery.run_minutes(0.5 * MM_PER_INCH, 0.67 * MM_PER_INCH) == 45


def test_spray_heads_on_clay_run_in_turns_of_five_minutes_or_less() -> None:
    """1.6 in/h on clay (Texas A&M cycle and soak: turns with 30 to 60 minutes between)."""
    turns = delivery.cycles(CLAY_LAWN, 20, 1.6 * MM_PER_INCH, TABLES)
    assert turns.minutes <= 5
    assert turns.count * turns.minutes >= 20
    assert 30 <= turns.rest_minutes <= 60


def test_a_lawn_that_ran_off_at_four_minutes_gets_turns_of_three() -> None:
    turns = delivery.cycles(Plot(soil="clay", method="sprinkler", runoff_minutes=4), 20, 1.6 * MM_PER_INCH, TABLES)
    assert 3 <= turns.minutes <= 4
    assert turns.count * turns.minutes >= 20


def test_water_fills_from_the_top() -> None:
    """3 in wet 2 ft of loam (UC Master Gardeners of San Diego County): that loam lacked 1.5 in/ft."""
    missing_mm = 1.5 * MM_PER_INCH
    layers = [(30.48, missing_mm), (30.48, missing_mm), (30.48, missing_mm)]
    assert delivery.reaches_cm(3 * MM_PER_INCH, layers) == pytest.approx(2 * 30.48)


def test_a_new_two_inch_tree_gets_two_to_three_gallons_a_day() -> None:
    """University of Minnesota Extension: 1 to 1.5 gal per inch of trunk, daily in the first two weeks."""
    dose = trees.new_tree_dose(2 * 2.54, 1, TABLES)
    assert dose.litres_low / LITRES_PER_GALLON == pytest.approx(2, abs=0.05)
    assert dose.litres_high / LITRES_PER_GALLON == pytest.approx(3, abs=0.05)
    assert dose.every_days == 1


def test_an_old_six_inch_tree_gets_60_to_90_gallons_a_few_weeks_apart() -> None:
    """UC Master Gardeners of Yolo County: 10 to 15 gal per inch of trunk every 2 to 4 weeks."""
    dose = trees.old_tree_dose(6 * 2.54, TABLES)
    assert dose.litres_low / LITRES_PER_GALLON == pytest.approx(60, abs=1)
    assert dose.litres_high / LITRES_PER_GALLON == pytest.approx(90, abs=1)
    assert 14 <= dose.every_days <= 28
