"""Numbers and days as people are told them. 25.4 mm = 1 in and 3.785411784 L = 1 gal by definition."""

import re
from datetime import date, timedelta

import pytest

from bot.word.amounts import Amounts

TODAY = date(2026, 7, 1)  # a Wednesday
US, METRIC = Amounts("en", "us", TODAY), Amounts("es", "metric", TODAY)


@pytest.mark.parametrize(
    ("name", "value", "us", "metric"),
    [
        ("water_advised_mm", 18.0, "0.7 in", "18 mm"),
        ("water_advised_mm", 19.05, "0.75 in", "19 mm"),
        ("water_advised_mm", 41.0, "1.6 in", "41 mm"),
        ("water_advised_mm", 0.4, "0.05 in", "1 mm"),
        ("rain_mm", 10.16, "0.4 in", "10.2 mm"),
        ("rain_mm", 6.35, "0.25 in", "6.3 mm"),
        ("depth_cm", 30.48, "12 in", "30 cm"),
        ("depth_cm", 45.0, "18 in", "45 cm"),
        ("short_cm", 2.54, "1 in", "2.5 cm"),
        ("top_cm", 5.0, "2 in", "5 cm"),
        ("clear_m", 3.05, "10 ft", "3 m"),
        ("rate_mm_h", 16.93, "0.67 in/h", "16.9 mm/h"),
        ("rate_mm_h", 1.0, "0.039 in/h", "1 mm/h"),
        ("minutes", 45, "45 min", "45 min"),
        ("minutes", 110, "1 h 50 min", "1 h 50 min"),
        ("minutes", 240, "4 h", "4 h"),
        ("minutes", 0.2, "1 min", "1 min"),
        ("litres", 18.93, "5 gal", "19 L"),
        ("litres_each", 8.52, "2.3 gal", "8.5 L"),
        ("litres", 45000.0, "11,888 gal", "45,000 L"),
        ("flow_l_h", 3.785, "1 gal/h", "3.8 L/h"),
        ("area_m2", 9.2903, "100 sq ft", "9.3 m2"),
        ("high_c", 35.0, "95°F", "35°C"),
        ("left_share", 0.406, "41%", "41%"),
        ("count", 40.0, "40", "40"),
        ("stress", True, "yes", "sí"),
    ],
)
def test_a_value_is_said_by_the_end_of_its_name(name, value, us, metric):
    assert (US.say(name, value), METRIC.say(name, value)) == (us, metric)


@pytest.mark.parametrize(
    ("ahead", "on", "when_en", "when_es"),
    [
        (0, "Wed Jul 1", "today", "hoy"),
        (1, "Thu Jul 2", "tomorrow", "mañana"),
        (-1, "Tue Jun 30", "yesterday", "ayer"),
        (2, "Fri Jul 3", "Fri Jul 3", "el vie 3 jul"),
        (7, "Wed Jul 8", "Wed Jul 8", "el mié 8 jul"),
    ],
)
def test_days_are_said_as_near_or_by_name(ahead, on, when_en, when_es):
    day = TODAY + timedelta(days=ahead)
    assert (US.say("on", day), US.say("when", day), METRIC.say("when", day)) == (on, when_en, when_es)


def test_a_told_depth_reads_back_as_it_was():
    for hundredths in range(1, 400):
        told = float(re.fullmatch(r"([\d.]+) in", US.depth(hundredths * 0.254)).group(1))
        assert told == pytest.approx(hundredths / 100, abs=1e-9)


def test_an_advised_depth_is_within_a_tenth_of_what_was_worked_out():
    for mm in range(5, 120):
        said = float(re.fullmatch(r"([\d.]+) in", US.advised_depth(mm)).group(1)) * 25.4
        assert said == pytest.approx(mm, rel=0.1)


def test_a_run_time_reads_back_to_the_minute():
    for minutes in range(1, 1500, 7):
        hours, rest = re.fullmatch(r"(?:(\d+) h)? ?(?:(\d+) min)?", US.duration(minutes)).groups(default="0")
        assert 60 * int(hours) + int(rest) == minutes


@pytest.mark.parametrize(
    ("things", "said"), [([], ""), (["a"], "a"), (["a", "b"], "a and b"), (["a", "b", "c"], "a, b and c")]
)
def test_things_are_listed(things, said):
    assert US.listed(things) == said
