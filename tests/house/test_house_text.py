"""The text of the project: sizes that keep it readable, words behind every public name, nothing left half
done.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from .rooms import ROOT, python_files, tracked, tree_of

MOST_LINES = 400
MOST_FUNCTION_LINES = 60
CODE = python_files("compiler", "grammar")
EVERY = python_files("compiler", "grammar", "tests")
UNFINISHED = re.compile(r"\b(?:" + "|".join(("TO" + "DO", "FIX" + "ME", "X" + "XX")) + r")\b")
MACHINE = re.compile(r"(?<![\w.])/(?:" + "|".join(("work", "tmp", "root", "home", "Users")) + r")/")

Defined = ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef


def _name(path: Path) -> str:
    return str(path.relative_to(ROOT))


def _public(body: list[ast.stmt]) -> Iterator[Defined]:
    """Public functions and classes of a file, and the public methods of those classes."""
    for node in body:
        if isinstance(node, Defined) and not node.name.startswith("_"):
            yield node
            if isinstance(node, ast.ClassDef):
                yield from _public(node.body)


def _texts() -> Iterator[tuple[Path, str]]:
    for path in tracked():
        data = path.read_bytes()
        if b"\0" not in data:
            yield path, data.decode("utf-8")


@pytest.mark.parametrize("path", EVERY, ids=_name)
def test_a_file_and_its_functions_are_short(path: Path):
    assert len(path.read_text(encoding="utf-8").splitlines()) <= MOST_LINES
    for node in ast.walk(tree_of(path)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef) and node.end_lineno:
            length = node.end_lineno - node.lineno + 1
            assert length <= MOST_FUNCTION_LINES, f"{node.name} has {length} lines"


@pytest.mark.parametrize("path", CODE, ids=_name)
def test_every_public_name_is_explained_and_typed(path: Path):
    tree = tree_of(path)
    assert len(ast.get_docstring(tree) or "") > 15, "the file says nothing about itself"
    for node in _public(tree.body):
        assert ast.get_docstring(node), f"{node.name} has no docstring"
        if isinstance(node, ast.FunctionDef):
            assert node.returns is not None, f"{node.name} does not say what it returns"


def test_nothing_is_left_half_done():
    for path, text in _texts():
        found = UNFINISHED.search(text)
        assert found is None, f"{_name(path)}: {found}"


def test_no_path_of_one_machine():
    for path, text in _texts():
        found = MACHINE.search(text)
        assert found is None, f"{_name(path)}: {found}"


def test_text_files_are_utf8_with_plain_line_ends():
    seen = 0
    for path, text in _texts():
        seen += 1
        assert "\r" not in text, _name(path)
        assert not text or text.endswith("\n"), _name(path)
    assert seen > 50


def test_the_version_is_said_once():
    """pyproject.toml and the package agree."""
    import tomllib

    from makegood.version import VERSION

    told = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    assert told["project"]["version"] == VERSION
