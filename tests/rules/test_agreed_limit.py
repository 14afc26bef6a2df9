"""A limit agreed for one plot alone stands before every row from its first day to its last, and leave from a town's rule so too."""

from datetime import date, timedelta

import pytest

from rules import advise
from rules.history import history
from rules.restrictions import binding
from rules.tables import base, overlay
from rules.terms import Day, Plot, Reading, Verdict, Weather

ON = date(2026, 7, 14)
FROM, UNTIL = ON - timedelta(days=5), ON + timedelta(days=5)
PLOT = {"plant": "tomato", "soil": "loam", "latitude": 44.0, "method": "drip"}
AGREED = Plot(**PLOT, own_limit=0.3, own_from=FROM, own_until=UNTIL)
TOWN = """id,place,weekdays_odd,weekdays_even,starts,read_on,source
town,*,mon,mon,2026-05-01,2026-07-01,an invented notice"""


def weather(on: date) -> Weather:
    past = tuple(Day(on=on - timedelta(days=back), rain_mm=0.0, et0_mm=6.0) for back in range(20, 0, -1))
    return Weather(past=past, forecast=tuple(Day(on=on + timedelta(days=n), rain_mm=0.0, et0_mm=6.0) for n in range(7)))


# 0.6 is FAO-56's 1 - p for tomatoes (Table 22: p 0.40), what counts when nothing was agreed.
@pytest.mark.parametrize(
    ("day", "limit"),
    [
        (FROM - timedelta(days=1), 0.6),
        (FROM, 0.3),
        (UNTIL, 0.3),
        (UNTIL + timedelta(days=1), 0.6),
    ],
    ids=["the day before", "first day", "last day", "the day after"],
)
def test_it_counts_from_its_first_day_to_its_last(day: date, limit: float) -> None:
    given = advise(AGREED, (), weather(day), day)
    assert given.limit == pytest.approx(limit)
    assert any(row.startswith("plot:own_limit") for row in given.rows) == (limit == 0.3)


def test_what_would_be_watered_by_the_usual_limit_waits_by_the_agreed_one() -> None:
    told = (Reading(on=ON, quantity="feel", value="moist"),)  # 50 to 75 % left, by the USDA's feel method
    usual = advise(Plot(**PLOT), told, weather(ON), ON)
    agreed = advise(Plot(**PLOT, own_limit=0.3, own_from=FROM, own_until=UNTIL), told, weather(ON), ON)
    assert (usual.verdict, agreed.verdict) == (Verdict.WATER, Verdict.WAIT)


def test_the_season_is_drawn_with_the_limit_of_each_day() -> None:
    days = history(AGREED, (), weather(ON), ON).days
    limits = {day.on: day.limit for day in days}
    assert limits[FROM - timedelta(days=1)] == pytest.approx(0.6)
    assert limits[FROM] == pytest.approx(0.3)


def test_leave_from_a_rule_ends_with_its_day() -> None:
    tables = overlay(base(), {"restrictions.csv": TOWN})
    plot = Plot(**PLOT, let_off_until=ON)
    assert binding(plot, ON, (), tables) is None
    assert binding(plot, ON + timedelta(days=1), (), tables) is not None
