"""What instruments show: when a figure can be used at all, and the bands that coarse instruments stand for.

Which share of the available water a tension or a water content means hangs on the soil and is judged elsewhere.
"""

from __future__ import annotations

from dataclasses import dataclass

from rules.evapotranspiration import air_pressure_kpa
from rules.tables import Tables
from rules.terms import Reading
from rules.units import CM_PER_INCH

# Figures beyond these can't be what the soil says. Readers of granular-matrix sensors stop at 199, 239 or 255 kPa; the
# high-range equation ends at 35 kohm (an open circuit reads more); the others are the ends of their scales.
POSSIBLE = {
    "tension": (0.0, 255.0),
    "resistance": (0.0, 35000.0),
    "percent": (0.0, 100.0),
    "dial": (0.0, 10.0),
    "rod": (0.0, 200.0),
}
# A water column breaks near 870 cm at sea level (Stannard 1992), whatever the gauge says.
COLUMN_BREAKS_KPA = 85.3
SEA_LEVEL_KPA = 101.3
# Ice does not conduct: probes read very dry in frozen ground (common practice, no published source).
FREEZES_C = 0.0
_IN_FROZEN_GROUND = ("tension", "resistance", "percent")

# The temperature at which the equations need no correction, taken where none was told.
USUAL_SOIL_TEMP_C = 24.0
_COLDEST_SOIL_C, _HOTTEST_SOIL_C = 0.0, 40.0  # the middle equation runs away beyond

# University of Arizona Cooperative Extension, Cochise County, "Soil Probes": up to 4 in water now, from 5 in wait,
# beyond 12 in (lawns, gardens), 24 in (shrubs), 36 in (trees) overwatered. Vines and berries go with shrubs: our
# judgement. [cm]
ROD_DRY_CM = 4.5 * CM_PER_INCH
ROD_DEEP_CM = {
    "berry": 24 * CM_PER_INCH,
    "vine": 24 * CM_PER_INCH,
    "ornamental": 24 * CM_PER_INCH,
    "fruit_tree": 36 * CM_PER_INCH,
    "citrus": 36 * CM_PER_INCH,
    "nut": 36 * CM_PER_INCH,
}
ROD_DEEP_ELSE_CM = 12 * CM_PER_INCH


@dataclass(frozen=True)
class Band:
    """What a coarse instrument says: a word, and the share of available water from `low` to `high`. Over 1: surplus."""

    name: str
    low: float
    high: float


# The shares of rod and dial bands are our judgement; no conversion of a dial is published, so its bands overlap.
_ROD_BANDS = (Band("dry", 0.0, 0.45), Band("enough", 0.45, 1.0), Band("overwatered", 0.9, 1.2))
_DIAL_BANDS = (Band("dry", 0.0, 0.55), Band("moist", 0.25, 0.9), Band("wet", 0.6, 1.2))


def tension_kpa(resistance_ohm: float, soil_temp_c: float | None = None) -> float:
    """Tension from the resistance of a granular-matrix sensor. [kPa]

    Three ranges: Shock, Barnum, Seddigh (1998) from 1 to 8 kohm, Allen (2000) outside. Chosen over the 1987 equation
    (fitted to 100 kPa only) and the linear one (21 degrees only) because it spans the sensor's range and carries the
    soil temperature; the three differ by 10 to 50 percent. Differs: where the ranges meet in cold soil the upper one
    would fall below the lower; it is held level there, so that a drier sensor never reads wetter.

    Args:
        soil_temp_c: at the sensor; 24 where it is not known, held within 0 to 40.
    """
    kohm = resistance_ohm / 1000
    temp_c = USUAL_SOIL_TEMP_C if soil_temp_c is None else min(max(soil_temp_c, _COLDEST_SOIL_C), _HOTTEST_SOIL_C)
    warmth = 1 + 0.018 * (temp_c - 24)
    if kohm < 1:
        return max((23.156 * kohm - 12.736) * warmth, 0.0)
    middle = _middle_range_kpa(min(kohm, 8.0), temp_c)
    if kohm <= 8:
        return middle
    return max(2.246 + 5.239 * kohm * warmth + 0.06756 * (kohm * warmth) ** 2, middle)


def _middle_range_kpa(kohm: float, temp_c: float) -> float:
    return (4.093 + 3.213 * kohm) / (1 - 0.009733 * kohm - 0.01205 * temp_c)


def tensiometer_top_kpa(sea_level_top_kpa: float, elevation_m: float | None) -> float:
    """The highest tension that a water column can show at a height, falling with the air pressure. [kPa]"""
    return sea_level_top_kpa * float(air_pressure_kpa(elevation_m or 0.0)) / SEA_LEVEL_KPA


def unusable(reading: Reading, probe: str | None, elevation_m: float | None = None) -> str | None:
    """Why a reading can't be used at all, taken alone: `out_of_range` or `frozen`; None for a usable one.

    Args:
        probe: what the person's instrument is; only `tensiometer` narrows what a tension can be.
        elevation_m: height of the plot; the sea level where it is not known. [m]
    """
    if isinstance(reading.value, str) or reading.quantity not in POSSIBLE:
        return None
    if reading.soil_temp_c is not None and reading.soil_temp_c <= FREEZES_C and reading.quantity in _IN_FROZEN_GROUND:
        return "frozen"
    low, high = POSSIBLE[reading.quantity]
    if reading.quantity == "tension" and probe == "tensiometer":
        high = tensiometer_top_kpa(COLUMN_BREAKS_KPA, elevation_m)
    return None if low <= reading.value <= high else "out_of_range"


def rod_band(pushed_cm: float, category: str) -> Band:
    """What a rod says that was pushed in so far: it goes through wet ground and stops at dry.

    Args:
        category: of the plant table, such as `lawn` or `fruit_tree`; anything else counts as a garden.
    """
    dry, enough, overwatered = _ROD_BANDS
    if pushed_cm < ROD_DRY_CM:
        return dry
    return overwatered if pushed_cm > ROD_DEEP_CM.get(category, ROD_DEEP_ELSE_CM) else enough


def dial_band(shown: float) -> Band:
    """What a hand meter from 0 to 10 says: dry, moist or wet, and no more; it tells a trend in one spot."""
    dry, moist, wet = _DIAL_BANDS
    return dry if shown <= 3 else moist if shown <= 7 else wet


def feel_band(feel: str, soil: str | None, tables: Tables) -> Band:
    """What a feel says, by the bands of the soil's feel group; those of a loam where the soil is not known.

    Raises: KeyError, for a feel that the table does not have.
    """
    known = tables.soils.get(soil or "")
    row = tables.feel[f"{known.feel_group if known else 'medium'}.{feel}"]
    return Band(feel, row.low, row.high)
