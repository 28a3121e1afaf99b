"""More household parts of 20 to 100 lines, each with a figure derived by hand or from outlines in shapely.

The recipes lie in `recipes/`; each test says where its numbers come from.
"""

from __future__ import annotations

from functools import cache
from math import asin, atan, hypot, pi, radians, sqrt, tan

import numpy as np
import pytest
import shapely
from makegood.result import Result

from .figures import disc, frustum, segment
from .making import RECIPES, corners, faces_of, falls_short, filed, inside, made, normals, passing, spot

CHORD = 0.002


@cache
def part(name: str) -> Result:
    return filed(RECIPES / f"{name}.mend", CHORD)


def ball(at: tuple[float, float], across: float) -> shapely.Polygon:
    return shapely.Point(at).buffer(across / 2, quad_segs=200)


def near(result: Result, exact: float, curved: float) -> None:
    """Within the facets' error, either way (arcs of both hands)."""
    assert result.figures.volume == pytest.approx(exact, abs=curved * CHORD + 1e-5 * exact)


def test_blind_lever() -> None:
    """Centres: F/F 35.5 - 2.5 - 3 = 30; N/N 20 + 3 + 2 = 25; F/F 49.5 - 2.5 - 2 = 45: a triangle of 30, 25,
    45.
    """
    result = part("blind-lever")
    a, b, c = (spot(result, name) for name in "abc")
    assert [np.linalg.norm(u - v) for u, v in ((a, b), (b, c), (a, c))] == pytest.approx(
        [30.0, 25.0, 45.0], abs=1e-4
    )
    assert (a[1] - b[1], c[1] < b[1], a[0] < b[0]) == (pytest.approx(0, abs=1e-6), True, True)
    # outline: two belts (hulls of discs), the hollow corner rounded by 6 (closing); collar with a ramp, cut
    # by it
    discs = [ball(tuple(at[:2]), across) for at, across in ((a, 11.0), (b, 13.0), (c, 9.0))]
    bent = shapely.union(shapely.union_all(discs[:2]).convex_hull, shapely.union_all(discs[1:]).convex_hull)
    outline = bent.buffer(6.0, quad_segs=200).buffer(-6.0, quad_segs=200)
    holes = shapely.union_all([ball(tuple(at[:2]), across) for at, across in ((a, 5.0), (b, 6.0), (c, 4.0))])
    assert outline.area > bent.area + 1.0
    flat = outline.difference(holes).area * 4.0
    # height over the plate at a distance r from b: 3 up to 6.5, falling to 0 at 8.5; summed in thin slices
    heights = (np.arange(600) + 0.5) * 3.0 / 600
    slices = [
        outline.intersection(ball(tuple(b[:2]), 2 * (8.5 - h * 2.0 / 3.0))).difference(holes).area
        for h in heights
    ]
    near(result, flat + float(np.sum(slices)) * 3.0 / 600, 1200.0)
    assert [passing(result, n) for n in "abc"] == pytest.approx([5.0, 6.0, 4.0], abs=1e-4)


def test_drawer_wheel() -> None:
    """Pappus for groove and bevels; six holes of 3 and the axle of 4.02 + 0.2 through all heights they
    meet.
    """
    result = part("drawer-wheel")
    body = disc(30) * 8 - (disc(30) - disc(27)) * 2.0 + frustum(14, 12, 2.0)
    body -= disc(15) * 2 + frustum(15, 10, 1.0)
    body -= 0.32 * 2 * pi * (15 - 0.8 / 3)  # bevel 0.8 at 8.0: a triangle 0.8^2 / 2 on its middle's circle
    body -= 0.125 * 2 * pi * (7.5 + 0.5 / 3)
    holes = 6 * disc(3) * 8 + disc(4.22) * (10.0 - 3.0)
    near(result, body - holes, 2600.0)
    assert result.figures.genus == 7
    assert passing(result, "axle") == pytest.approx(4.22, abs=1e-4)


