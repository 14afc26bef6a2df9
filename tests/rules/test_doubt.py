"""A reading that soil can't give leads to CHECK, and to a hand in the soil; a hand settles it."""

from __future__ import annotations

import pytest
from dry_spell import MONDAY, ago, ask, felt, filled, probe, rule, spell, tomato

from rules.doubt import against_evidence, confirmed, in_frost, rose_without_cause, stuck
from rules.instruments import unusable
from rules.terms import Day, Rain, Reading, Verdict, Watering, Weather


def _run(kpa: float, days: tuple[int, ...]) -> list[Reading]:
    return [probe(kpa, back) for back in days]


def test_the_same_number_on_four_days_over_five_or_more_is_stuck() -> None:
    """Common practice, no published source."""
    assert len(stuck(_run(28, (8, 7, 6, 5, 4, 3, 2, 1, 0)))) == 9
    assert len(stuck(_run(28, (9, 6, 3, 0)))) == 4
    assert stuck(_run(28, (4, 3, 2, 1, 0))) == []
    assert stuck(_run(28, (9, 5, 0))) == []
    assert stuck([]) == []


def test_another_number_or_another_depth_breaks_the_run() -> None:
    assert stuck([*_run(28, (9, 6)), probe(30, 4), *_run(28, (3, 0))]) == []
    assert stuck([*_run(28, (9, 6)), probe(28, 3, depth_cm=60), probe(28, 0)]) == []


def test_a_probe_stuck_for_nine_days_is_checked_by_hand() -> None:
    advice = ask(tomato(), *_run(28, (8, 7, 6, 5, 4, 3, 2, 1, 0)))
    assert (advice.verdict, rule(advice), advice.doubt) == (Verdict.CHECK, "doubtful_reading", "stuck")


def test_a_stuck_run_is_left_out_of_the_estimate_but_for_its_first() -> None:
    advice = ask(tomato(), *_run(28, (8, 7, 6, 5, 4, 3, 2, 1, 0)))
    assert advice.doubtful == tuple(range(1, 9))


def test_zero_after_nine_dry_days_with_regular_reports_has_no_cause() -> None:
    before = (probe(20, 12), probe(25, 9), probe(40, 6), probe(60, 3))
    advice = ask(tomato(), *before, probe(0))
    assert (advice.verdict, advice.doubt, advice.date) == (Verdict.CHECK, "no_cause", ago(-1))


def test_zero_after_a_watering_is_believed() -> None:
    before = (probe(20, 12), probe(25, 9), probe(40, 6), probe(60, 3))
    assert ask(tomato(), *before, filled(1), probe(0)).verdict is Verdict.WAIT


def test_two_readings_that_agree_are_believed() -> None:
    share = {28.0: 0.8, 30.0: 0.75, 90.0: 0.3}
    today = probe(28)
    assert confirmed(today, [probe(30, 1)], lambda reading: share[float(reading.value)])
    assert not confirmed(today, [probe(90, 1)], lambda reading: share[float(reading.value)])
    assert not confirmed(today, [probe(30, 4)], lambda reading: share[float(reading.value)])


@pytest.mark.parametrize(
    ("reading", "reason"),
    [
        (probe(-1), "out_of_range"), (probe(300), "out_of_range"), (probe(199), None), (probe(0), None),
        (Reading(on=MONDAY, quantity="percent", value=101), "out_of_range"),
        (Reading(on=MONDAY, quantity="resistance", value=99999), "out_of_range"),
        (Reading(on=MONDAY, quantity="dial", value=11), "out_of_range"),
        (Reading(on=MONDAY, quantity="tension", value=100, soil_temp_c=-1), "frozen"),
    ],
)  # fmt: skip
def test_a_figure_beyond_its_scale_or_from_frozen_ground_is_no_reading(reading: Reading, reason: str | None) -> None:
    """Ends of the instruments' scales; ice does not conduct (common practice, no published source)."""
    assert unusable(reading, None) == reason
    advice = ask(tomato(), filled(3), reading)
    assert (advice.doubt == reason) if reason else advice.verdict is not None
    if reason:
        assert (advice.verdict, advice.doubtful) == (Verdict.CHECK, (1,))


def test_a_reading_left_out_changes_nothing_of_the_estimate() -> None:
    assert ask(tomato(), filled(3), probe(300)).water_left == ask(tomato(), filled(3)).water_left


def test_a_probe_at_its_end_after_days_of_drought_is_at_least_that_dry() -> None:
    advice = ask(tomato(), filled(14), probe(199))
    assert advice.verdict is Verdict.WATER
    assert advice.water_left == ask(tomato(), filled(14), probe(230)).water_left


