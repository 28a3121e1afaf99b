"""Worked layouts with the arithmetic beside them."""

import math

import pytest
from makegood.network import solve_network
from makegood.network.types import (
    Centred,
    Coordinate,
    Distance,
    FixedLine,
    FixedThing,
    Heading,
    LeftOpen,
    LineAngle,
    LineGap,
    LineThing,
    Midway,
    Network,
    ReadEdge,
    Roughly,
    SideWord,
    Tangent,
    ToLine,
    TwoPlaces,
    Way,
)
from makegood.places.answers import motion_words, offer_words, side_words

N, C, F = ReadEdge.NEAR, ReadEdge.CENTRE, ReadEdge.FAR
U = 0.02
BACK = FixedLine("back", math.pi / 2, 0.0, 1)
PIVOT = Centred("pivot", 3.05)


def words(two: TwoPlaces) -> tuple[str, ...]:
    """What tells the places apart, as it is typed."""
    return tuple(map(side_words, two.tells))


def would_do(left: LeftOpen) -> tuple[str, ...]:
    """What would settle it, as it is typed."""
    return tuple(map(offer_words, left.would_do))


def good(solved):
    assert solved.left_open == ()
    assert solved.two_places == ()
    assert solved.misfits == ()
    return solved


def test_two_holes_near_and_far():
    # 16.20 = d + 3.05 + 1.00 and 8.10 = d - 3.05 - 1.00, so d = 12.15
    rows = (Distance(1, "spring", "pivot", F, F, 16.20, U), Distance(2, "spring", "pivot", N, N, 8.10, U))
    s = good(solve_network(Network((Centred("spring", 1.0), PIVOT), rows=rows)))
    assert s.things == {"pivot": (0.0, 0.0), "spring": (12.15, 0.0)}


PAWL = (
    ToLine(1, "pivot", "back", N, 4.95, U),
    ToLine(2, "pivot", "back", F, 11.05, U),
    ToLine(3, "heel", "back", C, 0.0, U),
    Distance(4, "heel", "pivot", C, N, 20.35, U),
    ToLine(5, "tip", "back", C, 18.0, U),
    Distance(6, "tip", "pivot", C, F, 32.80, U),
)
PAWL_THINGS = (PIVOT, Centred("heel"), Centred("tip"))


def test_pawl():
    # pivot 8.0 up; heel sqrt(23.40^2 - 8^2) = 21.990 along; tip 32.80 - 3.05 = 29.75, sqrt(29.75^2 - 10^2) =
    # 28.019
    sides = (SideWord(7, "heel", Way.RIGHT, "pivot"), SideWord(8, "tip", Way.RIGHT, "pivot"))
    s = good(solve_network(Network(PAWL_THINGS, fixed_lines=(BACK,), rows=PAWL, sides=sides)))
    assert s.things["pivot"] == (0.0, 8.0)
    assert s.things["heel"] == (pytest.approx(math.sqrt(23.40**2 - 64), abs=1e-6), 0.0)
    assert s.things["tip"] == (pytest.approx(math.sqrt(29.75**2 - 100), abs=1e-6), 18.0)


def test_pawl_without_side_words_asks_for_each():
    s = solve_network(Network(PAWL_THINGS, fixed_lines=(BACK,), rows=PAWL))
    assert [(t.name, words(t)) for t in s.two_places] == [
        ("heel", ("right of pivot", "left of pivot")),
        ("tip", ("right of pivot", "left of pivot")),
    ]
    assert s.two_places[0].places == ((21.989998, 0.0), (-21.989998, 0.0))
    assert s.left_open == ()
    assert s.misfits == ()


