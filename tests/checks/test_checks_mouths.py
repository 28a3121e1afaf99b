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
    """From the hole's centre at (4.5, 4.5) to a corner of radius r it is r - (r - 4.5) sqrt 2: 1.81 at 11, 2.64 at 9.
    The mouth is 2.2 in radius."""
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
