"""The day's step of the root zone: water is neither made nor lost, and more water never ends in less."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rules.balance import Array, Depletion, Zone, step

MEMBERS = 7
PLOTS = 3


def _random_zone(rng: np.random.Generator, plots: int = PLOTS) -> Zone:
    shape = (plots, MEMBERS)
    return Zone(
        upper_mm=rng.uniform(1, 80, shape),
        lower_mm=rng.uniform(1, 160, shape),
        upper_roots=rng.uniform(0.2, 0.95, shape),
        stress_share=rng.uniform(0.05, 0.9, shape),
        plant_factor=rng.uniform(0.6, 1.5, shape),
        drain_rate=rng.uniform(0.3, 0.8, shape),
    )


def _random_start(rng: np.random.Generator, zone: Zone) -> Depletion:
    """From empty to a surplus of half a store."""
    return Depletion(
        rng.uniform(-0.5, 1, zone.upper_mm.shape) * zone.upper_mm,
        rng.uniform(-0.5, 1, zone.upper_mm.shape) * zone.lower_mm,
    )


def _water(rng: np.random.Generator, most_mm: float) -> Array:
    return np.where(rng.random((PLOTS, MEMBERS)) < 0.5, 0.0, rng.uniform(0, most_mm, (PLOTS, MEMBERS)))


seeds = st.integers(0, 2**32 - 1)
quick = settings(max_examples=200, deadline=None)


@quick
@given(seeds)
def test_water_in_is_the_change_of_the_stores_and_what_was_taken_and_drained(seed: int) -> None:
    rng = np.random.default_rng(seed)
    zone = _random_zone(rng)
    start, demand_mm, gain_mm = _random_start(rng, zone), rng.uniform(0, 15, (PLOTS, 1)), _water(rng, 150)
    end, flows = step(zone, start, demand_mm, gain_mm)
    gained_mm = start.total_mm - end.total_mm
    np.testing.assert_allclose(gained_mm + flows.taken_mm + flows.drained_mm, gain_mm, atol=1e-9)


@quick
@given(seeds)
def test_the_plant_takes_no_more_than_it_wants_and_the_ground_no_more_than_it_has(seed: int) -> None:
    rng = np.random.default_rng(seed)
    zone = _random_zone(rng)
    demand_mm = rng.uniform(0, 15, (PLOTS, 1))
    end, flows = step(zone, _random_start(rng, zone), demand_mm, _water(rng, 150))
    assert (flows.taken_mm >= 0).all()
    assert (flows.drained_mm >= 0).all()
    assert (flows.taken_mm <= demand_mm * zone.plant_factor + 1e-9).all()
    np.testing.assert_allclose(flows.taken_mm + flows.short_mm, demand_mm * zone.plant_factor, atol=1e-9)
    assert (end.upper_mm <= zone.upper_mm + 1e-9).all()
    assert (end.lower_mm <= zone.lower_mm + 1e-9).all()
    assert (end.upper_mm >= -0.5 * zone.upper_mm - 1e-9).all()


@quick
@given(seeds)
def test_more_water_at_the_start_or_in_the_day_never_leaves_a_layer_drier(seed: int) -> None:
    rng = np.random.default_rng(seed)
    zone = _random_zone(rng)
    start, demand_mm, gain_mm = _random_start(rng, zone), rng.uniform(0, 15, (PLOTS, 1)), _water(rng, 100)
    wetter = Depletion(start.upper_mm - _water(rng, 30), start.lower_mm - _water(rng, 30))
    dry, _ = step(zone, start, demand_mm, gain_mm)
    wet, _ = step(zone, wetter, demand_mm, gain_mm + _water(rng, 30))
    assert (wet.upper_mm <= dry.upper_mm + 1e-9).all()
    assert (wet.lower_mm <= dry.lower_mm + 1e-9).all()


@quick
@given(seeds)
def test_a_plot_among_others_fares_as_it_does_alone(seed: int) -> None:
    rng = np.random.default_rng(seed)
    zone = _random_zone(rng)
    start, demand_mm, gain_mm = _random_start(rng, zone), rng.uniform(0, 15, (PLOTS, 1)), _water(rng, 100)
    end, flows = step(zone, start, demand_mm, gain_mm)
    for plot in range(PLOTS):
        own = slice(plot, plot + 1)
        alone = Zone(**{name: getattr(zone, name)[own] for name in Zone.__dataclass_fields__})
        end_alone, flows_alone = step(
            alone, Depletion(start.upper_mm[own], start.lower_mm[own]), demand_mm[own], gain_mm[own]
        )
        np.testing.assert_array_equal(end.upper_mm[own], end_alone.upper_mm)
        np.testing.assert_array_equal(end.lower_mm[own], end_alone.lower_mm)
        np.testing.assert_array_equal(flows.drained_mm[own], flows_alone.drained_mm)


def _even_zone(upper_mm: float, lower_mm: float, roots: float, stress: float, drain: float) -> Zone:
    one = np.ones((1, 1))
    return Zone(upper_mm * one, lower_mm * one, roots * one, stress * one, one, drain * one)


def test_with_enough_water_the_layers_are_drawn_on_by_their_roots() -> None:
    """Arithmetic: both layers full, 5 mm wanted, 70 percent of the roots above: 3.5 and 1.5 mm."""
    zone = _even_zone(40, 60, 0.7, 0.5, 0.5)
    end, flows = step(zone, Depletion(np.zeros((1, 1)), np.zeros((1, 1))), np.full((1, 1), 5.0), np.zeros((1, 1)))
    assert (end.upper_mm.item(), end.lower_mm.item()) == pytest.approx((3.5, 1.5))
    assert flows.short_mm.item() == pytest.approx(0, abs=1e-12)


def test_a_plant_beyond_its_limit_takes_in_proportion_to_what_is_left() -> None:
    """FAO-56 Eq. 84: Ks = (TAW - Dr) / ((1 - p) TAW) = (100 - 75) / (0.5 x 100) = 0.5 with both layers equally dry.

    Beside it, wet roots stand in for dry ones up to a supply of 0.85 (ours): 0.5 / 0.85 of the demand.
    """
    zone = _even_zone(40, 60, 0.4, 0.5, 0.5)
    start = Depletion(np.full((1, 1), 30.0), np.full((1, 1), 45.0))
    _, flows = step(zone, start, np.full((1, 1), 5.0), np.zeros((1, 1)))
    assert flows.taken_mm.item() == pytest.approx(5 * 0.5 / 0.85)


def test_a_surplus_drains_by_its_rate_from_layer_to_layer() -> None:
    """Arithmetic: 10 mm over full above; half sinks, half of that leaves below."""
    zone = _even_zone(40, 60, 0.7, 0.5, 0.5)
    end, flows = step(zone, Depletion(np.zeros((1, 1)), np.zeros((1, 1))), np.zeros((1, 1)), np.full((1, 1), 10.0))
    assert (end.upper_mm.item(), end.lower_mm.item(), flows.drained_mm.item()) == pytest.approx((-5, -2.5, 2.5))
