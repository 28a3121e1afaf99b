"""A kind of zone is added in one folder: a made-up one, put beside ours, is read, worked and answered for."""

from __future__ import annotations

from pathlib import Path

import pytest

from .made_up import compiled

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
    return in_place(work, [prism(work.region, high - zone.by.value, high + 9, label, label)])
""",
}


DISHED = (
    "block base\n    long 20\n    wide 20\n    thick 4\n"
    "rectangle patch\n    long 6\n    wide 5\n    from base.left centre 6\n    from base.bottom centre 10\n"
    "dish low\n    on base.front\n    inside patch\n    by 1.5\n"
)


def test_a_new_zone_takes_its_material_off_and_is_copied(tmp_path: Path):
    """6 x 5 x 1.5 off a block, and once more where a row copies it 8 to the right."""
    told = compiled(tmp_path, "dish", DISH, DISHED)
    assert told["said"] == []
    assert told["watertight"]
    assert told["volume"] == pytest.approx(20 * 20 * 4 - 6 * 5 * 1.5, rel=1e-9)
    row = "row lows\n    of low\n    count 2\n    pitch 8\n"
    told = compiled(tmp_path, "dish", DISH, DISHED + row)
    assert told["said"] == []
    assert told["volume"] == pytest.approx(20 * 20 * 4 - 2 * 6 * 5 * 1.5, rel=1e-9)


def test_a_new_zone_is_answered_like_any_other(tmp_path: Path):
    told = compiled(tmp_path, "dish", DISH, DISHED.replace("base.front", "base.left"))
    assert not told["ok"]
    assert told["said"] == ["`base.left` is a side: your block is seen edge-on there"]
    told = compiled(tmp_path, "dish", DISH, DISHED.replace("    by 1.5\n", ""))
    assert told["said"] == ["dish `low` does not say `by`"]
