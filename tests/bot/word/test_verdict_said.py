"""One advice as one text. Wording is ours; what it must hold is the project's own rule."""

import random
from datetime import date
from itertools import product

import pytest
from drawn import DOUBTS, ORDINARY, TODAY, URGENCIES, advice

from bot.word import cautions
from bot.word.say import Words
from rules.terms import Advice, Reason, Verdict

EN, ES = Words("en", "us", "sms", TODAY), Words("es", "metric", "sms", TODAY)
LAWN = Advice(
    verdict=Verdict.WATER, plot="lawn", date=TODAY, depth_mm=17.8, minutes=95.0, water_left=0.41, limit=0.5,
    reaches_cm=45, check_depth_cm=45, urgency="today",
)  # fmt: skip


def changed(base: Advice, **fields) -> Advice:
    return Advice(**{**base.__dict__, **fields})


@pytest.mark.parametrize(
    ("fields", "starts"),
    [
        ({}, "WATER lawn today: 1 h 35 min (0.7 in)."),
        ({"urgency": "soon"}, "WATER lawn today or tomorrow: 1 h 35 min (0.7 in)."),
        ({"urgency": "late"}, "WATER lawn now: 1 h 35 min (0.7 in). It is past its limit."),
        ({"date": date(2026, 7, 3)}, "WATER lawn Fri Jul 3: 1 h 35 min (0.7 in)."),
        ({"minutes": None}, "WATER lawn today: 0.7 in."),
        ({"minutes": 660.0, "litres_each": 41.6}, "WATER lawn today: 11 h (11 gal each, 0.7 in)."),
        ({"minutes": None, "litres": 420.0}, "WATER lawn today: 111 gal in all (0.7 in)."),
        ({"cycles": 3, "cycle_minutes": 5.0, "rest_minutes": 60.0, "minutes": 15.0},
         "WATER lawn today: 3 runs of 5 min, 1 h apart (0.7 in)."),
        ({"assumed": ("soil",)}, "WATER lawn today: about 1 h 35 min (0.7 in)."),
        ({"plot": ""}, "WATER your plot today: 1 h 35 min (0.7 in)."),
        ({"until_drains": True, "depth_mm": None, "minutes": None}, "WATER lawn today: till it runs out the holes."),
    ],
)  # fmt: skip
def test_water_says_how_long_and_how_much(fields, starts):
    assert EN.advice(changed(LAWN, **fields)).startswith(starts)


def test_water_says_how_far_down_to_check_the_next_day():
    assert "it should be damp 18 in down" in EN.advice(LAWN)
    assert "debe haber humedad a 45 cm" in ES.advice(LAWN)


def test_spanish_says_the_same():
    assert ES.advice(LAWN).startswith("RIEGUE lawn hoy: 1 h 35 min (18 mm).")


def test_a_pot_is_never_told_a_depth():
    pot = changed(LAWN, until_drains=True, depth_mm=None, minutes=None, reaches_cm=None, check_depth_cm=None)
    assert EN.advice(pot) == "WATER lawn today: till it runs out the holes. WHY tells why."


def wait(**fields) -> Advice:
    return Advice(
        **{"verdict": Verdict.WAIT, "plot": "lawn", "date": date(2026, 7, 3), "water_left": 0.7, "limit": 0.5, **fields}
    )


def test_wait_names_the_day_to_look_again_and_the_limit():
    assert EN.advice(wait()) == "WAIT. lawn: look again Fri Jul 3. Water left: 70% (limit 50%). WHY tells why."


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"assumed": ("forecast",)}, "No forecast today."),
        ({"cautions": ("planned_stress",)}, "Kept dry on purpose."),
        ({"stress_on": date(2026, 7, 5)}, "It may need water Sun Jul 5."),
        ({"reasons": (Reason(rule="not_a_watering_day"),)}, "that is your next watering day."),
        ({"reasons": (Reason(rule="advised_already"),)}, "It has the water I asked for last"),
        ({"assumed": ("soil", "rate")}, "I had to guess the soil and water rate"),
    ],
)
def test_wait_says_what_else_matters(fields, words):
    assert words in EN.advice(wait(**fields))


