"""What comes out other than a line says is told at that line; and what was told wrongly is not."""

from __future__ import annotations

import math

import makegood
import numpy as np
import pytest
from makegood.outlines import area
from makegood.outlines.letters import letters_region

from .making import corners, faces_of, falls_short, inside, made, normals, said, sound

INK = area(letters_region("TOP", 5.0, 0.01, 0))
CAP = """block cap
    long 40.0
    wide 20.0
    thick 4.0

rectangle patch
    wide 30.0
    high 14.0
    around cap
"""
ZONE = "\nthicken side\n    on cap.{face}\n    inside patch\n    by 2.0\n"
MARK = '\nmark t\n    on cap.{face}\n    says "TOP"\n    high 5.0\n    {how}\n    at {at} from cap\n'


def answered(text):
    """All messages on a recipe: code, headline, advice."""
    return makegood.compile_text('recipe "w"\n\n' + text, "part.mend").diagnostics


def mark(how, at="0, 0", face="front"):
    return MARK.format(face=face, how=how, at=at)


# -- marks on zones --------------------------------------------------------------------------------


@pytest.mark.parametrize("face", ["front", "back"])
@pytest.mark.parametrize(("how", "signed"), [("sunk 0.6", -0.6), ("raised 0.6", 0.6)])
def test_a_mark_stands_on_the_flat_that_a_zone_made(face, how, signed):
    """Block 40 x 20 x 4 and pad 30 x 14 x 2, less or more the ink 0.6 deep; no closed hollow: genus 1 for the
    O at most.
    """
    result = made(CAP + ZONE.format(face=face) + mark(how, face=face))
    assert said(result) == []
    assert result.figures.volume == pytest.approx(3200.0 + 840.0 + signed * INK, abs=1e-6)
    assert result.figures.box[2] == pytest.approx(6.0 + max(0.0, signed))
    heights = corners(result, faces_of(result, "t"))[:, :, 2]
    if face == "front":
        assert [heights.min(), heights.max()] == pytest.approx(sorted([6.0, 6.0 + signed]))


def test_a_mark_stands_on_the_floor_of_a_relieved_zone():
    zone = ZONE.format(face="front").replace("thicken", "relieve").replace("2.0", "1.0")
    result = made(CAP + zone + mark("raised 0.4"))
    assert said(result) == []
    assert result.figures.volume == pytest.approx(3200.0 - 420.0 + 0.4 * INK, abs=1e-6)
    assert corners(result, faces_of(result, "t"))[:, :, 2].max() == pytest.approx(3.4)


def test_each_copy_of_a_mark_stands_on_what_is_under_it():
    """Copies 20 apart along a strip of which only the left half is thickened: letters up to 6.5 and 4.5."""
    text = CAP.replace("40.0", "80.0") + ZONE.format(face="front") + mark("raised 0.5", "0, 0")
    result = made(text + "\nrow again\n    of t\n    count 2\n    pitch 28.0\n")
    assert said(result) == []
    assert result.figures.volume == pytest.approx(6400.0 + 840.0 + INK, abs=1e-6)
    tops = corners(result, faces_of(result, "t"))
    left = tops[:, :, 0].mean(axis=1) < 54.0
    assert tops[left][:, :, 2].max() == pytest.approx(6.5)
    assert tops[~left][:, :, 2].max() == pytest.approx(4.5)


def test_a_mirrored_copy_finds_its_own_flat():
    text = CAP.replace("40.0", "80.0") + ZONE.format(face="front") + mark("sunk 0.5", "-28, 0")
    text += "\nline mid\n    midway cap.left, cap.right\n\nmirror again\n    of t\n    about mid\n"
    text += (
        "\nrectangle spot\n    wide 16.0\n    high 8.0\n"
        "    at 28, 0 from cap\n\nthicken bump\n    on cap.front\n"
    )
    result = made(text + "    inside spot\n    by 1.0\n")
    assert said(result) == []
    assert result.figures.volume == pytest.approx(6400.0 + 840.0 + 128.0 - INK, abs=1e-6)


@pytest.mark.parametrize(("at", "ramp"), [("14, 0", ""), ("0, 7", ""), ("0, 8", "    ramp 3\n")])
def test_a_mark_that_a_zone_hides_in_part_is_told(at, ramp):
    found = answered(CAP + ZONE.format(face="front") + ramp + mark("sunk 0.6", at))
    assert "mark `t` lies partly under zone `side`, which stands 2 over `cap.front`" in [
        one.headline for one in found
    ]


