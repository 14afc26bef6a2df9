"""A colleague's own telephone, where the line says that it is unwell: only its owner sets it. Numbers are invented."""

from __future__ import annotations

import pytest
from office_desk import Desk


def telephone(office: Desk, name: str) -> str | None:
    found = office.line.store.staff.named(name)
    assert found
    return found.telephone


def test_a_specialist_sets_it_and_takes_it_out(office: Desk) -> None:
    rosa = office.browser("rosa", "specialist")
    rosa.post("/office/account/telephone", "/office/account", telephone="+1 555-0177")
    assert telephone(office, "rosa") == "+15550177"
    assert "+15550177" in rosa.get("/office/account")
    rosa.post("/office/account/telephone", "/office/account", telephone="")
    assert telephone(office, "rosa") is None


@pytest.mark.parametrize("written", ["5550177", "+12", "call me", "+1555<script>", "+0 555 0177"])
def test_what_is_no_number_with_its_country_is_refused_in_plain_words(office: Desk, written: str) -> None:
    rosa = office.browser("rosa", "specialist")
    rosa.post("/office/account/telephone", "/office/account", telephone=written)
    assert rosa.status == 400
    assert telephone(office, "rosa") is None
    assert rosa.last is not None
    assert "<script>" not in rosa.last.text.replace("<script src", "")


def test_a_helper_and_a_forged_form_set_nothing(office: Desk) -> None:
    helper = office.browser("hal", "helper")
    assert "When the line is unwell" not in helper.get("/office/account")
    helper.post("/office/account/telephone", "/office/account", telephone="+15550177")
    assert helper.status == 403
    rosa = office.browser("rosa", "specialist")
    assert (
        rosa.client.post("/office/account/telephone", data={"csrf": "x", "telephone": "+15550177"}).status_code == 400
    )
    assert telephone(office, "rosa") is telephone(office, "hal") is None
