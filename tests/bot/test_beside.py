"""What is not about how much water is told apart by its words: anger at us from anger at gophers, a broken probe, a picture."""

import pytest

from bot.talk.beside import beside_the_job, other_question


@pytest.mark.parametrize(
    ("text", "about"),
    [
        ("you people are useless. dumb robot killed my lawn. 400 bucks of sod", "upset"),
        ("your advice is stupid", "upset"),
        ("no sirven para nada", "upset"),
        ("stupid gopher", None),
        ("frost killed my beans", None),
        ("dumb gauge broke", "broken_probe"),
        ("no sirve el medidor", "broken_probe"),
        ("white crust on the soil", "caution.salt"),
        ("the hose water is boiling", "caution.hot_hose"),
        ("what do i spray for aphids", "not_our_job"),
        ("heres a pic of the leaves", "unread.picture"),
        ("is this free", "hello"),
        ("45 cb at 12", None),
    ],
)
def test_words_beside_the_water_find_their_answer(text, about):
    assert beside_the_job(text) == about


@pytest.mark.parametrize(
    ("text", "about"),
    [
        ("how do i know how much they put out?", "other.cans"),
        ("cuanta agua tiran mis aspersores", "other.cans"),
        ("how do i check the soil", "other.feel"),
        ("como se si la tierra esta seca", "other.feel"),
        ("how deep should i put the probe", "other.depth"),
        ("should i mulch", "other.mulch"),
        ("is it better in the morning", "other"),
        ("can i use well water", "other.more"),
    ],
)
def test_a_question_of_another_kind_finds_its_answer(text, about):
    assert other_question(text) == about