def test_tube_foot() -> None:
    """A cylinder cut slantwise has the volume of one cut square at its axis: 6.0 + 14 tan 10 there; blind
    from 14 up.
    """
    result = part("tube-foot")
    near(result, disc(28) * (30 - 6.0 - 14 * tan(radians(10))) - disc(22) * 16, 4200.0)
    slope = [n for n in normals(corners(result, faces_of(result, "foot", "trim"))) if abs(n).sum() > 0]
    assert np.degrees(np.arccos(np.abs(np.array(slope)[:, 2]))) == pytest.approx(
        np.full(len(slope), 10.0), abs=1e-4
    )


def test_door_latch() -> None:
    """Pivot 4 + 2.5 over the under edge; near-far 12: 12 + 1.5 - 2.5 = 11 apart; far-near 24: 24 - 1 + 2.5 =
    25.5.
    """
    result = part("door-latch")
    pivot, spring, catch = (spot(result, n) for n in ("pivot", "spring", "catch"))
    assert (pivot[1], spring[1], catch[1]) == pytest.approx((6.5, 6.5, 6.5), abs=1e-4)
    assert (spring - pivot)[0] == pytest.approx(11.0, abs=1e-3)
    assert (catch - pivot)[0] == pytest.approx(25.5, abs=1e-3)
    assert passing(result, "spring") == pytest.approx(2.5, abs=1e-4)  # bites M3, whatever it was read
    # from the pivot: front at 40 - 2.5 = 37.5, peak 4 left of it, bay 14 + 4 left of it, shoulder 16.5 - 2.5
    # away
    px, top = 6.5, 20.0
    front = px + 37.5
    shoulder = px + sqrt(14.0**2 - (top - 6.5) ** 2) * (1 if spot(result, "shoulder")[0] > pivot[0] else -1)
    heel = ball((px, 6.5), 13.0)
    body = shapely.Polygon([(px, 0), (front, 0), (front, 15), (front - 4, top), (shoulder, top), (px, 6.5)])
    body = shapely.union(shapely.union(heel, shapely.Point(shoulder, top)).convex_hull, body)
    bay = ball((front - 18.0, top), 8.0)
    outline = body.difference(bay)
    holes = shapely.union_all([ball((px + x, 6.5), d) for x, d in ((0, 5.0), (11.0, 2.5), (25.5, 2.0))])
    drawn = [outline.buffer(-x, join_style="mitre", mitre_limit=50).area for x in (0.0, 0.2, 0.4)]
    volume = outline.area * 5.6 + 0.4 / 6 * (drawn[0] + 4 * drawn[1] + drawn[2]) - holes.area * 6.0
    near(result, volume, 500.0)


def test_hex_knob() -> None:
    """Seat: a hexagon of 10 less 0.1 for a press fit, 4.5 deep; seven grips of 8 on a circle of radius
    19.5.
    """
    result = part("hex-knob")
    grip = 14.0 * ball((0, 0), 36.0).intersection(ball((19.5, 0), 8.0)).area
    body = disc(36) * 14 + disc(18) * 6
    hexagon = sqrt(3) / 2 * 9.9**2
    mark = (3.0 * 1.2 - (4 - pi) * 0.16) * 0.8
    bevels = (0.5 + 0.125) * 2 * pi * 18
    holes = disc(6.4) * 15.5 + hexagon * 4.5
    assert result.figures.volume == pytest.approx(body - 7 * grip - holes - mark, abs=bevels)
    seat = corners(result, faces_of(result, "seat"))
    walls = seat[np.abs(normals(seat)[:, 2]) < 1e-6]
    gaps = ((walls.mean(axis=1) - spot(result, "seat")) * normals(walls)).sum(axis=1)
    assert 2 * np.abs(gaps) == pytest.approx(np.full(len(gaps), 9.9), abs=1e-5)
    assert len({tuple(np.round(n, 5)) for n in normals(walls)}) == 6


