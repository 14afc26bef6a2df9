"""Places. Towns are invented, unless a test reads the package's own rows to check that they are found again."""

import subprocess
import sys
from collections.abc import Iterator

import pytest
import zipcodes

from bot import places
from bot.places import Place, find

INVENTED = [
    # city, ZIP, state, county, latitude, longitude
    ("Quillmere", "00101", "OK", "Heron County", "36.10", "-96.10"),
    ("Quillmere", "00102", "OK", "Heron County", "36.30", "-96.10"),
    ("Quillmere", "00103", "OK", None, "36.90", "-96.90"),
    ("Quillmere", "00104", "KS", "Plover County", "38.50", "-97.00"),
    ("Two Fords", "00105", "OK", "Heron County", "36.20", "-96.50"),
    ("Two Fords", "00106", "OK", "Egret County", "36.25", "-96.60"),
    ("Saint Orla", "00107", "NC", "Curlew County", "35.50", "-79.00"),
    ("Bay Kansas", "00108", "TX", "Ibis County", "30.00", "-97.00"),
    ("Nowhere", "00109", "AE", None, "0", "0"),
    ("Quillmore Springs", "00110", "TX", "Ibis County", "30.20", "-97.10"),
]


@pytest.fixture
def towns(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    keys = ("city", "zip_code", "state", "county", "lat", "long")
    rows = [dict(zip(keys, row, strict=True)) | {"active": True} for row in INVENTED]
    retired = dict(rows[0]) | {"zip_code": "00199", "active": False}
    monkeypatch.setattr(zipcodes, "list_all", lambda: [*rows, retired])
    _forget()
    yield
    _forget()


def _forget() -> None:
    places._us_spots.cache_clear()
    places._us_towns.cache_clear()


def said(found: list[Place]) -> list[tuple[str, str | None, str | None]]:
    return [(place.name, place.state, place.county) for place in found]


@pytest.mark.parametrize("text", ["00101", " 00101 ", "00101-1234", "zip 00101", "Quillmere OK 00101"])
def test_a_zip_code_is_one_place(towns: None, text: str) -> None:
    assert find(text) == [
        Place(
            name="Quillmere",
            latitude=36.10,
            longitude=-96.10,
            timezone="America/Chicago",
            county="Heron County",
            state="OK",
        )
    ]


@pytest.mark.parametrize("text", ["00199", "00109", "99999"], ids=["retired", "without a position", "unknown"])
def test_a_zip_code_without_a_position_is_no_place(towns: None, text: str) -> None:
    assert find(text) == []


def test_a_town_name_that_fits_twice_gives_both_the_larger_first(towns: None) -> None:
    assert said(find("quillmere")) == [("Quillmere", "OK", "Heron County"), ("Quillmere", "KS", "Plover County")]


@pytest.mark.parametrize("text", ["Quillmere, OK", "quillmere oklahoma", "QUILLMERE ok"])
def test_a_state_settles_it(towns: None, text: str) -> None:
    assert said(find(text)) == [("Quillmere", "OK", "Heron County")]


def test_a_town_lies_amid_its_zip_codes_of_a_known_county(towns: None) -> None:
    (town,) = find("Quillmere OK")
    assert (town.latitude, town.longitude) == pytest.approx((36.20, -96.10))


def test_a_town_in_two_counties_gives_both(towns: None) -> None:
    assert {place.county for place in find("two fords ok")} == {"Heron County", "Egret County"}


def test_a_town_that_ends_like_a_state_is_a_town_first(towns: None) -> None:
    assert said(find("bay kansas")) == [("Bay Kansas", "TX", "Ibis County")]
    assert said(find("bay kansas texas")) == [("Bay Kansas", "TX", "Ibis County")]


@pytest.mark.parametrize("text", ["St. Orla", "saint orla", "st orla north carolina", "Saint Órla"])
def test_short_forms_and_accents_do_not_matter(towns: None, text: str) -> None:
    assert said(find(text)) == [("Saint Orla", "NC", "Curlew County")]


@pytest.mark.parametrize("text", ["quilmere ok", "quillmeer ok", "Quillmere's OK", "quillmrre oklahoma"])
def test_a_typing_slip_is_forgiven(towns: None, text: str) -> None:
    assert said(find(text)) == [("Quillmere", "OK", "Heron County")]


@pytest.mark.parametrize("text", ["", "  ", "?", "peaches", "45 cb", "ok", "bay", "36.1", "91,10", "two fjords of woe"])
def test_what_fits_nothing_gives_nothing(towns: None, text: str) -> None:
    assert find(text) == []


@pytest.mark.parametrize("text", ["36.12,-96.12", "36.12, -96.12", " 36.12N,96.12W ", "36.12 n , 96.12 w"])
def test_coordinates_are_one_place_with_the_nearest_county(towns: None, text: str) -> None:
    (place,) = find(text)
    assert (place.latitude, place.longitude, place.timezone) == (36.12, -96.12, "America/Chicago")
    assert (place.name, place.county, place.state) == ("Quillmere", "Heron County", "OK")


def test_coordinates_far_from_any_town_have_no_county(towns: None) -> None:
    assert find("-33.9,151.2") == [
        Place(name="-33.9, 151.2", latitude=-33.9, longitude=151.2, timezone="Australia/Sydney")
    ]


OFFICE = [
    {"name": "Quillmere", "zip": "00104", "latitude": "38.6", "longitude": "-97.1"},
    {"name": "Mill crossing", "zip": "", "latitude": 36.5, "longitude": -96.5},
    {"name": "Upper end", "zip": "00105", "latitude": "", "longitude": ""},
    {"name": "Unfinished", "zip": "", "latitude": "north", "longitude": None},
]


def test_the_offices_own_places_come_before_all_others(towns: None) -> None:
    (place,) = find("quillmere", OFFICE)
    assert (place.latitude, place.longitude, place.county) == (38.6, -97.1, "Plover County")
    assert find("00104", OFFICE) == [place]


def test_an_office_place_needs_no_zip_code_and_may_be_misspelt(towns: None) -> None:
    assert find("Mill crossing", OFFICE) == find("mil crossing", OFFICE)
    assert find("Mill crossing", OFFICE)[0].latitude == 36.5


def test_an_office_place_without_coordinates_stands_at_its_zip_code(towns: None) -> None:
    assert (find("upper end", OFFICE)[0].latitude, find("upper end", OFFICE)[0].county) == (36.20, "Heron County")
    assert find("unfinished", OFFICE) == []


def test_towns_near_the_offices_places_come_first(towns: None) -> None:
    near_the_small_one = [{"name": "desk", "latitude": "38.4", "longitude": "-97.0"}]
    assert [place.state for place in find("quillmere", near_the_small_one)] == ["KS", "OK"]


def test_the_packages_own_rows_are_found_again() -> None:
    rows = [row for row in zipcodes.list_all() if row["active"] and float(row["lat"]) != 0][::4000]
    for row in rows:
        (place,) = find(row["zip_code"])
        assert (place.latitude, place.longitude) == (float(row["lat"]), float(row["long"]))
        towns = find(f"{row['city']}, {row['state']}")
        assert row["city"].casefold() in {town.name.casefold() for town in towns}
        assert {town.state for town in towns} == {row["state"]}
    assert len(rows) >= 10


def test_nothing_heavy_is_loaded_before_the_first_question() -> None:
    code = "import sys, bot.places; print(sorted({'zipcodes', 'tzfpy'} & set(sys.modules)))"
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert out.strip() == "[]"
