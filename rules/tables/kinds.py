"""The tables and their columns. Each class is one table; README.md says what every column means."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import ClassVar

from rules.tables.rows import Row, choice, flag, needed, number, text, words

WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
CATEGORIES = (
    "lawn", "vegetable", "herb", "berry", "vine", "fruit_tree", "citrus", "nut", "ornamental", "container",
)  # fmt: skip


@dataclass(frozen=True, kw_only=True, eq=False)
class Soil(Row):
    """One USDA texture class. Water contents are m3/m3, `psi_fc` the tension at field capacity in kPa."""

    table: ClassVar[str] = "soils"
    name_en: str = text()
    name_es: str = text()
    names_en: tuple[str, ...] = words()
    names_es: tuple[str, ...] = words()
    fc: float = needed(0.03, 0.60, by="water")
    wp: float = needed(0.01, 0.45, by="water")
    psi_fc: float = needed(3, 50, by="psi")
    intake_mm_h: float = needed(0.5, 200, by="intake")
    sand_pct: float = needed(0, 100, by="texture")
    clay_pct: float = needed(0, 100, by="texture")
    neighbours: tuple[str, ...] = words(by="texture")
    feel_group: str = choice("", "coarse", "moderately_coarse", "medium", "fine", by="feel")
    tension_group: str = choice("", "sandy", "medium", "clay")


@dataclass(frozen=True, kw_only=True, eq=False)
class Plant(Row):
    """One plant, or a group of plants to fall back on. Depths are cm, coefficients relate to grass reference use."""

    table: ClassVar[str] = "plants"
    category: str = choice("", *CATEGORIES)
    generic: bool = flag()
    name_en: str = text()
    name_es: str = text()
    names_en: tuple[str, ...] = words()
    names_es: tuple[str, ...] = words()
    habit: str = choice("", "annual", "evergreen", "deciduous", "herbaceous")
    root_seedling_cm: float = needed(2, 100, by="root")
    root_young_cm: float = needed(2, 150, by="root")
    root_cm: float = needed(2, 250, by="root")
    root_max_cm: float | None = number(2, 400, by="rootmax")
    p: float = needed(0.05, 0.90, by="p")
    kc_ini: float = needed(0.05, 1.3, by="kc")
    kc_mid: float = needed(0.05, 1.3, by="kc")
    kc_end: float = needed(0.05, 1.3, by="kc")
    kc_dormant: float | None = number(0.05, 1.3, by="rest")
    ini_days: float | None = number(1, 200, by="days")
    dev_days: float | None = number(1, 200, by="days")
    mid_days: float | None = number(1, 300, by="days")
    late_days: float | None = number(1, 200, by="days")
    calendar: tuple[str, ...] = words(by="calendar")
    limits_like: str = text()
    too_wet: str = choice("", "low", "medium", "high", by="toowet")

    @cached_property
    def landmarks(self) -> tuple[tuple[int, str], ...]:
        """Day of the year (of a year without leap day, northern half, 38 degrees) on which each stage begins."""
        return tuple((_day_of_year(entry), entry.split()[1]) for entry in self.calendar)


def _day_of_year(entry: str) -> int:
    month, day = entry.split()[0].split("-")
    return (0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334)[int(month) - 1] + int(day)


@dataclass(frozen=True, kw_only=True, eq=False)
class Stage(Row):
    """One stage that a person can see, with the words for it."""

    table: ClassVar[str] = "stages"
    annual_phase: str = choice("", "ini", "dev", "mid", "late")
    names_en: tuple[str, ...] = words()
    names_es: tuple[str, ...] = words()


@dataclass(frozen=True, kw_only=True, eq=False)
class Limit(Row):
    """One published or reviewed limit of a plant at a stage.

    `tension`: kPa at which to water, `low_kpa` on days of high use and `high_kpa` on days of low use.
    `depletion`: share of the available water that may be used. `stress` marks a limit of planned stress.
    Only rows with `use` set a limit; the others are kept to be read.
    """

    table: ClassVar[str] = "limits"
    plant: str = text()
    stage: str = text(default="any")
    kind: str = choice("tension", "depletion")
    stress: bool = flag()
    soil: str = choice("", "sandy", "medium", "clay")
    low_kpa: float | None = number(2, 1500)
    high_kpa: float | None = number(2, 1500)
    depletion: float | None = number(0.05, 0.90)
    depth_cm: float | None = number(2, 200)
    meaning: str = text()
    use: bool = flag()


@dataclass(frozen=True, kw_only=True, eq=False)
class Delivery(Row):
    """One number about a way of watering. The id is `method.trait`, such as `drip.efficiency`."""

    table: ClassVar[str] = "delivery"
    value: float = needed(0, 1000)
    low: float | None = number(0, 1000)
    high: float | None = number(0, 1000)
    unit: str = text()


@dataclass(frozen=True, kw_only=True, eq=False)
class Instrument(Row):
    """One instrument: the range it can be believed in, its noise, and the depth it usually sits at."""

    table: ClassVar[str] = "instruments"
    quantity: str = choice("", "tension", "resistance", "percent", "dial", "feel", "rod")
    unit: str = text()
    low: float = needed(0, 100000, by="range")
    high: float = needed(0, 100000, by="range")
    insensitive_below: float | None = number(0, 1000, by="insensitive")
    noise: float | None = number(0, 1000, by="noise")
    noise_is: str = choice("", "absolute", "share", by="noise")
    depth_cm: float | None = number(1, 200, by="depth")
    settle_days: float | None = number(0, 60, by="settle")


@dataclass(frozen=True, kw_only=True, eq=False)
class Feel(Row):
    """One band of the feel-and-appearance method, by `group.band`: `low` to `high` of the available water."""

    table: ClassVar[str] = "feel"
    low: float = needed(0, 1)
    high: float = needed(0, 1)
    deficit_low_mm_per_m: float = needed(0, 300)
    deficit_high_mm_per_m: float = needed(0, 300)


@dataclass(frozen=True, kw_only=True, eq=False)
class FeelStep(Row):
    """One answer in the tree that finds a texture by hand. The id is `node.answer`; it leads to a node or to a soil."""

    table: ClassVar[str] = "texture_by_feel"
    next_node: str = text(by="")
    soil: str = text(by="")


@dataclass(frozen=True, kw_only=True, eq=False)
class Source(Row):
    """One citation. `seen`: `yes`, `secondary` (a copy that names it) or `no`."""

    table: ClassVar[str] = "sources"
    citation: str = text()
    where: str = text()
    seen: str = choice("yes", "secondary", "no", "own")


@dataclass(frozen=True, kw_only=True, eq=False)
class Restriction(Row):
    """One rule of a place on watering. Dates are ISO text; `place` is `*` for the whole county."""

    table: ClassVar[str] = "restrictions"
    place: str = text()
    weekdays_odd: tuple[str, ...] = words(by="")
    weekdays_even: tuple[str, ...] = words(by="")
    by_date: bool = flag(by="")
    hours: str = text(by="")
    rain_mm: float | None = number(0.1, 200)
    rain_hours: float | None = number(1, 336)
    exempt: tuple[str, ...] = words(by="")
    new_planting_days: float | None = number(0, 400)
    starts: str = text(by="")
    ends: str = text(by="")
    read_on: str = text(by="")
