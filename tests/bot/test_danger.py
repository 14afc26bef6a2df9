"""Words of danger are seen in the middle of other talk, in both languages; everyday words are not taken for them."""

import pytest

from bot.talk.danger import danger


@pytest.mark.parametrize(
    ("text", "caution"),
    [
        ("got a tingle off the pump box starting the irrigation", "shock"),
        ("me dio toques la bomba", "shock"),
        ("hay chispas en la caja", "shock"),
        ("can i put weed killer in my drip", "chemicals"),
        ("echo fertilizante en el agua del goteo", "chemicals"),
        ("le pongo fertilizante al agua de riego", "chemicals"),
        ("mixing weed killer in the tank with the hose in it", "chemicals"),
        ("should i run sprinklers all nite on my lemon tree", "frost_sprinkling"),
        ("theres mushrooms at the base of the oak", "tree_may_fall"),
        ("i feel dizzy out here", "heat"),
        ("i want to die", "distress"),
        ("i cant do this anymore, i dont want to live", "distress"),
        ("tomatoes are dead and so am i", "distress"),
        ("ya no quiero vivir", "distress"),
        ("there is a bare wire in wet ground by the pump", "shock"),
        ("hay un cable pelado en el agua", "shock"),
        ("the power line is down across the orchard", "shock"),
        ("I drank pump water and feel sick", "swallowed"),
        ("my son swallowed some of the weed spray", "swallowed"),
        ("tomé agua del canal y me siento mal", "swallowed"),
        ("mi hijo se cayó al canal", "open_water"),
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
        "the plants drank all that water",
        "gopher chewed the wire",
        "the tree is dead and the other is dying",
        "",
    ],
)
def test_everyday_words_are_no_danger(text):
    assert danger(text) is None


def test_a_very_long_text_without_danger_is_none():
    assert danger("tree " * 20_000) is None
