"""Adjustments against published examples, closed forms, Monte Carlo, a metrology library and a general
optimiser.
"""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from makegood.network.adjust import adjust
from makegood.network.chances import chi_square_limit, chi_square_tail
from makegood.network.suspects import verdicts
from makegood.network.types import (
    Centred,
    Coordinate,
    Distance,
    FixedLine,
    FixedThing,
    LineThing,
    Network,
    ReadEdge,
    Roughly,
    SizeReading,
    ToLine,
)
from msgspec.structs import replace
from scipy import stats
from scipy.optimize import least_squares

from .synthetic import U, part

C, N, F = ReadEdge.CENTRE, ReadEdge.NEAR, ReadEdge.FAR
BACK = FixedLine("back", math.pi / 2, 0.0, 1)
LEFT = FixedLine("left", 0.0, 0.0, 1)


def test_trilateration_of_three_known_stations():
    # inputs: Ghilani and Wolf, Adjustment Computations, example 14.2 as repeated in published course notes
    # (feet)
    stations, lengths = ((865.4, 4527.15), (2432.55, 2047.25), (2865.22, 27.15)), (6049.0, 4736.83, 5446.49)
    posts = tuple(FixedThing(Centred(f"s{k}"), at) for k, at in enumerate(stations))
    rows = tuple(Distance(k, "p", f"s{k}", C, C, v, 1.0) for k, v in enumerate(lengths))
    a = adjust(Network((Centred("p"),), (), posts, rows=rows, roughly=(Roughly(9, "p", (6861.0, 3727.0)),)))
    p = a.things["p"]
    assert p.at == pytest.approx((6861.316787718, 3727.818565717), abs=1e-6)
    assert [r.residual for r in a.readings] == pytest.approx([-0.03737265, 0.07679284, -0.04736557], abs=1e-7)
    assert (p.u_x**2, p.cov_xy, p.u_y**2) == pytest.approx((0.63018897, -0.72835387, 2.49468854), rel=1e-7)
    assert [r.redundancy for r in a.readings] == pytest.approx([0.14644682, 0.61832046, 0.23523272], abs=1e-7)
    assert math.sqrt(a.tests[0].total / a.tests[0].freedoms) == pytest.approx(0.097659373, abs=1e-8)


def test_thermometer_calibration_line():
    # JCGM 100:2008, H.3: a straight line through eleven corrections; s = 0.0035 taken as u of each
    t = (21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511)
    b = (-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160)
    s = 0.0034975639635
    posts = tuple(
        FixedThing(Centred(f"p{k}"), (x - 20, y)) for k, (x, y) in enumerate(zip(t, b, strict=True))
    )
    rows = tuple(ToLine(k, f"p{k}", "fit", C, 0.0, s, 1) for k in range(11))
    a = adjust(Network((), (LineThing("fit"),), posts, rows=rows))
    line = a.lines["fit"]
    slope = -1 / math.tan(line.angle)
    assert slope == pytest.approx(0.00218, abs=5e-6)
    assert line.u_angle == pytest.approx(0.00067, abs=5e-6)
    assert line.offset / math.sin(line.angle) == pytest.approx(-0.1712, abs=5e-5)
    assert line.u_offset == pytest.approx(0.0029, abs=5e-5)
    assert abs(line.cov) / (line.u_angle * line.u_offset) == pytest.approx(0.930, abs=5e-4)
    assert a.tests[0].freedoms == 9
    assert a.tests[0].total == pytest.approx(9.0, rel=1e-5)  # s was worked out from these very residuals


def test_gauge_block_components_add_in_quadrature():
    # JCGM 100:2008, H.1: components 25, 5.8, 3.9, 6.7, 2.9, 16.6 nm of one length give 32 nm; here in 0.01
    # mm, as a chain
    parts = (25.0, 5.8, 3.9, 6.7, 2.88679, 16.599)
    things = tuple(Centred(f"t{k}") for k in range(6))
    posts = (FixedThing(Centred("start"), (0.0, 0.0)),)
    rows = []
    for k, u in enumerate(parts):
        before = f"t{k - 1}" if k else "start"
        rows.append(Coordinate(2 * k, f"t{k}", before, 0.0, 50.0, u / 100))
        rows.append(Coordinate(2 * k + 1, f"t{k}", before, math.pi / 2, 0.0, 1e-5))
    found = adjust(Network(things, (), posts, rows=tuple(rows))).between("start", "t5")
    assert found.u * 100 == pytest.approx(31.66386517, rel=1e-6)
    assert found.shares[0].key == 0
    assert found.shares[0].share == pytest.approx((25 / 31.66386517) ** 2, rel=1e-6)


