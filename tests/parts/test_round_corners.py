"""Ribs and fillets at the foot of a round body: a boss for a screw, a hub on a plate."""

from __future__ import annotations

import math

import makegood
import pytest

from .making import made, said

LID = "block lid\n    long 60\n    wide 40\n    thick 2.5\n"
BOSS = (
    "peg boss\n    on lid.front\n    across 8\n    high 10\n"
    "    from lid.left centre {x}\n    from lid.bottom centre 20\n"
)
FILLET = "fillet root\n    between boss.right, lid.front\n    radius 2\n"
GUSSET = (
    "rib gusset\n    between boss.right, lid.front\n    thick 1.6\n"
    "    reach 7 along boss.right\n    reach 5 along lid.front\n"
    "    midway boss.top, boss.bottom\n"
)
RING = "ring gussets\n    of gusset\n    about boss\n    count 4\n"


def volume(text: str) -> float:
    figures = made(text, chord=0.002).figures
    assert figures.pieces == 1
    return figures.volume


def test_a_fillet_runs_all_round_a_boss():
    """Pappus: a section of (1 - pi / 4) R^2, its centroid R (10 - 3 pi) / (12 - 3 pi) from the round's
    side.
    """
    section, off = (1 - math.pi / 4) * 4.0, 2.0 * (10 - 3 * math.pi) / (12 - 3 * math.pi)
    wanted = 2 * math.pi * (4.0 + off) * section
    added = volume(LID + BOSS.format(x=15) + FILLET) - volume(LID + BOSS.format(x=15))
    assert (
        wanted - 0.25 < added < wanted
    )  # facets fall short of it by no more than their chord on its skin of 60 mm2


@pytest.mark.parametrize("side", ["left", "right", "top", "bottom"])
def test_whichever_side_is_named_it_is_the_same_fillet(side: str):
    one, two = (
        makegood.compile_text('recipe "r"\n' + LID + BOSS.format(x=15) + FILLET.replace("right", name))
        for name in ("right", side)
    )
    assert one.figures == two.figures


def test_a_round_fillet_ends_where_its_flat_ends():
    """The boss stands 4.5 from the edge: its fillet reaches 6.0 and is cut off at 4.5."""
    text = LID + BOSS.format(x=4.5) + FILLET
    assert made(text).figures.box == pytest.approx((60, 40, 12.5))
    assert volume(text) < volume(LID + BOSS.format(x=15) + FILLET) - 0.1


def test_a_hub_turned_on_a_plate_takes_a_fillet_as_well():
    text = LID + "turning hub\n    on lid.front\n    across 8 from 0 to 10\n    from lid.left centre 15\n"
    text += "    from lid.bottom centre 20\n" + FILLET.replace("boss", "hub")
    assert volume(text) == pytest.approx(volume(LID + BOSS.format(x=15) + FILLET), abs=1e-6)


def test_gussets_meet_the_round_they_stand_at():
    """Each a triangle of 7 by 5, and behind it what lies between the tangent and the round, 1.6 wide: no slit
    is left there.
    """
    half = 0.8
    slit = 2 * half * 4 - (half * math.sqrt(16 - half * half) + 16 * math.asin(half / 4))
    wanted = 4 * (1.6 * 0.5 * 7 * 5 + slit * 7)
    added = volume(LID + BOSS.format(x=15) + GUSSET + RING) - volume(LID + BOSS.format(x=15))
    assert (
        wanted < added < wanted + 4 * 1.6 * 7 * 0.002
    )  # the boss's own facets lie inside its round by up to the chord


def test_a_gusset_that_may_move_is_told_where_it_could_stand():
    text = LID + BOSS.format(x=15) + GUSSET.replace("    midway boss.top, boss.bottom\n", "")
    result = makegood.compile_text('recipe "r"\n' + text)
    assert [one.code for one in result.diagnostics] == ["left-open"]
    assert "midway boss.top, boss.bottom" in result.diagnostics[0].advice[0], said(result)


def test_no_fillet_runs_round_what_does_not_stand_on_the_flat():
    text = LID + BOSS.format(x=15) + "plane slope\n    leans 1 at lid.left, 9 at lid.right from lid.front\n"
    text += FILLET.replace("lid.front", "slope")
    assert [one.code for one in makegood.compile_text('recipe "r"\n' + text).diagnostics] == ["not-square"]


