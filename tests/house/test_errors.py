"""Every error can be made, says something, and is used."""

import ast
from importlib import import_module

import pytest
from checkout import dotted, modules, tree

from bot.errors import (
    BotError,
    ConfigError,
    FeedChanged,
    FeedDown,
    FeedError,
    FileError,
    NoSuchPerson,
    StoreBusy,
    StoreError,
)
from rules.errors import OutOfRange, RulesError, TableError, UnknownName

EXAMPLES = [
    OutOfRange("temperature", 99.0, -40.0, 60.0, "degrees C"),
    UnknownName("plant", "peech", ("peach",)),
    TableError("soils.csv", 3, "fc", "not a number"),
    ConfigError("the setting DATABASE is empty"),
    FeedError("row 3 has no date"),
    FeedDown("service", "no answer"),
    FeedChanged("service", "another unit"),
    StoreError("nothing to take back"),
    NoSuchPerson(7),
    FileError("no columns were found in this file; save the table as CSV"),
    StoreBusy("locked for 10 s"),
]


def below(root: type[Exception]) -> set[type[Exception]]:
    children = set(root.__subclasses__())
    return children | {deeper for child in children for deeper in below(child)}


def known() -> set[type[Exception]]:
    for path in modules("rules", "bot"):
        if path.name == "errors.py":
            import_module(".".join(path.with_suffix("").parts))
    return below(RulesError) | below(BotError)


def used() -> set[str]:
    """Names of errors that are raised, made or caught outside of the files that define them."""
    names: set[str] = set()
    for path in modules("rules", "bot"):
        if path.name != "errors.py":
            named = [node for node in ast.walk(tree(path)) if isinstance(node, ast.Name | ast.Attribute)]
            names |= {dotted(node).split(".")[-1] for node in named}
    return names


def test_every_error_has_an_example():
    assert {type(example) for example in EXAMPLES} == known()


@pytest.mark.parametrize("error", EXAMPLES, ids=lambda error: type(error).__name__)
def test_every_error_says_something(error):
    assert len(str(error)) > 5


def test_every_error_or_a_child_of_it_is_used():
    names = used()
    unused = [error for error in known() if names.isdisjoint(each.__name__ for each in {error, *below(error)})]
    assert sorted(error.__name__ for error in unused) == []
