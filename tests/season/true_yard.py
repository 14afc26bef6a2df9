"""A yard as it truly is: soil, roots, equipment, rain and instrument differ from what the person told, and nobody knows how.

The ground is cut in layers of 10 cm and two halves that are watered unevenly. It shares no code with the estimate. All of
it is invented; the spreads are priors, not measurements.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rules.terms import Plot

# Water at full and at empty [m3/m3], tension at full [kPa], and the classes that a person mistakes it for.
TRUE_SOILS: dict[str, tuple[float, float, float, tuple[str, ...]]] = {
    "sand": (0.12, 0.045, 10, ("loamy_sand",)),
    "loamy_sand": (0.15, 0.065, 10, ("sand", "sandy_loam")),
    "sandy_loam": (0.21, 0.095, 12, ("loamy_sand", "loam", "sandy_clay_loam")),
    "loam": (0.27, 0.12, 28, ("sandy_loam", "silt_loam", "clay_loam")),
    "silt_loam": (0.30, 0.13, 28, ("loam", "silty_clay_loam")),
    "sandy_clay_loam": (0.26, 0.15, 20, ("sandy_loam", "clay_loam")),
    "clay_loam": (0.32, 0.19, 28, ("loam", "silty_clay_loam", "clay", "sandy_clay_loam")),
    "silty_clay_loam": (0.34, 0.20, 28, ("silt_loam", "clay_loam", "clay")),
    "clay": (0.37, 0.23, 28, ("clay_loam", "silty_clay_loam")),
}
# Rooted depth that people are told [cm], and share of the water that the plant can lose unhurt (FAO-56, Table 22).
PLANTS = {
    "tomato": (40, 0.40), "lawn_cool": (20, 0.40), "peach": (75, 0.50), "grape_table": (75, 0.35),
    "lettuce": (30, 0.30), "squash": (45, 0.50), "apple": (75, 0.50),
}  # fmt: skip
CAUGHT_MM = 2.0
FEEL_STEPS = ((0.25, "dry"), (0.5, "slightly_moist"), (0.75, "moist"), (1.05, "wet"))


@dataclass(frozen=True)
class Day:
    """What one day took. [mm]"""

    wanted_mm: float
    taken_mm: float


class TrueYard:
    """`plot` is what was told. An adviser sees of the truth what `read` gives, no more."""

    def __init__(self, seed: int) -> None:
        rng = self._rng = np.random.default_rng((seed, 5))
        told_soil, plant = str(rng.choice(list(TRUE_SOILS))), str(rng.choice(list(PLANTS)))
        method = str(rng.choice(["sprinkler", "drip"]))
        told_root_cm, p = PLANTS[plant]
        self.plot = Plot(
            soil=told_soil,
            plant=plant,
            root_depth_cm=float(told_root_cm),
            latitude=36.0,
            method=method,
            rate_mm_h=float(rng.choice([6, 10, 15, 25] if method == "sprinkler" else [3, 6, 12])),
            rate_source="label",
        )
        self._draw_soil(told_soil, told_root_cm / 100 * rng.lognormal(0, 0.22))
        self._use, self._stress = rng.lognormal(0, 0.12), float(np.clip(p * rng.lognormal(0, 0.15), 0.15, 0.75))
        self._reaches_soil = (0.75 if method == "sprinkler" else 0.9) * rng.lognormal(0, 0.18)
        self._uneven = rng.uniform(0.08, 0.30) if method == "sprinkler" else rng.uniform(0.04, 0.18)
        self._probe_cm = float(min(30, told_root_cm / 2))
        self._probe_half, self._probe_place = int(rng.integers(2)), 0.12 * rng.standard_normal()
        self._curve, self._volume = 0.4 * rng.standard_normal(), 0.03 * rng.standard_normal()
        self._instrument = str(rng.choice(["tension", "percent", "feel"], p=[0.5, 0.25, 0.25]))

    def _draw_soil(self, told: str, roots_m: float) -> None:
        rng = self._rng
        true = told if rng.random() < 0.7 else str(rng.choice(TRUE_SOILS[told][3]))
        full, empty, kpa, _ = TRUE_SOILS[true]
        self._empty = empty + 0.012 * rng.standard_normal()
        self._full = max(full + 0.02 * rng.standard_normal(), self._empty + 0.04)
        self._full_kpa = kpa * rng.lognormal(0, 0.2)
        self._drain = rng.uniform(0.3, 0.8)
        layers = max(2, round(roots_m / 0.1))
        self._layer_cm = 100 * roots_m / layers
        self._store_mm = 1000 * (self._full - self._empty) * roots_m / layers
        shares = np.interp(np.linspace(0, 1, layers + 1), [0, 0.25, 0.5, 0.75, 1], [0, 0.4, 0.7, 0.9, 1])
        self._roots = np.diff(shares)
        self._lacking_mm = np.full((2, layers), rng.uniform(0, 0.35) * self._store_mm)

    @property
    def water_left(self) -> float:
        """Share of the available water left in the true root zone; a surplus counts as full. [0..1]"""
        lacking = float(self._lacking_mm.mean(axis=0).sum())
        return float(1 - np.clip(lacking / (self._store_mm * len(self._roots)), 0, 1))

    def spend(self, handbook_use_mm: float, station_rain_mm: float, watered_mm: float) -> Day:
        """Let a day pass. `watered_mm` is what the clock and the told rate say was put on."""
        wanted = handbook_use_mm * self._use * self._rng.lognormal(0, 0.06)
        rain = max(self._rain_here(station_rain_mm) - CAUGHT_MM, 0.0)
        even = watered_mm * self._reaches_soil
        taken = [
            self._half_day(half, wanted, rain + even * share)
            for half, share in enumerate((1 - self._uneven, 1 + self._uneven))
        ]
        return Day(wanted, sum(taken) / 2)

    def _rain_here(self, station_mm: float) -> float:
        rng = self._rng
        if station_mm > 0:
            return 0.0 if rng.random() < 0.08 else station_mm * rng.lognormal(-0.125, 0.5) / 0.92
        return float(rng.exponential(5)) if rng.random() < 0.01 else 0.0

    def _half_day(self, half: int, wanted_mm: float, gained_mm: float) -> float:
        lacking = self._lacking_mm[half]
        lacking[0] -= gained_mm
        supply = np.clip((1 - lacking / self._store_mm) / (1 - self._stress), 0, 1)
        rooted = float((self._roots * supply).sum())
        taken = wanted_mm * self._roots * supply / max(rooted, 0.85)
        taken = np.minimum(taken, np.maximum(self._store_mm - lacking, 0))
        lacking += taken
        for layer in range(len(lacking)):
            surplus = max(-lacking[layer], 0.0)
            sinks = max(self._drain * surplus, surplus - 0.5 * self._store_mm)
            lacking[layer] += sinks
            if layer + 1 < len(lacking):
                lacking[layer + 1] -= sinks
        return float(taken.sum())

    def read(self) -> tuple[str, float | str, float]:
        """Quantity, value and depth as the person texts them."""
        layer = min(int(self._probe_cm / self._layer_cm), len(self._roots) - 1)
        left = 1 - self._lacking_mm[self._probe_half][layer] / self._store_mm + self._probe_place
        return self._instrument, self._shown(left), self._probe_cm

    def _shown(self, left: float) -> float | str:
        rng, theta = self._rng, self._empty + (self._full - self._empty) * left
        if self._instrument == "percent":
            return float(round(max(100 * (theta + self._volume + 0.015 * rng.standard_normal()), 1.0)))
        if self._instrument == "tension":
            bend = np.log(1500 / self._full_kpa) / np.log(self._full / self._empty)
            within = min(max(theta, 0.9 * self._empty), 1.1 * self._full)
            kpa = self._full_kpa * rng.lognormal(self._curve, 0.2) * (self._full / within) ** bend
            return float(round(min(max(kpa, 2), 199)))
        felt = left + 0.1 * rng.standard_normal()
        return next((name for up_to, name in FEEL_STEPS if felt < up_to), "free_water")
