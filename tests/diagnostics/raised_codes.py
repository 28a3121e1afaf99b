"""Every message code that the compiler can raise, read out of its own source."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import makegood

COMPILER = Path(makegood.__file__).parent
RAISERS = frozenset(
    {
        "Diagnostic",
        "Trouble",
        "refuse",
        "_refuse",
        "_refused",
        "_say",
        "say",
        "_bad",
        "_ask",
        "ramped",
        "drawn_in",
    }
)
CODE = re.compile(r"[a-z]+(-[a-z]+)*")


def raised_codes() -> dict[str, str]:
    """Each code with the first place (file:line) that raises it: an argument of a raiser, or what a `code` is
    set to.
    """
    found: dict[str, str] = {}
    for path in sorted(COMPILER.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            for code in _codes(node):
                found.setdefault(
                    code, f"{path.relative_to(COMPILER).as_posix()}:{getattr(node, 'lineno', 0)}"
                )
    return found


def _codes(node: ast.AST) -> Iterator[str]:
    if isinstance(node, ast.Call) and _called(node) in RAISERS:
        # The code comes first, or behind the one thing that is asked or read (`_ask(holds, code, ...)`).
        first = next((text for arg in node.args if (text := _text(arg)) is not None), None)
        if first is not None and CODE.fullmatch(first):
            yield first
    elif isinstance(node, ast.Assign):
        yield from _assigned(node)


def _assigned(node: ast.Assign) -> Iterator[str]:
    for target in node.targets:
        names = target.elts if isinstance(target, ast.Tuple) else [target]
        values = node.value.elts if isinstance(node.value, ast.Tuple) else [node.value]
        for name, value in zip(names, values, strict=False):
            if isinstance(name, ast.Name) and name.id == "code" and (text := _text(value)):
                yield text


def _called(node: ast.Call) -> str:
    return node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")


def _text(node: ast.expr) -> str | None:
    return node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else None
