"""Readings from the sides of a body that is itself still to be placed: one diameter for all of them, and
wrong words named.
"""

import math

import makegood
import numpy as np
import pytest
from makegood.network.adjust import adjust
from makegood.network.hypotheses import edge_alternatives, sized_things, usual_alternatives
from makegood.network.solve import solve_network
from makegood.network.suspects import verdicts
from makegood.network.types import (
    Centred,
    Coordinate,
    FixedLine,
    FixedThing,
    Network,
    ReadEdge,
    SizeReading,
    ToLine,
)
from makegood.places.answers import slip_words
from msgspec.structs import replace
from scipy.optimize import least_squares

N, C, F = ReadEdge.NEAR, ReadEdge.CENTRE, ReadEdge.FAR
U, EXACT, UP = 0.05, 1e-5, math.pi / 2
OUT = {"left": math.pi, "right": 0.0, "top": UP, "bottom": -UP}


def side(name, body, where):
    """The middle of a side of a body, as the rows of a page state it."""
    return (
        Coordinate(0, body, name, OUT[where], 0.0, EXACT, N, -1),
        Coordinate(0, name, body, OUT[where] + UP, 0.0, EXACT),
    )


def lug(turned=0.0, mirror=1):
    """A body 20 x 16 read from two edges of the page, two holes of one drill read from its sides; all 0.05
    off at most.
    """
    rows = [ToLine(1, "lug", "back", N, 5.02, U, 1), ToLine(2, "lug", "end", N, 7.01, U, 1)]
    for where in OUT:
        rows += side(f"lug.{where}", "lug", where)
    read = (
        ("a", "left", N, 3.04),
        ("a", "left", F, 7.98),
        ("a", "bottom", N, 2.0),
        ("a", "top", N, 9.03),
        ("b", "right", F, 8.0),
        ("b", "bottom", C, 6.01),
        ("b", "top", F, 12.46),
        ("b", "right", N, 2.95),
    )
    for k, (hole, where, edge, value) in enumerate(read):
        rows.append(Coordinate(10 + k, hole, f"lug.{where}", OUT[where], value, U, edge, -1))
    things = (
        Centred("lug", 0.0, 10.0, 8.0),
        Centred("a", 2.5, size="drill"),
        Centred("b", 2.5, size="drill"),
        *(Centred(f"lug.{where}") for where in OUT),
    )
    lines = (FixedLine("back", UP, 0.0, 1), FixedLine("end", 0.0, 0.0, 1))
    return Network(things, fixed_lines=lines, rows=tuple(rows), sizes=(SizeReading(50, "drill", 5.1, 0.03),))


def misses(x):
    """The same system written out: the body's centre, the holes' centres, the one diameter."""
    lx, ly, ax, ay, bx, by, d = x
    left, right, bottom, top = lx - 10, lx + 10, ly - 8, ly + 8
    return np.array(
        [
            (ly - 8 - 5.02) / U,
            (lx - 10 - 7.01) / U,
            (ax - left - d / 2 - 3.04) / U,
            (ax - left + d / 2 - 7.98) / U,
            (ay - bottom - d / 2 - 2.0) / U,
            (top - ay - d / 2 - 9.03) / U,
            (right - bx + d / 2 - 8.0) / U,
            (by - bottom - 6.01) / U,
            (top - by + d / 2 - 12.46) / U,
            (right - bx - d / 2 - 2.95) / U,
            (d - 5.1) / 0.03,
        ]
    )


def test_one_diameter_for_all_readings_from_sides_against_a_general_optimiser():
    a = adjust(lug())
    best = least_squares(misses, [17.0, 13.0, 22.0, 9.0, 21.0, 11.0, 5.0], xtol=1e-15, ftol=1e-15, gtol=1e-15)
    found = [*a.things["lug"].at, *a.things["a"].at, *a.things["b"].at, a.sizes["drill"].diameter]
    assert found == pytest.approx(best.x, abs=2e-6)
    assert a.tests[0].total == pytest.approx(2 * best.cost, rel=1e-4)
    u = np.sqrt(np.diag(np.linalg.inv(best.jac.T @ best.jac)))
    assert a.sizes["drill"].u == pytest.approx(u[6], rel=1e-4)
    assert a.things["a"].u_x == pytest.approx(u[2], rel=1e-4)
    assert a.things["b"].u_y == pytest.approx(u[5], rel=1e-4)
    assert sum(r.redundancy for r in a.readings if not r.exact) == pytest.approx(
        4, abs=1e-3
    )  # 11 readings, 7 unknowns