def test_handle_cap() -> None:
    """Lid 40 x 24 x 2.5 with corners 4; rim 1.2 thick, 1.6 in; pegs; the hexagon keeps 6.0, the square is
    4.8.
    """
    result = part("handle-cap")

    def lid(c: float) -> float:
        return (40 - 2 * c) * (24 - 2 * c) - (4 - pi) * (4 - c) ** 2

    plate = lid(0) * 2.0 + 0.5 / 6 * (lid(0) + 4 * lid(0.25) + lid(0.5))
    rim = (lid(1.6) - lid(2.8)) * 6.0
    r, flat = 3.7 / 2, 3.4 - 0.3 - 3.7 / 2  # slides on 4.0: 0.3 less across, and the flat with it

    def dee(c: float) -> float:
        return pi * (r - c) ** 2 - segment(r - c, flat - c)

    round_peg = dee(0) * 8.5 + 0.5 / 6 * (dee(0) + 4 * dee(0.25) + dee(0.5))
    six = sqrt(3) / 2
    hex_peg = six * (36 * 6.6 + 0.4 / 6 * (36 + 4 * 5.6**2 + 5.2**2))
    square_peg = 4.8**2 * 6.4 + 2 * 0.3 / 6 * (4.8**2 + 4 * 4.5**2 + 4.2**2)
    # two bars of 1.2: 11 and 8 long, the quarter outside their corner, less what stands inside the square peg
    peg_foot = 1.2 * (0.3 * 2.1 + 0.3**2 / 2 + 3.7 * 2.4)
    stay = (1.2 * 11 + 1.2 * 8 - 0.36 + pi / 4 * 0.36) * 4.0
    assert peg_foot > 0
    overlap = 1.2 * (2.4 * 4.0) - 1.2 * (0.3**2 / 2)
    recess = disc(3.4) * 1.5 + disc(6.0) * 1.0
    near(result, plate + rim + round_peg + hex_peg + square_peg + stay - overlap - recess, 900.0)


def test_vent_grille() -> None:
    """Counted: 3 vents, 12 holes, 4 drains, 2 rivets, a key slot and a slot in the middle make 23
    openings.
    """
    result = part("vent-grille")
    assert result.figures.genus == 3 + 12 + 4 + 2 + 1 + 1

    def plate(c: float) -> float:
        return (80 - 2 * c) * (50 - 2 * c)

    body = plate(0) * 2.0 + 2 * 0.5 / 6 * (plate(0) + 4 * plate(0.25) + plate(0.5))
    holes = 3 * (3 * 24 * 4) + 12 * 3 * disc(2.5) + 4 * 3 * disc(2.0) + 2 * 3 * 2.6**2
    holes += 3 * (6 * 3.0 + disc(3.0)) + 3 * (8 * 2.0 + disc(2.0))
    patch = 1.0 / 1.0 * (14 * 10 + 4 * 14.5 * 10.5 + 15 * 11) / 6  # a ramp of 0.5 all round
    lip = (
        3.0 * 80 * 1.5
    )  # on the front between 1.5 and 4.5 from the top, as long as the plate is at its middle
    band = 1.6 * 80 * 0.6
    assert result.figures.volume == pytest.approx(body - holes - patch + lip - band, abs=6.0)
    assert spot(result, "drain.4")[:2] == pytest.approx((8 + 12 * sqrt(3) / 2, 5 + 6), abs=1e-5)
    assert spot(result, "hole.12")[:2] == pytest.approx((80 - 26 + 18, 50 - 20 + 12), abs=1e-5)


def test_lamp_arm() -> None:
    """Belt of 21 and 13 across, cut by a plane that leans 20 degrees out of upright, 4 beyond the fork's
    middle.
    """
    result = part("lamp-arm")
    hub, fork = (0.0, 0.0), (-40.0, 0.0)
    belt = shapely.union(ball(hub, 21.0), ball(fork, 13.0)).convex_hull
    lean = tan(radians(20.0))
    layers = []
    for z in (np.arange(400) + 0.5) / 100:
        x = -44.0 + lean * z * (1 if _leans_in(result) else -1)
        layers.append(belt.intersection(shapely.box(x, -50, 50, 50)).area)
    body = float(np.mean(layers)) * 4.0
    stiff = shapely.union_all([ball(hub, 14.0), ball((-20.0, 0), 10.0), shapely.box(-20, -2.5, 0, 2.5)])
    stiff = stiff.buffer(-0.25, join_style="mitre").area * 2.0
    axle = disc(6.0) * 6.0
    cord = disc(1.6) * (54.5 - 6.0 - 0.5)
    assert result.figures.volume == pytest.approx(body + stiff - axle - cord, abs=4.0)


