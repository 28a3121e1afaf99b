"""Parts of other recipes used in a recipe: where they come to lie, what can be read to, what comes along."""

from __future__ import annotations

import math
from pathlib import Path

import makegood
import numpy as np
import pytest

from .making import inside, made, said, sound, spot
from .test_threads import BOLT, hand
from .using import STEP, codes, compiled


def test_a_used_part_is_the_part(tmp_path: Path) -> None:
    alone = made(STEP)
    result = compiled(tmp_path, 'use step "step.mend"\n', step=STEP)
    assert said(result) == []
    sound(result)
    assert result.figures.box == alone.figures.box
    assert result.figures.volume == pytest.approx(alone.figures.volume, rel=1e-12)
    assert {face[0] for face in result.part.faces} == {"step"}
    assert ("step", "eye") in result.part.faces
    wide = compiled(tmp_path, 'use step "step.mend"\n    with tread = 2 * 10.25\n', step=STEP)
    assert wide.figures.box == (20.5, 8.0, 9.0)


WAYS = {  # which sides of the part as it was made lie to the right, up and towards the reader
    "back": ("+x", "+y", "+z"),
    "front": ("-x", "+y", "-z"),
    "left": ("-z", "+y", "+x"),
    "right": ("+z", "+y", "-x"),
    "bottom": ("+x", "-z", "+y"),
    "top": ("+x", "+z", "-y"),
}


def seen(
    point: tuple[float, float, float], box: tuple[float, float, float], ways: tuple[str, ...]
) -> list[float]:
    """A point of the part as it was made, where it comes to lie in its turned box."""
    return [
        point["xyz".index(w[1])] if w[0] == "+" else box["xyz".index(w[1])] - point["xyz".index(w[1])]
        for w in ways
    ]


@pytest.mark.parametrize("side", WAYS)
@pytest.mark.parametrize("turned", [0, 90])
def test_it_lies_on_any_of_its_sides(side: str, turned: int, tmp_path: Path) -> None:
    """Points inside and outside the material are carried along; the side that it lies on is at the bottom."""
    text = f'use step "step.mend"\n    lies on {side}\n    turned {turned}\n'
    result = compiled(tmp_path, text, step=STEP)
    assert said(result) == []
    box = (12.0, 8.0, 9.0)
    for point, full in (
        ((1.0, 1.0, 8.0), True),
        ((11.0, 1.0, 1.0), True),
        ((11.0, 1.0, 8.0), False),
        ((1.0, 7.0, 8.0), False),
        ((9.0, 5.5, 1.5), False),
        ((9.0, 2.0, 1.5), True),
    ):
        x, y, z = seen(point, box, WAYS[side])
        if turned:
            size = seen((0.0, 0.0, 0.0), box, tuple("-" + w[1] for w in WAYS[side]))
            x, y = size[1] - y, x
        assert inside(result, (x, y, z)) == [full], (point, (x, y, z))


def test_on_a_back_it_is_turned_over_about_its_upright(tmp_path: Path) -> None:
    """Its own back lies against the board's back: what was at its left is at the right, up stays up."""
    text = 'block board\n    long 40\n    wide 20\n    thick 2\n\nuse step "step.mend"\n    on board.back\n'
    text += "    at 0, 0 from board\n"
    text += "bore mark\n    across 1.0\n    around step.eye\n    through board\n"
    result = compiled(tmp_path, text, step=STEP)
    assert said(result) == []
    # the box of the part is 12 x 8 about (20, 10); the board lies above it, from 9 to 11
    assert result.figures.box == (40.0, 20.0, 11.0)
    for x, y, z, full in (
        (25.0, 7.0, 1.0, True),
        (15.0, 7.0, 1.0, False),
        (25.0, 13.0, 1.0, False),
        (15.0, 7.0, 7.0, True),
    ):
        assert inside(result, (x, y, z)) == [full]
    eye = 20.0 - (12.0 - 3.0 - 6.0), 10.0 + (8.0 - 2.5 - 4.0)
    assert spot(result, "mark")[:2] == pytest.approx(eye, abs=1e-6)


