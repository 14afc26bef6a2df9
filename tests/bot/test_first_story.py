"""A first text that tells where it is by a name of the office's own. The places are invented."""

import pytest

from bot.line import Message, open_line
from bot.talk.visit import Office

OFFICE = Office(
    places=(
        {"name": "North Farm", "latitude": 36.1, "longitude": -96.1},
        {"name": "South Farm", "latitude": 36.0, "longitude": -96.0},
    )
)


def latitude(text: str) -> float | None:
    line = open_line(None, None, office=OFFICE)
    line.receive(Message(channel="sms", sender="+15550101", text=text))
    person = line.store.people.known("sms", "+15550101")
    assert person is not None
    return person.latitude


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("peaches at north farm, sandy loam, drip", 36.1),
        ("peaches, sandy loam, South Farm", 36.0),
        ("peaches at north farm and south farm, sandy loam", None),
        ("peaches, sandy loam, drip", None),
    ],
)
def test_a_place_of_the_office_named_in_a_first_text_is_where_it_is(text, expected):
    assert latitude(text) == expected
