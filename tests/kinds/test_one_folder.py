"""A kind of body is added in one folder: a made-up one, put beside ours, is read, placed, built and answered
for.
"""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from makegood.kinds import own_bodies
from makegood.language import kinds

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
from makegood.kinds.types import FLATS, Body

BODY = Body(parts=FLATS, rounded=True, thick="high", shown=("across",))
""",
    "model.py": """
from makegood.model.builder import size_of
from makegood.model.types import Body

class Cone(Body, frozen=True, kw_only=True):
    wide: float

def make(builder, facts):
    facts.need("high")
    return Cone(**builder.body(facts), wide=size_of(facts.need("across")).value)
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
}


def test_a_new_kind_stands_on_a_block_and_adds_its_volume(tmp_path: Path):
    """A cone of 48 facets: a third of its foot (48 triangles) times its height; read from its edge like any
    round.
    """
    text = (
        "block base\n    long 20\n    wide 20\n    thick 4\n"
        "cone hat\n    on base.front\n    across 10\n    high 6\n"
        "    from base.left near 3\n    from base.bottom centre 10\n"
    )
    told = compiled(tmp_path, "cone", FILES, text)
    foot = 0.5 * 48 * 25.0 * math.sin(2 * math.pi / 48)
    assert told["said"] == []
    assert told["watertight"]
    assert told["volume"] == pytest.approx(20 * 20 * 4 + foot * 6 / 3, rel=1e-9)


def test_what_it_needs_and_excludes_is_asked_for(tmp_path: Path):
    told = compiled(tmp_path, "cone", FILES, "cone hat\n    across 10\n")
    assert not told["ok"]
    assert any("high" in str(said) for said in told["said"])  # type: ignore[attr-defined]


def test_every_kind_with_a_folder_has_its_lines_and_only_those():
    """A folder that states no line of its own kind would be dead weight."""
    assert set(own_bodies()) == {"arm", "gear", "rim"}
    for word in own_bodies():
        assert kinds()[word].facts
