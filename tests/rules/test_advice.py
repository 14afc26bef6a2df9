"""The one door: depths worked by hand, what may be left out, and what the advice carries beside its verdict."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from dry_spell import MONDAY, ago, ask, felt, filled, probe, spell, tomato

from rules import advise
from rules.errors import UnknownName
from rules.terms import Advice, Advised, Day, Plot, Rain, Reading, Verdict, Watering, Weather

# Days without any use after a watering that fills the root zone, so that the surplus is gone and the plot is just full.
RESTING = 12


def _pinned(plot: Plot, days: int, et0_mm: float) -> Advice:
    """Full so many days ago, then the same reference ET every day, no rain."""
    past = tuple(
        Day(on=ago(back), tmax_c=30.0, tmin_c=18.0, rain_mm=0.0, et0_mm=et0_mm if back <= days else 0.0)
        for back in range(days + RESTING, 0, -1)
    )
    ahead = tuple(Day(on=ago(-each), tmax_c=30, tmin_c=18, rain_mm=0.0, pop=0.0, et0_mm=et0_mm) for each in range(10))
    return ask(plot, filled(days + RESTING), weather=Weather(past=past, forecast=ahead))


# Plant, soil, way of watering, planted, days, ET0, mid-season Kc (FAO-56 Table 12; citrus without cover at half canopy
# 0.60), efficiency (FAO's field application efficiencies, from memory: sprinkler 0.75, drip 0.90).
# Depth = days x ET0 x Kc / efficiency.
BY_HAND = [
    ("lawn_cool", "loam", "sprinkler", None, 2, 5.0, 12.7),  # 2 x 5 x 0.95 / 0.75
    ("lawn_tall_fescue", "clay_loam", "sprinkler", None, 2, 5.0, 12.7),  # the same
    ("lawn_bermuda", "sandy_loam", "sprinkler", None, 2, 4.0, 9.1),  # 2 x 4 x 0.85 / 0.75
    ("peach", "loam", "sprinkler", date(2015, 3, 1), 11, 6.0, 79.2),  # 11 x 6 x 0.90 / 0.75
    ("lettuce", "loam", "sprinkler", date(2031, 5, 25), 2, 5.0, 13.3),  # 2 x 5 x 1.00 / 0.75
    ("apple", "silt_loam", "drip", date(2015, 3, 1), 9, 7.0, 66.5),  # 9 x 7 x 0.95 / 0.90
    ("grape_table", "loam", "drip", date(2015, 3, 1), 9, 6.0, 51.0),  # 9 x 6 x 0.85 / 0.90
    ("sweet_corn", "loam", "sprinkler", date(2031, 5, 5), 5, 6.0, 46.0),  # 5 x 6 x 1.15 / 0.75
    ("potato", "loam", "sprinkler", date(2031, 5, 1), 3, 6.0, 27.6),  # 3 x 6 x 1.15 / 0.75
    ("orange", "sandy_loam", "drip", date(2010, 3, 1), 7, 6.0, 28.0),  # 7 x 6 x 0.60 / 0.90
]


@pytest.mark.parametrize(("plant", "soil", "method", "planted", "days", "et0_mm", "depth_mm"), BY_HAND)
def test_the_depth_is_what_was_used_since_the_plot_was_full_over_the_efficiency(
    plant: str, soil: str, method: str, planted: date | None, days: int, et0_mm: float, depth_mm: float
) -> None:
    plot = Plot(
        plant=plant, soil=soil, method=method, rate_mm_h=8.0, planted_on=planted, latitude=36.0, rate_source="measured"
    )
    advice = _pinned(plot, days, et0_mm)
    assert advice.verdict is Verdict.WATER
    assert advice.depth_mm == pytest.approx(depth_mm, rel=0.05)


def test_inches_of_rain_in_the_gauge_come_off_the_depth_but_for_the_first_tenth() -> None:
    """Texas A&M AgriLife Extension: the first 2.54 mm of a day count for nothing; 22.54 mm leave 20 in a loam."""
    plot, weather = tomato(plant="peach", soil="loam", planted_on=date(2015, 3, 1)), spell(past=60)
    dry = ask(plot, filled(21), weather=weather)
    wet = ask(plot, filled(21), Rain(on=ago(1), depth_mm=22.54), weather=weather)
    assert dry.depth_mm is not None
    assert wet.depth_mm is not None
    assert (dry.depth_mm - wet.depth_mm) * 0.75 == pytest.approx(20, abs=3)


def test_the_advice_is_the_same_from_plain_mappings_as_from_terms() -> None:
    plot = {"plant": "peach", "soil": "sandy_loam", "place": "36.0,-100.0", "method": "drip", "rate_mm_h": 5.0}
    told = [{"is": "reading", "on": MONDAY.isoformat(), "quantity": "tension", "value": 60.0, "depth_cm": 30}]
    days = [
        {"date": ago(back).isoformat(), "tmax_c": 31, "tmin_c": 17, "rain_mm": 0, "et0_mm": 6} for back in (3, 2, 1)
    ]
    plain = advise(plot, told, {"past": days, "forecast": []}, MONDAY.isoformat())
    terms = advise(
        Plot(plant="peach", soil="sandy_loam", latitude=36.0, longitude=-100.0, method="drip", rate_mm_h=5.0),
        [Reading(on=MONDAY, quantity="tension", value=60.0, depth_cm=30)],
        Weather(past=tuple(Day(on=ago(back), tmax_c=31, tmin_c=17, rain_mm=0, et0_mm=6) for back in (3, 2, 1))),
        MONDAY,
    )
    assert plain == terms


def test_a_plot_of_which_nothing_is_known_still_gets_an_answer_and_one_question() -> None:
    advice = advise({}, [], None, MONDAY)
    assert advice.verdict in (Verdict.WATER, Verdict.WAIT)
    assert advice.asks == "plant"
    assert {"plant", "soil", "place", "forecast"} <= set(advice.assumed)


def test_what_helps_most_is_asked_first_and_nothing_when_all_is_known() -> None:
    plot, asked = Plot(), []
    for told in (
        {"plant": "tomato"},
        {"latitude": 36.0},
        {"soil": "loam"},
        {"method": "sprinkler"},
        {"rate_mm_h": 12.0},
    ):
        asked.append(ask(plot).asks)
        plot = replace(plot, **told)
    assert asked[:4] == ["plant", "place", "soil", "method"]
    assert ask(plot).asks is None


def test_a_plant_that_no_table_has_is_taken_for_a_group_and_named_as_assumed() -> None:
    assert "plant" in ask(tomato(plant="zzyzx")).assumed
    assert "plant" not in ask(tomato(plant="tomatoes")).assumed


def test_a_soil_that_no_table_has_is_an_error() -> None:
    with pytest.raises(UnknownName, match="no soil is called"):
        ask(tomato(soil="moon dust"))


def test_reports_of_later_days_are_passed_over() -> None:
    assert ask(tomato(), filled(3), Watering(on=ago(-1), depth_mm=50)) == ask(tomato(), filled(3))


def test_a_reading_before_a_watering_of_the_same_day_does_not_undo_it() -> None:
    dry_first = ask(tomato(), filled(12), felt("dry"), Watering(on=MONDAY, depth_mm=80))
    assert (dry_first.verdict, ask(tomato(), filled(12), felt("dry")).verdict) == (Verdict.WAIT, Verdict.WATER)


def test_a_reported_watering_takes_the_place_of_the_advised_one() -> None:
    advised, reported = Advised(on=ago(3), depth_mm=40), Watering(on=ago(2), depth_mm=40)
    assert ask(tomato(), filled(12), advised, reported) == ask(tomato(), filled(12), reported)


def test_an_advised_watering_may_have_been_done_and_counts_in_part() -> None:
    silent, never, done = (
        ask(tomato(), filled(12), *more).water_left
        for more in ((Advised(on=ago(2), depth_mm=40),), (), (Watering(on=ago(2), depth_mm=40),))
    )
    assert never is not None
    assert silent is not None
    assert done is not None
    assert never < silent < done


def test_water_left_lies_between_its_low_and_its_high() -> None:
    for events in ((filled(1),), (filled(5),), (filled(9), probe(40)), (felt("moist"),)):
        advice = ask(tomato(), *events)
        assert advice.water_left_low is not None
        assert advice.water_left is not None
        assert advice.water_left_high is not None
        assert 0 <= advice.water_left_low <= advice.water_left <= advice.water_left_high + 0.01 <= 1.011


def test_a_pot_is_watered_until_it_drains_and_has_no_depth() -> None:
    advice = ask(tomato(container_litres=20.0, method="can", rate_mm_h=None), felt("dry"))
    assert (advice.verdict, advice.until_drains, advice.depth_mm) == (Verdict.WATER, True, None)


def test_a_well_with_a_daily_limit_caps_the_litres() -> None:
    advice = ask(tomato(area_m2=100.0, most_litres_a_day=1500.0), filled(12))
    assert advice.litres == pytest.approx(1500, rel=0.01)


def test_the_water_named_in_mm_litres_and_minutes_is_the_same_water() -> None:
    """Arithmetic: 1 mm over 1 m2 is 1 L; minutes = 60 x depth / rate, rounded to 5."""
    advice = ask(tomato(area_m2=50.0, rate_mm_h=20.0), filled(12))
    assert advice.depth_mm is not None
    assert advice.litres == pytest.approx(50 * advice.depth_mm, rel=0.005)
    assert advice.minutes == pytest.approx(60 * advice.depth_mm / 20, abs=2.6)


def test_every_number_of_the_trace_is_there_and_the_last_reason_decided() -> None:
    advice = ask(tomato(), filled(12), probe(60))
    assert advice.reasons[0].rule == "balance"
    assert {"store_mm", "depleted_mm", "demand_mm_day", "limit", "water_left"} <= set(advice.reasons[0].numbers)
    assert advice.reasons[-1].rule == "limit_near"
    assert all("(" in row and ":" in row for row in advice.rows)


def _decided(advice: Advice) -> tuple[object, ...]:
    return advice.verdict, advice.date, advice.depth_mm, advice.water_left


@pytest.mark.parametrize("kpa", [30.0, 40.0, 50.0, 60.0, 70.0])
def test_a_reading_told_again_in_a_day_changes_nothing_whatever_was_told_between(kpa: float) -> None:
    """30 and 30.5 cm are the same foot; a number without its depth is the one that was told with it."""
    plot, at, feel = tomato(), probe(kpa), felt("moist", depth_cm=60.0)
    once = _decided(ask(plot, filled(4), at, feel))
    for again in (at, replace(at, depth_cm=30.5), replace(at, depth_cm=None)):
        assert _decided(ask(plot, filled(4), at, feel, again)) == once
    unplaced = ask(plot, filled(4), replace(at, depth_cm=None), feel, at)
    assert unplaced.water_left == pytest.approx(once[-1], abs=0.01)  # in another order than before


def test_rain_told_first_makes_a_plot_wetter_by_no_more_than_the_rain() -> None:
    """0.08 in is lost on the leaves (Texas A&M AgriLife Extension: the first tenth of an inch of a day)."""
    plot = tomato()
    assert ask(plot, Rain(on=MONDAY, depth_mm=2.0)).water_left == ask(plot).water_left


def test_an_evergreen_in_a_dry_winter_gets_half_an_inch_and_is_told_how_deep_that_goes() -> None:
    """University of Nebraska-Lincoln Extension: six to eight inches deep, in dry weeks, above 40 F."""
    on = date(2031, 1, 20)
    past = tuple(Day(on=ago(back, on), tmax_c=11, tmin_c=1, rain_mm=0.0, et0_mm=1.0) for back in range(30, 0, -1))
    ahead = tuple(Day(on=ago(-each, on), tmax_c=11, tmin_c=1, rain_mm=0.0, pop=0.0, et0_mm=1.0) for each in range(9))
    plot = Plot(plant="conifer", soil="clay_loam", method="hose", latitude=38.0)
    advice = ask(plot, weather=Weather(past=past, forecast=ahead), on=on)
    assert advice.verdict is Verdict.WATER
    assert advice.depth_mm == pytest.approx(12.7 / 0.65, abs=0.1)  # a hose loses 35 %
    assert advice.minutes is None
    assert advice.litres_each
    assert 15 <= (advice.check_depth_cm or 0) <= 30