def _leans_in(result: Result) -> bool:
    way = normals(corners(result, faces_of(result, "arm", "trim")))
    return float(way[np.abs(way).sum(axis=1) > 0][0][2]) > 0


def test_shelf_bracket() -> None:
    """Leaves 30 x 50 x 4 and 30 x 40 x 4; gussets half 18 x 18 x 3 and half 15 x 25 x 4; fillet 2.5; stop;
    screw.
    """
    result = part("shelf-bracket")
    exact = 30 * 50 * 4 + 30 * 40 * 4 + 18 * 18 / 2 * 3 + 15 * 25 / 2 * 4 + 30 * 3 * 5
    exact += (1 - pi / 4) * 6.25 * (30 - 3)  # where the gusset stands the corner is filled already
    exact -= disc(4.5) * (4 - 2.25) + frustum(4.5, 9.0, 2.25)
    near(result, exact, 350.0)
    assert inside(result, (5.5, 25.0, 6.0), (8.5, 27.0, 7.0), (15.0, 18.0, 6.0), (15.0, 18.0, 40.0)) == [
        True,
        False,
        True,
        False,
    ]


def test_bag_clip() -> None:
    """The rule below both rounds; the bar's line 7 over it; heights: bar 3 behind, 3 and 4.5 in front."""
    result = part("bag-clip")
    eye, knob = (spot(result, n)[:2] for n in ("eye", "knob"))
    lean = asin(3.0 / 36.0)  # outer tangent of rounds of 9 and 6, 36 apart (rising to the knob's side)
    way, up = np.array([np.cos(lean), np.sin(lean)]), np.array([-np.sin(lean), np.cos(lean)])
    foot, tip = spot(result, "bar_foot")[:2], spot(result, "bar_tip")[:2]
    for at in (foot, tip):
        assert (at - eye) @ up == pytest.approx(-9.0 + 7.0, abs=1e-3)
    assert (foot - eye) @ way == pytest.approx(24.0 - 9.0, abs=1e-3)
    assert hypot(*(tip - foot)) == pytest.approx(17.0, abs=1e-3)
    assert knob[0] - eye[0] == pytest.approx(36.0, abs=1e-6)
    assert atan(lean) > 0
    assert result.figures.box[2] == pytest.approx(3.0 + 4.0 + 4.5 + 0.5 - 0.5, abs=0.6)


def test_bevels_where_an_arc_meets_a_straight_edge() -> None:
    """A D-shaped plate: facets next to the corner are shorter than the bevel is wide, and vanish on its
    way.
    """
    for bevel in (0.2, 0.6, 1.5):
        text = (
            f"block b\n    long 30.0\n    wide 30.0\n    thick 2.0\npeg d\n    on b.front\n    around b\n"
            f"    across 20.0\n    flat 16.0 facing top\n    high 6.0\n    bevel {bevel}\n"
        )

        def dee(c: float) -> float:
            return pi * (10 - c) ** 2 - segment(10 - c, 6 - c)

        exact = 1800 + dee(0) * (6 - bevel) + bevel / 6 * (dee(0) + 4 * dee(bevel / 2) + dee(bevel))
        result = made(text, CHORD)
        falls_short(result, exact + 1e-3 * bevel**2, 450.0, CHORD)


