"""Words of danger are seen in the middle of other talk, in both languages; everyday words are not taken for them."""

import pytest

from bot.danger import danger


@pytest.mark.parametrize(
    ("text", "caution"),
    [
        ("got a tingle off the pump box starting the irrigation", "shock"),
        ("me dio toques la bomba", "shock"),
        ("hay chispas en la caja", "shock"),
        ("can i put weed killer in my drip", "chemicals"),
        ("should i run sprinklers all nite on my lemon tree", "frost_sprinkling"),
        ("theres mushrooms at the base of the oak", "tree_may_fall"),
        ("i feel dizzy out here", "heat"),
        ("i want to die", "distress"),
    ],
)
def test_danger_is_seen(text, caution):
    assert danger(text) == caution


@pytest.mark.parametrize(
    "text",
    [
        "45 cb at 12 in",
        "the basil died",
        "watered the pit row 2 h",
        "regue los duraznos 2 horas",
        "my peaches are dying of thirst",
        "",
    ],
)
def test_everyday_words_are_no_danger(text):
    assert danger(text) is None


def test_a_very_long_text_without_danger_is_none():
    assert danger("tree " * 20_000) is None
