"""Volumes of whole recipes against closed forms: elementary solid geometry (prism, cylinder, frustum, Pappus,
segment).

Each case names the volume that a true part has and the area of its curved surfaces; facets may only take
away, by no more than that area times the chord error (see `making`)."""

from __future__ import annotations

from math import acos, cos, pi, radians, sin, sqrt, tan

import pytest

from .figures import disc, frustum, segment
from .making import falls_short, made

BASE = """
block base
    long 40.0
    wide 30.0
    thick 6.0
"""
FULL = 40.0 * 30.0 * 6.0


HOLES = {
    "drilled": ("bore h\n    drill 6.0 not 6.1\n    at 3.0, 2.0 from base", disc(6.0) * 6.0, pi * 6 * 6),
    "blind": (
        "bore h\n    across 6.0\n    deep 4.0 from front\n    at 3.0, 2.0 from base",
        disc(6.0) * 4.0,
        pi * 6 * 4,
    ),
    "blind from behind": (
        "bore h\n    across 6.0\n    deep 4.0 from base.back\n    around base",
        disc(6.0) * 4.0,
        pi * 6 * 4,
    ),
    "on the back": (
        "bore h\n    on base.back\n    across 6.0\n    deep 2.5\n    around base",
        disc(6.0) * 2.5,
        pi * 6 * 2.5,
    ),
    "hexagon": ("bore h\n    hex 7.0\n    around base", sqrt(3.0) / 2.0 * 49.0 * 6.0, 0.0),
    "hexagon turned": (
        "bore h\n    hex 7.0\n    turned 17\n    around base",
        sqrt(3.0) / 2.0 * 49.0 * 6.0,
        0.0,
    ),
    "square": ("bore h\n    square 5.0\n    turned 45\n    around base", 25.0 * 6.0, 0.0),
    "D": (
        "bore h\n    across 6.0\n    flat 4.5 facing left\n    around base",
        (disc(6.0) - segment(3.0, 1.5)) * 6.0,
        115.0,
    ),
    "two flats": (
        "bore h\n    across 6.0\n    flats 4.5 facing left\n    around base",
        (disc(6.0) - 2 * segment(3.0, 2.25)) * 6.0,
        115.0,
    ),
    "counterbore": (
        "bore h\n    across 4.0\n    counterbore 8.0 deep 2.5 at front\n    around base",
        disc(4.0) * 3.5 + disc(8.0) * 2.5,
        pi * (4 * 3.5 + 8 * 2.5),
    ),
    "counterbore behind": (
        (
            "bore h\n    on base.front\n    across 4.0\n"
            "    counterbore 8.0 deep 2.5 at base.back\n    around base"
        ),
        disc(4.0) * 3.5 + disc(8.0) * 2.5,
        pi * (4 * 3.5 + 8 * 2.5),
    ),
    "countersink": (
        "bore h\n    across 4.0\n    countersink 8.0 at front\n    around base",
        disc(4.0) * 4.0 + frustum(4.0, 8.0, 2.0),
        pi * (4 * 4 + 6 * 2 * sqrt(2)),
    ),
    "slot": (
        "slot h\n    wide 5.0\n    long 13.0\n    around base",
        (8.0 * 5.0 + disc(5.0)) * 6.0,
        pi * 5 * 6,
    ),
    "slot with square ends": (
        "slot h\n    wide 5.0\n    long 13.0\n    square ends\n    upright\n    around base",
        65.0 * 6.0,
        0.0,
    ),
    "slot turned, blind": (
        "slot h\n    wide 5.0\n    long 13.0\n    turned 30\n    deep 2.0 from front\n    around base",
        (8.0 * 5.0 + disc(5.0)) * 2.0,
        pi * 5 * 2,
    ),
    "slot between ends": (
        (
            "point p\n    at -6.0, 0 from base\npoint q\n"
            "    at 6.0, 5.0 from base\nslot h\n    wide 4.0\n    ends p, q"
        ),
        (13.0 * 4.0 + disc(4.0)) * 6.0,
        pi * 4 * 6,
    ),
    "notch": (
        "notch h\n    long 10.0\n    wide 4.0\n    flush with base.right\n    midway base.top, base.bottom",
        240.0,
        0.0,
    ),
    "notch with rounds": (
        "notch h\n    long 10.0\n    wide 6.0\n    round inside 1.5\n    around base",
        (60.0 - (4.0 - pi) * 1.5**2) * 6.0,
        2 * pi * 1.5 * 6,
    ),
    "notch blind, turned": (
        "notch h\n    on base.front\n    long 10.0\n    wide 4.0\n    turned 30\n    deep 1.5\n"
        "    around base",
        60.0,
        0.0,
    ),
    "from a side": (
        "bore h\n    on base.right\n    across 3.0\n    deep 12.0\n    from base.bottom near 4.0\n"
        "    midway base.front, base.back",
        disc(3.0) * 12.0,
        pi * 3 * 12,
    ),
    "through from a side": (
        "bore h\n    on base.top\n    across 3.0\n    from base.left centre 9.0\n"
        "    midway base.front, base.back",
        disc(3.0) * 30.0,
        pi * 3 * 30,
    ),
}