def test_a_later_side_word_settles_an_earlier_thing():
    # tip is read from heel, so only one heel lets tip lie 40 right of pivot
    rows = (*PAWL[:4], ToLine(5, "tip", "back", C, 0.0, U), Distance(6, "tip", "heel", C, C, 5.0, U))
    sides = (SideWord(7, "tip", Way.RIGHT, "pivot"), SideWord(8, "tip", Way.BEYOND, "heel", "pivot"))
    s = good(solve_network(Network(PAWL_THINGS, fixed_lines=(BACK,), rows=rows, sides=sides)))
    assert s.things["heel"][0] == pytest.approx(21.989998, abs=1e-6)
    assert s.things["tip"][0] == pytest.approx(26.989998, abs=1e-6)


TRIANGLE = (
    Distance(1, "latch", "hinge", C, C, 30.0, U),
    Distance(2, "stud", "hinge", C, C, 40.0, U),
    Distance(3, "stud", "latch", C, C, 50.0, U),
)
THREE = (Centred("hinge", 2.0), Centred("latch", 2.0), Centred("stud", 2.0))


def test_triangle_has_a_mirror_image():
    s = solve_network(Network(THREE, rows=TRIANGLE))
    assert s.things == {"hinge": (0.0, 0.0), "latch": (30.0, 0.0), "stud": (0.0, 40.0)}
    (two,) = s.two_places
    assert (two.name, two.places, words(two)) == (
        "stud",
        ((0.0, 40.0), (0.0, -40.0)),
        ("above hinge", "below hinge"),
    )
    s = good(solve_network(Network(THREE, rows=TRIANGLE, sides=(SideWord(4, "stud", Way.BELOW, "hinge"),))))
    assert s.things["stud"] == (0.0, -40.0)


def test_a_chosen_direction_follows_the_side_words():
    sides = (SideWord(4, "latch", Way.ABOVE, "hinge"), SideWord(5, "stud", Way.RIGHT, "hinge"))
    s = good(solve_network(Network(THREE, rows=TRIANGLE, sides=sides)))
    assert s.things == {"hinge": (0.0, 0.0), "latch": (0.0, 30.0), "stud": (40.0, 0.0)}


def test_triangle_that_may_not_choose_its_frame():
    s = solve_network(Network(THREE, rows=TRIANGLE, free_frame=False))
    assert [(o.name, motion_words(o.motion)) for o in s.left_open] == [
        ("hinge", "free"),
        ("latch", "swings round hinge"),
    ]


def test_missing_reading_is_named_with_what_would_do():
    s = solve_network(Network(THREE, rows=TRIANGLE[:2]))
    (left,) = s.left_open
    assert (left.name, motion_words(left.motion), would_do(left)) == (
        "stud",
        "swings round hinge",
        ("from latch far-far ...",),
    )
    assert s.two_places == ()
    assert s.misfits == ()


def test_open_things_beside_a_known_line():
    things = (PIVOT, Centred("heel"), Centred("pin", 1.0))
    rows = (*PAWL[:4], ToLine(5, "pin", "back", C, 4.0, U))
    s = solve_network(
        Network(things, fixed_lines=(BACK,), rows=rows, sides=(SideWord(6, "heel", Way.RIGHT, "pivot"),))
    )
    (left,) = s.left_open
    assert (left.name, motion_words(left.motion)) == ("pin", "slides along back")
    assert set(would_do(left)) == {"from heel near ...", "from pivot far-far ..."}


def test_nothing_known_of_a_thing():
    things = (PIVOT, Centred("heel"), Centred("tip"))
    net = Network(
        things, fixed_lines=(BACK,), rows=PAWL[:4], sides=(SideWord(6, "heel", Way.RIGHT, "pivot"),)
    )
    (left,) = solve_network(net).left_open
    assert (left.name, motion_words(left.motion)) == ("tip", "free")
    assert len(would_do(left)) == 3
    assert "from back ..." in would_do(left)


