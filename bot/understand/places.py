"""Places in figures: coordinates and postal codes, which are no values of a probe."""

from __future__ import annotations

from dataclasses import replace

from bot.understand.items import Item, Row, Rule, at, joined, kind_at, text_at
from bot.understand.numbers import starts_unit

_POSTAL_DIGITS = 5
_MOST_OHMS = 50_000.0  # above the range of any block: then five digits are a postal code all the same


def coordinates(row: Row, place: int) -> tuple[Item, int] | None:
    """ "39.9,-105.1", "36.12 N 97.05 W": a place, in degrees with west and south below zero."""
    north, here = at(row, place), place + 1
    if north is None or north.kind != "number" or abs(north.value) > 90 or "." not in north.text:
        return None
    south = text_at(row, here) == "s"
    here += text_at(row, here) in ("n", "s", "norte")
    lettered = here > place + 1
    here += text_at(row, here) == ","
    east = at(row, here)
    if east is None or east.kind != "number" or abs(east.value) > 180:
        return None
    west = text_at(row, here + 1) in ("w", "o", "oeste", "west") and (lettered or "." in east.text)
    exact = min(len(side.text.partition(".")[2]) for side in (north, east)) >= 2
    if not (west or lettered or (exact and starts_unit(row, here + 1) is False) or (east.value < 0 <= north.value)):
        return None
    latitude, longitude = (side.text.replace("- ", "-") for side in (north, east))
    latitude = f"-{latitude}" if south and north.value > 0 else latitude
    longitude = f"-{longitude}" if west and east.value > 0 else longitude
    end = here + 1 + (text_at(row, here + 1) in ("w", "o", "e", "oeste", "west", "east"))
    return joined("coordinates", f"{latitude},{longitude}", row[place:end]), end - place


_NEAR = frozenset({"near", "around", "cerca de", "de", "in", "en"})


def postal_code(probe: str | None) -> Rule:
    """The rule for five digits that stand alone: a postal code, unless the person's instrument shows ohms."""

    def rule(row: Row, place: int) -> tuple[Item, int] | None:
        item, before, after = row[place], at(row, place - 1), at(row, place + 1)
        opens = before is None or before.kind == "mark" or before.text in _NEAR
        alone = opens and (after is None or after.kind == "mark")
        if not alone or item.kind != "number" or not (len(item.text) == _POSTAL_DIGITS and item.text.isdigit()):
            return None
        return None if probe == "resistance" and float(item.value) < _MOST_OHMS else (replace(item, kind="postal"), 1)

    return rule


def postal_word(row: Row, place: int) -> tuple[Item, int] | None:
    """ "my zip is", where "we got zip" is nothing."""
    told = text_at(row, place + 1) in ("is", "code", ":") or kind_at(row, place + 1) in ("number", "small")
    return (replace(row[place], kind="zip"), 1) if row[place].text == "zip" and told else None
