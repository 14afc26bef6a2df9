"""Where a person waters: a ZIP code, a town, coordinates or one of the office's own places, made into a `Place`.

US ZIP codes and towns are those of the `zipcodes` package, time zones those of `tzfpy`. Both are loaded at the first
question, as together they take about half a second that a start-up should not wait for.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any, NamedTuple

from rapidfuzz import process
from rapidfuzz.distance import OSA

KM_A_DEGREE = 111.2  # of latitude, mean radius of the earth 6371 km
NEAR_KM = 25.0  # a point takes the county of the nearest ZIP code no farther away than this; our judgement

_COORDINATES = re.compile(r"\s*([-+]?\d{1,2}(?:\.\d+)?)\s*([NS]?)\s*,\s*([-+]?\d{1,3}(?:\.\d+)?)\s*([EW]?)\s*", re.I)
_ZIP = re.compile(r"\b(\d{5})(?:-\d{4})?\b")
_SHORT_WORDS = {"saint": "st", "mount": "mt", "fort": "ft"}

_STATES = """AL Alabama|AK Alaska|AZ Arizona|AR Arkansas|CA California|CO Colorado|CT Connecticut|DE Delaware
|DC District of Columbia|FL Florida|GA Georgia|HI Hawaii|ID Idaho|IL Illinois|IN Indiana|IA Iowa|KS Kansas|KY Kentucky
|LA Louisiana|ME Maine|MD Maryland|MA Massachusetts|MI Michigan|MN Minnesota|MS Mississippi|MO Missouri|MT Montana
|NE Nebraska|NV Nevada|NH New Hampshire|NJ New Jersey|NM New Mexico|NY New York|NC North Carolina|ND North Dakota
|OH Ohio|OK Oklahoma|OR Oregon|PA Pennsylvania|RI Rhode Island|SC South Carolina|SD South Dakota|TN Tennessee|TX Texas
|UT Utah|VT Vermont|VA Virginia|WA Washington|WV West Virginia|WI Wisconsin|WY Wyoming|PR Puerto Rico
|VI Virgin Islands|GU Guam|AS American Samoa|MP Northern Mariana Islands"""


@dataclass(frozen=True, kw_only=True)
class Place:
    """A point with the names around it. [degrees north and east] `county` and `state` are None where not known."""

    name: str
    latitude: float
    longitude: float
    timezone: str
    county: str | None = None
    state: str | None = None


class _Spot(NamedTuple):
    """One row to look up: a ZIP code, a town with the number of its ZIP codes, or a place of the office."""

    name: str
    zip: str
    state: str | None
    county: str | None
    latitude: float
    longitude: float
    zips: int = 1


def find(text: str, office_places: Iterable[Mapping[str, Any]] = ()) -> list[Place]:
    """The places that the text may mean, best first; several when one has to ask, none when nothing fits.

    Args:
        text: "74059", "36.12,-97.05", "town" or "town, state", or the name of one of the office's places.
        office_places: rows with `name`, and `zip` or `latitude` and `longitude`. They come before all others, and of
            several towns with one name the nearest to them comes first.
    """
    office = [spot for row in office_places if (spot := _office_spot(row))]
    point = _point(text)
    if point is not None:
        return [_at(*point)]
    own = _named(text, office)
    if own:
        return [_place(spot) for spot in own]
    zip_code = _ZIP.search(text)
    spots = _with_zip(zip_code[1]) if zip_code else _towns(text) or _alike(text, office) or _alike_towns(text)
    return [_place(spot) for spot in _nearest_first(spots, office)]


def is_place(row: Mapping[str, Any]) -> bool:
    """Whether a row of the office has a name and says where it is."""
    return isinstance(row.get("name"), str) and bool(row["name"].strip()) and _office_spot(row) is not None


def told_apart(place: Place) -> str:
    """A place told apart from others of its name, in words that can be looked up again."""
    return f"{place.name}, {place.state} ({place.county})" if place.county else f"{place.name}, {place.state or ''}"


def found_as(text: str, place: Place) -> str:
    """What to call a place that somebody named: the same words, or its own name where these were misspelled."""
    same = any(sign.isdigit() for sign in text) or _folded(place.name) in _folded(text) or not place.state
    return text if same else f"{place.name}, {place.state}"


def load() -> None:
    """Read the tables of towns and time zones now, so that the first question for a place needs not wait for them."""
    _place(_us_spots()[0])
    _towns("")


def _point(text: str) -> tuple[float, float] | None:
    match = _COORDINATES.fullmatch(text)
    if match is None:
        return None
    latitude = float(match[1]) * (-1 if match[2].upper() == "S" else 1)
    longitude = float(match[3]) * (-1 if match[4].upper() == "W" else 1)
    return (latitude, longitude) if abs(latitude) <= 90 and abs(longitude) <= 180 else None


def _at(latitude: float, longitude: float) -> Place:
    """A point, named after the nearest ZIP code's town; its county is that one's, which may be next door's."""
    here = _Spot(f"{latitude:g}, {longitude:g}", "", None, None, latitude, longitude)
    near = min(_us_spots(), key=lambda spot: _km(spot, here), default=here)
    if _km(near, here) > NEAR_KM:
        near = here
    return _place(near._replace(latitude=latitude, longitude=longitude))