def test_parallel_readings_are_redundant_not_enough():
    top = FixedLine("top", math.pi / 2, 20.0, -1)
    rows = (ToLine(1, "pin", "back", C, 8.0, U), ToLine(2, "pin", "top", C, 12.0, U))
    s = solve_network(Network((Centred("pin", 1.0),), fixed_lines=(BACK, top), rows=rows, free_frame=False))
    assert [(o.name, motion_words(o.motion)) for o in s.left_open] == [("pin", "slides along back")]
    good(solve_network(Network((Centred("pin", 1.0),), fixed_lines=(BACK, top), rows=rows)))


def test_lines_left_open():
    things = (FixedThing(Centred("a"), (0.0, 0.0)), FixedThing(Centred("b", 1.0), (10.0, 0.0)))
    s = solve_network(Network((), (LineThing("edge"),), things, rows=(ToLine(1, "a", "edge", C, 0.0, U),)))
    (left,) = s.left_open
    assert (left.name, motion_words(left.motion)) == ("edge", "swings round a")
    assert "on b" in would_do(left)
    s = solve_network(
        Network((), (LineThing("edge"),), things, rows=(LineAngle(1, "edge", None, 0.3, 1e-3),))
    )
    assert [(motion_words(o.motion), would_do(o)) for o in s.left_open] == [
        ("shifts sideways", ("on a", "on b"))
    ]


def test_only_one_cluster_may_choose_the_frame():
    rows = (*TRIANGLE, Distance(9, "y", "x", C, C, 7.0, U))
    net = Network(
        (*THREE, Centred("x"), Centred("y")),
        rows=rows,
        sides=(SideWord(4, "stud", Way.ABOVE, "hinge"),),
    )
    s = solve_network(net)
    assert [(o.name, motion_words(o.motion)) for o in s.left_open] == [("x", "free"), ("y", "swings round x")]


def test_triangle_that_cannot_close():
    rows = (*TRIANGLE[:2], Distance(3, "stud", "latch", C, C, 75.0, U))
    (misfit,) = solve_network(Network(THREE, rows=rows)).misfits
    assert misfit.keys == (1, 2, 3)
    assert misfit.residuals == pytest.approx(
        (5 / 3, 5 / 3, -5 / 3), abs=1e-6
    )  # 5 mm missing, shared by three
    assert misfit.worst == pytest.approx(5 / 3 / U, rel=1e-6)


@pytest.mark.parametrize("long", [70.0, 10.0])
def test_triangle_that_just_closes_is_one_answer(long):
    rows = (*TRIANGLE[:2], Distance(3, "stud", "latch", C, C, long, U))
    s = good(solve_network(Network(THREE, rows=rows)))
    assert abs(s.things["stud"][0]) == pytest.approx(40.0, abs=1e-5)
    assert s.things["stud"][1] == pytest.approx(0, abs=1e-3)


def test_contradicting_edges():
    rows = (ToLine(1, "pivot", "back", N, 4.95, U), ToLine(2, "pivot", "back", F, 11.65, U))
    (misfit,) = solve_network(Network((PIVOT,), fixed_lines=(BACK,), rows=rows)).misfits
    assert (misfit.keys, misfit.residuals) == ((1, 2), pytest.approx((0.3, -0.3), abs=1e-9))


def test_side_word_that_no_answer_meets():
    sides = (SideWord(7, "heel", Way.RIGHT, "pivot"), SideWord(8, "heel", Way.ABOVE, "pivot"))
    s = solve_network(Network(PAWL_THINGS[:2], fixed_lines=(BACK,), rows=PAWL[:4], sides=sides))
    (misfit,) = s.misfits
    assert misfit.keys == (8,)
    assert misfit.residuals == (-8.0,)


@pytest.mark.parametrize(("edge", "centre"), [(N, 6.1), (F, 0.9), (C, 3.5)])
def test_edge_words_when_the_line_crosses_the_hole(edge, centre):
    rows = (ToLine(1, "hole", "back", edge, 3.5, U),)
    s = good(solve_network(Network((Centred("hole", 2.6),), fixed_lines=(BACK,), rows=rows)))
    assert s.things["hole"] == (0.0, pytest.approx(centre, abs=1e-9))


