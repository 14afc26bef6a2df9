"""Who may know whom. DEVELOPERS.md ("House rules") tells why; here the syntax trees are asked whether it is so."""

from pathlib import Path

import pytest
from checkout import calls, imports, modules, under

TABLES = Path("rules/tables/__init__.py")
# What a pure computation may need: no files, no processes, no network, no clock but the types of dates.
PURE = (
    "__future__", "bisect", "calendar", "collections", "csv", "dataclasses", "datetime", "decimal", "difflib", "enum",
    "fractions", "functools", "io", "itertools", "math", "numpy", "operator", "pandas", "rapidfuzz", "re", "statistics",
    "string", "types", "typing", "unicodedata", "zlib",
)  # fmt: skip
OPENS = ("open", "read_text", "read_bytes", "write_text", "write_bytes")
NETWORK = ("requests", "urllib.request", "http.client", "socket", "httpx", "aiohttp")
SQL = ("sqlite3", "sqlite_utils")
# The modem's daemon is spoken with through tables of its own, which are no part of the store.
ANOTHER_DATABASE = "bot/channels/sim/tables.py"
# What it fetches by HTTP is no weather: a provider of text messages is called to send one.
ANOTHER_SERVICE = "bot/channels/hook/sending.py"


def named(path: Path) -> str:
    return path.as_posix()


rules = pytest.mark.parametrize("path", modules("rules"), ids=named)
reader_and_wording = pytest.mark.parametrize("path", modules("bot/understand", "bot/word"), ids=named)
channels = pytest.mark.parametrize("path", modules("bot/channels"), ids=named)
everything = pytest.mark.parametrize("path", modules("bot", "rules"), ids=named)


def forbidden(path: Path, *packages: str) -> list[str]:
    return sorted(name for name in imports(path) if under(name, *packages))


def called(path: Path, names: tuple[str, ...]) -> list[str]:
    """Calls whose last word is one of these, such as `datetime.now`."""
    return [f"{name}, line {call.lineno}" for name, call in calls(path) if name.split(".")[-1] in names]


@rules
def test_rules_import_only_themselves_and_what_is_pure(path):
    allowed = (*PURE, "rules", *(("importlib.resources",) if path == TABLES else ()))
    assert [name for name in sorted(imports(path)) if not under(name, *allowed)] == []


@rules
def test_only_the_tables_of_rules_open_anything(path):
    assert path == TABLES or called(path, OPENS) == []


@rules
def test_rules_never_ask_the_clock_print_or_prompt(path):
    assert called(path, ("now", "today", "utcnow", "print", "input")) == []


@rules
def test_draws_of_rules_hang_on_a_seed_that_is_given(path):
    drawn = [(name, call.args) for name, call in calls(path) if ".random." in f".{name}"]
    assert [name for name, given in drawn if not name.endswith("random.default_rng") or not given] == []


@reader_and_wording
def test_reading_and_wording_know_no_store_network_or_channel(path):
    assert forbidden(path, "bot.store", "bot.feeds", "bot.channels", "bot.line", "bot.clock", *NETWORK, *SQL) == []


@reader_and_wording
def test_reading_and_wording_never_ask_the_clock_or_chance(path):
    assert called(path, ("now", "today", "utcnow")) + forbidden(path, "random", "secrets", "time") == []


@everything
def test_only_the_store_knows_sql(path):
    assert named(path).startswith("bot/store/") or named(path) == ANOTHER_DATABASE or forbidden(path, *SQL) == []


@everything
def test_only_the_feeds_fetch_weather(path):
    assert named(path).startswith("bot/feeds/") or named(path) == ANOTHER_SERVICE or forbidden(path, "requests") == []


@channels
def test_channels_know_neither_the_store_nor_the_rules(path):
    assert forbidden(path, "bot.store", "rules") == []


@pytest.mark.parametrize("door", [("rules.advise", "rules.advice"), ("rules.history",)], ids=["advise", "history"])
def test_each_of_the_two_doors_to_the_agronomy_has_the_same_one_caller(door):
    assert {named(path) for path in modules("bot") if forbidden(path, *door)} == {"bot/advising.py"}
