"""A hole on a plane inside a body begins at that plane: nothing is cut in front of it.  From a flat of the
body, or a plane outside it, a hole is open past all that stands there.  Volumes in closed form."""

from __future__ import annotations

import math

import makegood
import pytest

from .making import made, said

BODY = """block body
    long 40.0
    wide 20.0
    thick 10.0
plane inner
    dropped 16.0 from body.right
"""
STEP = """notch step
    on body.right
    wide 8.0
    high 8.0
    deep 16.0
    midway body.top, body.bottom
    midway body.front, body.back
"""
MIDDLE = "    midway body.top, body.bottom\n    midway body.front, body.back\n"
POCKET = "bore pocket\n    on inner\n    across 4.0\n    deep 8.0\n" + MIDDLE
FULL = 40.0 * 20.0 * 10.0
OPEN = FULL - 8.0 * 8.0 * 16.0
"""The block with a step cut from its right side, whose floor is the inner plane."""
BORE = math.pi * 4.0


def test_it_is_as_deep_as_it_says():
    assert made(BODY + STEP + POCKET).figures.volume == pytest.approx(OPEN - 8.0 * BORE, rel=2e-4)


def test_nothing_is_cut_in_front_of_its_plane():
    """The hole stands half beside the step: its other half begins under 16 of material, and stays covered."""
    beside = POCKET.replace("    midway body.top, body.bottom\n", "    from body.top centre 6.0\n")
    told = made(BODY + STEP + beside)
    assert told.figures.volume == pytest.approx(OPEN - 8.0 * BORE, rel=2e-4)


def test_depth_may_be_counted_from_such_a_plane_too():
    text = (
        BODY + STEP + POCKET.replace("on inner", "on body.right").replace("deep 8.0", "deep 8.0 from inner")
    )
    assert made(text).figures.volume == pytest.approx(OPEN - 8.0 * BORE, rel=2e-4)


@pytest.mark.parametrize("mouth", ["counterbore 6.0 deep 2.0", "countersink 6.0"])
def test_its_mouth_begins_there_as_well(mouth):
    """A counterbore takes a ring 2 deep, a countersink the frustum of its cone less the bore."""
    ring = 2.0 * math.pi * (9.0 - 4.0)
    if mouth.startswith("countersink"):
        ring = math.pi / 3.0 * (9.0 + 6.0 + 4.0) - BORE
    beside = POCKET.replace("    midway body.top, body.bottom\n", "    from body.top centre 6.0\n")
    told = made(BODY + STEP + beside + f"    {mouth}\n")
    assert told.figures.volume == pytest.approx(OPEN - 8.0 * BORE - ring, rel=4e-4)


@pytest.mark.parametrize("step", ["dropped 0.0", "raised 3.0"])
def test_from_the_flat_itself_or_from_outside_it_is_open(step):
    deep = 8.0 + float(step.split()[1])
    text = BODY.replace("dropped 16.0", step) + POCKET.replace("8.0", f"{deep}")
    assert made(text).figures.volume == pytest.approx(FULL - 8.0 * BORE, rel=2e-4)


def test_through_all_it_cuts_on_both_sides_of_its_plane():
    text = BODY + POCKET.replace("    deep 8.0\n", "")
    assert made(text).figures.volume == pytest.approx(FULL - 40.0 * BORE, rel=4e-4)


def test_one_that_nothing_opens_is_answered():
    result = makegood.compile_text('recipe "x"\n' + BODY + POCKET)
    assert [one.code for one in result.diagnostics] == ["closed-hollow"], said(result)
    assert "bore `pocket` is closed all round: a hollow" in result.diagnostics[0].headline


def test_a_thin_floor_behind_it_is_told():
    """It begins 4 under the front and goes 5.8 down: 0.2 of the 10 are left."""
    text = BODY.replace("dropped 16.0 from body.right", "dropped 4.0 from body.front")
    text += "notch well\n    on body.front\n    wide 8.0\n    high 8.0\n    deep 4.0\n    around body\n"
    text += "bore pocket\n    on inner\n    across 4.0\n    deep 5.8\n    around body\n"
    result = made(text)
    assert [one.code for one in result.diagnostics] == ["thin-floor"], said(result)
    assert "0.20 mm" in result.diagnostics[0].headline