def test_a_bevel_wider_than_the_rounds_of_the_corners() -> None:
    """Corners of 1.0 are gone where the bevel has drawn the outline in by 1.0; from there on they are sharp.

    The facets of the vanished rounds run up to the sharp corners in one piece, a little inside the true
    surface: each takes less than a quarter of the corner's own (1 - pi / 4) r^2 over the bevel's height."""
    result = made(
        "block b\n    long 30.0\n    wide 20.0\n    thick 6.0\n    round outside 1.0\n"
        "    bevel 2.0 at front\n",
        CHORD,
    )

    def plate(c: float) -> float:
        return (30 - 2 * c) * (20 - 2 * c) - (4 - pi) * max(0.0, 1.0 - c) ** 2

    exact = (
        plate(0) * 4
        + 1 / 6 * (plate(0) + 4 * plate(0.5) + plate(1))
        + 1 / 6 * (plate(1) + 4 * plate(1.5) + plate(2))
    )
    assert exact - (4 - pi) * 2.0 / 4 <= result.figures.volume <= exact


def test_planes_face_the_way_they_say():
    """Four blind holes of 3.0 and 4.0 deep, one from each face: the planes they start from look outwards."""
    result = part("corner-post")
    falls_short(result, 20 * 20 * 12 - 4 * disc(3.0) * 4.0, 4 * pi * 3.0 * 4.0, CHORD)
    assert {name: spot(result, name)[:2] for name in ("up", "down", "leftwards", "rightwards")} == {
        "up": pytest.approx((10, 20)),
        "down": pytest.approx((10, 0)),
        "leftwards": pytest.approx((0, 10)),
        "rightwards": pytest.approx((20, 10)),
    }


def test_readings_over_outsides_and_of_arcs():
    """Over two rounds of 3.0: 63 - 3 = 60 between centres; over a row of four: (39 - 3) / 3 = 12 pitch; an
    arc of chord 20 and rise 4 is part of a round of 20^2 / (4 x 4) + 4 = 29 (chord theorem); 40 degrees at
    the pivot, 20 away."""
    result = part("spool-rack-arm")
    pivot = spot(result, "pivot")
    away = {name: spot(result, name)[:2] - pivot[:2] for name in ("rest", "finger", "needle", "needle.4")}
    assert away["rest"] == pytest.approx((60, 0), abs=2e-6)
    assert away["finger"] == pytest.approx((20 * np.cos(radians(40)), 20 * np.sin(radians(40))), abs=2e-6)
    assert away["needle.4"] - away["needle"] == pytest.approx((36, 0), abs=2e-6)
    across = {one.name: one.across for one in result.report().features}
    assert across["hub"] == across["far_end"] == pytest.approx(29)
    assert across["rest"] == across["stop"] == across["thread"] == 3.0


def test_the_floor_of_a_blind_bore_belongs_to_its_turning() -> None:
    """Every face of the board lies in the board's box; the floor, a disc of 3 across at height 6, is the
    bore's.
    """
    board = "block board\n    long 40\n    wide 20\n    thick 4\n\n"
    cup = "turning cup\n    on board.front\n    across 9.0 from 0 to 7.0\n    bored 3.0 from 2.0 to 7.0\n"
    result = made(board + cup + "    at 0, 0 from board\n")
    assert corners(result, faces_of(result, "board"))[..., 2].max() == 4.0
    floor = corners(result, faces_of(result, "cup", "bore"))
    flat = floor[np.ptp(floor[..., 2], axis=1) == 0.0]
    assert flat[..., 2].max() == flat[..., 2].min() == 6.0
    area = 0.5 * np.linalg.norm(np.cross(flat[:, 1] - flat[:, 0], flat[:, 2] - flat[:, 0]), axis=1).sum()
    assert area == pytest.approx(pi * 1.5**2, rel=0.01)


def test_a_flat_takes_the_play_of_its_round_whatever_names_the_shaft() -> None:
    """A named number, a thing and a plain number say the same: the hole on a shaft of 6 with a flat of 4.5 is
    one.
    """
    plate = (
        'recipe "a"\n\nblock base\n    long 20\n    wide 20\n    thick 5\n\n{}\nbore eye\n    around base\n'
    )
    facts = "    pushes on {}\n    flat 4.5 facing top\n"
    found = [
        made((plate + facts.replace("{}", mate)).replace("{}", more)).figures.volume
        for more, mate in (("", "6"), ("let rod = 6\n", "rod"), ("neighbour rod\n    across 6\n", "rod"))
    ]
    assert found == [found[0]] * 3