def test_far_short_reading_puts_the_centre_behind_the_line():
    rows = (ToLine(1, "hole", "back", F, 1.0, U),)
    s = good(solve_network(Network((Centred("hole", 2.6),), fixed_lines=(BACK,), rows=rows)))
    assert s.things["hole"] == (0.0, -1.6)


def test_unknown_side_is_asked():
    line = FixedLine("score", math.pi / 2, 0.0)
    rows = (ToLine(1, "hole", "score", F, 3.5, U),)
    s = solve_network(Network((Centred("hole", 2.6),), fixed_lines=(line,), rows=rows))
    (two,) = s.two_places
    assert two.places == ((0.0, 0.9), (0.0, -0.9))
    assert words(two) == ("above score", "below score")


def test_roughly_chooses_without_a_question():
    rows = PAWL[:4]
    net = Network(
        PAWL_THINGS[:2], fixed_lines=(BACK,), rows=rows, roughly=(Roughly(9, "heel", (-20.0, 1.0)),)
    )
    assert good(solve_network(net)).things["heel"][0] == pytest.approx(-21.989998, abs=1e-6)


def test_common_tangents_of_two_rounds():
    # rounds r 5 and r 3, centres 20 apart: outside tangent leans asin(2/20), crossed one asin(8/20)
    things = (FixedThing(Centred("a", 5.0), (0.0, 0.0)), FixedThing(Centred("b", 3.0), (20.0, 0.0)))
    rows = (Tangent(1, "edge", "a", U, 1), Tangent(2, "edge", "b", U, 1))
    s = solve_network(Network((), (LineThing("edge"),), things, rows=rows))
    assert len(s.two_places[0].places) == 2
    below = good(
        solve_network(
            Network((), (LineThing("edge"),), things, rows=rows, sides=(SideWord(3, "edge", Way.BELOW, "a"),))
        )
    )
    lean = below.lines["edge"].angle - math.pi / 2
    assert abs(math.remainder(lean, math.pi)) == pytest.approx(math.asin(0.1), abs=1e-9)
    rows = (Tangent(1, "edge", "a", U), Tangent(2, "edge", "b", U))
    both = solve_network(Network((), (LineThing("edge"),), things, rows=rows))
    assert len(both.two_places[0].places) == 4


def test_middles():
    things = (FixedThing(Centred("a"), (0.0, 0.0)), FixedThing(Centred("b"), (10.0, 4.0)))
    lines = (FixedLine("low", math.pi / 2, 1.0), FixedLine("high", math.pi / 2, 9.0))
    net = Network(
        (Centred("m"), Centred("p")),
        (LineThing("axis"), LineThing("mid")),
        things,
        lines,
        (
            Midway(1, "m", "a", "b", U),
            Midway(2, "axis", "b", "a", U),
            Midway(3, "mid", "low", "high", U),
            Midway(4, "p", "high", "low", U),
            Coordinate(5, "p", "a", 0.0, 3.0, U),
        ),
    )
    s = good(solve_network(net))
    assert s.things["m"] == (5.0, 2.0)
    assert s.things["p"] == (3.0, 5.0)
    assert s.lines["mid"].offset == pytest.approx(5.0)
    assert s.lines["mid"].angle == pytest.approx(math.pi / 2)
    axis = s.lines["axis"]
    assert math.tan(axis.angle) == pytest.approx(0.4)
    assert math.cos(axis.angle) * 5 + math.sin(axis.angle) * 2 == pytest.approx(axis.offset, abs=1e-6)


