"""The facts of a plot as fields of a form: which there are, in whose units, and what a field may hold."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from bot.word.say import Words
from rules.tables import Tables
from rules.terms import Plot
from rules.units import CM_PER_INCH, LITRES_PER_GALLON, M2_PER_SQUARE_FOOT, MM_PER_INCH

DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
# Unit of a fact -> what it is called and worth in US units, and what it is called in metric ones.
_UNITS: dict[str, tuple[str, float, str]] = {
    "cm": ("in", CM_PER_INCH, "cm"),
    "mm_h": ("in/h", MM_PER_INCH, "mm/h"),
    "l_h": ("gal/h", LITRES_PER_GALLON, "L/h"),
    "m2": ("sq ft", M2_PER_SQUARE_FOOT, "m2"),
    "litres": ("gal", LITRES_PER_GALLON, "L"),
    "minutes": ("min", 1.0, "min"),
    "": ("", 1.0, ""),
}


@dataclass(frozen=True)
class Field:
    """One fact. `least` and `most` bound a number, in the fact's own SI unit (common sense, no published source)."""

    about: str
    label: str
    kind: str
    unit: str = ""
    least: float = 0.0
    most: float = 0.0


FIELDS = (
    Field("plant", "Plant", "choice"),
    Field("soil", "Soil", "choice"),
    Field("soil_source", "Soil known from", "choice"),
    Field("root_depth_cm", "Root depth", "number", "cm", 2, 300),
    Field("planted_on", "Planted on", "day"),
    Field("stage", "Stage", "choice"),
    Field("stress", "Kept dry on purpose", "choice"),
    Field("method", "Watered by", "choice"),
    Field("rate_mm_h", "Rate", "number", "mm_h", 0.1, 500),
    Field("rate_source", "Rate known from", "choice"),
    Field("emitters_each", "Emitters a plant", "number", "", 0.1, 100),
    Field("flow_l_h", "Flow of one emitter or hose", "number", "l_h", 0.1, 10_000),
    Field("count", "Plants", "number", "", 1, 1_000_000),
    Field("area_m2", "Watered ground", "number", "m2", 0.01, 10_000_000),
    Field("container_litres", "Pot", "number", "litres", 0.1, 5_000),
    Field("trunk_cm", "Trunk", "number", "cm", 0.1, 500),
    Field("probe", "Probe", "choice"),
    Field("probe_depth_cm", "Probe depth", "number", "cm", 1, 300),
    Field("runoff_minutes", "Runs off after", "number", "minutes", 1, 1440),
    Field("most_litres_a_day", "Most water a day", "number", "litres", 1, 10_000_000),
    Field("water_days", "Days on which watering is allowed", "days"),
)


@dataclass(frozen=True)
class Problem(Exception):
    """What a field holds that it must not; for the colleague who typed it."""

    says: str


def choices(field: Field, tables: Tables, words: Words) -> Sequence[tuple[str, str]]:
    """What a choice may be, and what it is called."""
    match field.about:
        case "plant":
            named = [(id_, plant.name_en) for id_, plant in tables.plants.items()]
            return sorted(named, key=lambda each: each[1].casefold())
        case "soil":
            return [(id_, soil.name_en) for id_, soil in tables.soils.items()]
        case "stage":
            return [(id_, id_.replace("_", " ")) for id_ in tables.stages]
        case "soil_source":
            return [("lab", "a laboratory"), ("felt", "texture by feel"), ("told", "told"), ("guess", "a guess")]
        case "rate_source":
            return [("measured", "measured"), ("label", "the label"), ("assumed", "a guess")]
        case "stress":
            return [("1", "yes"), ("0", "no")]
        case "method":
            return [(id_, words.name("method", id_)) for id_ in ("sprinkler", "drip", "soaker", "hose", "can", "flood")]
    return [(id_, words.name("probe", id_)) for id_ in ("tension", "resistance", "percent", "dial")]


def unit(field: Field, units: str) -> str:
    """What the number of a field is in."""
    us, _, metric = _UNITS[field.unit]
    return us if units == "us" else metric


def shown(field: Field, facts: Plot, units: str) -> str:
    """What a field holds before it is changed."""
    value = getattr(facts, field.about)
    if value is None:
        return ""
    if field.kind == "number":
        return f"{value / _worth(field, units):.4g}"
    return str(int(value)) if field.about == "stress" else str(value)


def changes(
    form: Mapping[str, Any], days: Sequence[str], facts: Plot, units: str, allowed: Mapping[str, set[str]]
) -> dict[str, Any]:
    """The facts that the form changes, in SI.

    Args:
        days: the weekdays that were marked.
        allowed: of each choice what it may be.
    Raises: Problem.
    """
    found: dict[str, Any] = {}
    for field in FIELDS:
        if field.kind == "days":
            marked = tuple(day for day in DAYS if day in days)
            if marked != facts.water_days:
                found[field.about] = marked
        elif field.about in form and form[field.about].strip() != shown(field, facts, units):
            found[field.about] = _read(field, form[field.about].strip(), units, allowed)
    return found


def _read(field: Field, text: str, units: str, allowed: Mapping[str, set[str]]) -> Any:
    if not text:
        return None
    if field.kind == "number":
        return _number(field, text, units)
    if field.kind == "day":
        try:
            return date.fromisoformat(text)
        except ValueError:
            raise Problem(f"{field.label}: write the day as 2026-04-30.") from None
    if text not in allowed[field.about]:
        raise Problem(f"{field.label}: choose one of the list.")
    return text == "1" if field.about == "stress" else text


def _number(field: Field, text: str, units: str) -> float:
    try:
        value = float(text.replace(",", ".")) * _worth(field, units)
    except ValueError:
        raise Problem(f"{field.label}: write a number.") from None
    if not field.least <= value <= field.most:
        worth = _worth(field, units)
        span = f"{field.least / worth:.3g} to {field.most / worth:,.0f} {unit(field, units)}".strip()
        raise Problem(f"{field.label}: {text} can't be right; it goes from {span}.")
    return value


def _worth(field: Field, units: str) -> float:
    """How much one of the people's units is in SI."""
    return _UNITS[field.unit][1] if units == "us" else 1.0


@dataclass(frozen=True)
class Fields:
    """The fields of one plot as a page shows them."""

    facts: Plot
    tables: Tables
    words: Words

    @property
    def units(self) -> str:
        return self.words.units

    def choices(self, field: Field) -> Sequence[tuple[str, str]]:
        return choices(field, self.tables, self.words)

    def shown(self, field: Field) -> str:
        return shown(field, self.facts, self.units)

    def unit(self, field: Field) -> str:
        return unit(field, self.units)

    def said(self, field: Field) -> str:
        """The value in words; nothing where it is not known."""
        value = self.shown(field)
        if field.kind == "choice" and value:
            return dict(self.choices(field)).get(value, value)
        if field.kind == "days":
            return ", ".join(self.facts.water_days)
        return f"{value} {self.unit(field)}".strip() if value else ""

    def allowed(self) -> dict[str, set[str]]:
        return {field.about: {id_ for id_, _ in self.choices(field)} for field in FIELDS if field.kind == "choice"}
