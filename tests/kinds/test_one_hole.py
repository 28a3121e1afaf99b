"""A kind of hole is added in one folder: a made-up one, a pyramid that ends in a point, is read, placed, cut,
copied, and asked about as ours are.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from .made_up import compiled

FILES = {
    "lines.shapes": """kind pit NAME
    is HOLE, CENTRED
    use place
    across SIZE
    deep SIZE [from FACE]
    through BODIES
    needs across : "across 6"
    needs deep : "deep 3 from front"
""",
    "__init__.py": "",
    "model.py": """
from makegood.model.holes import Hole, across_of, hole_fields
from makegood.model.sections import PolygonSection

class Pit(Hole, frozen=True, kw_only=True):
    pass

def make(builder, facts):
    fields, size = hole_fields(builder, facts), across_of(facts)
    section = PolygonSection(size.value, 4, fields["spot"].turn)
    return Pit(**fields, section=section, size=size, sizes=(), mouth=None)
""",
    "solid.py": """
from makegood.mesh.hole_tools import cutter
from makegood.mesh.kernel import Solid

def build(shop, hole, reach):
    (x, y), half = hole.placed.at, 0.5 * hole.size.value
    start, out, deep = hole.depth.start, hole.depth.out, hole.depth.size.value
    foot = [(x + i * half, y + j * half, start) for i in (-1, 1) for j in (-1, 1)]
    above = [(a, b, start + out) for a, b, _ in foot]
    tip = Solid.hull_points([*foot, (x, y, start - out * deep)])
    return cutter(shop, hole, tip + Solid.hull_points([*foot, *above]), reach)
""",
}
BLOCK = "block base\n    long 40\n    wide 20\n    thick 8\n"
PIT = (
    "pit one\n    across 6\n    deep 3 from base.front\n"
    "    from base.left centre {}\n    from base.bottom centre 10\n"
)


def test_a_made_up_hole_is_cut_and_copied(tmp_path: Path):
    """Each pyramid takes a third of its foot times its depth."""
    row = "row more\n    of one\n    count 3\n    pitch 9\n"
    told = compiled(tmp_path, "pit", FILES, BLOCK + PIT.format(10) + row)
    assert told["said"] == []
    assert told["watertight"]
    assert told["volume"] == pytest.approx(40 * 20 * 8 - 3 * 6 * 6 * 3 / 3, rel=1e-9)


def test_walls_beside_it_and_bodies_that_it_misses_are_told(tmp_path: Path):
    """Its section stands 0.3 off the edge; 10 beyond it, it cuts nothing."""
    assert compiled(tmp_path, "pit", FILES, BLOCK + PIT.format(3.3))["codes"] == ["thin-wall"]
    assert compiled(tmp_path, "pit", FILES, BLOCK + PIT.format(-10))["codes"] == ["hole-misses"]


def test_what_it_needs_is_asked_for(tmp_path: Path):
    told = compiled(tmp_path, "pit", FILES, BLOCK + PIT.format(10).replace("    across 6\n", ""))
    assert not told["ok"]
    assert any("across" in str(said) for said in told["said"])  # type: ignore[attr-defined]
