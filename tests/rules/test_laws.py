"""Laws of the advice, held through the one door: what must be true whatever the plot, the season and the reading."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import date, timedelta

import numpy as np
from drawn_seasons import Season, drawn, wetter
from hypothesis import given, settings
from hypothesis import strategies as st

from rules import advise, season
from rules.balance import Depletion, Zone
from rules.estimate import Belief, Today, beginning, pass_day, stressed, weigh
from rules.evidence import Evidence
from rules.terms import Advice, Rain, Reading, Sign, Verdict, Watering, Weather

seeds = st.integers(0, 2**32 - 1)
shares = st.floats(0.02, 1.0)
law = settings(max_examples=120, deadline=None)


def _advice(case: Season) -> Advice:
    return advise(case.plot, case.observations, case.weather, case.on)


def _no_thirstier(dry: Advice, wet: Advice) -> None:
    """The wetter case never waters where the drier one waits, and never waters deeper. A CHECK promises nothing."""
    if Verdict.CHECK in (dry.verdict, wet.verdict):
        return
    assert not (dry.verdict is Verdict.WAIT and wet.verdict is Verdict.WATER)
    assert (wet.depth_mm or 0.0) <= (dry.depth_mm or 0.0) + 1e-9


@law
@given(seeds, shares)
def test_a_wetter_reading_today_never_asks_for_more_water(seed: int, share: float) -> None:
    case = drawn(seed)
    last = case.observations[-1]
    assert isinstance(last, Reading)
    wet = replace(case, observations=(*case.observations[:-1], wetter(last, share)))
    _no_thirstier(_advice(case), _advice(wet))


@law
@given(seeds, shares, st.integers(0, 99))
def test_a_wetter_reading_of_the_past_never_asks_for_more_water(seed: int, share: float, pick: int) -> None:
    case = drawn(seed)
    places = [at for at, event in enumerate(case.observations) if isinstance(event, Reading)]
    at = places[pick % len(places)]
    reading = case.observations[at]
    assert isinstance(reading, Reading)
    changed = (*case.observations[:at], wetter(reading, share), *case.observations[at + 1 :])
    _no_thirstier(_advice(case), _advice(replace(case, observations=changed)))


@law
@given(seeds, st.floats(0.5, 60), st.integers(0, 39))
def test_more_rain_on_a_past_day_never_asks_for_more_water(seed: int, more_mm: float, at: int) -> None:
    case = drawn(seed)
    past = list(case.weather.past)
    past[at] = replace(past[at], rain_mm=(past[at].rain_mm or 0.0) + more_mm)
    rainier = replace(case, weather=replace(case.weather, past=tuple(past)))
    _no_thirstier(_advice(case), _advice(rainier))


def test_more_rain_before_a_watering_without_amount_never_asks_for_more_water() -> None:
    """A vine on loamy sand, watered "some" and read on the last day; 45 mm more rain two weeks before."""
    case = drawn(675)
    assert any(isinstance(event, Watering) and event.minutes is None for event in case.observations)
    past = list(case.weather.past)
    past[25] = replace(past[25], rain_mm=(past[25].rain_mm or 0.0) + 45.0)
    _no_thirstier(_advice(case), _advice(replace(case, weather=replace(case.weather, past=tuple(past)))))


@law
@given(seeds, st.floats(0.5, 60), st.integers(0, 40))
def test_more_rain_in_the_gauge_never_asks_for_more_water(seed: int, more_mm: float, back: int) -> None:
    case = drawn(seed)
    on = case.on - timedelta(days=back)
    little, much = (
        replace(case, observations=(*case.observations, Rain(on=on, depth_mm=depth))) for depth in (2.0, 2.0 + more_mm)
    )
    _no_thirstier(_advice(little), _advice(much))


@law
@given(seeds, st.integers(0, 7), st.floats(0, 60), st.floats(0, 1))
def test_more_rain_to_come_or_a_greater_chance_never_asks_for_more_water(
    seed: int, at: int, more_mm: float, surer: float
) -> None:
    case = drawn(seed)
    ahead = list(case.weather.forecast)
    day = ahead[at]
    assert day.pop is not None
    ahead[at] = replace(day, rain_mm=(day.rain_mm or 0.0) + more_mm, pop=day.pop + surer * (1 - day.pop))
    rainier = replace(case, weather=replace(case.weather, forecast=tuple(ahead)))
    _no_thirstier(_advice(case), _advice(rainier))


@law
@given(seeds, st.integers(0, 40), st.floats(1, 40), st.floats(0, 60))
def test_a_deeper_watering_told_never_asks_for_more_water(
    seed: int, back: int, depth_mm: float, more_mm: float
) -> None:
    case = drawn(seed)
    on = case.on - timedelta(days=back)
    light, deep = (
        replace(case, observations=(Watering(on=on, depth_mm=depth), *case.observations))
        for depth in (depth_mm, depth_mm + more_mm)
    )
    _no_thirstier(_advice(light), _advice(deep))


@law
@given(seeds, st.sampled_from(["wilting", "yellow", "leaf_drop"]), st.sampled_from(["wet", "free_water"]))
def test_a_plant_that_ails_in_soil_wet_to_the_hand_is_never_watered(seed: int, sign: str, feel: str) -> None:
    case = drawn(seed)
    told = (*case.observations, Reading(on=case.on, quantity="feel", value=feel), Sign(on=case.on, sign=sign))
    assert _advice(replace(case, observations=told)).verdict is Verdict.WAIT


@law
@given(seeds)
def test_the_same_question_has_the_same_answer(seed: int) -> None:
    case = drawn(seed)
    assert _advice(case) == _advice(case)


@law
@given(seeds, st.text(max_size=12))
def test_a_plots_name_changes_nothing_but_the_name(seed: int, name: str) -> None:
    case = drawn(seed)
    renamed = replace(case, plot=replace(case.plot, name=name))
    assert replace(_advice(renamed), plot="A") == _advice(case)


@settings(max_examples=40, deadline=None)
@given(seeds)
def test_late_and_retracted_reports_and_any_order_of_questions_answer_as_a_full_replay_does(seed: int) -> None:
    case = drawn(seed, days=60)
    versions = [case, *_retold(case, random.Random(seed))]
    season.KNOWN.clear()
    season.MORNINGS.clear()
    warm = {at: _advice(versions[at]) for at in random.Random(seed + 1).sample(range(len(versions)), len(versions))}
    for at, version in enumerate(versions):
        season.KNOWN.clear()
        season.MORNINGS.clear()
        assert _advice(version) == warm[at]


def _retold(case: Season, luck: random.Random) -> list[Season]:
    """The season with a report missing, a report retracted, seen ten days earlier, and with one past day's rain corrected."""
    at = luck.randrange(len(case.observations))
    told = case.observations
    earlier = case.on - timedelta(days=10)
    past = list(case.weather.past)
    day = luck.randrange(len(past))
    past[day] = replace(past[day], rain_mm=17.0)
    return [
        replace(case, observations=told[:at] + told[at + 1 :]),
        replace(case, observations=(*told[:at], replace(told[at], in_force=False), *told[at + 1 :])),
        replace(case, on=earlier, weather=_seen_on(case.weather, earlier)),
        replace(case, weather=replace(case.weather, past=tuple(past))),
    ]


