"""Numbers in one form. E.164: a country code that begins with 1 to 9, 15 digits at most (ITU-T E.164)."""

import pytest

from bot.channels.numbers import e164


@pytest.mark.parametrize(
    ("written", "country", "kept"),
    [
        ("+12025550101", "1", "+12025550101"),
        ("12025550101", "1", "+12025550101"),
        ("2025550101", "1", "+12025550101"),
        ("(202) 555-0101", "1", "+12025550101"),
        ("0012025550101", "49", "+12025550101"),
        ("0305550101", "49", "+49305550101"),
        ("+15550101", "1", "+15550101"),
        ("72345", "1", None),
        ("+72345", "1", None),
        ("MyBank", "1", None),
        ("*100#", "1", None),
        ("", "1", None),
        ("+0305550101", "1", None),
        ("+1234567890123456", "1", None),
    ],
)
def test_a_number_has_one_form_and_a_machine_none(written, country, kept):
    assert e164(written, country) == kept
