"""Measures of the code: no room behind `facts` and `model` looks at a word of the language, few parameters,
classes of one page, names that stand once.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from .rooms import COMPILER, ROOT, python_files, tree_of

MOST_PARAMETERS = 6
MOST_CLASS_LINES = 200
CODE = python_files("compiler", "grammar")
# Rooms that turn words into types; and `kinds`, each folder of which speaks of its own lines.
KNOW_WORDS = {"facts", "model", "kinds"}
WORDS = ("kind", "word")
BY_WORD = {
    *("one", "all", "has", "of_kind"),  # facts of a statement, statements of a kind
    *("ref", "refs", "number", "quantity", "measure", "word_of", "passes"),  # a slot of a fact
}
COMPARES = (ast.Eq, ast.NotEq, ast.In, ast.NotIn)

Function = ast.FunctionDef | ast.AsyncFunctionDef


def _name(path: Path) -> str:
    return str(path.relative_to(ROOT))


def lookups(tree: ast.AST) -> list[int]:
    """Lines in which a fact or kind is looked up by its word: `.kind` or `.word` of something, or a name that
    was set to one, is compared, matched or taken for a key; a fact or slot is
    asked for by words.

    What compares an Enum by `is`, hands a word on or writes it is none, and neither is `get`, which is a
    dictionary's."""
    called = {name.id for name, value in _set_names(tree) if _is_word(value, set())}
    found = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Compare):
            compares = any(isinstance(one, COMPARES) for one in node.ops)
            hit = compares and any(_is_word(one, called) for one in (node.left, *node.comparators))
        elif isinstance(node, ast.Match):
            hit = _is_word(node.subject, called)
        elif isinstance(node, ast.Subscript):
            hit = _is_word(node.slice, called)
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
            hit = node.func.attr in BY_WORD and any(_are_words(one) for one in node.args)
        else:
            hit = False
        found += [node.lineno] if hit else []
    return found


def _set_names(tree: ast.AST) -> Iterator[tuple[ast.Name, ast.expr]]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Assign):
            yield from ((one, node.value) for one in node.targets if isinstance(one, ast.Name))
        elif isinstance(node, ast.AnnAssign | ast.NamedExpr) and node.value is not None:
            yield from [(node.target, node.value)] if isinstance(node.target, ast.Name) else []


def _is_word(node: ast.expr, called: set[str]) -> bool:
    if isinstance(node, ast.IfExp):
        return _is_word(node.body, called) or _is_word(node.orelse, called)
    if isinstance(node, ast.Name):
        return node.id in called
    return isinstance(node, ast.Attribute) and node.attr in WORDS


def _are_words(node: ast.expr) -> bool:
    """A literal word, a named constant, or several: a type, by which facts are asked for, is none."""
    if isinstance(node, ast.Name):
        return node.id.isupper()
    return isinstance(node, ast.Starred) or (isinstance(node, ast.Constant) and isinstance(node.value, str))


def parameters(node: Function) -> int:
    """How many parameters a function takes: keyword-only ones count, `self` and `cls` do not."""
    names = [one.arg for one in (*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs)]
    return len(names) - (names[:1] in (["self"], ["cls"]))


def long_classes(tree: ast.AST) -> list[str]:
    """Names of classes with more lines than a class may have."""
    return [
        node.name
        for node in ast.walk(tree)
        if isinstance(node, ast.ClassDef) and (node.end_lineno or 0) - node.lineno + 1 > MOST_CLASS_LINES
    ]


def test_no_later_room_looks_a_fact_or_kind_up_by_its_word():
    seen = 0
    for path in python_files("compiler"):
        if path.relative_to(COMPILER).parts[0] not in KNOW_WORDS:
            seen += 1
            assert not (lines := lookups(tree_of(path))), f"{_name(path)}: lines {lines}"
    assert seen > 150


@pytest.mark.parametrize(
    "source",
    [
        'entry.kind == "bore"',
        '"bore" != entry.kind',
        "placing.entry.kind in PATTERNS",
        'claim.word not in ("across", "drill")',
        "side.word in AXES",
        "AXES[side.word]",
        "any(one.word == word for one in said)",
        "kind = None if entry is None else entry.kind\nkind in BODIES",
        "(word := claim.word)\nword == 'drill'",
        "match entry.kind:\n    case 'bore':\n        pass",
        'entry.one("deep")',
        'entry.all("from")[0]',
        'entry.has("hex", "square")',
        'claims.of_kind("bore")',
        "entry.has(*FIT_WORDS)",
        "entry.one(MOUTH)",
        'claim.ref("thing")',
    ],
)
def test_a_lookup_is_counted(source: str):
    assert len(lookups(ast.parse(source))) == 1


@pytest.mark.parametrize(
    "source",
    [
        'given.get("Type") == "model"',
        "current.kind is not None",
        "side.way is Way.BEYOND",
        'f"{entry.kind} {entry.name}"',
        "traits(entry.kind).turned",
        "placing.one(LiesAlong) is None",
        "keep.all()",
        'kind = "svg"\nkind == "svg"',
    ],
)
def test_what_is_no_lookup_is_not_counted(source: str):
    assert lookups(ast.parse(source)) == []


def test_facts_gives_no_set_of_kinds_away():
    """What a room can't import it can't compare with."""
    for path in python_files("compiler"):
        if path.relative_to(COMPILER).parts[0] in KNOW_WORDS:
            continue
        for node in ast.walk(tree_of(path)):
            if isinstance(node, ast.ImportFrom):
                module = (node.module or "").split(".")
                assert module[-2:] != ["facts", "needs"], _name(path)
    facts = tree_of(COMPILER / "facts" / "__init__.py")
    names = [one.name for node in facts.body if isinstance(node, ast.ImportFrom) for one in node.names]
    assert names
    assert not [name for name in names if name.isupper()]


@pytest.mark.parametrize("path", CODE, ids=_name)
def test_a_function_takes_few_parameters_and_a_class_is_short(path: Path):
    tree = tree_of(path)
    assert long_classes(tree) == []
    for node in ast.walk(tree):
        if isinstance(node, Function):
            assert parameters(node) <= MOST_PARAMETERS, f"{node.name} takes {parameters(node)}"


def test_parameters_and_lines_are_counted():
    many = ast.parse("class A:\n    def f(self, a, b, /, c, d, *rest, e, f, **more): ...").body[0]
    assert isinstance(many, ast.ClassDef)
    assert isinstance(many.body[0], ast.FunctionDef)
    assert parameters(many.body[0]) == 6
    assert long_classes(ast.parse("class A:\n" + "    x = 1\n" * MOST_CLASS_LINES)) == ["A"]
    assert long_classes(ast.parse("class A:\n" + "    x = 1\n" * (MOST_CLASS_LINES - 1))) == []


def test_a_class_name_stands_once():
    homes: dict[str, list[str]] = {}
    for path in python_files("compiler"):
        for node in ast.walk(tree_of(path)):
            if isinstance(node, ast.ClassDef):
                homes.setdefault(node.name, []).append(_name(path))
    assert len(homes) > 300
    assert {name: some for name, some in homes.items() if len(some) > 1} == {}
