"""Several plots in one text: what needs water first, nothing lost, at most two segments."""

from datetime import date

from bot.word.say import Words
from rules.terms import Advice, Verdict

TODAY = date(2026, 7, 1)
EN, ES = Words("en", "us", "sms", TODAY), Words("es", "metric", "sms", TODAY)
PEACHES = Advice(verdict=Verdict.WATER, plot="peaches", date=TODAY, depth_mm=17.8, minutes=95.0)
TOMATOES = Advice(verdict=Verdict.WAIT, plot="tomatoes", date=date(2026, 7, 3))
MELONS = Advice(verdict=Verdict.CHECK, plot="melons", date=date(2026, 7, 2), doubt="stuck")


def test_water_comes_first_then_check_then_wait():
    said = EN.several([TOMATOES, MELONS, PEACHES])
    assert (
        said == "WATER peaches 1 h 35 min (0.7 in). CHECK melons. WAIT tomatoes (look Fri Jul 3). Text a name for more."
    )
    assert ES.several([TOMATOES, PEACHES]).startswith(
        "RIEGUE: peaches 1 h 35 min (18 mm). ESPERE: tomatoes (revise el vie 3 jul)."
    )


def many(count: int) -> list[Advice]:
    return [Advice(**{**PEACHES.__dict__, "plot": f"block number {n}"}) for n in range(count)]


def test_amounts_get_shorter_before_names_go():
    said = EN.several(many(10))
    assert EN.segments(said) == 2
    assert all(f"block number {n} 1 h 35 min" in said for n in range(10))
    assert "(0.7 in)" not in said


def test_what_has_no_room_is_counted():
    said = EN.several([*many(30), TOMATOES])
    assert EN.segments(said) <= 2
    assert " more." in said
    assert said.startswith("WATER block number 0;")


def test_a_caution_is_said_with_its_plot_when_there_is_room():
    said = EN.several([Advice(**{**PEACHES.__dict__, "cautions": ("runoff",)}), TOMATOES])
    assert f"peaches: {EN.caution('runoff')}" in said


def test_a_question_may_follow():
    question = EN.question("soil", "peaches")
    assert question in EN.several([PEACHES, TOMATOES, MELONS], also=[question])