def _seen_on(weather: Weather, on: date) -> Weather:
    return Weather(past=tuple(day for day in weather.past if day.on < on), forecast=())


def test_a_retracted_report_counts_as_one_never_made() -> None:
    for seed in range(20):
        case = drawn(seed)
        at = seed % len(case.observations)
        told = case.observations
        retracted = _advice(
            replace(case, observations=(*told[:at], replace(told[at], in_force=False), *told[at + 1 :]))
        )
        never = _advice(replace(case, observations=told[:at] + told[at + 1 :]))
        assert replace(retracted, doubtful=()) == replace(never, doubtful=())


@law
@given(seeds)
def test_a_plot_among_others_is_believed_as_it_is_alone(seed: int) -> None:
    """The array functions on three plots at once and on each alone."""
    rng = np.random.default_rng(seed)
    plots, members = 3, 200
    zone = _zone(rng, plots, members)
    today = Today(*(rng.uniform(0, most, (plots, 1)) for most in (9.0, 20.0, 2.5, 15.0)))
    level = rng.uniform(-0.1, 1.1, (1, members))
    found = Evidence(level, level + rng.choice([0.0, 0.25]), 0.2, float(rng.uniform(5, 80)))
    together = weigh(zone, pass_day(zone, beginning(zone, 0.3), today), found, 60.0, 30.0)
    for plot in range(plots):
        own = _one(zone, plot)
        day = Today(*(getattr(today, name)[plot : plot + 1] for name in Today.__dataclass_fields__))
        alone = weigh(own, pass_day(own, beginning(own, 0.3), day), found, 60.0, 30.0)
        _equal(_plot_of(together, plot), alone)
        assert stressed(zone, together)[plot] == stressed(own, alone)[0]


def _zone(rng: np.random.Generator, plots: int, members: int) -> Zone:
    shape = (plots, members)
    return Zone(
        rng.uniform(5, 60, shape), rng.uniform(5, 90, shape), rng.uniform(0.2, 0.95, shape),
        rng.uniform(0.1, 0.8, shape), rng.uniform(0.7, 1.4, shape), rng.uniform(0.3, 0.8, shape),
    )  # fmt: skip


def _one(zone: Zone, plot: int) -> Zone:
    return Zone(**{name: getattr(zone, name)[plot : plot + 1] for name in Zone.__dataclass_fields__})


def _plot_of(belief: Belief, plot: int) -> Belief:
    own = slice(plot, plot + 1)
    depletion = Depletion(belief.depletion.upper_mm[own], belief.depletion.lower_mm[own])
    return Belief(depletion, belief.upper_sd[own], belief.lower_sd[own])


def _equal(one: Belief, other: Belief) -> None:
    np.testing.assert_array_equal(one.depletion.upper_mm, other.depletion.upper_mm)
    np.testing.assert_array_equal(one.depletion.lower_mm, other.depletion.lower_mm)
    np.testing.assert_array_equal(one.upper_sd, other.upper_sd)
    np.testing.assert_array_equal(one.lower_sd, other.lower_sd)


def test_more_rain_to_come_never_asks_for_more_water_where_the_ground_takes_no_more_turns() -> None:
    """A sprinkler on clay, 20 mm more on a day to come: turns of equal length once came out longer, and so deeper."""
    case = drawn(4754)
    ahead = list(case.weather.forecast)
    ahead[0] = replace(ahead[0], rain_mm=(ahead[0].rain_mm or 0.0) + 20.0)
    rainier = replace(case, weather=replace(case.weather, forecast=tuple(ahead)))
    _no_thirstier(_advice(case), _advice(rainier))