def test_repeated_reading_by_baardas_closed_form():
    # v = mean - reading, r = 4/5, w = v / (s sqrt r), detectable 4.13 s / sqrt r (Baarda 1968; figures worked
    # by hand)
    given_, s = (12.02, 12.0, 12.01, 11.99, 12.28), 0.02
    rows = [Coordinate(k, "p", None, 0.0, v, s) for k, v in enumerate(given_)]
    a = adjust(Network((Centred("p"),), rows=(*rows, Coordinate(9, "p", None, math.pi / 2, 0.0, 1e-5))))
    read = [r for r in a.readings if not r.exact]
    assert [r.redundancy for r in read] == pytest.approx([0.8] * 5)
    assert [r.w for r in read] == pytest.approx(
        [2.23606798, 3.35410197, 2.79508497, 3.91311896, -12.2983739], rel=1e-6
    )
    assert read[0].slip == pytest.approx(0.0923496, rel=1e-5)
    (v,) = verdicts(a)
    assert [x.key for x in v.suspects] == [4]
    assert v.suspects[0].should_be == pytest.approx(12.005, abs=1e-6)
    assert v.can_tell


def test_a_single_loop_cannot_tell_which():
    # three height differences that should close: every w is the closure / (s sqrt 3)
    def loop(s):
        rows = [
            Coordinate(0, "b", "a", math.pi / 2, 10.0, s),
            Coordinate(1, "c", "b", math.pi / 2, 5.0, s),
            Coordinate(2, "a", "c", math.pi / 2, -15.012, s),
        ]
        rows += [Coordinate(9, n, "a", 0.0, 3.0, 1e-5) for n in "bc"]
        return adjust(
            Network(
                (Centred("b"), Centred("c")),
                (),
                (FixedThing(Centred("a"), (0.0, 0.0)),),
                rows=tuple(rows),
            )
        )

    read = [r for r in loop(0.003).readings if not r.exact]
    assert [abs(r.w) for r in read] == pytest.approx([2.30940108] * 3, rel=1e-6)
    assert [r.redundancy for r in read] == pytest.approx([1 / 3] * 3)
    (v,) = verdicts(loop(0.002))
    assert {s.key for s in v.suspects} == {0, 1, 2}
    assert not v.can_tell


@pytest.mark.parametrize("freedoms", [1, 2, 3, 7, 20, 133, 2001])
def test_chi_square_against_a_statistics_library(freedoms):
    for level in (0.5, 0.1, 0.01, 0.001):
        limit = float(stats.chi2.isf(level, freedoms))
        assert chi_square_limit(freedoms, level) == pytest.approx(limit, rel=1e-9)
        assert chi_square_tail(limit, freedoms) == pytest.approx(level, rel=1e-9)


def one_hole(edge):
    rows = (ToLine(1, "hole", "back", edge, 3.5, U), ToLine(2, "hole", "left", C, 10.0, U))
    net = Network(
        (Centred("hole", 2.6, size="d"),),
        (),
        (),
        (BACK, LEFT),
        rows,
        sizes=(SizeReading(3, "d", 5.2, U),),
    )
    return adjust(net)


def test_far_edge_of_a_hole_that_crosses_the_edge():
    # common practice, no source: 5.2 hole, far edge 3.5 from the back: centre at 0.9, near edge 1.7 beyond
    # the back
    a = one_hole(F)
    assert a.things["hole"].at == (10.0, 0.9)
    assert one_hole(N).things["hole"].at == (10.0, 6.1)
    # centre = reading - D/2, near edge = reading - D
    assert a.things["hole"].u_y == pytest.approx(math.hypot(U, U / 2), rel=1e-6)


def two_holes(shared):
    sizes = ("d", "d") if shared else ("d", "e")
    things = tuple(Centred(n, 2.0, size=s) for n, s in zip("ab", sizes, strict=True))
    rows = tuple(
        ToLine(k, n, line, N, v, 0.04)
        for k, (n, line, v) in enumerate(
            (("a", "left", 6.0), ("a", "back", 5.0), ("b", "left", 12.0), ("b", "back", 9.0))
        )
    )
    readings = tuple(
        SizeReading(10 + k, s, 4.0, 0.5 / math.sqrt(12)) for k, s in enumerate(dict.fromkeys(sizes))
    )
    return adjust(Network(things, (), (), (BACK, LEFT), rows, sizes=readings))


