"""Marks: how high and wide letters come out, that they read right from outside, and what is answered."""

from __future__ import annotations

import makegood
import numpy as np
import pytest
import trimesh
from makegood.outlines import area
from makegood.outlines.letters import arrow_region, letters_region, thinnest

from .making import RECIPES, corners, faces_of, made, said, spot

PLATE = 'recipe "p"\n{hand}\nblock p\n    long 80.0\n    wide 40.0\n    thick 4.0\n'
MARK = "mark m\n    on p.{face}\n    {what}\n    high {high}\n    {how}\n    {place}\n"


def plate(what='says "F"', face="front", high="10.0", how="raised 0.6", place="at 0, 0 from p", hand=""):
    return PLATE.format(hand=hand) + MARK.format(what=what, face=face, high=high, how=how, place=place)


def lettered(result):
    return corners(result, faces_of(result, "m")).reshape(-1, 3)


@pytest.mark.parametrize("text", ["H", "I", "E", "T", "L", "N"])
def test_capitals_are_as_high_as_they_say_and_centred(text):
    points = lettered(made(plate(f'says "{text}"')))
    assert np.allclose([points[:, 1].min(), points[:, 1].max()], [15.0, 25.0], atol=1e-6)
    assert points[:, 0].min() + points[:, 0].max() == pytest.approx(80.0, abs=1e-6)
    assert points[:, 2].max() == pytest.approx(4.6)


def test_ink_of_straight_letters_by_the_stem():
    """`I` is one stem, `L` and `T` two bars: their ink is the sum of bars less the shared corner; `o` has an
    opening.
    """
    stem = np.ptp(letters_region("I", 1.0, 0.01, 0).rings[0].points[:, 0])
    assert area(letters_region("I", 1.0, 0.01, 0)) == pytest.approx(stem)
    assert thinnest("I") == pytest.approx(stem, abs=2e-3)
    ell = letters_region("L", 1.0, 0.01, 0).rings[0].points
    bar = np.unique(np.round(ell[:, 1], 9))[1] + 0.5
    assert area(letters_region("L", 1.0, 0.01, 0)) == pytest.approx(
        stem + bar * (np.ptp(ell[:, 0]) - stem), rel=1e-6
    )
    assert thinnest("L") == pytest.approx(min(stem, bar), abs=0.01)
    assert len(letters_region("o", 1.0, 0.01, 0).rings) == 2
    assert len(letters_region("8%", 1.0, 0.01, 0).rings) == 3 + 5


def test_volume_is_ink_times_height():
    ink = area(letters_region("LID B8 g\u00e4", 7.0, 0.01, 0))
    base = 80 * 40 * 4
    assert made(plate('says "LID B8 g\u00e4"', high="7.0")).figures.volume == pytest.approx(
        base + 0.6 * ink, rel=1e-6
    )
    assert made(plate('says "LID B8 g\u00e4"', high="7.0", how="sunk 0.5")).figures.volume == pytest.approx(
        base - 0.5 * ink
    )
    assert made(plate("arrow", high="7.0", how="sunk 0.5")).figures.volume == pytest.approx(
        base - 0.5 * 0.89 * 49, rel=1e-6
    )
    assert area(arrow_region(7.0, 0)) == pytest.approx(0.89 * 49)


def test_curves_keep_to_the_chord():
    """Halving the chord leaves the ink of round letters all but alone, and it grows and falls by less than
    the edge allows.
    """
    fine, coarse = (area(letters_region("OSC8", 10.0, chord, 0)) for chord in (0.0005, 0.02))
    assert abs(fine - coarse) < 0.02 * 250


# Where the ink of an F lies: its stem on the reader's left, its arms above the middle.  Seen along each
# face's own way.
WAYS = {
    "front": ((1, 0, 0), (0, 1, 0)),
    "back": ((-1, 0, 0), (0, 1, 0)),
    "right": ((0, 0, -1), (0, 1, 0)),
    "left": ((0, 0, 1), (0, 1, 0)),
    "top": ((1, 0, 0), (0, 0, -1)),
    "bottom": ((1, 0, 0), (0, 0, 1)),
}


