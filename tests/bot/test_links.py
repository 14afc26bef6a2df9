"""Links for people without an account open one thing, for a day, and nothing else."""

from datetime import timedelta

import pytest

from bot import links
from bot.links import Links

URL = "https://water.example"


def signed(link: str) -> str:
    return link.rpartition("/")[2]


def test_a_link_opens_what_it_was_made_for() -> None:
    mine = Links("secret", URL)
    link = mine.make("g", 17)
    assert link.startswith(f"{URL}/g/")
    assert mine.read("g", signed(link)) == 17


def test_a_link_opens_no_other_page() -> None:
    mine = Links("secret", URL)
    assert mine.read("export", signed(mine.make("g", 17))) is None


def test_a_link_of_another_line_opens_nothing() -> None:
    assert Links("secret", URL).read("g", signed(Links("other", URL).make("g", 17))) is None


@pytest.mark.parametrize("changed", ["", "x", "WyJnIiwxN10.x.y", "ñ", "." * 5000])
def test_what_nobody_signed_opens_nothing(changed: str) -> None:
    assert Links("secret", URL).read("g", changed) is None


def test_a_link_dies(monkeypatch: pytest.MonkeyPatch) -> None:
    mine = Links("secret", URL)
    link = mine.make("g", 17)
    monkeypatch.setattr(links, "LASTS", timedelta(seconds=-1))
    assert mine.read("g", signed(link)) is None
