"""The alphabet of 3GPP TS 23.038 clause 6.2.1; lengths of 3GPP TS 23.040 (140 octets, 6 of them header when joined)."""

import pytest

from bot.word.gsm7 import ALPHABET, BASIC, EXTENSION, cut, fold, segments, septets


def test_the_table_has_127_letters_and_10_behind_the_escape():
    assert (len(BASIC), len(set(BASIC)), len(EXTENSION), len(ALPHABET)) == (127, 127, 10, 137)


@pytest.mark.parametrize(
    ("code", "letter"), [(0x00, "@"), (0x02, "$"), (0x09, "Ç"), (0x10, "Δ"), (0x1A, "Ξ"), (0x1C, "Æ"), (0x20, " "),
                         (0x24, "¤"), (0x40, "¡"), (0x5F, "§"), (0x60, "¿"), (0x7D, "ñ"), (0x7F, "à")],
)  # fmt: skip
def test_letters_stand_at_their_code(code, letter):
    assert BASIC[code if code < 0x1B else code - 1] == letter  # 0x1B is the escape, which is no letter


@pytest.mark.parametrize(
    ("text", "carried"),
    [
        ("Más húmedo aquí, Óscar", "Mas humedo aqui, Oscar"),
        ("¿Mañana? ¡Sí! pingüino café", "¿Mañana? ¡Si! pingüino café"),
        ("don’t say “wet”", 'don\'t say "wet"'),
        ("95°F – 35 °C…", "95F - 35 C..."),
        ("1½ in, ¼ in", "1 1/2 in, 1/4 in"),
        ("wet 💧 soil 🌱", "wet soil"),
        ("a\u00a0b\tc", "a b c"),
        ("Ян", "??"),
        ("two\nlines", "two\nlines"),
        ("n\u0303 e\u0301", "ñ é"),
        ("façade × 3 ≤ 4", "facade x 3 <= 4"),
    ],
)
def test_fold_puts_what_sms_can_carry(text, carried):
    assert fold(text) == carried
    assert ALPHABET.issuperset(carried)


@pytest.mark.parametrize(
    ("text", "count"),
    [("", 1), ("a" * 160, 1), ("a" * 161, 2), ("a" * 306, 2), ("a" * 307, 3), ("{" * 80, 1), ("{" * 81, 2),
     ("í" * 70, 1), ("í" * 71, 2), ("í" * 134, 2), ("í" * 135, 3)],
)  # fmt: skip
def test_segments_count_as_the_network_does(text, count):
    assert segments(text) == count


def test_an_escaped_letter_is_not_cut_in_two():
    # 152 + a pair does not fit 153; the pair moves on, and 306 septets take three parts.
    assert segments("a" * 152 + "{" + "a" * 152) == 3


def test_cut_counts_septets_and_marks_the_end():
    assert cut("{" * 20, 24) == "{" * 11 + ".."
    assert septets(cut("a" * 30, 24)) == 24
    assert cut("a" * 24, 24) == "a" * 24