@pytest.mark.parametrize("hand", ["", "    other hand"])
@pytest.mark.parametrize("face", WAYS)
def test_reads_right_from_outside_on_every_face(face, hand):
    """The other hand too: there the face lies mirrored, and the letters do not."""
    across = {"right": "top, p.bottom", "left": "top, p.bottom"}.get(face, "left, p.right")
    level = (
        "midway p.front, p.back" if face in ("right", "left", "top", "bottom") else "midway p.top, p.bottom"
    )
    result = made(plate(face=face, high="3.0", place=f"midway p.{across}\n    {level}", hand=hand))
    right, up = (np.array(way, dtype=float) for way in WAYS[face])
    if hand and face in ("left", "right"):
        right = -right
    points = lettered(result)
    middle = 0.5 * (points.min(axis=0) + points.max(axis=0))
    out = np.cross(right, up)
    level = (points @ out).max() - 0.3
    mesh = trimesh.Trimesh(result.mesh.points, result.mesh.triangles, process=False)
    ink = mesh.section(out, middle * (1 - abs(out)) + out * level)
    seen = np.column_stack([(ink.vertices - middle) @ right, (ink.vertices - middle) @ up])
    left_most = seen[seen[:, 0] < seen[:, 0].min() + 1e-6]
    assert np.ptp(left_most[:, 1]) == pytest.approx(3.0, abs=1e-6)
    assert seen[seen[:, 0] > seen[:, 0].max() - 1e-6][:, 1].min() > 0


def test_turned_is_as_the_reader_turns_it():
    """A quarter to the left: on the front and on the back the stem of the F lies below."""
    for face, way in (("front", 1), ("back", -1)):
        points = lettered(made(plate(face=face, how="raised 0.6\n    turned 90")))
        low = points[points[:, 1] < points[:, 1].min() + 1e-6]
        assert np.ptp(low[:, 0]) == pytest.approx(10.0, abs=1e-6)
        arms = points[points[:, 1] > points[:, 1].max() - 1e-6][:, 0].mean()
        assert way * (arms - 40.0) < 0


def test_placed_from_a_corner_by_its_own_ink():
    points = lettered(made(plate('says "HI"', place="from p.left near 3.0\n    from p.bottom near 2.5")))
    assert np.allclose(points.min(axis=0)[:2], [3.0, 2.5], atol=1e-6)
    turned = lettered(
        made(plate('says "HI"', place="turned 90\n    from p.right near 3.0\n    from p.top near 2.5"))
    )
    assert np.allclose(turned.max(axis=0)[:2], [77.0, 37.5], atol=1e-6)


def test_holes_are_cut_through_letters():
    text = plate('says "HHHHHH"', high="8.0") + "bore h\n    across 6.0\n    at 0, 0 from p\n"
    result = makegood.compile_text(text)
    assert result.ok
    top = lettered(result)
    assert np.hypot(*(top[:, :2] - [40.0, 20.0]).T).min() >= 3.0 - 1e-6


def test_marks_read_right_on_mirrored_copies():
    """A body with a mark is mirrored, and a mark alone: both copies hold an F with its stem to the left."""
    body = (
        'recipe "p"\nblock p\n    long 80.0\n    wide 40.0\n    thick 4.0\n'
        "block q\n    against p.top\n    long 30.0\n    wide 20.0\n    thick 4.0\n    from p.left near 5.0\n"
    )
    mark = 'mark m\n    on q.front\n    says "F"\n    high 8.0\n    raised 0.6\n    at 0, 0 from q\n'
    for of in ("q", "m", "q, m"):
        target = "p" if of == "m" else "q"
        text = body + mark.replace(" q", f" {target}").replace("q.f", f"{target}.f")
        text += f"line middle\n    midway p.left, p.right\nmirror both\n    of {of}\n    about middle\n"
        if of == "m":
            text = text.replace("at 0, 0", "at -20, 0")
        points = lettered(made(text))
        tops = points[points[:, 2] > 4.5]
        for half in (tops[tops[:, 0] < 40], tops[tops[:, 0] > 40]):
            assert np.ptp(half[half[:, 0] < half[:, 0].min() + 1e-6][:, 1]) == pytest.approx(8.0, abs=1e-6)