def test_bisectors_of_crossing_lines():
    lines = (FixedLine("floor", math.pi / 2, 0.0), FixedLine("wall", 0.0, 0.0))
    s = solve_network(
        Network((), (LineThing("mitre"),), fixed_lines=lines, rows=(Midway(1, "mitre", "floor", "wall", U),))
    )
    assert abs(math.remainder(s.lines["mitre"].angle, math.pi / 2)) == pytest.approx(math.pi / 4)
    # both bisectors run through the corner; they count as two answers
    assert s.two_places[0].name == "mitre"


def test_lines_by_angle_and_gap():
    rows = (
        LineAngle(1, "top", "back", 0.0, 1e-4),
        LineGap(2, "top", "back", 20.0, U, 1),
        LineAngle(3, "end", "back", math.pi / 2, 1e-4),
        ToLine(4, "pivot", "end", N, 4.0, U),
        ToLine(5, "pivot", "top", N, 6.95, U),
        Heading(6, "pivot", "pin", "back", 0.0, 1e-4),
        Distance(7, "pin", "pivot", C, C, 11.0, U),
    )
    net = Network(
        (PIVOT, Centred("pin")),
        (LineThing("top"), LineThing("end")),
        fixed_lines=(BACK,),
        rows=rows,
        sides=(SideWord(8, "pivot", Way.RIGHT, "end"), SideWord(9, "pivot", Way.BELOW, "top")),
    )
    s = good(solve_network(net))
    assert s.things["pivot"][1] == pytest.approx(10.0)
    assert s.things["pin"] == pytest.approx((s.things["pivot"][0] + 11, 10))
    assert s.things["pivot"][0] - s.lines["end"].offset / math.cos(s.lines["end"].angle) == pytest.approx(
        7.05
    )


def test_slot_and_rectangle_supports():
    # a slot lying level: half-size 2 + 5 sideways, 2 upwards; a turned rectangle 6 x 4 has cos 3 + sin 2
    # sideways
    turn = 0.4
    half = math.cos(turn) * 3 + math.sin(turn) * 2
    wall = FixedLine("wall", 0.0, 0.0, 1)
    rows = (
        ToLine(1, "slot", "back", N, 3.0, U),
        ToLine(2, "slot", "wall", N, 4.0, U),
        ToLine(3, "block", "wall", N, 5.0, U),
        ToLine(4, "block", "back", C, 9.0, U),
    )
    things = (Centred("slot", 2.0, 5.0), Centred("block", 0.0, 3.0, 2.0, turn))
    s = good(solve_network(Network(things, fixed_lines=(BACK, wall), rows=rows)))
    assert s.things["slot"] == (11.0, 5.0)
    assert s.things["block"] == pytest.approx((5.0 + half, 9.0), abs=1e-6)


def test_four_bar_that_no_order_builds():
    # two known posts, two pins each at a known distance of one post, tied by distance and by a third reading
    # across
    posts = (FixedThing(Centred("p"), (0.0, 0.0)), FixedThing(Centred("q"), (40.0, 0.0)))
    a, b, c = (6.0, 17.0), (30.0, 21.0), (19.0, 33.0)
    d = math.dist
    rows = (
        Distance(1, "a", "p", C, C, d(a, (0, 0)), U),
        Distance(2, "b", "q", C, C, d(b, (40, 0)), U),
        Distance(3, "a", "b", C, C, d(a, b), U),
        Distance(4, "a", "c", C, C, d(a, c), U),
        Distance(5, "b", "c", C, C, d(b, c), U),
        Coordinate(6, "c", None, math.pi / 2, 33.0, U),
    )
    rough = (Roughly(7, "a", a), Roughly(8, "b", b), Roughly(9, "c", c))
    s = solve_network(
        Network(
            (Centred("a"), Centred("b"), Centred("c")),
            fixed_things=posts,
            rows=rows,
            roughly=rough,
        )
    )
    assert s.left_open == ()
    assert s.misfits == ()
    for name, at in (("a", a), ("b", b), ("c", c)):
        assert s.things[name] == pytest.approx(at, abs=1e-5)
