"""A kind of body is added in one folder: a made-up one, put beside ours, is read, placed, built and answered
for.
"""

from __future__ import annotations

import math
from pathlib import Path

import makegood.kinds
import pytest
from makegood.language import kinds
from makegood.language.grammar_files import grammar_text

from .made_up import compiled

FILES = {
    "lines.shapes": """kind cone NAME
    is BODY, CENTRED
    use place
    across SIZE
    high SIZE
    needs across : "across 10"
    needs high : "high 6"
    one of on, around
""",
    "__init__.py": """
from makegood.kinds.types import FLATS, KindTraits

TRAITS = KindTraits(parts=FLATS, rounded=True, thick="high")
""",
    "model.py": """
from makegood.model.builder import size_of
from makegood.model.types import Body, Size

class Cone(Body, frozen=True, kw_only=True):
    wide: float
    tall: Size

def make(builder, facts):
    wide = size_of(facts.need("across")).value
    return Cone(**builder.body(facts), wide=wide, tall=size_of(facts.need("high")))
""",
    "solid.py": """
import manifold3d
import numpy as np

def build(shop, body):
    spot, high = body.placed, body.high - body.low
    count, radius = 48, 0.5 * body.wide
    angle = 2 * np.pi * np.arange(count) / count
    foot = np.column_stack([radius * np.cos(angle), radius * np.sin(angle), 0 * angle])
    points = np.vstack([foot, [[0, 0, 0], [0, 0, high]]])
    k, on = np.arange(count), (np.arange(count) + 1) % count
    top, foot = np.column_stack([k, on, 0 * k + count + 1]), np.column_stack([on, k, 0 * k + count])
    triangles = np.vstack([top, foot])
    label = np.full(len(triangles), shop.marks.of(body.name))
    from makegood.mesh.kernel import from_arrays
    solid = from_arrays(points, triangles, label).translate((*spot.at, spot.base))
    return shop.placed(solid, body.frame)
""",
    "notes.py": """
from makegood.outputs.paper.dimensions import height
from makegood.outputs.paper.measuring import outside
from makegood.outputs.paper.pointers import at_centre

def notes(scene, cone):
    yield at_centre(scene, cone, f"{cone.name} cone {cone.wide:g}", 0.5 * cone.wide)

def sizes(scene, cone):
    yield from height(scene, cone, cone.tall)

def checks(scene, cone):
    yield from outside(cone.name, "high", cone.tall)
""",
}
HAT = (
    "block base\n    long 20\n    wide 20\n    thick 4\n"
    "cone hat\n    on base.front\n    across 10\n    high 6\n"
    "    from base.left near 3\n    from base.bottom centre 10\n"
)


def test_a_new_kind_stands_on_a_block_and_adds_its_volume(tmp_path: Path):
    """A cone of 48 facets: a third of its foot (48 triangles) times its height; read from its edge like any
    round.
    """
    told = compiled(tmp_path, "cone", FILES, HAT)
    foot = 0.5 * 48 * 25.0 * math.sin(2 * math.pi / 48)
    assert told["said"] == []
    assert told["watertight"]
    assert told["volume"] == pytest.approx(20 * 20 * 4 + foot * 6 / 3, rel=1e-9)


def test_its_own_notes_are_drawn_and_measured(tmp_path: Path):
    """What it is called, how high it is drawn (6, as read), and how high it is to be measured."""
    told = compiled(tmp_path, "cone", FILES, HAT)
    assert {"hat cone 10", "6 \u00b10.5"} <= set(told["drawn"])  # type: ignore[call-overload]
    assert told["measured"]["hat high"] == 6.0  # type: ignore[index]


def test_a_kind_without_notes_is_drawn_from_its_mesh(tmp_path: Path):
    """Its places are dimensioned, 3 from the left and 10 from the bottom; nothing is written at it."""
    files = {name: content for name, content in FILES.items() if name != "notes.py"}
    told = compiled(tmp_path, "cone", files, HAT)
    assert not any("cone" in text for text in told["drawn"])  # type: ignore[attr-defined]
    assert any(text.startswith("10 ") for text in told["drawn"])  # type: ignore[attr-defined]


def test_what_it_needs_and_excludes_is_asked_for(tmp_path: Path):
    told = compiled(tmp_path, "cone", FILES, "cone hat\n    across 10\n")
    assert not told["ok"]
    assert any("high" in str(said) for said in told["said"])  # type: ignore[attr-defined]


def test_every_kind_with_a_folder_has_its_lines_and_only_those():
    """A folder that states no line of its own kind would be dead weight."""
    homes = [Path(home) for home in makegood.kinds.__path__]
    stated = {path.parent.name: path for home in homes for path in home.glob("*/lines.shapes")}
    assert {path.parent.name for home in homes for path in home.glob("*/model.py")} - {"thread"} == set(
        stated
    )
    for word, path in stated.items():
        assert kinds()[word].facts
        heads = [line for line in path.read_text(encoding="utf-8").splitlines() if line[:1].strip()]
        assert [head.split()[:2] for head in heads] == [["kind", word]]


def test_the_order_of_kinds_is_told_for_all_of_ours():
    """A kind that is not in the list would come last in messages."""
    text = grammar_text("recipe.shapes")
    order = [
        word
        for line in text.splitlines()
        if line.startswith("order ")
        for word in line.removeprefix("order ").split(", ")
    ]
    assert list(kinds()) == order