@pytest.mark.parametrize("edge", [N, C, F])
@pytest.mark.parametrize("way", [1, -1])
def test_the_same_as_a_line_along_the_side(edge, way):
    # a side that is known: the reading by Coordinate and by ToLine is one equation
    wall = FixedLine("wall", 0.3, 4.0)
    foot = FixedThing(Centred("foot"), (4.0 * math.cos(0.3), 4.0 * math.sin(0.3)))
    things, sizes = (Centred("h", 2.0, 3.0, 0.0, 0.9, size="d"),), (SizeReading(9, "d", 4.1, U),)
    across = Coordinate(2, "h", "foot", 0.3 + UP, 1.0, U)
    by_line = Network(
        things, (), (foot,), (wall,), (ToLine(1, "h", "wall", edge, 8.0, U, way), across), sizes=sizes
    )
    by_side = replace(by_line, rows=(Coordinate(1, "h", "foot", 0.3, 8.0, U, edge, way), across))
    for net in (by_line, by_side):
        s = solve_network(net)
        assert (s.left_open, s.two_places, s.misfits) == ((), (), ())
    p, q = adjust(by_line), adjust(by_side)
    assert p.things["h"].at == pytest.approx(q.things["h"].at, abs=2e-6)
    assert (p.things["h"].u_x, p.things["h"].u_y) == pytest.approx(
        (q.things["h"].u_x, q.things["h"].u_y), rel=1e-6
    )


def test_a_wrong_word_from_a_side_is_named():
    net = lug()
    rows = tuple(
        replace(r, edge=F) if r.key == 13 else r for r in net.rows
    )  # `a` was read near the top, 5 mm off
    net = replace(net, rows=rows)
    (v,) = verdicts(adjust(net), usual_alternatives(net, EXACT * 1.01))
    best = v.readings_as[0].alternative
    assert (best.key, slip_words(best.slip)) == (13, "read near, not far")
    # its near edge is 2.0 from the bottom of a body 16 high: that edge is far from the top
    assert [s.should_be for s in v.suspects if s.key == 13] == [pytest.approx(14.0, abs=0.005)]


def test_coordinates_that_are_no_readings_from_a_side_have_no_edge_words():
    row = Coordinate(1, "h", "g", 0.0, 4.0, U)
    net = Network((Centred("h", 3.0), Centred("g", 3.0)), rows=(row,))
    assert edge_alternatives(row, sized_things(net)) == []


RECIPE = """recipe "lug on a rail"
    readings   +-0.05
block rail
    long       60.0
    wide       16.0
    thick      4.0
block lug
    long       20.0
    wide       16.0
    thick      6.0
    from rail.left near 20.0
    from rail.bottom near 12.0
bore eye
    across     5.0
    through    lug
    from lug.left near 3.0
    from lug.left {word} 8.0
    from lug.right near 12.0
    from lug.bottom near 5.5
    from lug.top near 5.5
"""


def test_a_recipe_with_a_wrong_word_from_a_side():
    assert makegood.compile_text(RECIPE.format(word="far"), "lug.mend").ok
    told = makegood.compile_text(RECIPE.format(word="centre"), "lug.mend").diagnostics
    (message,) = [d for d in told if d.code == "readings-disagree"]
    assert any(
        "`from lug.left centre 8.0` of eye was read far, not centre" in line for line in message.advice
    )


def test_which_of_two_places_is_said_by_a_name_that_can_be_written():
    """The middle between two flats lies level with both answers; what tells them apart is the bore that was
    read to.
    """
    text = (
        'recipe "hook"\nblock leaf\n    long 60.0\n    wide 14.0\n'
        "    thick 5.0\nline crown\n    flush with leaf.top\n"
        "plane view\n    stands on crown\n    faces above\n"
        "bore upper\n    on view\n    clears M3\n    through leaf\n"
        "    midway leaf.front, leaf.back\n    midway leaf.left, leaf.right\n"
        "bore lower\n    on view\n    clears M3\n"
        "    through leaf\n    midway leaf.front, leaf.back\n    from upper centres 18.0\n"
    )
    (told,) = [one for one in makegood.compile_text(text).diagnostics if one.is_error]
    assert told.code == "two-places"
    assert sorted(told.advice[0].removeprefix("say which:  ").split("   or   ")) == [
        "left of upper",
        "right of upper",
    ]
