"""Outlines grown, shrunk and rounded, plates bevelled and trimmed, against Steiner's formula and shapely."""

from __future__ import annotations

from math import pi, radians, sqrt, tan

import numpy as np
import pytest
import shapely
from makegood.result import Result

from .making import falls_short, inside, made

CORNERS = {"a": (0.0, 0.0), "b": (30.0, 0.0), "c": (24.0, 18.0), "d": (5.0, 22.0)}
SHAPE = shapely.Polygon(list(CORNERS.values()))
POINTS = "".join(
    f"point {k}\n    at {x}, {y}{' from a' if k != 'a' else ''}\n" for k, (x, y) in CORNERS.items()
)
ELL = shapely.Polygon([(0, 0), (40, 0), (40, 10), (12, 10), (12, 30), (0, 30)])
ELL_POINTS = "".join(
    f"point p{i}\n    at {x}, {y}{' from p0' if i else ''}\n"
    for i, (x, y) in enumerate(ELL.exterior.coords[:-1])
)
WALK = "    outline p0, p1, p2, p3, p4, p5\n"
MERGED = """
rectangle foot
    long 40.0
    wide 10.0
    at 0, 0
rectangle leg
    long 12.0
    wide 30.0
    at -14.0, 10.0 from foot
"""


def section(result: Result) -> float:
    """Area of the front face (all of it at one height)."""
    points, triangles = result.mesh.points, result.mesh.triangles
    top = np.all(points[triangles][:, :, 2] > points[:, 2].max() - 1e-9, axis=1)
    a = points[triangles[top]]
    return float(np.linalg.norm(np.cross(a[:, 1] - a[:, 0], a[:, 2] - a[:, 0]), axis=1).sum() / 2)


@pytest.mark.parametrize("by", [0.5, 2.0, -1.0])
def test_a_sharp_convex_outline_grows_by_steiners_formula_with_sharp_corners(by: float) -> None:
    """A + P c + c^2 sum tan(turn / 2) at mitred corners (Steiner 1840, mitred instead of rounded)."""
    word = f"grow {by}" if by > 0 else f"shrink {-by}"
    result = made(POINTS + f"plate p\n    thick 2.0\n    outline a, b, c, d\n    {word}\n")
    mitred = shapely.buffer(SHAPE, by, join_style="mitre", mitre_limit=20)
    ring = np.array(SHAPE.exterior.coords)
    steps = np.diff(ring, axis=0)
    ways = np.arctan2(steps[:, 1], steps[:, 0])
    turns = np.mod(np.roll(ways, -1) - ways, 2 * pi)
    exact = SHAPE.area + SHAPE.length * by + by**2 * float(np.tan(turns / 2).sum())
    assert mitred.area == pytest.approx(exact, rel=1e-9)
    assert section(result) == pytest.approx(exact, rel=1e-6)
    falls_short(result, 2.0 * exact, 0.0)


def test_a_round_outline_grows_by_steiners_formula_with_round_corners() -> None:
    text = (
        "round a\n    across 10.0\n    at 0, 0\nround b\n"
        "    across 10.0\n    at 25, 0 from a\nplate p\n    thick 3.0\n"
        "    belt a, b\n    grow 1.5\n"
    )
    falls_short(made(text), 3.0 * (13.0 * 25 + pi * 6.5**2), pi * 13 * 3)


@pytest.mark.parametrize(
    "shape",
    [
        ELL_POINTS + "plate p\n    thick 2.0\n" + WALK,
        MERGED + "plate p\n    thick 2.0\n    merge foot, leg\n",
    ],
)
def test_rounding_corners_takes_and_adds_the_fillet_area(shape: str) -> None:
    """(1 - pi / 4) r^2 at each right-angled corner: off the five that stick out, onto the hollow one."""
    spandrel = 1 - pi / 4
    assert section(made(shape)) == pytest.approx(ELL.area, abs=1e-5)
    inner = made(shape + "    round inside 4.0\n", 0.002)
    assert section(inner) == pytest.approx(ELL.area + spandrel * 16, abs=2 * pi * 0.002 * 2)
    outer = made(shape + "    round outside 3.0\n", 0.002)
    assert section(outer) == pytest.approx(ELL.area - 5 * spandrel * 9, abs=5 * pi / 2 * 3 * 0.002)
    both = made(shape + "    round outside 3.0\n    round inside 4.0\n", 0.002)
    assert section(both) == pytest.approx(ELL.area - 5 * spandrel * 9 + spandrel * 16, abs=0.1)
    opened = shapely.buffer(shapely.buffer(ELL, -3.0, quad_segs=400), 3.0, quad_segs=400)
    assert section(outer) == pytest.approx(opened.area, abs=0.06)