@pytest.mark.parametrize("doubt", DOUBTS)
@pytest.mark.parametrize("words", [EN, ES], ids=["en", "es"])
def test_check_says_what_is_odd_and_how_to_test_by_hand(words, doubt):
    said = words.advice(
        Advice(verdict=Verdict.CHECK, plot="melons", doubt=doubt, check_depth_cm=30, cautions=("probe_doubt",))
    )
    assert said.startswith(("CHECK melons: ", "REVISE melons: "))
    assert all(f" {letter} " in said for letter in "ABCD")
    assert "12 in" in said or "30 cm" in said


@pytest.mark.parametrize(("doubt", "plot", "check_cm"), list(product(DOUBTS, ORDINARY, [None, 113.0])))
@pytest.mark.parametrize("words", [EN, ES], ids=["en", "es"])
def test_every_check_fits_one_segment(words, doubt, plot, check_cm):
    given = Advice(verdict=Verdict.CHECK, plot=plot, date=date(2026, 7, 8), doubt=doubt, check_depth_cm=check_cm)
    assert words.segments(words.advice(given)) == 1


@pytest.mark.parametrize("id_", [id_ for id_, caution in cautions.cautions().items() if caution.rank == 1])
@pytest.mark.parametrize("words", [EN, ES], ids=["en", "es"])
def test_danger_speaks_alone(words, id_):
    said = words.advice(changed(LAWN, cautions=("runoff", id_)), also=["Saved: lawn"])
    assert said == words.caution(id_) == words.several([LAWN, changed(LAWN, cautions=(id_,))])
    assert not any(verdict in said for verdict in ("WATER ", "WAIT", "CHECK ", "RIEGUE", "ESPERE ", "lawn"))


def test_one_other_caution_goes_with_the_verdict_the_most_urgent():
    said = EN.advice(changed(LAWN, cautions=("standing_water", "runoff", "salt")))
    assert said.startswith("WATER lawn today")
    assert EN.caution("runoff") in said
    assert EN.caution("salt") not in said
    assert EN.caution("standing_water") not in said


def test_what_must_follow_follows_and_what_can_wait_leaves():
    also = [EN.question("soil", "lawn")]
    said = EN.advice(changed(LAWN, assumed=("soil",)), also)
    assert also[0] in said
    assert EN.segments(said) <= 2
    assert "WHY" not in EN.advice(LAWN, ["Saved: lawn on Wed Jul 1: 45 cb at 12 in."])


def test_parts_leave_in_the_stated_order():
    """The room shrinks as the text that must follow grows."""
    order = ("WHY", "soak in", "for rain", "had to guess", "Next day", "Water left", "No forecast")
    full = changed(LAWN, reaches_cm=50, rain_counted_mm=9.0, assumed=("forecast", "soil"))
    kept = []
    for length in range(0, 90, 3):
        said = EN.advice(full, ["x" * length])
        kept.append([words in said for words in order])
        assert kept[-1] == sorted(kept[-1])  # what leaves first is never there without what leaves later
    assert kept[0].count(True) > kept[-1].count(True)


@pytest.mark.parametrize("words", [EN, Words("en", "metric", "sms", TODAY), ES, Words("es", "us", "sms", TODAY)])
def test_a_plain_verdict_is_one_segment(words):
    draw = random.Random(1)
    for _ in range(800):
        given = advice(draw, ORDINARY)
        said = words.advice(given)
        assert words.segments(said) == 1, said


def test_the_verdict_is_the_first_word_of_every_text():
    draw = random.Random(2)
    for given, words in product([advice(draw) for _ in range(200)], [EN, ES]):
        assert words.advice(given).split()[0].strip(".") == words.say(f"verdict.{given.verdict}")


@pytest.mark.parametrize("urgency", URGENCIES)
def test_other_channels_leave_nothing_out(urgency):
    words = Words("es", "metric", "telegram", TODAY)
    said = words.advice(
        changed(LAWN, urgency=urgency, reaches_cm=50, rain_counted_mm=9.0, assumed=("soil", "forecast"))
    )
    assert all(
        part in said
        for part in ("Al otro día", "Debe mojar", "Agua que queda", "lluvia que viene", "pronóstico", "PORQUE")
    )
