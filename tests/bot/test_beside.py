"""What is not about how much water is told apart by its words: anger at us from anger at gophers, a broken probe, a picture."""

import pytest

from bot.talk.beside import beside_the_job


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
