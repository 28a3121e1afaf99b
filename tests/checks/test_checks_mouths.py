"""Countersinks and counterbores that are eaten by an edge, a bevel or another hole."""

from __future__ import annotations

import pytest

from .asking import BODY, at, bore, codes, headline

SUNK = ("across 3.4", "countersink 7.0 at body.front")


@pytest.mark.parametrize(("x", "found"), [(3.4, ["eaten-edge"]), (3.6, []), (20.0, [])])
def test_a_countersink_past_the_edge(x: float, found: list[str]):
    assert codes(BODY + bore("screw", *SUNK, *at(x, 10.0))) == found


def test_how_far_it_reaches_is_told():
    said = headline('recipe "part"\n' + BODY + bore("screw", *SUNK, *at(3.0, 10.0)))
    assert "countersink of `screw`" in said
    assert "0.50" in said


def test_a_hole_that_runs_out_itself_is_told_once():
    assert codes(BODY + bore("screw", *SUNK, *at(1.0, 10.0))) == ["hole-runs-out"]


@pytest.mark.parametrize(("bevel", "found"), [("1.0", ["eaten-edge"]), ("0.4", []), ("1.0 at back", [])])
def test_a_bevel_eats_a_countersink_on_its_own_flat(bevel: str, found: list[str]):
    body = BODY.rstrip() + f"\n    bevel {bevel}\n"
    assert codes(body + bore("screw", *SUNK, *at(4.0, 10.0))) == found


@pytest.mark.parametrize(("rounded", "found"), [("11", ["eaten-edge"]), ("9", [])])
def test_a_rounded_corner_eats_a_countersink(rounded: str, found: list[str]):
    """From the hole's centre at (4.5, 4.5) to a corner of radius r it is r - (r - 4.5) sqrt 2: 1.81 at 11,
    2.64 at 9. The mouth is 2.2 in radius."""
    body = BODY.replace("wide 20.0", "wide 24.0").rstrip() + f"\n    round outside {rounded}\n"
    hole = bore("screw", "across 2.0", "countersink 4.4 at body.front", *at(4.5, 4.5))
    assert codes(body + hole) == found


@pytest.mark.parametrize(("x", "found"), [(14.9, ["eaten-edge"]), (15.3, [])])
def test_a_countersink_into_another_hole(x: float, found: list[str]):
    pair = bore("screw", *SUNK, *at(10.0, 10.0)) + bore("pin", "across 3.0", *at(x, 10.0))
    assert codes(BODY + pair) == found


def test_mouths_on_opposite_flats_do_not_meet():
    one = bore("one", "across 3.0", "counterbore 7.0 deep 1.5 at body.front", *at(10.0, 10.0))
    two = bore("two", "across 3.0", "counterbore 7.0 deep 1.5 at body.{}", *at(16.0, 10.0))
    assert codes(BODY + one + two.format("front")) == ["eaten-edge"]
    assert codes(BODY + one + two.format("back")) == []


def test_a_counterbore_leaves_a_thin_wall_like_any_hole():
    hole = bore("screw", "across 3.4", "counterbore 7.0 deep 2.0 at body.front", *at(4.0, 10.0))
    said = headline('recipe "part"\n' + BODY + hole)
    assert "counterbore of `screw`" in said
    assert "0.50" in said


def test_a_countersink_in_the_end_of_a_turning():
    foot = "\nturning foot\n    across 12.0 from 0 to 10\n"
    hole = "\nbore screw\n    around foot\n    across 4.0\n    countersink {} at foot.front\n"
    assert codes(foot + hole.format(11.0)) == []
    assert "eaten-edge" in codes(foot + hole.format(12.4))


# A nut of M4: 7.2 across flats, 7.2 / sqrt 3 = 4.157 from its middle to a corner; a flat faces right unless
# it is turned.
NUT = ("clears M4", "counterbore M4 nut at body.front")


@pytest.mark.parametrize(
    ("x", "turned", "found"),
    [
        (3.5, "0", ["eaten-edge"]),
        (4.0, "0", ["thin-wall"]),
        (4.5, "0", []),
        (4.0, "30", ["eaten-edge"]),
        (4.5, "30", ["thin-wall"]),
        (5.0, "30", []),
    ],
)
def test_a_pocket_for_a_nut_at_the_edge(x: float, turned: str, found: list[str]):
    """Flats 3.6 and corners 4.157 from the middle; a wall needs 0.8."""
    assert codes(BODY + bore("screw", *NUT, f"turned {turned}", *at(x, 10.0))) == found


def test_how_thin_the_wall_beside_a_nut_is():
    said = headline('recipe "part"\n' + BODY + bore("screw", *NUT, "turned 30", *at(4.5, 10.0)))
    assert "counterbore of `screw`" in said
    assert "0.34" in said  # 4.5 - 4.157


@pytest.mark.parametrize(("x", "found"), [(16.5, ["eaten-edge"]), (19.5, [])])
def test_two_pockets_for_nuts_side_by_side(x: float, found: list[str]):
    pair = bore("one", *NUT, *at(10.0, 10.0)) + bore("two", *NUT, *at(x, 10.0))
    assert codes(BODY + pair) == found


def test_a_pocket_for_a_nut_in_the_end_of_a_turning():
    """Its corners lie on 8.31: in an end of 8.2 they stand out, in one of 12.0 there is a wall."""
    foot = "\nturning foot\n    across {} from 0 to 10\n\nbore screw\n    around foot\n    clears M4\n"
    pocket = "    counterbore M4 nut at foot.front\n"
    assert "eaten-edge" in codes(foot.format(8.2) + pocket)
    assert codes(foot.format(12.0) + pocket) == []


@pytest.mark.parametrize(
    ("hole", "pocket", "found"),
    [
        ("clears M4", "counterbore M5", ["other-screw"]),
        ("clears M3", "countersink M4", ["other-screw"]),
        ("bites M3", "counterbore M4", ["other-screw"]),
        ("thread M5", "counterbore M6 nut", ["other-screw"]),
        ("clears m4 fine", "counterbore M4", []),
        ("thread M5", "counterbore M5", []),
        ("clears 4.0", "counterbore M5", []),
        ("across 4.5", "counterbore M5", []),
        ("clears M4", "counterbore 10 deep 2.0", []),
    ],
)
def test_a_pocket_for_another_screw(hole: str, pocket: str, found: list[str]):
    body = BODY.replace("thick 4.0", "thick 10.0")
    assert codes(body + bore("screw", hole, f"{pocket} at body.front", *at(20.0, 10.0))) == found


def test_both_screws_are_told():
    said = headline(
        'recipe "part"\n'
        + BODY.replace("4.0", "10.0")
        + bore("screw", "clears M4", "counterbore M5 at front", *at(20.0, 10.0))
    )
    assert "M4" in said
    assert "M5" in said