@pytest.mark.parametrize(
    ("at", "told"), [("0, 0", "lies under `lid`"), ("-6, 0", "lies partly under `lid`"), ("-14, 0", "")]
)
def test_a_mark_that_another_body_lies_on_is_told(at, told):
    lid = "\nblock lid\n    on cap.front\n    long 16.0\n    wide 10.0\n    thick 1.0\n    around cap\n"
    for how in ("raised 0.6", "sunk 0.6"):
        found = [
            one.headline
            for one in answered(CAP.split("\n\n")[0] + "\n" + lid + mark(how, at).replace("5.0", "3.0"))
            if one.code != "thin-stroke"
        ]
        assert found == ([f"mark `t` {told}"] if told else [])


# -- depths ----------------------------------------------------------------------------------------


BLIND = "\nbore blind\n    across 3.0\n    {depth}\n    at {at} from cap\n"


def test_a_depth_tells_from_which_flat_it_counts():
    """Read 2 deep from the old flat under 2 of thickening: a hole 4 deep."""
    text = CAP + ZONE.format(face="front") + BLIND.format(depth="deep 2.0 from cap.front", at="0, 0")
    result = made(text)
    assert [(one.code, one.severity.name) for one in result.diagnostics] == [("depth-as-measured", "NOTE")]
    assert result.diagnostics[0].headline.endswith(
        "zone `side` raises it there by 2, so the hole is 4 deep in all"
    )
    falls_short(result, 4040.0 - 4.0 * math.pi * 2.25, 4.0 * math.pi * 3.0)
    assert inside(result, (20.0, 10.0, 1.9), (20.0, 10.0, 2.1)) == [True, False]


def test_the_plane_that_is_advised_counts_from_the_new_flat():
    found = answered(
        CAP + ZONE.format(face="front") + BLIND.format(depth="deep 2.0 from cap.front", at="0, 0")
    )
    assert found[0].advice[0].endswith("plane NAME   with   raised 2 from cap.front")
    text = CAP + ZONE.format(face="front") + "\nplane lid\n    raised 2 from cap.front\n"
    result = made(text + BLIND.format(depth="deep 2.0 from lid", at="0, 0"))
    assert said(result) == []
    falls_short(result, 4040.0 - 2.0 * math.pi * 2.25, 2.0 * math.pi * 3.0)


@pytest.mark.parametrize(
    ("depth", "zone", "told"),
    [
        ("counterbore 6 deep 1.5", "thicken", "raises it there by 2"),
        ("countersink 6", "thicken", "raises it there by 2"),
        ("counterbore 6 deep 3.0 at cap.back", "thicken", ""),
        ("deep 2.5 from cap.back", "thicken", ""),
        ("deep 3.0 from cap.front", "relieve", "lowers it there by 2, so the hole is 1 deep in all"),
    ],
)
def test_depths_from_changed_and_unchanged_flats(depth, zone, told):
    found = answered(
        CAP + ZONE.format(face="front").replace("thicken", zone) + BLIND.format(depth=depth, at="0, 0")
    )
    notes = [one.headline for one in found if one.code == "depth-as-measured"]
    assert len(notes) == bool(told)
    assert all(told in one for one in notes)


def test_a_depth_beside_the_zone_says_nothing():
    assert (
        answered(CAP + ZONE.format(face="front") + BLIND.format(depth="deep 2.0 from cap.front", at="-17, 0"))
        == ()
    )


# -- holes filled by copies ------------------------------------------------------------------------


BASE = "block base\n    long 60.0\n    wide 30.0\n    thick 3.0\n\nline m\n    midway base.left, base.right\n"
EAR = """
block ear
    on base.front
    long 14.0
    wide 10.0
    high 6.0
    from base.left near {left}
    from base.bottom near 5.0

bore eye
    across 5.0
    deep 6.0 from ear.front
    from ear.left centre 7.0
    from ear.bottom centre 5.0

mirror twins
    of ear
    about m
"""
LUG = """recipe "lug"
block foot
    long 12.0
    high 14.0
    thick 5.0
bore eye
    across 5.0
    through foot
    from foot.left centre 6.0
    from foot.top centre 6.0
"""