def test_the_example_is_clean_and_its_marks_stay_where_the_other_hand_has_them():
    result = makegood.compile_file(RECIPES / "fuse-door.mend")
    assert said(result) == []
    assert spot(result, "date")[0] > 35.0


def codes(text):
    return [one.code for one in makegood.compile_text(text).diagnostics]


@pytest.mark.parametrize(
    ("text", "code"),
    [
        (plate('says "\u4e94"'), "no-such-letter"),
        (plate('says "  "'), "no-such-letter"),
        (plate('says "\U0001f600"'), "no-such-letter"),
        (plate(f'says "{"W" * 81}"', high="0.5"), "text-too-long"),
        (plate(f'says "{"W" * 1900}"'), "text-too-long"),
        (plate(how="raised 0"), "bad-size"),
        (plate(high="201"), "bad-size"),
        (plate(high="9999"), "bad-size"),
        (plate() + "grid g\n    of m\n    count 100, 100\n    pitch 0.1, 0.1\n", "bad-count"),
        (plate(how="raised 0 - 1"), "bad-size"),
        (plate(how="sunk 0"), "bad-size"),
        (plate(place="at 100, 0 from p", how="sunk 0.5"), "mark-runs-out"),
        (plate(high="3", how="raised 0.5").replace('"F"', '"e"').replace("high 3", "high 2"), "thin-stroke"),
        (plate().replace("on p.front", "on air") + "plane air\n    raised 9 from p.front\n", "which-body"),
        (plate().replace("    raised 0.6\n", ""), "fact-missing"),
        (plate().replace('    says "F"\n', ""), "fact-missing"),
        (plate().replace("raised 0.6", "raised 0.6\n    sunk 0.4"), "said-twice"),
    ],
)
def test_what_is_answered(text, code):
    assert code in codes(text)


@pytest.mark.parametrize(("how", "least"), [("raised 0.6", 0.4), ("sunk 0.5", 0.5)])
def test_the_height_it_names_is_enough(how, least):
    found = makegood.compile_text(plate('says "ge"', high="1.5", how=how)).diagnostics
    told = [one for one in found if one.code == "thin-stroke"]
    high = float(told[0].advice[0].split()[1])
    assert high == pytest.approx(least / thinnest("ge"), abs=0.1)
    assert codes(plate('says "ge"', high=str(high), how=how)) == []
    assert codes(plate('says "ge"', high=str(high - 0.11), how=how)) == ["thin-stroke"]


def test_a_huge_mark_is_bounded():
    """80 letters of the largest size: the curves are cut into no more than 16 pieces each."""
    region = letters_region("@" * 80, 10_000.0, 0.01, 0)
    assert sum(len(ring.points) for ring in region.rings) < 80 * 16 * 60


def test_no_font_is_read_without_a_mark():
    import subprocess
    import sys

    block = "'recipe \"a\"\\nblock b\\n    long 9\\n    wide 9\\n    thick 9\\n'"
    code = (
        f"import sys, makegood; r = makegood.compile_text({block}); "
        "assert r.ok; sys.exit('fontTools' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_marks_of_a_used_part_read_right_where_it_is_mirrored(tmp_path):
    (tmp_path / "lid.mend").write_text(
        'recipe "lid"\nblock p\n    long 40\n    wide 20\n    thick 3\n'
        'mark m\n    on p.front\n    says "F"\n    high 8\n'
        "    raised 0.6\n    at 0, 0 from p\n",
        encoding="utf-8",
    )
    (tmp_path / "two.mend").write_text(
        'recipe "two"\nblock b\n    long 120\n    wide 20\n    thick 3\nuse a "lid.mend"\n    on b.front\n'
        "    from b.left near 4\n    midway b.top, b.bottom\nline mid\n    midway b.left, b.right\n"
        "mirror c\n    of a\n    about mid\n",
        encoding="utf-8",
    )
    result = makegood.compile_file(tmp_path / "two.mend")
    assert said(result) == []
    tops = result.mesh.points[result.mesh.points[:, 2] > 6.1]
    for half in (tops[tops[:, 0] < 60], tops[tops[:, 0] > 60]):
        assert np.ptp(half[half[:, 0] < half[:, 0].min() + 1e-6][:, 1]) == pytest.approx(8.0, abs=1e-6)
