"""Watering rules of a place. The town and its notice are invented; the kinds of rule are those that towns print."""

from datetime import date, timedelta

import pytest

from rules import advise, restrictions
from rules.errors import TableError
from rules.tables import Tables, base, overlay
from rules.terms import Advice, Day, Plot, Reading, Verdict, Weather

ON = date(2026, 7, 14)  # a Tuesday
HEAD = "id,place,weekdays_odd,weekdays_even,by_date,hours,rain_mm,rain_hours,exempt,new_planting_days,starts,ends,read_on,source"
NOTICE = "water notice of an invented town"


def tables(*rows: str) -> Tables:
    return overlay(base(), {"restrictions.csv": "\n".join([HEAD, *(f"{row},{NOTICE}" for row in rows)])})


# Odd addresses on Monday and Thursday, even ones on Tuesday and Friday, from six in the evening; 48 h of pause after 6 mm.
TOWN = "town,Quail Hollow,mon;thu,tue;fri,,18:00-10:00,6,48,drip;can,21,2026-05-01,2026-09-30,2026-07-01"
DATES = "dates,*,,,yes,,,,,,2026-05-01,,2026-07-01"


def allowed(plot: Plot, days: list[date], rows: Tables, on: date = ON, weather: tuple[Day, ...] = ()) -> list[bool]:
    rule = restrictions.binding(plot, on, weather, rows)
    return [rule is None or rule.allows(day) for day in days]


def week(on: date = ON) -> list[date]:
    return [on + timedelta(days=n) for n in range(7)]


@pytest.mark.parametrize(
    ("house", "weekdays"), [("odd", [3, 0]), ("even", [1, 4]), (None, [])], ids=["odd", "even", "not known"]
)
def test_an_address_waters_on_its_own_weekdays(house: str | None, weekdays: list[int]) -> None:
    plot = Plot(place="quail hollow", house=house)
    days = [day for day, may in zip(week(), allowed(plot, week(), tables(TOWN)), strict=True) if may]
    assert sorted(day.weekday() for day in days) == sorted(weekdays)


def test_an_odd_address_skips_the_31st_that_two_odd_days_make() -> None:
    days = [date(2026, 7, 29), date(2026, 7, 30), date(2026, 7, 31), date(2026, 8, 1)]
    assert allowed(Plot(house="odd"), days, tables(DATES)) == [True, False, False, True]
    assert allowed(Plot(house="even"), days, tables(DATES)) == [False, True, False, False]


def test_rain_pauses_watering_for_its_hours() -> None:
    plot, rain = Plot(place="Quail Hollow", house="even"), (Day(on=ON - timedelta(days=1), rain_mm=8.0),)
    assert allowed(plot, [ON, ON + timedelta(days=3)], tables(TOWN), weather=rain) == [False, True]
    assert allowed(plot, [ON], tables(TOWN), weather=(Day(on=ON - timedelta(days=1), rain_mm=5.0),)) == [True]


@pytest.mark.parametrize(
    "plot",
    [
        Plot(place="Quail Hollow", house="odd", method="drip"),
        Plot(place="Quail Hollow", house="odd", planted_on=ON - timedelta(days=20)),
        Plot(place="Another Town", house="odd"),
        Plot(house="odd"),
    ],
    ids=["drip", "planted 20 days ago", "elsewhere", "nowhere"],
)
def test_whom_the_rule_lets_off_may_water(plot: Plot) -> None:
    assert allowed(plot, [ON], tables(TOWN)) == [True]


def test_after_21_days_new_sod_keeps_the_ordinary_rule() -> None:
    assert allowed(Plot(place="Quail Hollow", house="odd", planted_on=ON - timedelta(days=21)), [ON], tables(TOWN)) == [
        False
    ]


def test_a_rule_counts_from_its_first_day_to_its_last() -> None:
    plot = Plot(place="Quail Hollow", house="odd")
    seen = [
        restrictions.rule_of(plot, day, tables(TOWN)) is not None
        for day in (date(2026, 4, 30), date(2026, 5, 1), date(2026, 9, 30), date(2026, 10, 1))
    ]
    assert seen == [False, True, True, False]


def test_a_place_keeps_its_own_rule_before_the_countys() -> None:
    found = restrictions.rule_of(Plot(place="Quail Hollow"), ON, tables(TOWN, DATES))
    assert found is not None
    assert found.id == "town"


def test_a_notice_that_nobody_read_for_a_month_is_stale() -> None:
    rule = restrictions.binding(Plot(place="Quail Hollow"), ON, (), tables(TOWN))
    assert rule is not None
    assert [rule.stale(date(2026, 7, 31)), rule.stale(date(2026, 8, 1))] == [False, True]


def dry_lawn(house: str, rows: Tables, **facts: str) -> Advice:
    past = tuple(Day(on=ON - timedelta(days=n), tmax_c=34, tmin_c=20, rain_mm=0.0) for n in range(20, 0, -1))
    ahead = tuple(Day(on=ON + timedelta(days=n), tmax_c=35, tmin_c=21, rain_mm=0.0, pop=0.0) for n in range(7))
    plot = Plot(plant="lawn", soil="loam", latitude=36.1, longitude=-97.1, place="Quail Hollow", house=house, **facts)  # type: ignore[arg-type]
    reading = Reading(on=ON, quantity="feel", value="dry", depth_cm=15.0)
    return advise(plot, [reading], Weather(past=past, forecast=ahead), ON, tables=rows)


def test_a_dry_lawn_waits_for_the_day_that_the_rule_allows_and_its_need_is_told_all_the_same() -> None:
    advice = dry_lawn("odd", tables(TOWN))
    assert (advice.verdict, advice.date, advice.reasons[-1].rule) == (Verdict.WAIT, date(2026, 7, 16), "rule_of_place")
    assert advice.water_left is not None
    assert advice.limit is not None
    assert advice.water_left < advice.limit


def test_on_its_day_a_dry_lawn_is_watered_and_the_hours_are_told() -> None:
    advice = dry_lawn("even", tables(TOWN))
    assert advice.verdict is Verdict.WATER
    told = next(reason for reason in advice.reasons if reason.rule == "restriction")
    assert told.numbers["hours"] == "18:00-10:00"


def test_no_rule_changes_nothing() -> None:
    assert dry_lawn("odd", base()).verdict is Verdict.WATER
    assert dry_lawn("odd", tables(TOWN), method="drip").verdict is Verdict.WATER


@pytest.mark.parametrize(
    ("row", "column"),
    [
        ("x,,mon,tue,,,,,,,2026-05-01,,2026-07-01", "place"),
        ("x,*,moon,tue,,,,,,,2026-05-01,,2026-07-01", "weekdays_odd"),
        ("x,*,,,,,,,,,2026-05-01,,2026-07-01", "weekdays_odd"),
        ("x,*,mon,tue,,,,,,,May,,2026-07-01", "starts"),
        ("x,*,mon,tue,,,,,,,2026-05-01,never,2026-07-01", "ends"),
        ("x,*,mon,tue,,,,,,,2026-05-01,,", "read_on"),
    ],
)
def test_a_row_that_makes_no_rule_is_refused_by_its_column(row: str, column: str) -> None:
    with pytest.raises(TableError, match=column):
        tables(row)
