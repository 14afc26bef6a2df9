"""Texts in parts: lengths from 3GPP TS 23.038 (160 septets, 153 in a part; 70 units, 67 in a part), headers from TS 23.040."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.channels.sim.parts import Place, place, split
from bot.word import gsm7


@pytest.mark.parametrize(
    ("text", "lengths", "wide"),
    [
        ("a" * 160, [160], False),
        ("a" * 161, [153, 8], False),
        ("[" * 80, [80], False),
        ("[" * 81, [76, 5], False),
        ("á" * 70, [70], True),
        ("á" * 71, [67, 4], True),
        ("\N{SEEDLING}" * 35, [35], True),
        ("\N{SEEDLING}" * 36, [33, 3], True),
    ],
)
def test_a_text_is_cut_where_an_sms_is_full(text, lengths, wide):
    parts = split(text, 1)
    assert [len(part.text) for part in parts] == lengths
    assert {part.wide for part in parts} == {wide}


def test_a_short_text_has_no_header_and_parts_count_from_one():
    assert split("WAIT", 7)[0].header == ""
    assert [part.header for part in split("a" * 400, 0x1C4)] == ["050003C40301", "050003C40302", "050003C40303"]


@given(st.text(min_size=1, max_size=900), st.integers(0, 2**40))
def test_no_letter_is_lost_and_no_part_too_long(text, reference):
    parts = split(text, reference)
    assert "".join(part.text for part in parts) == text
    assert all(gsm7.segments(part.text) == 1 for part in parts)
    assert len(parts) == gsm7.segments(text)
    if len(parts) > 1:
        places = [place(part.header) for part in parts]
        assert places == [Place(reference % 256, len(parts), number) for number in range(1, len(parts) + 1)]


@pytest.mark.parametrize(
    ("header", "found"),
    [
        ("050003C40301", Place(0xC4, 3, 1)),
        ("060804012302" + "01", Place(0x0123, 2, 1)),
        ("0B0504158115810003C40302", Place(0xC4, 3, 2)),  # ports first
        ("06050415811581", None),
        ("", None),
        ("05000", None),
        ("zz", None),
        ("050003", None),
    ],
)
def test_a_header_tells_of_joining_or_does_not(header, found):
    assert place(header) == found