def test_a_probe_at_its_dry_end_in_soil_that_should_be_moist_may_be_a_broken_wire() -> None:
    advice = ask(tomato(), filled(1), probe(199))
    assert (advice.verdict, advice.doubt) == (Verdict.CHECK, "out_of_range")


def test_a_reading_far_from_all_that_was_told_is_against_all_evidence() -> None:
    """A lawn that nobody watered for thirty hot days, and a reading as after rain."""
    lawn = tomato(plant="lawn_cool", planted_on=None)
    advice = ask(lawn, filled(25), probe(10, depth_cm=10))
    assert (advice.verdict, advice.doubt) == (Verdict.CHECK, "against_evidence")


def test_a_water_column_near_zero_though_plants_drank_for_days_has_let_air_in() -> None:
    """NCSU AG-452-2 on tensiometers; the figures are common practice."""
    advice = ask(tomato(), filled(9), probe(2))
    assert (advice.verdict, advice.doubt) == (Verdict.CHECK, "no_cause")


def test_a_hand_in_the_soil_settles_a_doubt() -> None:
    advice = ask(tomato(), filled(1), probe(199), felt("wet"))
    assert (advice.verdict, advice.doubt) == (Verdict.WAIT, None)


def test_against_evidence_is_a_matter_of_both_spreads() -> None:
    """2.4 standard deviations: sqrt(0.3^2 + 0.4^2) = 0.5, so beyond 1.2."""
    assert against_evidence(1.3, 0.3, 0.0, 0.4)
    assert not against_evidence(1.1, 0.3, 0.0, 0.4)


@pytest.mark.parametrize(
    ("cause", "doubted"),
    [
        ((), True),
        ((Watering(on=ago(2)),), False),
        ((Rain(on=ago(1), depth_mm=12),), False),
        ((Rain(on=ago(1)),), False),
        ((Rain(on=ago(1), depth_mm=0),), True),
    ],
)
def test_soil_gets_wetter_by_water_only(cause: tuple[Watering | Rain, ...], doubted: bool) -> None:
    dry = tuple(Day(on=ago(back), rain_mm=0.5) for back in range(5, 0, -1))
    share = {90.0: 0.3, 10.0: 0.9}
    found = rose_without_cause(probe(10), [probe(90, 3)], lambda reading: share[float(reading.value)], cause, dry)
    assert found is doubted


def test_rain_of_the_station_is_a_cause() -> None:
    wet = tuple(Day(on=ago(back), rain_mm=8.0) for back in range(5, 0, -1))
    share = {90.0: 0.3, 10.0: 0.9}
    assert not rose_without_cause(probe(10), [probe(90, 3)], lambda reading: share[float(reading.value)], (), wet)


def test_a_dry_spell_without_reading_raises_no_doubt() -> None:
    assert ask(tomato(), filled(12), weather=spell()).doubt is None


def _nights(*lows_c: float, warmer_c: float) -> tuple[Day, ...]:
    """The last nights, newest last, each day so much warmer."""
    return tuple(
        Day(on=ago(len(lows_c) - at), tmin_c=low, tmax_c=low + warmer_c, rain_mm=0.0) for at, low in enumerate(lows_c)
    )


@pytest.mark.parametrize(
    ("quantity", "days", "spoilt"),
    [
        ("tension", _nights(3, 1, 0, -1, 2, warmer_c=12), False),
        ("tension", _nights(3, 1, -2, -3, -4, warmer_c=12), True),  # a column freezes in three such nights
        ("percent", _nights(3, 1, -2, -3, -4, warmer_c=12), False),
        ("percent", _nights(-8, -9, -9, -10, -8, warmer_c=8), True),  # below zero day and night: the ground freezes
        ("feel", _nights(-8, -9, -9, -10, -8, warmer_c=8), False),
        ("tension", _nights(-9, -9, warmer_c=8), False),  # two days tell nothing
    ],
)
def test_days_of_frost_spoil_what_probes_say(quantity: str, days: tuple[Day, ...], spoilt: bool) -> None:
    """Common practice, no published source; the figures are our judgement."""
    reading = Reading(on=MONDAY, quantity=quantity, value="dry" if quantity == "feel" else 30.0)
    assert in_frost(reading, days) is spoilt


def test_a_probe_left_out_in_frost_is_checked_and_moves_nothing() -> None:
    frost = Weather(past=_nights(-3, -4, -4, -5, -3, warmer_c=10), forecast=())
    advice = ask(tomato(), filled(4), probe(190), weather=frost)
    assert (advice.verdict, advice.doubt) == (Verdict.CHECK, "frozen")
    assert advice.water_left == ask(tomato(), filled(4), weather=frost).water_left
