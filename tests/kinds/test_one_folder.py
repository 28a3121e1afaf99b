"""A kind is added in one folder: a made-up body and a made-up zone, put beside ours, are read, placed, built
and answered for.
"""

from __future__ import annotations

import json
import math
import os
import subprocess
import sys
from pathlib import Path

import pytest
from makegood.kinds import own_bodies
from makegood.language import kinds

CONE = {
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
DISH = {
    "lines.shapes": """kind dish NAME
    is ZONE
    use zone
    by LENGTH
    needs on : "on body.front"
    needs along | collar | inside : "inside patch"
    needs by : "by 1.0"
""",
    "__init__.py": "",
    "model.py": """
from makegood.model.zones import Zone, zone_fields

class Dish(Zone, frozen=True, kw_only=True):
    pass

def make(builder, facts):
    return Dish(**zone_fields(builder, facts))
""",
    "solid.py": """
from makegood.mesh.prisms import prism
from makegood.mesh.zoning import in_place, worked

def build(shop, zone):
    work = worked(shop, zone)
    high, label = work.body.high, shop.marks.of(zone.name)
    return in_place(shop, work, [prism(work.region, high - zone.by.value, high + 9, label, label)])
""",
}
RUN = """
import json, sys
import makegood.kinds
makegood.kinds.__path__.append(sys.argv[1])
import makegood
part = makegood.compile_text('recipe "x"\\n' + sys.argv[2])
print(json.dumps({
    "ok": part.ok, "said": [one.headline for one in part.diagnostics],
    "volume": part.figures.volume if part.figures else None,
    "watertight": part.figures.watertight if part.figures else None,
}))
"""


def _compiled(folder: Path, text: str, kind: str = "cone", files: dict[str, str] = CONE) -> dict[str, object]:
    for name, content in files.items():
        home = folder / kind
        home.mkdir(exist_ok=True)
        (home / name).write_text(content, encoding="utf-8")
    told = subprocess.run(
        [sys.executable, "-c", RUN, str(folder), text],
        capture_output=True,
        text=True,
        check=True,
        env={**os.environ, "PYTHONDONTWRITEBYTECODE": "1"},
    )
    return dict(json.loads(told.stdout))


def test_a_new_kind_stands_on_a_block_and_adds_its_volume(tmp_path: Path):
    """A cone of 48 facets: a third of its foot (48 triangles) times its height; read from its edge like any
    round.
    """
    text = (
        "block base\n    long 20\n    wide 20\n    thick 4\n"
        "cone hat\n    on base.front\n    across 10\n    high 6\n"
        "    from base.left near 3\n    from base.bottom centre 10\n"
    )
    told = _compiled(tmp_path, text)
    foot = 0.5 * 48 * 25.0 * math.sin(2 * math.pi / 48)
    assert told["said"] == []
    assert told["watertight"]
    assert told["volume"] == pytest.approx(20 * 20 * 4 + foot * 6 / 3, rel=1e-9)


def test_what_it_needs_and_excludes_is_asked_for(tmp_path: Path):
    told = _compiled(tmp_path, "cone hat\n    across 10\n")
    assert not told["ok"]
    assert any("high" in str(said) for said in told["said"])  # type: ignore[attr-defined]


DISHED = (
    "block base\n    long 20\n    wide 20\n    thick 4\n"
    "rectangle patch\n    long 6\n    wide 5\n    from base.left centre 6\n    from base.bottom centre 10\n"
    "dish low\n    on base.front\n    inside patch\n    by 1.5\n"
)


def test_a_new_zone_takes_its_material_off_and_is_copied(tmp_path: Path):
    """6 x 5 x 1.5 off a block, and once more where a row copies it 8 to the right."""
    told = _compiled(tmp_path, DISHED, "dish", DISH)
    assert told["said"] == []
    assert told["watertight"]
    assert told["volume"] == pytest.approx(20 * 20 * 4 - 6 * 5 * 1.5, rel=1e-9)
    row = "row lows\n    of low\n    count 2\n    pitch 8\n"
    told = _compiled(tmp_path, DISHED + row, "dish", DISH)
    assert told["said"] == []
    assert told["volume"] == pytest.approx(20 * 20 * 4 - 2 * 6 * 5 * 1.5, rel=1e-9)


def test_a_new_zone_is_answered_like_any_other(tmp_path: Path):
    told = _compiled(tmp_path, DISHED.replace("base.front", "base.left"), "dish", DISH)
    assert not told["ok"]
    assert told["said"] == ["`base.left` is a side: your block is seen edge-on there"]
    told = _compiled(tmp_path, DISHED.replace("    by 1.5\n", ""), "dish", DISH)
    assert told["said"] == ["dish `low` does not say `by`"]


def test_every_kind_with_a_folder_has_its_lines_and_only_those():
    """A folder that states no line of its own kind would be dead weight."""
    assert set(own_bodies()) == {"arm", "gear", "rim"}
    for word in own_bodies():
        assert kinds()[word].facts