def test_a_hole_that_its_own_mirrored_copy_fills_is_told():
    """Ears 14 long at 20 from the left of 60: the copy lies 4 mm further, over the eye of the first."""
    assert "`ear.2` fills part of bore `eye`" in [
        one.headline for one in answered(BASE + EAR.format(left=20.0))
    ]
    assert answered(BASE + EAR.format(left=10.0)) == ()


@pytest.mark.parametrize(("left", "told"), [(22.0, True), (17.0, False), (4.0, False)])
@pytest.mark.parametrize("lies", ["", "    lies on bottom\n"])
def test_a_hole_of_a_used_part_that_its_own_copy_fills_is_told(left, told, lies, tmp_path):
    (tmp_path / "lug.mend").write_text(LUG, encoding="utf-8")
    text = BASE + (
        '\nuse b "lug.mend"\n    on base.front\n'
        f"{lies}    from base.left near {left}\n    from base.bottom near 5\n"
    )
    result = makegood.compile_text(
        'recipe "w"\n\n' + text + "\nmirror twins\n    of b\n    about m\n", folder=tmp_path
    )
    assert [one.headline for one in result.diagnostics] == (
        ["`b.2` fills part of `eye` of `b`"] if told else []
    )


def test_two_eyes_in_one_place_are_one_hole(tmp_path):
    """A lug whose eye stands on the mirror line: the copy's eye is the same hole, and no slit is left under
    the two.

    The foot, 12 x 14 x 5, lies on itself; the toe, 4 x 3 x 5, comes twice."""
    toe = (
        "block toe\n    against foot.left\n    flush with foot.bottom\n"
        "    flush with foot.back\n    long 4\n    high 3\n"
    )
    toe += "    thick 5\n"
    (tmp_path / "lug.mend").write_text(LUG + toe, encoding="utf-8")
    text = BASE + (
        '\nuse b "lug.mend"\n    on base.front\n    from base.left near 20.0\n    from base.bottom near 5.0\n'
    )
    result = makegood.compile_text(
        'recipe "w"\n\n' + text + "\nmirror twins\n    of b\n    about m\n", folder=tmp_path
    )
    assert said(result) == []
    falls_short(result, 5400.0 + 12.0 * 14.0 * 5.0 + 120.0 - 5.0 * math.pi * 6.25, 5.0 * math.pi * 5.0)
    level = np.ptp(corners(result, np.arange(len(result.mesh.triangles)))[:, :, 2], axis=1) < 1e-6
    assert not (normals(corners(result, np.flatnonzero(level)))[:, 2] < 0.0)[
        result.mesh.points[result.mesh.triangles[level]][:, :, 2].min(axis=1) > 1.0
    ].any()
    sound(result)
    assert result.figures.genus == 0


def test_a_copy_of_another_body_in_a_hole_is_told():
    holes = (
        "\nbore h\n    across 6.0\n    from base.left centre 30.0\n"
        "    from base.bottom centre 15.0\n    through base\n"
    )
    peg = (
        "\npeg p\n    across 8.0\n    high 5.0\n"
        "    from base.left centre 10.0\n    from base.bottom centre 15.0\n"
    )
    found = answered(BASE + holes + peg + "\nrow pegs\n    of p\n    count 3\n    pitch 20.0\n")
    assert [one.headline for one in found if one.code == "hole-filled"] == ["`p.2` fills part of bore `h`"]


def test_no_hole_of_a_used_part_is_bored_again_the_wrong_way(tmp_path):
    """The advice for an eye that runs out of the page, followed, leaves nothing to say; it is not given for
    one that lies.
    """
    (tmp_path / "lug.mend").write_text(LUG, encoding="utf-8")
    for lies, again in (("", True), ("    lies on bottom\n", False)):
        text = BASE + (
            '\nuse b "lug.mend"\n    on base.front\n'
            f"{lies}    from base.left near 4\n    from base.bottom near 5\n"
        )
        text += (
            "\nblock bar\n    on base.front\n    long 8\n"
            "    wide 12\n    high 14\n    from base.left near 6\n"
        )
        text += "    from base.bottom near 3\n"
        result = makegood.compile_text('recipe "w"\n\n' + text, folder=tmp_path)
        told = [one for one in result.diagnostics if one.code == "hole-filled"]
        assert [one.headline for one in told] == ["`bar` fills part of `eye` of `b`"]
        assert ("around b.eye, through bar" in told[0].advice[0]) is again
        if again:
            text += "\nbore again\n    across 5\n    around b.eye\n    through bar\n"
            result = makegood.compile_text('recipe "w"\n\n' + text, folder=tmp_path)
            assert "hole-filled" not in [one.code for one in result.diagnostics]


