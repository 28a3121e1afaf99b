"""Each word of the code has one meaning: the words in the developers' guide, and what they rule out."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator

from .rooms import COMPILER, ROOT, python_files, tree_of


def _rows() -> list[list[str]]:
    """The rows of the table whose head is `| word | what it means | not |`."""
    lines = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").splitlines()
    start = lines.index("| word | what it means | not |")
    rows = []
    for line in lines[start + 2 :]:
        if not line.startswith("|"):
            break
        rows.append([cell.strip() for cell in line.strip().strip("|").split("|")])
    return rows


def _names() -> Iterator[tuple[str, str]]:
    """Every name that a file of the compiler defines, and the names of its files."""
    for path in python_files("compiler"):
        where = str(path.relative_to(COMPILER))
        yield where, path.stem
        for node in ast.walk(tree_of(path)):
            if isinstance(node, ast.FunctionDef | ast.ClassDef):
                yield where, node.name
            elif isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store):
                yield where, node.id


def test_a_word_stands_once_and_is_used():
    rows = _rows()
    words = [word.strip() for row in rows for word in row[0].split(",")]
    assert len(words) == len(set(words)) > 30
    text = " ".join(path.read_text(encoding="utf-8") for path in python_files("compiler")).lower()
    for word in words:
        assert re.search(rf"\b{word.lower().replace(' ', '[ _]')}", text), f"nobody says {word}"


def test_words_that_were_given_up_name_nothing():
    given_up = {word.strip() for row in _rows() for word in row[2].split(",") if word.strip()}
    assert len(given_up) > 3
    for where, name in _names():
        parts = set(re.findall(r"[A-Z]?[a-z]+", name.replace("_", " ")))
        assert not {part.lower() for part in parts} & given_up, f"{where}: {name}"