@pytest.mark.parametrize("name", HOLES)
def test_holes_take_their_closed_form(name: str) -> None:
    text, taken, curved = HOLES[name]
    falls_short(made(BASE + text + "\n", 0.005), FULL - taken, curved, 0.005)


BODIES = {
    "walked": (
        "point a\n    at 0, 0\npoint b\n    at 30, 0 from a\npoint c\n    at 12, 25 from a\n"
        "plate p\n    thick 4.0\n    outline a, b, c\n",
        0.5 * 30 * 25 * 4.0,
        0.0,
    ),
    "rise": (
        "point a\n    at 0, 0\npoint b\n    at 20, 0 from a\n"
        "point c\n    at 20, 24 from a\npoint d\n    at 0, 24 from a\n"
        "arc bow\n    rise 8.0\nplate p\n    thick 4.0\n    outline a, b, bow, c, d\n",
        (480.0 + segment(13.0, 5.0)) * 4.0,
        120.0,
    ),  # chord 24, rise 8: radius (12^2 + 8^2) / 16 = 13
    "rise inwards": (
        "point a\n    at 0, 0\npoint b\n    at 20, 0 from a\n"
        "point c\n    at 20, 24 from a\npoint d\n    at 0, 24 from a\n"
        "arc bow\n    rise 8.0\n    inwards\nplate p\n    thick 4.0\n    outline a, b, bow, c, d\n",
        (480.0 - segment(13.0, 5.0)) * 4.0,
        120.0,
    ),
    "radius": (
        "point a\n    at 0, 0\npoint b\n    at 20, 0 from a\n"
        "point c\n    at 20, 24 from a\npoint d\n    at 0, 24 from a\n"
        "arc bow\n    radius 13.0\nplate p\n    thick 4.0\n    outline a, b, bow, c, d\n",
        (480.0 + segment(13.0, 5.0)) * 4.0,
        120.0,
    ),
    "hollow round": (
        "point a\n    at 0, 0\npoint b\n    at 40, 0 from a\n"
        "point c\n    at 40, 20 from a\npoint d\n    at 0, 20 from a\n"
        "round bay\n    across 10.0\n    at 20, 20 from a\n"
        "line lid\n    through c, d\nplate p\n    thick 2.0\n"
        "    outline a, b, c, into lid, inside bay, into lid, d\n",
        (800.0 - disc(10.0) / 2) * 2.0,
        40.0,
    ),
    "belt of two": (
        "round a\n    across 10.0\n    at 0, 0\nround b\n"
        "    across 10.0\n    at 25, 0 from a\nplate p\n    thick 3.0\n"
        "    belt a, b\n",
        (250.0 + disc(10.0)) * 3.0,
        pi * 10 * 3,
    ),
    "belt of unequal": (
        "round a\n    across 20.0\n    at 0, 0\nround b\n"
        "    across 8.0\n    at 26, 0 from a\nplate p\n    thick 3.0\n"
        "    belt a, b\n",
        None,
        0.0,
    ),
    "chain": (
        "round a\n    across 10.0\n    at 0, 0\nround b\n    across 10.0\n    at 25, 0 from a\nround c\n"
        "    across 10.0\n    at 25, 30 from a\n"
        "plate p\n    thick 3.0\n    chain a, b, c\n",
        # two belts overlap in the quarter-square inside the elbow and three quarters of its round
        (250 + disc(10) + 300 + disc(10) - (25.0 + 0.75 * disc(10.0))) * 3.0,
        170.0,
    ),
    "merged": (
        "rectangle r\n    long 30.0\n    wide 10.0\n    at 0, 0\n"
        "round d\n    across 16.0\n    at 15.0, 0 from r\n"
        "plate p\n    thick 2.0\n    merge r, d\n",
        # what the disc adds: its right half, and of the left half the two caps above and below the bar
        (300.0 + disc(16.0) / 2 + segment(8.0, 5.0)) * 2.0,
        100.0,
    ),
    "web": (
        "round a\n    across 12.0\n    at 0, 0\nround b\n"
        "    across 12.0\n    at 30, 0 from a\nweb w\n    joins a, b\n"
        "    wide 4.0\n"
        "plate p\n    thick 2.0\n    merge a, b, w\n",
        None,
        0.0,
    ),
    "peg": (
        "block b\n    long 20.0\n    wide 20.0\n    thick 3.0\n"
        "peg k\n    on b.front\n    around b\n    across 8.0\n"
        "    high 10.0\n    bevel 1.0\n",
        1200.0 + disc(8.0) * 9.0 + frustum(8.0, 6.0, 1.0),
        300.0,
    ),
    "peg D": (
        "block b\n    long 20.0\n    wide 20.0\n    thick 3.0\npeg k\n    on b.back\n    around b\n"
        "    across 8.0\n    flat 7.0 facing right\n    high 10.0\n",
        1200.0 + (disc(8.0) - segment(4.0, 3.0)) * 10.0,
        260.0,
    ),
    "peg of two flats": (
        "block b\n    long 20.0\n    wide 20.0\n    thick 3.0\npeg k\n    on b.back\n    around b\n"
        "    across 8.0\n    flats 5.0\n    high 10.0\n",
        1200.0 + (disc(8.0) - 2 * segment(4.0, 2.5)) * 10.0,
        260.0,
    ),
    "peg hex": (
        "block b\n    long 20.0\n    wide 20.0\n    thick 3.0\npeg k\n    on b.front\n    around b\n"
        "    hex 8.0\n    turned 10\n    high 5.0\n    bevel 0.5 at both\n",
        None,
        0.0,
    ),
    "peg square": (
        "block b\n    long 20.0\n    wide 20.0\n    thick 3.0\npeg k\n    on b.front\n    around b\n"
        "    square 6.0\n    high 5.0\n    bevel 1.0 at tip\n",
        1200.0 + 36 * 4 + (36 + 24 + 16) / 3.0,
        0.0,
    ),
    "rim": (
        "block b\n    long 40.0\n    wide 30.0\n    thick 2.0\n"
        "rim r\n    on b.front\n    thick 1.5\n    high 4.0\n"
        "    inset 1.0\n",
        2400.0 + (38 * 28 - 35 * 25) * 4.0,
        0.0,
    ),
    "rim on round": (
        "block b\n    long 40.0\n    wide 30.0\n    thick 2.0\n    round outside 5.0\nrim r\n"
        "    on b.front\n    thick 1.5\n    high 4.0\n",
        (1200 - (4 - pi) * 25) * 2.0 + (1200 - (4 - pi) * 25 - (37 * 27 - (4 - pi) * 3.5**2)) * 4.0,
        300.0,
    ),
    "rib along": (
        "block b\n    long 40.0\n    wide 30.0\n    thick 2.0\npoint p\n    at -15, -10 from b\npoint q\n"
        "    at 15, -10 from b\npoint s\n    at 15, 10 from b\n"
        "rib r\n    on b.front\n    along p, q, s\n    thick 2.0\n    high 3.0\n",
        # two bars and the quarter round outside the corner; the bars overlap in a quarter square
        2400.0 + (30 * 2 + 20 * 2 - 1.0 + pi / 4) * 3.0,
        20.0,
    ),
    "bevelled plate": (
        "block b\n    long 40.0\n    wide 30.0\n    thick 5.0\n    bevel 1.0 at front\n",
        1200 * 4 + (1200 + 4 * 39 * 29 + 38 * 28) / 6.0,
        0.0,
    ),
    "bevelled both": ("block b\n    long 40.0\n    wide 30.0\n    thick 5.0\n    bevel 1.0\n", None, 0.0),
    "wedge": (
        "block b\n    long 40.0\n    wide 30.0\n    thick 10.0\n    trim cut\nline edge\n    on b.back\n"
        "    flush with b.left\n"
        "plane cut\n    stands on edge at 30\n",
        None,
        0.0,
    ),
}


