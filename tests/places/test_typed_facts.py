"""The places take typed facts and the solver takes rows: neither looks a fact up by its word, nor a kind by
its name; and what a placing fact did is noted.
"""

import ast
import re
from pathlib import Path

import makegood
import pytest

ROOMS = [Path(makegood.__file__).parent / room for room in ("network", "places")]
FILES = [path for room in ROOMS for path in sorted(room.glob("*.py"))]
ASKED = {"one", "all", "has", "get", "word_of", "of_kind", "number", "quantity", "measure", "ref", "refs"}


def _is_text(node: ast.AST) -> bool:
    inside = node.elts if isinstance(node, ast.Tuple | ast.Set | ast.List) else [node]
    return any(isinstance(one, ast.Constant) and isinstance(one.value, str) for one in inside)


@pytest.mark.parametrize("path", FILES, ids=lambda path: f"{path.parent.name}/{path.name}")
def test_no_fact_is_looked_up_by_its_word(path: Path):
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.args:
            assert node.func.attr not in ASKED or not _is_text(node.args[0]), node.lineno
        if isinstance(node, ast.Compare):
            sides = [node.left, *node.comparators]
            kinds = any(isinstance(one, ast.Attribute) and one.attr == "kind" for one in sides)
            assert not (kinds and any(map(_is_text, sides))), node.lineno
    assert not re.search(r"claim\.word +(?:==|!=|in|not in)\b", path.read_text(encoding="utf-8"))


@pytest.mark.parametrize("path", sorted(ROOMS[0].glob("*.py")), ids=lambda path: path.name)
def test_the_solver_knows_no_recipe(path: Path):
    above = re.findall(r"^from \.\.(\w+)", path.read_text(encoding="utf-8"), re.MULTILINE)
    assert set(above) <= {"quantities"}


BORE = "bore a\n    drill 4.0\n    at 0, 0 from body\n"
FOOT = "block foot\n    long 9.0\n    wide 9.0\n    thick 2.0\n    around body\n"
LINE = "line mid\n    level\n    on p\n\npoint p\n    at 0, 0 from body\n\n"
BODY = 'recipe "t"\n\nblock body\n    long 40.0\n    wide 20.0\n    thick 5.0\n\n'


@pytest.mark.parametrize(
    ("lines", "used", "idle"),
    [
        (
            BORE + "    on body.front\n    deep 3.0\n    raised 1.0\n",
            {"raised 1.0"},
            set(),
        ),
        (
            BORE + "    raised 1.0\n",
            {"at 0, 0 from body"},
            {"raised 1.0"},
        ),
        (
            BORE + "    flush with body.front\n",
            set(),
            {"flush with body.front"},
        ),
        (
            FOOT + "    against body.front\n",
            {"around body", "against body.front"},
            set(),
        ),
        (
            FOOT + "    raised 3.0\n    flush with body.front\n",
            {"flush with body.front"},
            {"raised 3.0"},
        ),
        (
            LINE
            + "plane high\n    square to mid at p\n    faces left\n\n"
            + "bore a\n    on high\n    drill 3.0\n    at 0, 0\n    through body\n",
            {"square to mid at p", "faces left"},
            set(),
        ),
        (
            LINE
            + "turning pin\n    across 4.0 from 0 to 30\n    lies along mid from p\n"
            + "    flush with body.back\n",
            {"lies along mid from p"},
            {"flush with body.back"},
        ),
    ],
)
def test_what_a_placing_fact_did_is_noted(lines: str, used: set[str], idle: set[str]):
    layout = makegood.compile_text(BODY + lines).layout
    texts = {text for _, text in layout.used}
    facts = {fact.claim.text for placing in layout.facts.of.values() for fact in placing.facts}
    assert used <= texts
    assert idle <= facts - texts


def test_where_everything_stands_is_known_when_all_is_placed():
    lines = (
        "plane slope\n    leans 2.0 at body.left, 4.0 at body.right from body.back\n\n"
        "bore a\n    on body.top\n    drill 3.0\n    deep 4.0\n"
        "    midway body.left, body.right\n    from body.front near 1.0\n\n"
        "bore b\n    on slope\n    drill 3.0\n    deep 1.0\n    at 0, 0 from body\n"
    )
    layout = makegood.compile_text(BODY + lines).layout
    assert layout.stands["body"] == ("sheet", 0.0, 1)
    assert layout.stands["a"] == ("body.top", 0.0, 1)
    assert layout.heights == {"body": (0.0, 5.0)}
    assert {"sheet", "body.top", "body.left", "body.right", "slope"} <= set(layout.frames)
