"""How deep a rack is cut, and what a wrong one is answered."""

from __future__ import annotations

import math

import makegood
import pytest
from shapely.geometry import Polygon

from .making import made, said
from .test_gears import section
from .test_racks import HEAD


@pytest.mark.parametrize(
    ("words", "module"),
    [("module 1.25", 1.25), ("pitch 12.6 over 4", 1.0), ("pitch 13.2 over 4", 1.0504)],
    ids=str,
)
def test_a_rack_is_as_deep_and_as_far_apart_as_its_module_says(words: str, module: float):
    """Area: each whole space takes a trapezium 2.25 modules deep, pi / 2 modules wide a module down, less its
    two rounds.
    """
    result = made(f"block bar\n    long 60\n    high 14\n    thick 4\n    rack top {words}\n", 0.002)
    cut = section(result, 2.0)
    x = 0.5 * (cut.bounds[0] + cut.bounds[2])
    pitch = math.pi * module
    middle = cut.intersection(
        Polygon([(x - 2 * pitch, -9), (x + 2 * pitch, -9), (x + 2 * pitch, 99), (x - 2 * pitch, 99)])
    )
    deep, lean, wide = 2.25 * module, math.tan(math.radians(20)), 0.5 * pitch + 0.1
    mean = wide + (2 * 1.0 - 2.25) * module * lean
    bend = math.radians(70)
    rounds = 2 * (0.38 * module) ** 2 * (math.tan(0.5 * bend) - 0.5 * bend)
    assert middle.area == pytest.approx(4 * pitch * 14.0 - 4 * (deep * mean - rounds), abs=0.05)


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ("", "misshapen-line"),
        ("module 50", "bad-gear"),
        ("module 0.01", "bad-gear"),
        ("meshes mate", "fact-missing"),
        ("pitch 12 over 1.5", "bad-count"),
        ("module 1 meshes mate", "misshapen-line"),
        ("module 1 teeth 26", "bad-gear"),
        ("module 1 teeth 0", "bad-count"),
        ("module 1 first at 0.5", "bad-gear"),
        ("module 1 teeth 25 first at 5", "bad-gear"),
        ("module 1 first at 9999", "bad-gear"),
        ("module 1 backlash 2", "bad-gear"),
        ("module 1 teeth 9999", "bad-gear"),
        ("module 1 helix 15 right-handed", "misshapen-line"),
    ],
)
def test_wrong_racks_are_answered(words: str, code: str):
    text = (
        f"{HEAD}neighbour mate\n    teeth 9\nblock bar\n    long 80\n"
        f"    high 14\n    thick 4\n    rack top {words}\n"
    )
    result = makegood.compile_text(text)
    assert {one.code for one in result.diagnostics if one.is_error} == {code}, said(result)