def prismatoid(lower: float, middle: float, upper: float, high: float) -> float:
    return high / 6.0 * (lower + 4.0 * middle + upper)


def belt_area(r1: float, r2: float, apart: float) -> float:
    """Area inside a belt round two discs: two trapezia between the tangents, and the arcs' sectors."""
    lean = acos((r1 - r2) / apart)
    return (r1 + r2) * apart * sin(lean) + r1**2 * (pi - lean) + r2**2 * lean


BODIES["belt of unequal"] = (BODIES["belt of unequal"][0], belt_area(10.0, 4.0, 26.0) * 3.0, 250.0)
BODIES["web"] = (
    BODIES["web"][0],
    (2 * disc(12.0) + 4.0 * 30.0 - 2 * (4.0 * 6.0 - 4.0 * (6.0 - sqrt(32.0)) + segment(6.0, sqrt(32.0))))
    * 2.0,
    160.0,
)
BODIES["peg hex"] = (
    BODIES["peg hex"][0],
    1200.0 + sqrt(3) / 2 * (64 * 4.0 + 2 * 0.5 / 3 * (64 + 49 + 56)),
    0.0,
)
BODIES["bevelled both"] = (
    BODIES["bevelled both"][0],
    1200 * 3 + 2 * prismatoid(1200, 39 * 29, 38 * 28, 1.0),
    0.0,
)
BODIES["wedge"] = (BODIES["wedge"][0], (40 * 10 - 0.5 * 10 * 10 / tan(radians(30))) * 30.0, 0.0)