def test_wall_between_two_holes_of_one_drill_by_monte_carlo():
    # JCGM 101:2008, 7: half a million draws of the readings through the same formula
    rng = np.random.default_rng(7)
    n = 500_000
    d = 4.0 + rng.uniform(-0.25, 0.25, n)  # a drill that goes and the next, half a mm more, that does not
    x = [v + 0.04 * rng.standard_normal(n) + d / 2 for v in (6.0, 5.0, 12.0, 9.0)]
    wall = np.hypot(x[2] - x[0], x[3] - x[1]) - d
    found = two_holes(True).between("a", "b", N, N)
    assert found.value == pytest.approx(math.hypot(6, 4) - 4)
    assert found.u == pytest.approx(float(wall.std()), rel=0.005)
    assert found.shares[0].key == 10
    assert two_holes(False).between("a", "b", N, N).u > 1.02 * found.u  # two drills, two chances


def test_wall_against_a_metrology_library():
    gtc = pytest.importorskip("GTC")
    for shared in (True, False):
        d = gtc.ureal(4.0, 0.5 / math.sqrt(12))
        e = d if shared else gtc.ureal(4.0, 0.5 / math.sqrt(12))
        v = [gtc.ureal(value, 0.04) for value in (6.0, 5.0, 12.0, 9.0)]
        ax, ay, bx, by = v[0] + d / 2, v[1] + d / 2, v[2] + e / 2, v[3] + e / 2
        wall = gtc.sqrt((bx - ax) ** 2 + (by - ay) ** 2) - d / 2 - e / 2
        found = two_holes(shared).between("a", "b", N, N)
        assert (found.value, found.u) == pytest.approx((wall.x, wall.u), rel=1e-6)


def misses_of(made):
    """The same readings as plain numbers: places of all holes, then diameters."""

    def misses(x):
        p, d = x[:16].reshape(8, 2), x[16:]
        found = [
            (
                math.dist(p[int(r.a[1])], p[int(r.b[1])])
                + r.edge_a.value * d[int(r.a[1])] / 2
                + r.edge_b.value * d[int(r.b[1])] / 2
                - r.value
            )
            / r.u
            for r in made.net.rows
        ]
        return np.array([*found, *((d[k] - s.value) / s.u for k, s in enumerate(made.net.sizes))])

    return misses


@settings(derandomize=True, max_examples=12, deadline=None)
@given(st.integers(0, 10**6), st.integers(0, 8))
def test_places_sizes_and_uncertainty_against_a_general_optimiser(seed, redundancy):
    made = part(seed, redundancy, noise=U / 3)
    a = adjust(made.net)
    start = np.array([v for k in range(8) for v in a.things[f"h{k}"].at] + made.diameters)
    best = least_squares(misses_of(made), start, xtol=1e-15, ftol=1e-15, gtol=1e-12)
    assert 2 * best.cost == pytest.approx(sum(t.total for t in a.tests), abs=1e-6)
    jacobian = best.jac
    inverse = np.linalg.pinv(jacobian.T @ jacobian, rcond=1e-10)
    for i in range(8):
        assert a.sizes[f"D{i}"].diameter == pytest.approx(best.x[16 + i], abs=2e-6)
        for k in range(i):
            p, q = best.x[2 * i : 2 * i + 2], best.x[2 * k : 2 * k + 2]
            g, n = np.zeros(24), (p - q) / np.linalg.norm(p - q)
            g[2 * i : 2 * i + 2], g[2 * k : 2 * k + 2], g[16 + i], g[16 + k] = n, -n, -0.5, -0.5
            found = a.between(f"h{i}", f"h{k}", N, N)
            assert found.value == pytest.approx(
                np.linalg.norm(p - q) - (best.x[16 + i] + best.x[16 + k]) / 2, abs=5e-6
            )
            assert found.u == pytest.approx(math.sqrt(g @ inverse @ g), rel=1e-3)
    assert sum(r.redundancy for r in a.readings) == pytest.approx(redundancy, abs=1e-4)
    assert a.tests[0].freedoms == redundancy