def test_it_is_placed_by_its_datum_and_read_to_by_its_things(tmp_path: Path) -> None:
    """Eye to hole 20.0 over the far edges: centres 20 - (2 + 3) / 2 = 17.5 apart; the mark 5 right of the
    eye.
    """
    text = """block board
    long 60
    wide 30
    thick 2

bore hole
    drill 3.0
    from board.left centre 10
    from board.bottom centre 10

use step "step.mend"
    on board.front
    datum eye
    from hole far-far 20.0
    level with hole
    right of hole

bore mark
    across 1.0
    from step.eye centre 5.0
    level with step.eye
    right of step.eye
    through board
"""
    result = compiled(tmp_path, text, step=STEP)
    assert said(result) == []
    assert spot(result, "step.eye") == pytest.approx((27.5, 10.0, 2.0), abs=1e-6)
    assert spot(result, "mark")[:2] == pytest.approx((32.5, 10.0), abs=1e-6)
    # the eye is 9 from the left and 5.5 from the bottom of the step's box
    assert spot(result, "step")[:2] == pytest.approx((27.5 - 9.0 + 6.0, 10.0 - 5.5 + 4.0), abs=1e-6)
    assert inside(result, (27.5, 10.0, 3.0), (29.0, 10.0, 3.0)) == [False, True]


def test_copies_take_the_whole_part_along(tmp_path: Path) -> None:
    board = "block board\n    long 90\n    wide 20\n    thick 2\n\n"
    step = (
        'use step "step.mend"\n    on board.front\n    flush with board.left\n    flush with board.bottom\n\n'
    )
    row = compiled(tmp_path, board + step + "row steps\n    of step\n    count 4\n    pitch 20\n", step=STEP)
    one = made(STEP).figures.volume
    assert row.figures.volume == pytest.approx(90 * 20 * 2 + 4 * one, rel=1e-9)
    mirror = (
        "line middle\n    midway board.left, board.right\n\nmirror steps\n    of step\n    about middle\n"
    )
    twin = compiled(tmp_path, board + step + mirror, step=STEP)
    assert said(twin) == []
    assert twin.figures.volume == pytest.approx(90 * 20 * 2 + 2 * one, rel=1e-9)
    assert inside(twin, (1.0, 1.0, 10.0), (89.0, 1.0, 10.0), (79.0, 1.0, 10.0)) == [True, True, False]


def test_holes_trims_and_sides_are_those_of_a_block(tmp_path: Path) -> None:
    text = """use bar "step.mend"
    trim cut

plane cut
    dropped 5.0 from bar.front

bore across
    on bar.left
    across 2.0
    from bar.bottom centre 2.0
    from bar.back centre 1.5
"""
    result = compiled(tmp_path, text, step=STEP)
    assert said(result) == []
    # below 4: 12 x 8 x 3 + 4 x 5 x 1, less the eye (3 deep) and a bore of 12 along x that meets no eye
    exact = 288.0 + 20.0 - math.pi * 3.0 - math.pi * 12.0
    assert result.figures.volume == pytest.approx(exact, rel=2e-3)
    assert result.figures.box == (12.0, 8.0, 4.0)


def test_a_hole_of_a_used_part_that_is_filled_is_told(tmp_path: Path) -> None:
    use = 'use step "step.mend"\n\n'
    plug = "turning plug\n    around step.eye\n    across 2.4 from 0 to 5\n"
    result = compiled(tmp_path, use + plug, step=STEP)
    assert codes(result) == ["hole-filled"]
    assert result.diagnostics[0].headline == "`plug` fills part of `eye` of `step`"
    assert codes(compiled(tmp_path, use + plug.replace("step.eye", "step.high"), step=STEP)) != [
        "hole-filled"
    ]
    outer = (
        'recipe "outer"\n\nuse inner "step.mend"\n    datum eye\n'
        "    around place\n\npoint place\n    at 0, 0\n"
    )
    nested = compiled(
        tmp_path, use.replace("step.mend", "outer.mend") + plug.replace("step.eye", "step.place"), outer=outer
    )
    assert [one.headline for one in nested.diagnostics] == ["`plug` fills part of `inner-eye` of `step`"]


