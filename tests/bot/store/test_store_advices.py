from __future__ import annotations

from dataclasses import fields
from datetime import date, datetime, timedelta
from typing import get_args, get_type_hints

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from store_talk import MORNING, Talk

from bot.store import Inputs, Store
from bot.store.forms import as_json, from_json
from rules.terms import Advice, Advised, Day, Observation, Plot, Rain, Reading, Reason, Sign, Verdict, Watering, Weather

TODAY = MORNING.date()
WEATHER = Weather(
    past=tuple(Day(on=TODAY - timedelta(days=back), tmax_c=31.0 + back / 3, rain_mm=0.1) for back in (3, 2, 1)),
    forecast=(Day(on=TODAY, pop=0.4, rain_mm=4.0),),
    source="file",
    as_of=datetime(2026, 7, 1, 6, 0),
)
ADVICE = Advice(
    verdict=Verdict.WATER,
    plot="peaches",
    date=TODAY,
    depth_mm=18.0,
    minutes=95,
    water_left=0.1 + 0.2,  # a float that decimal text easily loses
    limit=0.5,
    stress_on=TODAY,
    doubtful=(0, 2),
    reasons=(Reason(rule="below_limit", numbers={"water_left": 0.3, "since": TODAY, "days": (1, 2), "why": "dry"}),),
    cautions=("heat",),
    rows=("soils:sandy_loam:available=125 (HANDBOOK-X)",),
)
SEEN: tuple[Observation, ...] = (
    Reading(on=TODAY, quantity="tension", value=55.0, depth_cm=30.5, at=MORNING),
    Reading(on=TODAY, quantity="feel", value="moist"),
    Watering(on=TODAY, litres_each=18.9),
    Rain(on=TODAY),
    Sign(on=TODAY, sign="wilting", in_force=False),
    Advised(on=TODAY, depth_mm=18.0),
)
INPUTS = Inputs(
    plot=Plot(name="peaches", soil="clay", water_days=("mon",)), observations=SEEN, weather=WEATHER, on=TODAY
)


def keep(store: Store, talk: Talk, advice: Advice = ADVICE, inputs: Inputs = INPUTS) -> int:
    (plot,) = store.plots.of(talk.person) or (talk.plot(),)
    return store.advices.keep(
        plot, advice, inputs, at=MORNING, text="WATER today.", language="en", version="0.1.0", message=talk.say("55")
    )


def test_an_advice_comes_back_with_all_that_it_was_made_from(store: Store, talk: Talk) -> None:
    keep(store, talk)
    (plot,) = store.plots.of(talk.person)
    given_last = store.advices.last(plot)
    assert given_last is not None
    assert given_last.advice == ADVICE
    assert (given_last.on, given_last.at, given_last.message) == (TODAY, MORNING, 1)
    assert (given_last.text, given_last.language) == ("WATER today.", "en")
    assert (given_last.version, given_last.sent_by) == ("0.1.0", "line")
    assert store.advices.inputs(given_last) == INPUTS


def test_later_changes_leave_the_inputs_of_an_old_advice_alone(store: Store, talk: Talk) -> None:
    plot = talk.plot()
    store.facts.set(plot, "rate_mm_h", 3.0, at=MORNING)
    talk.reads(plot, 45.0)
    told = store.log.observations(plot)
    advised = Advised(on=TODAY, depth_mm=18.0)
    inputs = Inputs(
        plot=store.plots.by_id(plot.id).facts,
        observations=(*(each.term() for each in told), advised),
        weather=None,
        on=TODAY,
        reported=tuple(each.id for each in told),
    )
    keep(store, talk, inputs=inputs)
    store.facts.set(plot, "rate_mm_h", 6.0, at=MORNING)
    store.corrections.undo(talk.person, talk.say("undo"))
    old = store.advices.last(plot)
    assert old is not None
    assert store.advices.inputs(old) == inputs
    assert store.advices.inputs(old).plot.rate_mm_h == 3.0
    assert [type(each) for each in store.advices.inputs(old).observations] == [Reading, Advised]


def test_weather_seen_alike_is_kept_once(store: Store, talk: Talk) -> None:
    for _ in range(3):
        keep(store, talk)
    assert [row["n"] for row in store._database.rows("SELECT count(*) AS n FROM weather_seen")] == [1]


def test_advices_come_newest_first(store: Store, talk: Talk) -> None:
    plot = talk.plot()
    assert store.advices.last(plot) is None
    kept = [keep(store, talk) for _ in range(3)]
    assert [advice.id for advice in store.advices.of(plot)] == kept[::-1]
    assert [advice.id for advice in store.advices.of(plot, at_most=2)] == kept[:0:-1]


def test_a_number_that_is_not_finite_is_refused_and_nothing_kept(store: Store, talk: Talk) -> None:
    plot = talk.plot()
    with pytest.raises(ValueError, match="Out of range float"):
        keep(store, talk, advice=Advice(verdict=Verdict.WAIT, water_left=float("nan")))
    assert store.advices.last(plot) is None


def test_numbers_of_numpy_are_kept_as_numbers() -> None:
    advice = Advice(
        verdict=Verdict.WAIT, water_left=np.float64(0.25), reasons=(Reason(rule="r", numbers={"n": np.int64(3)}),)
    )
    assert from_json(Advice, as_json(advice)) == advice


@pytest.mark.parametrize("kind", [Inputs, Advice, Weather, Day, Plot, Reading, Watering, Rain, Sign, Advised])
def test_a_field_that_may_be_none_is_none_unless_told(kind: type) -> None:
    hints = get_type_hints(kind)
    open_fields = [each for each in fields(kind) if type(None) in get_args(hints[each.name])]
    assert [each.name for each in open_fields if each.default is not None] == []


def test_fields_of_another_program_version_do_no_harm() -> None:
    assert from_json(Day, '{"on": "2026-07-01", "fog_hours": 3}') == Day(on=date(2026, 7, 1))


numbers = st.none() | st.floats(allow_nan=False, allow_infinity=False)
days = st.dates(min_value=date(1900, 1, 1))


@settings(max_examples=60, deadline=None)
@given(st.lists(st.builds(Day, on=days, tmax_c=numbers, rain_mm=numbers, pop=numbers, et0_mm=numbers), max_size=5))
def test_any_weather_comes_back_to_the_last_bit(past: list[Day]) -> None:
    weather = Weather(past=tuple(past))
    assert from_json(Weather, as_json(weather)) == weather


def test_cautions_are_remembered_by_plot_and_by_person(store: Store, talk: Talk) -> None:
    plot = talk.plot()
    later = MORNING + timedelta(days=3)
    store.advices.caution(talk.person, "heat", MORNING)
    store.advices.caution(talk.person, "frost", MORNING, plot)
    store.advices.caution(talk.person, "frost", later, plot)
    assert store.advices.cautions(talk.person) == {"heat": MORNING}
    assert store.advices.cautions(talk.person, plot) == {"frost": later}
