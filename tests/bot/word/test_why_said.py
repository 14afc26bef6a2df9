"""The working can be redone on a calculator from the text alone (to the last figure said)."""

import re
from dataclasses import replace
from datetime import date

import pytest

from bot.word.say import Words
from rules.terms import Advice, Reason, Verdict

TODAY = date(2026, 7, 1)
EN, ES = Words("en", "us", "sms", TODAY), Words("es", "metric", "sms", TODAY)
# By hand: 150 mm/m over 60 cm holds 90 mm; 45 used is 50 %; less 3 of rain is 42; 42 / 0.75 = 56; 56 / 8 = 7 h.
BALANCE = Reason(
    rule="balance",
    numbers={"store_mm": 90.0, "depleted_mm": 45.0, "root_depth_cm": 60.0, "demand_mm_day": 5.0, "efficiency": 0.75,
             "rate_mm_h": 8.0, "soil": "sandy_loam"},
)  # fmt: skip
GIVEN = Advice(
    verdict=Verdict.WATER, plot="peaches", date=TODAY, depth_mm=56.0, minutes=420.0, water_left=0.5, limit=0.5,
    water_left_low=0.4, water_left_high=0.6, rain_counted_mm=3.0, assumed=("soil",),
    reasons=(BALANCE, Reason(rule="limit_near")), rows=("soils:sandy_loam:fc=0.23 (FAO56 T19)",),
)  # fmt: skip


def test_the_sums_in_metric():
    said = " ".join(ES.why(GIVEN))
    for words in (
        "franco arenosa",
        "90 mm en 60 cm",
        "50% (45 mm)",
        "3 mm",
        "para 42 mm se riegan 56 mm",
        "8 mm/h son 7 h",
    ):
        assert words in said


def test_the_sums_can_be_redone_in_inches():
    said = " ".join(EN.why(GIVEN))
    store, share, used = map(float, re.search(r"holds ([\d.]+) in .* About (\d+)% is used: ([\d.]+) in", said).groups())
    assert store * share / 100 == pytest.approx(used, abs=0.02)
    rain, gets, net, depth = map(
        float, re.search(r"off ([\d.]+) in. About (\d+)% .* so ([\d.]+) in takes ([\d.]+) in", said).groups()
    )
    assert used - rain == pytest.approx(net, abs=0.02)
    assert net / (gets / 100) == pytest.approx(depth, abs=0.02)
    rate = float(re.search(r"at ([\d.]+) in/h is 7 h", said).group(1))
    assert depth / rate == pytest.approx(7, rel=0.02)


@pytest.mark.parametrize("words", [EN, ES], ids=["en", "es"])
def test_it_takes_two_texts_of_one_segment(words):
    said = words.why(GIVEN)
    assert len(said) == 2
    assert [words.segments(text) for text in said] == [1, 1]


def test_elsewhere_it_is_one_text_with_everything():
    (said,) = Words("en", "us", "telegram", TODAY).why(GIVEN)
    assert "It could be 40% to 60% full." in said
    assert "I guessed: soil" in said


def test_guesses_are_named():
    assert "I guessed: soil" in " ".join(EN.why(GIVEN))


def test_a_pot_has_no_sums():
    pot = Advice(verdict=Verdict.WATER, plot="basil", date=TODAY, until_drains=True)
    assert EN.why(pot) == ["basil: a pot holds little, so wet all of it. When it runs out the holes it is full."]


def test_an_advice_without_numbers_says_so():
    assert EN.why(Advice(verdict=Verdict.WAIT, plot="lawn"))[0].startswith("I know too little")


def test_a_wait_tells_what_holds_it_back():
    waiting = Advice(
        verdict=Verdict.WAIT, plot="lawn", date=TODAY, reasons=(BALANCE, Reason(rule="not_a_watering_day"))
    )
    assert EN.why(waiting)[0].startswith("It is ready for water, but")


def test_sources_are_the_rows_used():
    assert EN.sources(GIVEN) == ["From: soils:sandy_loam:fc=0.23 (FAO56 T19)"]
    many = Advice(verdict=Verdict.WAIT, rows=tuple(f"limits:peach.{n}:low_kpa=49 (TA72)" for n in range(40)))
    assert [EN.segments(text) for text in EN.sources(many)] == [1, 1]
    assert EN.sources(Advice(verdict=Verdict.WAIT)) == ["I have no table rows to show for that one."]


def test_a_span_of_nothing_is_not_said():
    web = Words("en", "us", "telegram", TODAY)
    assert "It could be 40% to 60% full." in web.why(GIVEN)[0]
    assert "It could be" not in web.why(replace(GIVEN, water_left_low=0.996, water_left_high=1.0))[0]
