"""Water that a person brings by hand: few turns, and a can has no minutes."""

import pytest
from dry_spell import ask, felt, tomato

from rules.terms import Verdict


@pytest.mark.parametrize(("method", "turns"), [("hose", 3), ("sprinkler", 6)])
def test_somebody_with_a_hose_comes_back_twice_at_most(method: str, turns: int) -> None:
    """Turns that a person can be asked for: our judgement."""
    advice = ask(tomato(soil="clay", method=method, rate_mm_h=60.0), felt("dry"))
    assert (advice.verdict, advice.cycles) == (Verdict.WATER, turns)


def test_a_can_is_told_in_litres_for_each_plant_and_asks_for_no_rate() -> None:
    """0.3 square metres for a vegetable: the ground that its water is taken to wet."""
    advice = ask(tomato(method="can", rate_mm_h=None), felt("dry"))
    assert (advice.verdict, advice.minutes, advice.asks) == (Verdict.WATER, None, None)
    assert "rate" not in advice.assumed
    assert advice.depth_mm is not None
    assert advice.litres_each == pytest.approx(0.3 * advice.depth_mm, abs=0.1)
