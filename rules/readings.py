"""What one reading says of the water left, as evidence for the estimate and as one number for people."""

from __future__ import annotations

from dataclasses import dataclass, field

from rules import evidence
from rules.balance import Array
from rules.evidence import Evidence
from rules.instruments import Band, dial_band, feel_band, rod_band, tension_kpa, unusable
from rules.root_zone import RootZone
from rules.tables import Tables
from rules.terms import Reading

# A probe of the resistance kind tells nothing beyond this; a reading there is "at least this dry".
_DRIEST_KPA = 199.0
# Blocks read by resistance tell nothing between here and full.
_INSENSITIVE_KPA = 10.0


@dataclass(frozen=True)
class Readings:
    """Reads readings for one root zone.

    Args:
        category: kind of plant, for the push rod; `soil_id` the told soil, for the feel.
        usual_depth_cm: where the person's probe sits when the reading does not say; None: the middle of the upper layer.
        shown_at_full: what that probe shows where the ground is full; None: what the soil holds there. [m3/m3]
    """

    root: RootZone
    category: str
    soil_id: str | None
    probe: str | None
    usual_depth_cm: float | None
    shown_at_full: float | None
    tables: Tables
    known: dict[Reading, float | None] = field(default_factory=dict, compare=False)

    def evidence(self, reading: Reading) -> Evidence | None:
        """The reading as evidence; None for one that can't be used."""
        bounds = self._bounds(reading)
        if bounds is None:
            return None
        depth_cm = reading.depth_cm if reading.depth_cm is not None else self.usual_depth_cm
        noise = evidence.NOISE_SD[reading.quantity if reading.quantity != "resistance" else "tension"]
        return Evidence(*bounds, (noise**2 + evidence.PLACE_SD**2) ** 0.5, depth_cm)

    def share(self, reading: Reading) -> float | None:
        """Water left by the reading alone, the middle of what it may mean, worked out once. [0..1]"""
        if reading not in self.known:
            self.known[reading] = self._share(reading)
        return self.known[reading]

    def _share(self, reading: Reading) -> float | None:
        found = self.evidence(reading)
        if found is None:
            return None
        low, high = found.low.clip(-0.2, 1.2), found.high.clip(-0.2, 1.2)
        return float(((low + high) / 2).mean())

    def _bounds(self, reading: Reading) -> tuple[Array, Array] | None:
        value = reading.value
        if unusable(reading, self.probe) is not None:
            return None
        if reading.quantity == "feel":
            return _banded(feel_band(str(value), self.soil_id, self.tables))
        number = float(value)
        match reading.quantity:
            case "tension":
                return evidence.from_tension(number, self.root.soil, _DRIEST_KPA)
            case "resistance":
                kpa = tension_kpa(number, reading.soil_temp_c)
                return evidence.from_tension(kpa, self.root.soil, _DRIEST_KPA, _INSENSITIVE_KPA)
            case "percent":
                return evidence.from_percent(number, self.root.soil, self.shown_at_full)
            case "dial":
                return _banded(dial_band(number))
            case "rod":
                return _banded(rod_band(number, self.category))
        return None


def _banded(band: Band) -> tuple[Array, Array]:
    return evidence.from_band(band.low, band.high)