@pytest.mark.parametrize("name", BODIES)
def test_bodies_have_their_closed_form(name: str) -> None:
    text, exact, curved = BODIES[name]
    assert exact is not None
    falls_short(made(text, 0.005), exact, curved, 0.005)


CORNER = """
block wall
    wide 24.0
    high 46.0
    thick 3.0

block rail
    on wall.front
    wide 24.0
    high 3.0
    reaches 38.0 from wall.back
    flush with wall.bottom
    flush with wall.left
"""
LEAVES = 24.0 * (46 * 3 + 35 * 3)


def test_fillet_fills_the_corner_between_two_leaves() -> None:
    text = CORNER + "fillet f\n    between wall.front, rail.top\n    radius 6\n"
    falls_short(made(text), LEAVES + (1 - pi / 4) * 36.0 * 24.0, pi / 2 * 6 * 24)


@pytest.mark.parametrize(
    "place",
    [
        "flush with wall.left",
        "midway wall.left, wall.right",
        "from wall.right near 5.5",
        "from wall.left far 9.0",
    ],
)
def test_gusset_is_a_triangle_times_its_thickness(place: str) -> None:
    text = CORNER + (
        "rib r\n    between wall.front, rail.top\n    thick 3.0\n    reach 20.0 along wall.front\n"
        f"    reach 12.0 along rail.top\n    {place}\n"
    )
    result = made(text)
    falls_short(result, LEAVES + 0.5 * 20 * 12 * 3.0, 0.0)


BENT = """
point a
    at 0, 0
point b
    at {first}, 0 from a
point c
    at {x}, {y} from b
strip s
    thick 3.0
    wide 12.0
    path a, b, c
    turns inside 5.0
    {side} on path
"""


@pytest.mark.parametrize("side", ["inside", "outside", "middle"])
@pytest.mark.parametrize("turn", [40.0, 90.0, 125.0])
@pytest.mark.parametrize("hand", [1, -1])
def test_strip_is_its_middle_line_times_its_section(side: str, turn: float, hand: int) -> None:
    """Exact for straights and arcs alike (Pappus): the middle line of a bend of inner radius r is (r + t / 2)
    x turn.
    """
    first, second, t, inner = 40.0, 35.0, 3.0, 5.0
    x, y = second * cos(radians(turn)), hand * second * sin(radians(turn))
    text = BENT.format(first=first, x=round(x, 9), y=round(y, 9), side=side)
    path = inner + {"inside": 0.0, "middle": t / 2, "outside": t}[side]
    middle = first + second - 2 * path * tan(radians(turn) / 2) + (inner + t / 2) * radians(turn)
    falls_short(made(text), middle * t * 12.0, radians(turn) * (inner + inner + t) * 12.0)
