"""What lies where, and what must never lie in the repository."""

import re
from pathlib import Path

import pytest
from checkout import files, text

HOUSE = {"README.md", "DEVELOPERS.md", "pyproject.toml", "LICENSE", "bot", "rules", "tests", "fixtures"}
# Written in pieces, so that this file does not hold what it forbids.
MACHINE_PATH = re.compile(r"(?<![\w.])/(?:wor" r"k|tm" r"p|roo" r"t|hom" r"e|Use" r"rs)/\w")
REGISTRY = re.compile(r"(?:py" r"pi\.org|pythonhos" r"ted\.org)")
PHONE = re.compile(
    r"(?<![\w.+-])(?:\+\d{7,15}|(?:\+?1[-. ])?\(?\d{3}\)?[-. ]\d{3}[-. ]\d{4}|555[-. ]\d{4})(?![\w.-]*\d)"
)
INVENTED = re.compile(r"555[-. ]?01\d\d$")
TEXT = {".py", ".md", ".toml", ".csv", ".json", ".jsonl", ".po", ".html", ".css", ".js", ".svg", ".txt", ""}
SHOWN = ("fixtures/", "bot/", "README.md", "DEVELOPERS.md")


def texts() -> list[Path]:
    return [path for path in files() if path.suffix in TEXT]


def test_the_top_level_holds_the_house_and_nothing_else():
    seen = {path.parts[0] for path in files()}
    assert {name for name in seen if not name.startswith(".")} == HOUSE


@pytest.mark.parametrize("pattern", [MACHINE_PATH, REGISTRY], ids=["paths of a machine", "hosts of a registry"])
def test_no_text_holds(pattern):
    assert [path.as_posix() for path in texts() if pattern.search(text(path))] == []


def test_phone_numbers_in_what_people_see_are_invented():
    shown = [path for path in texts() if path.as_posix().startswith(SHOWN)]
    numbers = [(path.as_posix(), found.group()) for path in shown for found in PHONE.finditer(text(path))]
    assert [each for each in numbers if not INVENTED.search(each[1])] == []


@pytest.mark.parametrize("number", ["+15550100", "+1 555 555 0142", "(555) 555-0199", "555-0101"])
def test_an_invented_number_is_found_and_let_pass(number):
    assert INVENTED.search(PHONE.search(f"call {number}.").group())


@pytest.mark.parametrize("number", ["+1405555" + "1234", "(405) 555" + "-1234", "555" + "-1234"])
def test_a_number_that_could_ring_somewhere_is_found(number):
    assert not INVENTED.search(PHONE.search(f"call {number}.").group())