@settings(derandomize=True, max_examples=20, deadline=None)
@given(st.integers(0, 10**6), st.integers(2, 8))
def test_exact_readings_give_places_and_sizes_back(seed, redundancy):
    made = part(seed, redundancy, noise=0.0, known=True)
    # sizes started 0.03 off: the adjustment finds them, not the start
    things = tuple(replace(t, radius=t.radius + 0.015) for t in made.net.things)
    a = adjust(replace(made.net, things=things))
    assert a.tests[0].total < 1e-12
    for i in range(8):
        assert a.z[a.fit.system.base + i] == pytest.approx(made.diameters[i], abs=1e-9)
        n = a.problem.where[f"h{i}"]
        assert a.z[2 * n : 2 * n + 2] == pytest.approx(made.at[i], abs=1e-9)


@settings(derandomize=True, max_examples=12, deadline=None)
@given(st.integers(0, 10**6), st.randoms(use_true_random=False))
def test_order_never_matters(seed, rng):
    net = part(seed, 4).net

    def mixed(items):
        items = list(items)
        rng.shuffle(items)
        return tuple(items)

    def figures(n):
        a = adjust(n)
        return repr((a.things, a.sizes, a.datum, a.open, a.readings, a.tests))

    assert figures(Network(mixed(net.things), rows=mixed(net.rows), sizes=mixed(net.sizes))) == figures(net)


@settings(derandomize=True, max_examples=12, deadline=None)
@given(st.integers(0, 10**6), st.integers(0, 7), st.integers(0, 7))
def test_a_consistent_extra_reading_moves_nothing_and_narrows(seed, i, k):
    net = part(seed, 5, noise=U / 4).net
    i, k = (i, k) if i != k else (0, 7)
    a = adjust(net)
    before = a.between(f"h{i}", f"h{k}")
    row = Distance(900, f"h{i}", f"h{k}", C, C, before.value, U)
    b = adjust(replace(net, rows=(*net.rows, row)))
    for p in range(8):
        for q in range(p):
            assert b.between(f"h{p}", f"h{q}").value == pytest.approx(
                a.between(f"h{p}", f"h{q}").value, abs=2e-6
            )
    assert b.between(f"h{i}", f"h{k}").u == pytest.approx((before.u**-2 + U**-2) ** -0.5, rel=1e-4)


def test_stated_uncertainty_covers_the_noise():
    # 95 % of errors within 1.96 u (JCGM 100:2008, G.3); errors in one part are correlated, so the band is
    # wide
    inside = total = 0
    for seed in range(60):
        made = part(seed, 8)
        a = adjust(made.net)
        for i in range(8):
            for k in range(i):
                found = a.between(f"h{i}", f"h{k}", N, N)
                true = math.dist(made.at[i], made.at[k]) - (made.diameters[i] + made.diameters[k]) / 2
                inside += abs(found.value - true) < 1.96 * found.u
                total += 1
    assert 0.925 < inside / total < 0.975


def test_what_is_open_is_infinite_and_the_rest_is_not():
    rows = (
        ToLine(1, "a", "back", C, 5.0, U),
        ToLine(2, "a", "left", C, 7.0, U),
        Distance(3, "b", "a", N, C, 10.0, U),
    )
    net = Network((Centred("a"), Centred("b", 2.0, size="d")), (), (), (BACK, LEFT), rows)
    a = adjust(net)
    assert a.open == ("b", "d")
    assert a.things["a"].u == pytest.approx(U, rel=1e-4)
    assert math.isinf(a.things["b"].u)
    assert math.isinf(a.between("a", "b").u)
    assert a.between("a", "b", C, N).u == pytest.approx(U, rel=1e-3)  # the reading itself
    assert all(r.unchecked for r in a.readings)


def test_weak_geometry_is_told():
    # nearly straight: base 30, the third hole 0.5 off the line of the first two (numbers by Pythagoras)
    posts = (FixedThing(Centred("p"), (0.0, 0.0)), FixedThing(Centred("q"), (30.0, 0.0)))
    reach = math.hypot(15, 0.5)
    rows = tuple(Distance(k, "h", n, C, C, reach, U) for k, n in enumerate("pq"))
    a = adjust(Network((Centred("h"),), (), posts, rows=rows, roughly=(Roughly(9, "h", (15.0, 0.5)),)))
    across = U * reach / 0.5 / math.sqrt(2)
    assert a.things["h"].u == pytest.approx(across, rel=1e-6)
    assert abs(math.sin(a.things["h"].worst)) == pytest.approx(1.0)
    by = 0.1 * math.hypot(reach / 30, reach / 2 / 0.5)
    assert [x.moves for x in a.leverages()] == pytest.approx([by, by], rel=1e-6)
