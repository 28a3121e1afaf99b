"""Bodies that touch on the same round are one, without a slit; what has play is not."""

from __future__ import annotations

import math

import makegood
import pytest
from makegood.mesh.types import Figures

BODY = "block body\n    long 60\n    wide 20\n    thick 10\n"
ROW = "row {0}s\n    of {0}\n    count 3\n    pitch 20\n    level\n"


def figures(text: str) -> Figures:
    result = makegood.compile_text('recipe "rounds"\n' + text)
    assert result.ok, [one.headline for one in result.diagnostics]
    assert result.part is not None
    return result.part.figures


def test_a_core_in_a_ring_is_as_one_turning():
    one = figures("turning core\n    across 60 from 0 to 10\n")
    two = figures(
        "turning core\n    across 50 from 0 to 10\n"
        "turning ring\n    around core\n    across 60 from 0 to 10\n    bored 50 from 0 to 10\n"
    )
    assert (two.pieces, two.genus, two.hollows) == (1, 0, 0)
    assert two.volume == pytest.approx(one.volume, rel=1e-9)
    assert two.area == pytest.approx(one.area, rel=1e-9)


def test_a_peg_that_plugs_a_blind_bore_leaves_the_block():
    """A bore 6 deep, and a peg of its size 6 high in it: the block again, on its front and on its side."""
    for flat in ("front", "right"):
        bore = f"bore eye\n    on body.{flat}\n    across 6\n    deep 6\n    at 0, 0 from body\n"
        floor = f"plane floor\n    dropped 6 from body.{flat}\n"
        pin = "peg pin\n    on floor\n    around eye\n    across 6\n    high 6\n"
        whole = figures(BODY + bore + floor + pin)
        assert whole.volume == pytest.approx(12000.0, rel=1e-9)
        assert (whole.pieces, whole.genus) == (1, 0)


def test_rows_of_pegs_in_rows_of_bores():
    """Three pegs of 6, 14 high, through a block 10 thick: each stands 4 over it."""
    bores = "bore eye\n    across 6\n    from body.left centre 10\n    midway body.top, body.bottom\n"
    pins = "peg pin\n    around eye\n    across 6\n    high 14\n"
    part = figures(BODY + bores + ROW.format("eye") + pins + ROW.format("pin"))
    assert (part.pieces, part.genus) == (1, 0)
    assert part.volume == pytest.approx(12000.0 + 3 * 4.0 * math.pi * 9.0, abs=3 * 4.0 * 0.4)


def test_a_slot_in_the_wall_is_not_closed():
    """A keyway cut through the wall of the bore at one side: no tube is laid over it."""
    ring = "turning ring\n    across 60 from 0 to 10\n    bored 50 from 0 to 10\n"
    key = "notch way\n    wide 6\n    high 4\n    at 26, 0 from ring\n    through ring\n"
    core = "turning core\n    around ring\n    across 50 from 0 to 10\n    across 56 from 10 to 12\n"
    with_key = figures(ring + key + core)
    assert with_key.pieces == 1
    cut = 4.0 * 10.0 * 3.0
    assert with_key.volume < figures(ring + core).volume - 0.9 * cut


def test_play_leaves_them_apart():
    text = (
        'recipe "t"\nturning core\n    across 49.9 from 0 to 10\n'
        "turning ring\n    around core\n    across 60 from 0 to 10\n    bored 50 from 0 to 10\n"
    )
    assert [one.code for one in makegood.compile_text(text).diagnostics] == ["falls-apart"]
