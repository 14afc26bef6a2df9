"""The picture in words: one line, a story, a table, in both languages and units."""

import re
from itertools import product

import pytest
from graphs_drawn import GRAPHS, voice

from bot.graph import words
from bot.word.gsm7 import ALPHABET

every_graph = pytest.mark.parametrize("name", GRAPHS)


@pytest.mark.parametrize(
    ("language", "line"),
    [
        ("en", "Back peaches: {left} of the water left, limit 50%, 5 waterings in 44 days, time to water"),
        ("es", "Back peaches: queda {left} del agua, límite 50%, 5 riegos en 44 días, ya toca regar"),
    ],
)
def test_the_picture_in_one_line(language, line):
    """The limit of peaches is half (FAO-56 Table 22, p for stone fruit); three days before the first watering count too."""
    shown = GRAPHS["nothing read"]
    assert words.alt(shown, voice(language)) == line.format(left=f"{100 * shown.today.left:.0f}%")


@every_graph
@pytest.mark.parametrize(("language", "units"), list(product(("en", "es"), ("us", "metric"))))
def test_the_story_fits_two_text_messages_and_has_the_numbers_first(name, language, units):
    shown, sms = GRAPHS[name], voice(language, units, "sms")
    text = words.story(shown, sms)
    assert sms.segments(text) <= 2
    assert ALPHABET.issuperset(text)
    left, limit = (f"{100 * share:.0f}%" for share in (shown.today.left, shown.today.limit))
    assert re.findall(r"\d+%", text)[:2] == [left, limit]


@every_graph
def test_without_a_bound_the_story_tells_all_that_the_short_one_tells(name):
    short, whole = (words.story(GRAPHS[name], voice("en", "us", channel)) for channel in ("sms", "picture"))
    after_the_name = short.split(": ", 1)[1].split(". ")
    assert [sentence for sentence in after_the_name if sentence.rstrip(".") not in whole] == []


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("gaps", "and more that has no amount"),
        ("gaps", "The weather of 6 days is not known."),
        ("stuck", "8 odd readings are left out."),
        ("empty", "It is past its limit."),
        ("nothing told", "I know of no rain since"),
        ("three depths", "The last reading, "),
    ],
)
def test_the_story_tells_what_is_special(name, told):
    assert told in words.story(GRAPHS[name], voice())


@every_graph
@pytest.mark.parametrize("language", ["en", "es"])
def test_the_table_has_a_row_a_day_and_a_cell_under_each_head(name, language):
    shown, said = GRAPHS[name], voice(language)
    rows = words.rows(shown, said)
    assert len(rows) == len(shown.days) + len(shown.ahead)
    assert {len(row) for row in rows} == {len(words.head(said))}


def test_the_table_holds_what_the_picture_shows():
    shown, said = GRAPHS["three depths"], voice("en", "metric")
    today = words.rows(shown, said)[len(shown.days) - 1]
    assert today[:2] == ("Fri Jul 30", f"{100 * shown.today.left:.0f}%")
    assert "cb at 30 cm (" in today[6]
    watered = [row[4] for row in words.rows(shown, said) if row[4]]
    assert watered == ["33.3 mm"] * 4  # 400 minutes at 5 mm/h


def test_the_table_tells_a_gap_from_a_dry_day():
    shown = GRAPHS["gaps"]
    rain = {row[0]: row[5] for row in words.rows(shown, voice("en", "metric"))}
    assert rain["Mon Jul 26"] == ""
    assert "0 mm" in rain.values()


def test_the_table_tells_what_may_fall_with_its_chance():
    ahead = words.rows(GRAPHS["three depths"], voice())[-10:]
    assert any(re.fullmatch(r"[\d.]+ in, \d+% chance", row[5]) for row in ahead)