@pytest.mark.parametrize(
    "shape",
    [
        ELL_POINTS + "plate p\n    thick 2.0\n" + WALK,
        ELL_POINTS + MERGED.replace("at 0, 0", "at 20, 5 from p0") + "plate p\n    thick 2.0\n"
        "    merge foot, leg\n",
    ],
)
def test_rounding_one_corner_leaves_the_others(shape: str) -> None:
    spandrel = 1 - pi / 4
    one = made(shape + "    round outside 3.0 at p1\n", 0.002)
    assert section(one) == pytest.approx(ELL.area - spandrel * 9, abs=0.02)
    assert inside(one, (39.9, 0.1, 1.0), (0.1, 0.1, 1.0)) == [False, True]
    hollow = made(shape + "    round inside 3.0 at p3\n    round outside 2.0 at p0, p4\n", 0.002)
    assert section(hollow) == pytest.approx(ELL.area + spandrel * 9 - 2 * spandrel * 4, abs=0.03)


def test_bevels_on_a_plate_with_an_inside_corner_match_the_mitred_insets() -> None:
    """A 45 degree bevel is a stack of insets: V = integral of the mitred inset's area (shapely, three-point
    rule).
    """
    result = made(
        ELL_POINTS + "plate p\n    thick 5.0\n" + WALK + "    bevel 1.5 at back\n    bevel 1.0 at front\n"
    )

    def under(c: float) -> float:
        areas = [shapely.buffer(ELL, -x, join_style="mitre", mitre_limit=20).area for x in (0.0, c / 2, c)]
        return c / 6 * (areas[0] + 4 * areas[1] + areas[2])

    falls_short(result, ELL.area * 2.5 + under(1.5) + under(1.0), 0.0)


@pytest.mark.parametrize("angle", [30.0, 60.0, 90.0, 110.0, 135.0])
def test_trim_by_a_plane_that_stands_on_a_line(angle: float) -> None:
    """Line on the back, 15 from the left; the plane leans to the right below 90 degrees or to the left above
    it.
    """
    text = f"""
block b
    long 50.0
    wide 20.0
    thick 8.0
    trim cut
line edge
    on b.back
    parallel to b.left
    from b.left 15.0
plane cut
    stands on edge at {angle}
"""
    result = made(text)
    shift = 8.0 / tan(radians(angle))
    kept = [(50 - 15) * 8.0 + s * shift * 8.0 / 2 for s in (1, -1)]
    assert any(abs(result.figures.volume - 20.0 * max(k, 400 - k)) < 1e-3 for k in kept), (
        result.figures.volume
    )


def test_trim_of_a_turning_by_a_slanted_plane_is_a_slanted_cylinder() -> None:
    """A cylinder cut by a plane keeps area x the height over its middle (the plane through the axis at
    12).
    """
    text = """
turning t
    across 20.0 from 0 to 30.0
    trim cut
line foot
    on t.right
    from t.back 12.0
plane cut
    stands on foot at 70
"""
    # the line lies 10 from the axis; 70 degrees from the side, the plane has moved 10 / tan 70 along when it
    # meets the axis
    result = made(text, 0.002)
    middle = [12.0 + s * 10.0 / tan(radians(70.0)) for s in (1, -1)]
    kept = [pi * 100 * max(h, 30 - h) for h in middle]
    assert min(abs(result.figures.volume - k) for k in kept) < 2 * pi * 10 * 30 * 0.002


def test_hexagonal_block_outline_by_trims_keeps_the_larger_part() -> None:
    text = (
        POINTS
        + """
plate p
    thick 2.0
    outline a, b, c, d
    trim cut
line slope
    through a, c
    on p.front
plane cut
    stands on slope
"""
    )
    text = text.replace("    on p.front\n", "")
    result = made(text)
    below = shapely.Polygon([CORNERS["a"], CORNERS["b"], CORNERS["c"]]).area
    assert result.figures.volume == pytest.approx(2.0 * max(below, SHAPE.area - below), abs=1e-3)


def test_every_corner_is_sharp_without_rounds() -> None:
    result = made(POINTS + "plate p\n    thick 2.0\n    outline a, b, c, d\n")
    assert result.figures.area == pytest.approx(2 * SHAPE.area + 2 * SHAPE.length, rel=1e-9)
    assert sqrt(SHAPE.area) > 0


def test_rounding_a_merged_outline_keeps_its_widths() -> None:
    """The round of 10 stays 10.00 across although corners of the bar are rounded, whatever the facets."""
    text = (
        "round a\n    across 10.0\n    at 0, 0\nrectangle b\n"
        "    long 20.0\n    wide 6.0\n    at 10.0, 0 from a\n"
        "plate p\n    thick 4.0\n    merge a, b\n    round inside 2.0\n    round outside 1.0\n"
    )
    result = made(text)
    assert result.figures.box == pytest.approx((25.0, 10.0, 4.0), abs=1e-6)
    shape = shapely.union(shapely.Point(0, 0).buffer(5.0, quad_segs=200), shapely.box(0, -3, 20, 3))
    shape = shape.buffer(2.0, quad_segs=200).buffer(-3.0, quad_segs=200).buffer(1.0, quad_segs=200)
    assert section(result) == pytest.approx(shape.area, abs=0.35)
    assert section(result) < shape.area + 0.02