# -- what stands in a hole -------------------------------------------------------------------------


POCKET = """block cap
    long 24.0
    wide 20.0
    thick 2.0

block plug
    on cap.front
    long 20.0
    wide 16.0
    high 10.0
    around cap

notch room
    through plug
    wide 8.0
    high 10.0
    deep 10.0 from plug.front
    around plug
"""
ARM = (
    "\narm snap\n    on cap.front\n    long 6.0\n    wide 6.0\n"
    "    thick 1.6\n    nose 0.4 facing left\n    around cap\n"
)
POST = "\nblock post\n    on cap.front\n    long {long}\n    wide 4.0\n    high 8.0\n    around cap\n"


def test_an_arm_that_stands_free_in_a_pocket_is_meant():
    assert "hole-filled" not in [one.code for one in answered(POCKET + ARM)]
    touching = ARM.replace("around cap", "from plug.left near 5.0\n    midway cap.top, cap.bottom")
    assert [one.advice for one in answered(POCKET + touching) if one.code == "hole-filled"] == [
        ("move one of the two",)
    ]


def test_a_post_that_stands_free_in_a_hole_is_noted_where_something_could_go_through():
    """On the floor of a pocket it was put on purpose."""
    post = POST.format(long=4.0)
    assert "hole-filled" not in [one.code for one in answered(POCKET + post)]
    through = POCKET.replace("    deep 10.0 from plug.front\n", "")
    found = [one for one in answered(through + post) if one.code == "hole-filled"]
    assert [(one.severity.name, one.headline) for one in found] == [
        ("NOTE", "`post` stands in notch `room`, with room about it")
    ]
    assert "cuts both" not in found[0].advice[0]


def test_cutting_both_is_advised_where_the_part_then_holds():
    bar = "\nblock bar\n    on cap.front\n    long 20.0\n    wide 4.0\n    high 8.0\n    around cap\n"
    found = [one for one in answered(POCKET + bar) if one.code == "hole-filled"]
    assert [one.severity.name for one in found] == ["WARNING"]
    assert found[0].advice == ("through bar, plug   cuts both; or move one of the two",)
    assert "hole-filled" not in [
        one.code for one in answered((POCKET + bar).replace("through plug", "through plug, bar"))
    ]


# -- through all -----------------------------------------------------------------------------------


STEP = """block base
    long 40.0
    wide 20.0
    thick 3.0

block ear
    on base.front
    long 5.0
    wide 20.0
    high 10.0
    flush with base.right
    flush with base.bottom

bore h
    across 5.0
    through {through}
    from base.left centre {x}
    from base.bottom centre 10.0
"""


def test_through_all_is_all_that_it_meets():
    result = made(STEP.format(through="all", x=10.0))
    assert said(result) == []
    falls_short(result, 2400.0 + 1000.0 - 3.0 * math.pi * 6.25, 3.0 * math.pi * 5.0)
    both = made(STEP.format(through="all", x=37.5))
    falls_short(both, 2400.0 + 1000.0 - 13.0 * math.pi * 6.25, 13.0 * math.pi * 5.0)


def test_through_all_must_meet_something_and_a_named_body_must_be_met():
    assert [one.headline for one in answered(STEP.format(through="all", x=50.0))] == [
        "bore `h` misses all bodies: it cuts nothing"
    ]
    assert [one.headline for one in answered(STEP.format(through="base, ear", x=10.0))] == [
        "bore `h` misses `ear`: it cuts nothing"
    ]


def test_each_copy_through_all_must_meet_something():
    row = "\nrow hs\n    of h\n    count {}\n    pitch 10.0\n"
    assert answered(STEP.format(through="all", x=10.0) + row.format(3)) == ()
    assert [one.headline for one in answered(STEP.format(through="all", x=10.0) + row.format(6))] == [
        "bore `h` (copy .5) misses all bodies: it cuts nothing"
    ]


# -- pieces ----------------------------------------------------------------------------------------