def _place(spot: _Spot) -> Place:
    from tzfpy import get_tz

    return Place(
        name=spot.name,
        latitude=spot.latitude,
        longitude=spot.longitude,
        timezone=get_tz(spot.longitude, spot.latitude),
        county=spot.county,
        state=spot.state,
    )


def _named(text: str, spots: Iterable[_Spot]) -> list[_Spot]:
    """The spots of exactly that name or ZIP code."""
    return [spot for spot in spots if _folded(spot.name) == _folded(text) or spot.zip == text.strip()]


def _alike(text: str, spots: Sequence[_Spot]) -> list[_Spot]:
    names = _names_alike(_folded(text), {_folded(spot.name) for spot in spots})
    return [spot for spot in spots if _folded(spot.name) in names]


def _with_zip(zip_code: str) -> list[_Spot]:
    return [spot for spot in _us_spots() if spot.zip == zip_code][:1]


def _towns(text: str) -> list[_Spot]:
    """Towns of exactly that name, in the state if the text ends in one; "Kansas City" is tried as a whole first."""
    towns = _us_towns()
    for name, state in _splits(text):
        found = [town for town in towns.get(name, ()) if state in (None, town.state)]
        if found:
            return found
    return []


def _alike_towns(text: str) -> list[_Spot]:
    """Towns whose name is a typing slip away."""
    towns = _us_towns()
    for name, state in reversed(_splits(text)):
        names = {key for key, spots in towns.items() if state is None or any(spot.state == state for spot in spots)}
        found = [town for key in _names_alike(name, names) for town in towns[key] if state in (None, town.state)]
        if found:
            return found
    return []


def _splits(text: str) -> list[tuple[str, str | None]]:
    """The ways to read a text as a folded town name and a state: as a name alone, then with its end as the state."""
    words = _folded(text).split()
    splits: list[tuple[str, str | None]] = [(" ".join(words), None)]
    for length in (1, 2, 3):
        state = _states().get(" ".join(words[-length:]))
        if state and len(words) > length:
            splits.append((" ".join(words[:-length]), state))
    return splits


def _names_alike(name: str, names: Iterable[str]) -> list[str]:
    """The names at the smallest distance: one slip from five letters on, two from nine, a swap counting as one."""
    slips = 0 if len(name) < 5 else 1 if len(name) < 9 else 2
    found = process.extract(name, list(names), scorer=OSA.distance, score_cutoff=slips, limit=None)
    nearest = min((distance for _, distance, _ in found), default=0)
    return [match for match, distance, _ in found if distance == nearest]


