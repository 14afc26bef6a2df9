"""The caution of frost: it goes beside a verdict and changes none."""

from dataclasses import replace

import pytest
from dry_spell import ask, felt, filled, peach, spell, tomato

from rules.freeze import _TENDER
from rules.tables import base
from rules.terms import Sign, Verdict, Weather


def _night(low_c: float, at: int) -> Weather:
    usual = spell()
    days = list(usual.forecast)
    days[at] = replace(days[at], tmin_c=low_c)
    return replace(usual, forecast=tuple(days))


@pytest.mark.parametrize(
    ("low_c", "at", "said"), [(0.1, 1, False), (0.0, 1, True), (-4.0, 2, True), (-4.0, 0, False), (-4.0, 3, False)]
)
def test_a_freeze_within_two_nights_is_told_of_a_tender_plant(low_c: float, at: int, said: bool) -> None:
    """32 F within 48 hours: Ask Extension no. 567792; a day's low is that of its dawn, so today's is past."""
    plain, cold = (ask(tomato(), filled(1), weather=weather) for weather in (spell(), _night(low_c, at)))
    assert ("freeze_plants" in cold.cautions) is said
    assert cold.verdict is plain.verdict


def test_a_hardy_plant_needs_no_caution_of_frost() -> None:
    assert ask(peach(), filled(1), weather=_night(-4.0, 1)).cautions == ()


def test_the_caution_of_frost_goes_with_water_too() -> None:
    advice = ask(tomato(), felt("dry"), weather=_night(-4.0, 1))
    assert (advice.verdict, advice.cautions) == (Verdict.WATER, ("freeze_plants",))


def test_a_dry_plot_whose_water_runs_off_is_told_how_to_water() -> None:
    """Texas A&M AgriLife, cycle and soak."""
    advice = ask(tomato(), filled(20), felt("dry"), Sign(on=spell().forecast[0].on, sign="runoff"))
    assert (advice.verdict, advice.cautions) == (Verdict.WATER, ("runoff",))


def test_every_tender_plant_stands_in_the_plant_table() -> None:
    assert _TENDER - base().plants.keys() == set()
