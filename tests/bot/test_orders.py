"""Orders are whole messages; the same words inside a report or a question are none."""

import pytest

from bot.talk.orders import Order, order


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("redo", Order("redo")),
        ("REHACER", Order("redo")),
        ("pause pears", Order("pause", "pears")),
        ("Pausa los duraznos", Order("pause", "duraznos")),
        ("resume the pears", Order("resume", "pears")),
        ("seguir pears", Order("resume", "pears")),
        ("rename pears to lower pears", Order("rename", "pears", "lower pears")),
        ("close lower pears.", Order("close", "lower pears")),
        ("starting apples now", Order("on", "apples")),
        ("off now", Order("off")),
        ("apagué", Order("off")),
    ],
)
def test_an_order_is_read(text, expected):
    assert order(text) == expected


@pytest.mark.parametrize(
    "text",
    [
        "",
        "watered the pears on tuesday",
        "should i pause for the rain, or what",
        "off to work, 45 cb",
        "my pause button broke. 45 at 12",
    ],
)
def test_other_messages_are_no_orders(text):
    assert order(text) is None


def test_a_long_text_is_no_order():
    assert order("pause " + "x" * 100_000) is None


@pytest.mark.parametrize(
    ("text", "do"),
    [
        ("Done!", "done"),
        ("did it", "done"),
        ("ya quedo", "done"),
        ("listo", "done"),
        ("stop the water", "off"),
        ("turned the water off", "off"),
        ("just turned it on", "on"),
        ("call my boss to fix it", None),
    ],
)
def test_water_on_off_and_done_in_the_words_of_people(text, do):
    found = order(text)
    assert (found.do if found else None) == do