def _nearest_first(spots: list[_Spot], office: Sequence[_Spot]) -> list[_Spot]:
    """Nearest to the office's own places; without any the largest first, by ZIP codes."""
    if not office:
        return sorted(spots, key=lambda spot: -spot.zips)
    return sorted(spots, key=lambda spot: min(_km(spot, own) for own in office))


def _office_spot(row: Mapping[str, Any]) -> _Spot | None:
    """A row of the office; one without coordinates stands where its ZIP code does, or nowhere."""
    name, zip_code = row.get("name") or "", row.get("zip") or ""
    known = next(iter(_with_zip(zip_code)), None) if zip_code else None
    latitude, longitude = _degrees(row.get("latitude"), 90), _degrees(row.get("longitude"), 180)
    if latitude is not None and longitude is not None:
        state, county = (known.state, known.county) if known else (None, None)
        return _Spot(name, zip_code, state, county, latitude, longitude)
    return known and _Spot(name, zip_code, known.state, known.county, known.latitude, known.longitude)


def _degrees(given: Any, most: float) -> float | None:
    try:
        degrees = float(given)
    except (TypeError, ValueError):
        return None
    return degrees if abs(degrees) <= most else None


@cache
def _us_spots() -> tuple[_Spot, ...]:
    """Every ZIP code in use; those of the package without a position, such as military ones, are left out."""
    import zipcodes

    rows = zipcodes.list_all()  # type: ignore[no-untyped-call]
    spots = (
        _Spot(row["city"], row["zip_code"], row["state"], row["county"] or None, float(row["lat"]), float(row["long"]))
        for row in rows
        if row["active"]
    )
    return tuple(spot for spot in spots if spot.latitude and spot.longitude)


@cache
def _us_towns() -> dict[str, list[_Spot]]:
    """Towns by folded name, one for each county that a town reaches into, in the middle of its ZIP codes there.

    Some ZIP codes, of post office boxes and large firms, have no county: they count where their town has no other.
    """
    spots = _us_spots()
    folded = {text: _folded(text or "") for text in {text for spot in spots for text in (spot.name, spot.county)}}
    by_town: dict[tuple[str, str | None], dict[str, list[_Spot]]] = {}
    for spot in spots:
        counties = by_town.setdefault((folded[spot.name], spot.state), {})
        counties.setdefault(folded[spot.county], []).append(spot)
    towns: dict[str, list[_Spot]] = {}
    for (name, _), by_county in by_town.items():
        if len(by_county) > 1:
            by_county.pop("", None)
        towns.setdefault(name, []).extend(_middle(of_county) for of_county in by_county.values())
    return towns


def _middle(spots: Sequence[_Spot]) -> _Spot:
    latitude = sum(spot.latitude for spot in spots) / len(spots)
    longitude = sum(spot.longitude for spot in spots) / len(spots)
    return spots[0]._replace(zip="", latitude=latitude, longitude=longitude, zips=len(spots))


@cache
def _states() -> dict[str, str]:
    """Folded abbreviation or name -> abbreviation."""
    pairs = [entry.strip().split(" ", 1) for entry in _STATES.split("|")]
    return {_folded(word): code for code, name in pairs for word in (code, name)}


def _folded(text: str) -> str:
    """Lower case, no accents, no marks, and saint, mount and fort in their short forms."""
    plain = unicodedata.normalize("NFKD", text.casefold()).encode("ascii", "ignore").decode()
    words = re.sub(r"[^a-z0-9]+", " ", plain.replace("'", "").replace(".", "")).split()
    return " ".join(_SHORT_WORDS.get(word, word) for word in words)


def _km(one: _Spot, other: _Spot) -> float:
    """Distance on a flat map, true enough for "which is nearer"."""
    east = (one.longitude - other.longitude) * math.cos(math.radians(one.latitude))
    return KM_A_DEGREE * math.hypot(one.latitude - other.latitude, east)
