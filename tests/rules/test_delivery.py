"""Delivery: which rate is taken, what a watering put on, what is asked back; laws of minutes, turns and depth."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rules import delivery
from rules.tables import base
from rules.terms import Plot, Watering

TABLES = base()
ON = date(2026, 7, 14)
LAWN = Plot(soil="clay", plant="lawn_tall_fescue", method="sprinkler", rate_mm_h=15, rate_source="measured")
VINES = Plot(soil="loam", plant="grape_wine", method="drip", emitters_each=2, flow_l_h=2, count=100)


def test_a_rate_that_was_told_comes_first() -> None:
    rate = delivery.rate_mm_h(Plot(method="drip", rate_mm_h=4, emitters_each=2, flow_l_h=4, area_m2=1), TABLES)
    assert rate == delivery.Rate(4, "label")
    assert delivery.rate_mm_h(LAWN, TABLES) == delivery.Rate(15, "measured")


def test_the_flow_of_a_hose_over_an_area_is_a_rate() -> None:
    """Arithmetic: 1500 L/h over 50 m2 are 30 mm/h."""
    assert delivery.rate_mm_h(Plot(method="hose", flow_l_h=1500, area_m2=50), TABLES) == delivery.Rate(30, "flow")


def test_drippers_are_counted_once_a_plant() -> None:
    """Arithmetic: 2 x 2 L/h x 100 vines over 200 m2 are 2 mm/h."""
    plot = Plot(method="drip", emitters_each=2, flow_l_h=2, count=100, area_m2=200)
    rate = delivery.rate_mm_h(plot, TABLES)
    assert rate is not None
    assert rate.mm_h == pytest.approx(2)


def test_drippers_without_an_area_wet_what_the_soil_spreads_and_the_rate_is_assumed() -> None:
    rate = delivery.rate_mm_h(VINES, TABLES)
    assert rate is not None
    assert rate.assumed
    assert rate.mm_h == pytest.approx(2 / delivery.WETTED_M2["medium"])


def test_a_known_way_without_figures_takes_the_usual_rate_and_cites_its_row() -> None:
    rate = delivery.rate_mm_h(Plot(method="sprinkler"), TABLES)
    assert rate is not None
    assert rate.assumed
    assert rate.mm_h == TABLES.delivery["sprinkler.rate_mm_h"].value
    assert rate.row == TABLES.delivery["sprinkler.rate_mm_h"].cite("value")


def test_nothing_told_gives_no_rate() -> None:
    assert delivery.rate_mm_h(Plot(plant="lawn_tall_fescue"), TABLES) is None


@pytest.mark.parametrize(("mm_h", "believed"), [(0.1, False), (0.2, True), (75, True), (75.1, False), (228.6, False)])
def test_nine_inches_an_hour_by_sprinkler_are_asked_back(mm_h: float, believed: bool) -> None:
    assert delivery.believable_rate(mm_h, LAWN, TABLES) is believed


def test_a_rate_that_cannot_be_is_not_computed_with() -> None:
    rate = delivery.rate_mm_h(Plot(method="sprinkler", rate_mm_h=228.6, rate_source="measured"), TABLES)
    assert rate is not None
    assert rate.assumed


@pytest.mark.parametrize(
    ("plot", "hours", "asked"),
    [
        (LAWN, 24, None),
        (LAWN, 40, "minutes"),
        (Plot(plant="lawn_tall_fescue"), 40, "minutes"),
        (VINES, 32, None),
        (Plot(plant="grape_wine"), 32, None),
        (VINES, 73, "minutes"),
        (LAWN, -1, "minutes"),
    ],
)
def test_a_run_of_40_hours_is_asked_back_on_a_lawn_and_32_taken_on_vines(
    plot: Plot, hours: float, asked: str | None
) -> None:
    watering = Watering(on=ON, minutes=60 * hours)
    assert delivery.doubtful_amount(watering, plot, TABLES) == asked
    if asked:
        assert delivery.watering_depth_mm(watering, plot, TABLES) is None


@pytest.mark.parametrize(
    ("watering", "asked"),
    [
        (Watering(on=ON, depth_mm=250), None),
        (Watering(on=ON, depth_mm=251), "depth_mm"),
        (Watering(on=ON, depth_mm=-1), "depth_mm"),
        (Watering(on=ON, litres=1000), None),
        (Watering(on=ON, litres=-5), "litres"),
        (Watering(on=ON, litres=30000), "litres"),
        (Watering(on=ON, litres_each=20000), "litres_each"),
    ],
)
def test_an_amount_that_cannot_be_is_asked_back(watering: Watering, asked: str | None) -> None:
    plot = Plot(method="hose", area_m2=100, count=10)
    assert delivery.doubtful_amount(watering, plot, TABLES) == asked


def test_a_watering_counts_what_enters_the_soil_however_it_was_told() -> None:
    """Arithmetic on 100 m2 with 10 plants: 20 mm are 2000 L, 200 L a plant, and 80 min at 15 mm/h."""
    plot = Plot(method="sprinkler", rate_mm_h=15, area_m2=100, count=10)
    entered = 20 * TABLES.delivery["sprinkler.efficiency"].value
    for watering in (
        Watering(on=ON, depth_mm=20),
        Watering(on=ON, litres=2000),
        Watering(on=ON, litres_each=200),
        Watering(on=ON, minutes=80),
    ):
        assert delivery.watering_depth_mm(watering, plot, TABLES) == pytest.approx(entered)


def test_the_depth_that_was_told_counts_before_the_minutes() -> None:
    both = Watering(on=ON, depth_mm=10, minutes=600)
    assert delivery.watering_depth_mm(both, LAWN, TABLES) == delivery.watering_depth_mm(
        Watering(on=ON, depth_mm=10), LAWN, TABLES
    )


def test_gallons_on_a_tree_of_unknown_ground_wet_an_ordinary_circle() -> None:
    """Our own ordinary 3 m2 for a tree: 30 L by can are 10 mm gross."""
    tree = Plot(plant="peach", method="can")
    efficiency = TABLES.delivery["can.efficiency"].value
    poured = delivery.watering_depth_mm(Watering(on=ON, litres_each=30), tree, TABLES)
    assert poured == pytest.approx(10 * efficiency)


@pytest.mark.parametrize("watering", [Watering(on=ON), Watering(on=ON, minutes=30), Watering(on=ON, litres=50)])
def test_what_cannot_be_worked_out_is_none(watering: Watering) -> None:
    assert delivery.watering_depth_mm(watering, Plot(), TABLES) is None


@given(st.floats(0.5, 200), st.sampled_from(["sprinkler", "drip", "soaker", "hose", "can", "flood"]))
def test_what_is_put_on_for_a_net_depth_gives_that_depth(net_mm: float, method: str) -> None:
    plot = Plot(method=method)
    gross_mm = delivery.gross_depth_mm(net_mm, plot, TABLES)
    assert gross_mm > net_mm
    if gross_mm <= delivery.MOST_DEPTH_MM:
        back = delivery.watering_depth_mm(Watering(on=ON, depth_mm=gross_mm), plot, TABLES)
        assert back == pytest.approx(net_mm)


@given(st.floats(0.1, 150), st.floats(0.5, 75))
def test_run_time_is_what_a_timer_can_be_set_to(depth_mm: float, rate: float) -> None:
    minutes, exact = delivery.run_minutes(depth_mm, rate), 60 * depth_mm / rate
    assert minutes % (1 if minutes < 15 else 5 if minutes <= 240 else 30) == 0
    assert abs(minutes - exact) <= (1 if exact < 15 else 2.5 if exact <= 240 else 15)
    assert minutes >= 1


@given(st.floats(0, 150), st.floats(0, 20), st.floats(0.5, 75))
def test_more_water_never_takes_less_time(depth_mm: float, more_mm: float, rate: float) -> None:
    assert delivery.run_minutes(depth_mm, rate) <= delivery.run_minutes(depth_mm + more_mm, rate)


@pytest.mark.parametrize(("exact", "shown"), [(0.2, 1), (14.4, 14), (14.8, 15), (17, 15), (237, 235), (250, 240)])
def test_run_time_is_rounded_finely_when_short_and_coarsely_when_long(exact: float, shown: float) -> None:
    assert delivery.run_minutes(exact, 60) == shown


@given(
    st.sampled_from([*TABLES.soils, None]), st.floats(5, 600), st.floats(1, 75), st.one_of(st.none(), st.floats(1, 60))
)
def test_turns_put_on_the_whole_run_and_none_is_longer_than_the_soil_takes(
    soil: str | None, minutes: float, rate: float, runoff: float | None
) -> None:
    plot = Plot(soil=soil, method="sprinkler", runoff_minutes=runoff)
    turns = delivery.cycles(plot, minutes, rate, TABLES)
    assert turns.count * turns.minutes >= minutes - 1e-9
    assert (turns.rest_minutes == 0) is (turns.count == 1)
    if runoff is not None and turns.count > 1:
        assert turns.minutes <= max(runoff, 1)
    if soil is not None and runoff is None and turns.count > 1 and turns.minutes > 1:
        intake_mm_h = TABLES.soils[soil].intake_mm_h
        storage_mm = TABLES.delivery["cycle.surface_storage_mm"].value
        assert turns.minutes / 60 * (rate - intake_mm_h) <= storage_mm + 1e-9


def test_a_rate_that_the_soil_can_take_runs_in_one_turn() -> None:
    sand = Plot(soil="sand", method="sprinkler")
    assert delivery.cycles(sand, 120, 30, TABLES) == delivery.Cycles(1, 120, 0)
    assert delivery.cycles(sand, 120, 31, TABLES).count == 1  # 3 mm of storage at 1 mm/h too fast: three hours


def test_drip_runs_in_one_turn_unless_water_was_seen_to_run_off() -> None:
    assert delivery.cycles(Plot(soil="clay", method="drip"), 600, 12, TABLES).count == 1
    assert delivery.cycles(Plot(soil="clay", method="drip", runoff_minutes=300), 600, 12, TABLES).count == 3


def test_slow_soil_rests_longer_between_turns() -> None:
    clay = delivery.cycles(Plot(soil="clay", method="sprinkler"), 30, 40, TABLES)
    loam = delivery.cycles(Plot(soil="loam", method="sprinkler"), 30, 40, TABLES)
    assert clay.rest_minutes > loam.rest_minutes


def test_litres_for_each_plant_need_plants() -> None:
    """Arithmetic: 10 mm over 20 m2 are 200 L, 50 for each of 4 plants."""
    plot = Plot(method="hose", area_m2=20, count=4)
    assert delivery.litres(10, plot, TABLES) == 200
    assert delivery.litres_each(10, plot, TABLES) == 50
    assert delivery.litres_each(10, Plot(method="hose", area_m2=20), TABLES) is None
    block = Plot(method="drip", plant="grape_wine", area_m2=8094, emitters_each=2, flow_l_h=1.9)
    assert delivery.litres(10, block, TABLES) == 80940  # 1 mm on 1 m2 is 1 L
    assert delivery.litres_each(10, block, TABLES) is None
    assert delivery.litres(10, Plot(method="hose"), TABLES) is None


@given(
    st.lists(st.tuples(st.floats(5, 60), st.floats(0.5, 100)), min_size=1, max_size=4),
    st.floats(0, 200),
    st.floats(0, 50),
)
def test_more_water_never_goes_less_deep(layers: list[tuple[float, float]], water_mm: float, more_mm: float) -> None:
    reached = delivery.reaches_cm(water_mm, layers)
    assert reached <= delivery.reaches_cm(water_mm + more_mm, layers) + 1e-9
    assert reached <= sum(thickness for thickness, _ in layers) + 1e-9


def test_a_layer_that_is_full_lets_water_pass() -> None:
    assert delivery.reaches_cm(5, [(30, 0), (30, 10)]) == 45
    assert delivery.reaches_cm(5, [(30, -3), (30, 10)]) == 45
    assert delivery.reaches_cm(0, [(30, 10)]) == 0
