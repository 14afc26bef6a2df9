"""The files of this checkout, as text and as syntax trees, for the tests of the house."""

import ast
from collections.abc import Iterator
from fnmatch import fnmatch
from functools import cache
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]


@cache
def files() -> tuple[Path, ...]:
    """Every file that git does not ignore, relative to the top. Works without git, as in an unpacked archive."""
    ignored = [line.rstrip("/") for line in (TOP / ".gitignore").read_text().splitlines() if line.strip()]
    return tuple(sorted(path.relative_to(TOP) for path in _below(TOP, [".git", *ignored])))


def modules(*folders: str) -> list[Path]:
    """The Python files in these folders, relative to the top."""
    inside = tuple(f"{folder}/" for folder in folders)
    return [path for path in files() if path.suffix == ".py" and path.as_posix().startswith(inside)]


@cache
def tree(path: Path) -> ast.Module:
    return ast.parse(text(path), filename=str(path))


@cache
def text(path: Path) -> str:
    return (TOP / path).read_text(encoding="utf-8")


@cache
def imports(path: Path) -> frozenset[str]:
    """Every dotted name that a module imports: `from a import b` gives `a` and `a.b`."""
    return frozenset(_imported(tree(path), path))


def calls(path: Path) -> Iterator[tuple[str, ast.Call]]:
    """Every call of a module with its dotted name, such as `datetime.now`; unnameable parts are left out."""
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.Call):
            yield dotted(node.func), node


def dotted(node: ast.expr) -> str:
    if isinstance(node, ast.Name):
        return node.id
    if isinstance(node, ast.Attribute):
        return f"{dotted(node.value)}.{node.attr}".lstrip(".")
    return ""


def under(name: str, *packages: str) -> bool:
    """Whether a dotted name is one of these packages or inside one."""
    return any(name == package or name.startswith(f"{package}.") for package in packages)


def _below(folder: Path, ignored: list[str]) -> Iterator[Path]:
    for path in folder.iterdir():
        if any(fnmatch(path.name, pattern) for pattern in ignored):
            continue
        if path.is_dir():
            yield from _below(path, ignored)
        else:
            yield path


def _imported(module: ast.Module, path: Path) -> Iterator[str]:
    for node in ast.walk(module):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            above = ".".join(path.parts[: len(path.parts) - node.level]) if node.level else ""
            origin = ".".join(part for part in (above, node.module) if part)
            yield origin
            yield from (f"{origin}.{alias.name}" for alias in node.names)
