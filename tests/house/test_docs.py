"""Every room says what it is for, and every public function of the agronomy what it gives."""

import ast
from pathlib import Path

import pytest
from checkout import modules, text, tree

# An empty `__init__.py` only makes a folder a package; there is nothing to tell of it.
WRITTEN = [path for path in modules("bot", "rules") if text(path).strip()]


def public(path: Path) -> list[ast.FunctionDef | ast.ClassDef]:
    """Functions and classes at the top of a module, without an underscore."""
    found = [node for node in tree(path).body if isinstance(node, ast.FunctionDef | ast.ClassDef)]
    return [node for node in found if not node.name.startswith("_")]


@pytest.mark.parametrize("path", WRITTEN, ids=Path.as_posix)
def test_every_module_says_what_it_is_for(path):
    assert ast.get_docstring(tree(path))


@pytest.mark.parametrize("path", modules("rules"), ids=Path.as_posix)
def test_every_public_name_of_the_rules_is_told(path):
    assert [node.name for node in public(path) if not ast.get_docstring(node)] == []


def test_no_two_functions_of_the_rules_have_the_same_title():
    told = [ast.get_docstring(node) or "" for path in modules("rules") for node in public(path)]
    titles = [docstring.splitlines()[0] for docstring in told if docstring]
    assert sorted({title for title in titles if titles.count(title) > 1}) == []