HUB = "turning hub\n    on lid.front\n    {}\n    from lid.left centre 15\n    from lid.bottom centre 20\n"
SIDE = LID.replace("thick 2.5", "thick 12") + (
    "peg boss\n    on lid.right\n    across 8\n    high 10\n"
    "    from lid.bottom centre 20\n    from lid.front centre 6\n"
)
ON_RIGHT = FILLET.replace("lid.front", "lid.right")


def fillet(radius: float, where: str = FILLET) -> str:
    return where.replace("radius 2", f"radius {radius}")


@pytest.mark.parametrize(
    "text",
    [
        LID + BOSS.format(x=15).replace("high 10", "high 1") + FILLET,
        LID + BOSS.format(x=15) + "    flat 6\n" + FILLET,
        LID + BOSS.format(x=15) + "    serrated 20 deep 0.8\n" + FILLET,
        LID + BOSS.format(x=15) + "    bevel 1 at foot\n" + FILLET,
        LID + BOSS.format(x=15).replace("across 8", "thread M8") + FILLET,
        LID + BOSS.format(x=15) + FILLET.replace("lid.front", "boss.front"),
        LID + BOSS.format(x=15) + fillet(1000),
        LID + HUB.format("across 8 from 0 to 5\n    across 14 from 5 to 10") + FILLET.replace("boss", "hub"),
        LID + HUB.format("taper 14 at 0, 8 at 10") + FILLET.replace("boss", "hub"),
        SIDE + fillet(3, ON_RIGHT),
        LID + BOSS.format(x=15) + GUSSET.replace("reach 7 along", "reach 17 along"),
        LID + BOSS.format(x=15) + GUSSET.replace("reach 5 along", "reach 65 along"),
        LID
        + BOSS.format(x=6)
        + "    bevel 0.4 at tip\n"
        + FILLET.replace("radius 2", "radius 1.9")
        + "relieve dip\n"
        "    on lid.front\n    collar boss to 10 overall\n    by 1\n",
    ],
)
def test_what_does_not_fit_the_round_or_its_foot_is_told(text: str):
    """Each would stand in the air somewhere: over a step, a flat, a groove, a bevel, above a low boss, beyond
    an edge.
    """
    assert "flat-too-short" in [one.code for one in makegood.compile_text('recipe "r"\n' + text).diagnostics]


@pytest.mark.parametrize(
    "text",
    [
        LID + BOSS.format(x=15) + FILLET,
        LID + BOSS.format(x=4.5) + FILLET,
        LID + BOSS.format(x=15) + GUSSET + RING + FILLET,
        SIDE + fillet(1, ON_RIGHT),
        LID + HUB.format("across 8 from 0 to 5\n    across 6 from 5 to 10") + FILLET.replace("boss", "hub"),
        LID
        + BOSS.format(x=15)
        + "bore pilot\n    around boss\n    bites M3\n    deep 9 from boss.front\n"
        + FILLET,
    ],
)
def test_what_fits_is_not_spoken_of(text: str):
    result = makegood.compile_text('recipe "r"\n' + text)
    assert result.ok
    assert not [one for one in result.diagnostics if one.code == "flat-too-short"], said(result)


def test_a_corner_at_the_side_of_a_hole_is_refused():
    hole = "bore h\n    across 6\n    from lid.left centre 20\n    from lid.bottom centre 20\n"
    text = LID + hole + FILLET.replace("boss", "h")
    assert [one.code for one in makegood.compile_text('recipe "r"\n' + text).diagnostics if one.is_error] == [
        "wrong-kind"
    ]


@pytest.mark.parametrize(
    ("shape", "side", "flat"),
    [
        ("square 8", "right", True),
        ("square 8", "top", True),
        ("square 8\n    turned 45", "right", False),
        ("square 8\n    turned 90", "left", True),
        ("hex 8", "right", True),
        ("hex 8", "top", False),
        ("hex 8\n    turned 30", "right", False),
        ("hex 8\n    turned 30", "top", True),
    ],
)
def test_a_corner_needs_a_flat_of_a_hexagon_or_square(shape: str, side: str, flat: bool):
    """A hexagon has two flats across its width as it stands, two across its height when turned by 30."""
    text = LID + BOSS.format(x=15).replace("across 8", shape) + FILLET.replace("right", side)
    found = {one.code for one in makegood.compile_text('recipe "r"\n' + text).diagnostics}
    assert ("not-square" in found) is not flat
