"""A file has one subject and a function does one thing. Exceptions stand here with a reason.

The list of exceptions may only shrink.
"""

import ast
from pathlib import Path

import pytest
from checkout import modules, text, tree

FILE_LINES = 400
TEST_FILE_LINES = 500
BODY_LINES = 40
# "path" or "path::function": why it is longer.
LONGER: dict[str, str] = {}


def body_lines(function: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Lines from the first statement to the last, the docstring aside."""
    first = function.body[1] if ast.get_docstring(function) is not None and len(function.body) > 1 else function.body[0]
    return (function.end_lineno or first.lineno) - first.lineno + 1


def functions(path: Path) -> list[ast.FunctionDef | ast.AsyncFunctionDef]:
    return [node for node in ast.walk(tree(path)) if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)]


def long_ones() -> set[str]:
    most = {"bot": FILE_LINES, "rules": FILE_LINES, "tests": TEST_FILE_LINES}
    long_files = {path.as_posix() for path in modules(*most) if text(path).count("\n") > most[path.parts[0]]}
    return long_files | {
        f"{path.as_posix()}::{function.name}"
        for path in modules("bot", "rules")
        for function in functions(path)
        if body_lines(function) > BODY_LINES
    }


def test_files_and_functions_stay_short():
    assert sorted(long_ones() - LONGER.keys()) == []


def test_no_exception_outlives_its_need():
    assert sorted(LONGER.keys() - long_ones()) == []


@pytest.mark.parametrize("told", ["", "    '''Says.'''\n"])
def test_a_docstring_does_not_count(told):
    assert body_lines(ast.parse(f"def f():\n{told}    a = 1\n    return a\n").body[0]) == 2
