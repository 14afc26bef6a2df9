"""What a rod says the day after a watering. The figures are our judgement; the test itself is extension practice."""

from __future__ import annotations

import pytest
from dry_spell import ago, ask, filled, rule, tomato

from rules.rod_check import learned_rate_mm_h
from rules.terms import Reading, Verdict


def rod(inches: float, days: int = 0) -> Reading:
    return Reading(on=ago(days), quantity="rod", value=inches * 2.54)


@pytest.mark.parametrize(
    ("promised_cm", "found_cm", "rate"),
    [
        (20, 20, None),
        (20, 15, None),  # three quarters: within what stones and roots do
        (20, 26, None),
        (20, 10, 9.0),  # half as deep: half way from 12 to 6
        (20, 2, 6.6),  # a tenth: half way from 12 to 1.2
        (20, 0, 6.0),  # never below half
        (20, 60, 13.2),  # deeper: a tenth more at most
    ],
)
def test_the_rate_goes_half_way_to_what_the_rod_says_and_little_upwards(
    promised_cm: float, found_cm: float, rate: float | None
) -> None:
    assert learned_rate_mm_h(12.0, promised_cm, found_cm) == (None if rate is None else pytest.approx(rate))


def test_a_rod_far_past_the_roots_of_a_lawn_says_overwatered() -> None:
    """University of Arizona Cooperative Extension, Cochise County, "Soil Probes": beyond 12 in a lawn is overwatered."""
    lawn = tomato(plant="lawn_cool", planted_on=None)
    advice = ask(lawn, filled(12), rod(14))
    assert (advice.verdict, rule(advice)) == (Verdict.WAIT, "deep_rod")
    assert ask(lawn, filled(12), rod(3)).verdict is Verdict.WATER