@pytest.mark.parametrize("facts", ["", "    other hand\n"])
def test_threads_of_a_used_part_keep_their_hand(facts: str, tmp_path: Path) -> None:
    """Used as it is, mirrored with the whole, or two deep where both are mirrored: a right-hand thread stays
    one.
    """
    bolt = 'recipe "bolt"\n\n' + BOLT
    turned = 'recipe "bolt again"\n    other hand\n\nuse again "bolt.mend"\n'
    (tmp_path / "bolt.mend").write_text(bolt, encoding="utf-8")
    (tmp_path / "turned.mend").write_text(turned, encoding="utf-8")
    for name, detail in (("bolt", "bolt thread"), ("turned", "again bolt thread")):
        result = makegood.compile_text(f'recipe "w"\n{facts}\nuse part "{name}.mend"\n', folder=tmp_path)
        assert result.ok
        label = result.part.faces.index(("part", detail))
        faces = result.mesh.points[result.mesh.triangles[result.mesh.labels == label]]
        normal = np.cross(faces[:, 1] - faces[:, 0], faces[:, 2] - faces[:, 0])
        away = faces.mean(axis=1) - spot(result, "part")
        leaning = (np.cross([0.0, 0.0, 1.0], away) * normal).sum(axis=1) * normal[:, 2]
        assert leaning.sum() < 0.0  # as `hand` has it: +1 right-handed
    assert hand(made(bolt), "bolt") == 1.0


def test_a_mirrored_copy_of_a_used_bolt_keeps_its_hand(tmp_path: Path) -> None:
    text = """block bar
    long 80
    wide 20
    thick 4

line middle
    midway bar.left, bar.right

use stud "bolt.mend"
    on bar.front
    from bar.left near 5
    midway bar.top, bar.bottom

mirror studs
    of stud
    about middle
"""
    result = compiled(tmp_path, text, bolt='recipe "bolt"\n\n' + BOLT)
    assert said(result) == []
    label = result.part.faces.index(("stud", "bolt thread"))
    faces = result.mesh.points[result.mesh.triangles[result.mesh.labels == label]]
    for x in (12.0, 68.0):
        own = faces[np.abs(faces[:, :, 0].mean(axis=1) - x) < 6.0]
        assert len(own) > 500
        normal = np.cross(own[:, 1] - own[:, 0], own[:, 2] - own[:, 0])
        away = own.mean(axis=1) - np.array([x, 10.0, 0.0])
        assert ((np.cross([0.0, 0.0, 1.0], away) * normal).sum(axis=1) * normal[:, 2]).sum() < 0.0


def test_other_rooms_take_it(tmp_path: Path) -> None:
    """Report, readings, drawing, picture, sheet and template of a whole with a used part."""
    text = (
        "block board\n    long 60\n    wide 30\n    thick 2\n\n"
        'use step "step.mend"\n    on board.front\n    datum eye\n'
    )
    text += "    from board.left centre 20.0\n    from board.bottom centre 12.0\n"
    result = compiled(tmp_path, text, step=STEP)
    assert said(result) == []
    assert {one.name for one in result.report().features} == {"board", "step", "step.eye"}
    known = {one.name: one for page in result.readings().pages for one in page.places}
    assert known["step.eye"] is not None
    assert result.drawing("svg").startswith(b"<?xml")
    assert result.picture().startswith(b"\x89PNG")
    assert result.inspection().startswith(b"%PDF")
    assert result.template().startswith(b"%PDF")
