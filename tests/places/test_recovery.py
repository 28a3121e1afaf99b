"""Made-up layouts read exactly and found again; nothing may depend on order, place on the page, or extra
readings.
"""

import math
import random
import subprocess
import sys
import time
import tracemalloc

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from makegood.network import solve_network
from makegood.network.solve import solve_layout
from makegood.network.types import (
    Centred,
    Coordinate,
    Distance,
    FixedLine,
    FixedThing,
    LineAngle,
    LineThing,
    Network,
    ReadEdge,
    Roughly,
    ToLine,
)
from makegood.places.answers import side_words
from scipy.optimize import least_squares

U = 0.02
EDGES = list(ReadEdge)
HANGS = 60  # seconds: told from a hang on any machine


def half(rng: random.Random) -> float:
    return rng.choice([0.0, 1.0, 2.25, 3.05])


def layout(
    seed: int, count: int, extra: int, noise: float = 0.0
) -> tuple[Network, dict[str, tuple[float, float]]]:
    """Things read one after another from two or more earlier ones, with two known posts to start from."""
    rng = random.Random(seed)
    at = {"p0": (0.0, 0.0), "p1": (30.0, 3.0)}
    size = {"p0": 2.0, "p1": 1.5}
    rows: list[Distance] = []
    for k in range(count):
        name = f"t{k}"
        while True:
            xy = (rng.uniform(-60, 60), rng.uniform(-60, 60))
            base = rng.sample(sorted(at), 2)
            (ax, ay), (bx, by) = at[base[0]], at[base[1]]
            cross = (ax - xy[0]) * (by - xy[1]) - (ay - xy[1]) * (bx - xy[0])
            far = math.dist(xy, at[base[0]]) * math.dist(xy, at[base[1]])
            if abs(cross) > 0.4 * far and min(math.dist(xy, o) for o in at.values()) > 8:
                break
        more = rng.sample(sorted(set(at) - set(base)), min(len(at) - 2, extra))
        size[name] = half(rng)
        for other in base + more:
            ea, eb = rng.choice(EDGES), rng.choice(EDGES)
            value = math.dist(xy, at[other]) + ea.value * size[name] + eb.value * size[other]
            if value < 0.5:
                ea = eb = ReadEdge.CENTRE
                value = math.dist(xy, at[other])
            rows.append(Distance(len(rows), name, other, ea, eb, value + rng.gauss(0, noise), U))
        at[name] = xy
    things = tuple(Centred(n, size[n]) for n in at if n[0] == "t")
    posts = tuple(FixedThing(Centred(n, size[n]), at[n]) for n in ("p0", "p1"))
    rough = tuple(Roughly(1000 + k, t.name, at[t.name]) for k, t in enumerate(things))
    return Network(things, (), posts, rows=tuple(rows), roughly=rough), at


@settings(derandomize=True, max_examples=40, deadline=None)
@given(st.integers(0, 10**6), st.integers(1, 6), st.integers(0, 2))
def test_exact_readings_give_the_layout_back(seed, count, extra):
    net, at = layout(seed, count, extra)
    found = solve_layout(net)
    for name, xy in at.items():
        i = found.problem.where[name]
        assert found.at[2 * i : 2 * i + 2] == pytest.approx(xy, abs=1e-9)
    s = solve_network(net)
    assert s.misfits == ()
    assert s.left_open == ()
    assert s.two_places == ()


@settings(derandomize=True, max_examples=20, deadline=None)
@given(st.integers(0, 10**6), st.integers(2, 6), st.randoms(use_true_random=False))
def test_order_never_matters(seed, count, rng):
    net, _ = layout(seed, count, 1, noise=U)
    first = solve_network(net)

    def mixed(items):
        items = list(items)
        rng.shuffle(items)
        return tuple(items)

    net2 = Network(
        mixed(net.things), (), mixed(net.fixed_things), rows=mixed(net.rows), roughly=mixed(net.roughly)
    )
    assert repr(solve_network(net2)) == repr(first)


@settings(derandomize=True, max_examples=20, deadline=None)
@given(st.integers(0, 10**6), st.integers(2, 5))
def test_a_consistent_extra_reading_moves_nothing(seed, count):
    net, at = layout(seed, count, 0)
    a, b = "t0", f"t{count - 1}"
    extra = Distance(999, a, b, ReadEdge.CENTRE, ReadEdge.CENTRE, math.dist(at[a], at[b]), U)
    more = Network(net.things, (), net.fixed_things, rows=(*net.rows, extra), roughly=net.roughly)
    assert solve_network(more).things == solve_network(net).things


@settings(derandomize=True, max_examples=20, deadline=None)
@given(st.integers(0, 10**6), st.floats(-3.1, 3.1), st.booleans())
def test_a_turned_or_mirrored_page_turns_the_answer(seed, turn, mirror):
    net, _ = layout(seed, 4, 1, noise=U / 4)

    def moved(p):
        x, y = p[0], -p[1] if mirror else p[1]
        return (x * math.cos(turn) - y * math.sin(turn) + 7, x * math.sin(turn) + y * math.cos(turn) - 4)

    posts = tuple(FixedThing(f.thing, moved(f.at)) for f in net.fixed_things)
    rough = tuple(Roughly(r.key, r.a, moved(r.at)) for r in net.roughly)
    turned = solve_network(Network(net.things, (), posts, rows=net.rows, roughly=rough))
    for name, xy in solve_network(net).things.items():
        assert turned.things[name] == pytest.approx(moved(xy), abs=3e-6)


@settings(derandomize=True, max_examples=15, deadline=None)
@given(st.integers(0, 10**6), st.integers(2, 6))
def test_noisy_readings_against_a_reference_solver(seed, count):
    net, at = layout(seed, count, 2, noise=U)
    names = [t.name for t in net.things]
    size = {t.name: t.radius for t in (*net.things, *(f.thing for f in net.fixed_things))}
    known = {f.thing.name: f.at for f in net.fixed_things}

    def misses(x):
        place = known | {n: (x[2 * k], x[2 * k + 1]) for k, n in enumerate(names)}
        return [
            (
                math.dist(place[r.a], place[r.b])
                + r.edge_a.value * size[r.a]
                + r.edge_b.value * size[r.b]
                - r.value
            )
            / r.u
            for r in net.rows
        ]

    best = least_squares(
        misses, np.array([v for n in names for v in at[n]]), xtol=1e-15, ftol=1e-15, gtol=1e-15
    )
    s = solve_network(net)
    for k, name in enumerate(names):
        assert s.things[name] == pytest.approx((best.x[2 * k], best.x[2 * k + 1]), abs=1e-5)


def mirrored_pairs(count: int) -> Network:
    """Independent things, each read from two posts only: 2^count layouts."""
    posts = (FixedThing(Centred("p0"), (0.0, 0.0)), FixedThing(Centred("p1"), (30.0, 0.0)))
    things = tuple(Centred(f"t{k:02}") for k in range(count))
    rows = tuple(
        Distance(2 * k + j, t.name, f"p{j}", ReadEdge.CENTRE, ReadEdge.CENTRE, 25.0 + k / 10 + 3 * j, U)
        for k, t in enumerate(things)
        for j in (0, 1)
    )
    return Network(things, (), posts, rows=rows)


def test_independent_mirror_answers_are_counted_not_multiplied():
    s = solve_network(mirrored_pairs(60))
    assert len(s.two_places) == 60
    assert all(tuple(map(side_words, t.tells)) == ("above p0", "below p0") for t in s.two_places)


def test_a_chain_of_hanging_choices_never_hangs():
    # each thing leans on the two before it: 2^28 layouts, none ruled out
    rng = random.Random(5)
    at = [(0.0, 0.0), (12.0, 1.0)]
    rows = []
    for k in range(28):
        at.append((at[-1][0] + rng.uniform(3, 6), rng.uniform(-9, 9)))
        for back in (1, 2):
            d = math.dist(at[-1], at[-1 - back])
            rows.append(
                Distance(
                    2 * k + back,
                    f"t{k + 2:02}",
                    f"t{k + 2 - back:02}",
                    ReadEdge.CENTRE,
                    ReadEdge.CENTRE,
                    d,
                    U,
                )
            )
    things = tuple(Centred(f"t{k:02}") for k in range(2, 30))
    posts = tuple(FixedThing(Centred(f"t{k:02}"), at[k]) for k in (0, 1))
    began = time.perf_counter()
    s = solve_network(Network(things, (), posts, rows=tuple(rows)))
    assert time.perf_counter() - began < HANGS
    assert s.two_places[0].name == "t02"
    assert s.misfits == ()


@settings(derandomize=True, max_examples=60, deadline=None)
@given(st.data())
def test_nonsense_is_bounded_and_never_raises(data):
    number = st.sampled_from([0.0, 1.0, 5.0, 5.0, 12.5, 1e6, 1e-6])
    names = ["a", "b", "c", "d", "e"]
    rows = []
    for key in range(data.draw(st.integers(0, 12))):
        kind = data.draw(st.integers(0, 2))
        a, b = data.draw(st.permutations(names))[:2]
        if kind == 0:
            ea, eb = data.draw(st.sampled_from(EDGES)), data.draw(st.sampled_from(EDGES))
            rows.append(Distance(key, a, b, ea, eb, data.draw(number), U))
        elif kind == 1:
            line, side = data.draw(st.sampled_from(["back", "edge"])), data.draw(st.sampled_from([0, 1, -1]))
            rows.append(ToLine(key, a, line, data.draw(st.sampled_from(EDGES)), data.draw(number), U, side))
        else:
            rows.append(
                LineAngle(key, "edge", data.draw(st.sampled_from([None, "back"])), data.draw(number), 1e-3)
            )
    things = tuple(Centred(n, data.draw(st.sampled_from([0.0, 2.0]))) for n in names)
    net = Network(
        things,
        (LineThing("edge"),),
        (),
        (FixedLine("back", math.pi / 2, 0.0),),
        tuple(rows),
        free_frame=data.draw(st.booleans()),
    )
    began = time.perf_counter()
    s = solve_network(net)
    assert time.perf_counter() - began < HANGS
    numbers = [v for xy in s.things.values() for v in xy] + list(s.residuals.values())
    assert all(math.isfinite(v) for v in numbers)


def test_a_thousand_holes():
    lines = (FixedLine("back", math.pi / 2, 0.0, 1), FixedLine("left", 0.0, 0.0, 1))
    things = tuple(Centred(f"h{k:04}", 2.0) for k in range(1000))
    rows = tuple(
        r
        for k, t in enumerate(things)
        for r in (
            ToLine(2 * k, t.name, "back", ReadEdge.NEAR, 5.0 + k % 30, U),
            ToLine(2 * k + 1, t.name, "left", ReadEdge.FAR, 7.0 + k // 30, U),
        )
    )
    began = time.perf_counter()
    s = solve_network(Network(things, (), (), lines, rows))
    assert time.perf_counter() - began < HANGS
    assert all(s.things[f"h{k:04}"] == (5.0 + k // 30, 7.0 + k % 30) for k in range(1000))


@pytest.mark.parametrize("chained", [False, True])
def test_memory_is_linear_in_the_readings(chained):
    def peak(count):
        things = tuple(Centred(f"p{k:04}") for k in range(count))
        rows = tuple(
            Coordinate(
                2 * k + j,
                f"p{k:04}",
                f"p{k - 1:04}" if chained and k else None,
                j * math.pi / 2,
                k % 7 + j,
                U,
            )
            for k in range(count)
            for j in (0, 1)
        )
        tracemalloc.start()
        s = solve_network(Network(things, rows=rows))
        most = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
        assert (s.left_open, s.two_places, s.misfits) == ((), (), ())
        assert s.things["p0003"] == ((6.0, 10.0) if chained else (3.0, 4.0))  # 0 + 1 + 2 + 3; 1 + 2 + 3 + 4
        return most

    peak(50)
    assert peak(2000) < 6 * peak(500)  # four times the readings; a square law would need sixteen times


def tied_grid(side: int) -> tuple[Network, list[tuple[float, float]]]:
    """Holes read only from one another, two known: every row of holes may fold over until the next one checks
    it.
    """
    rng = random.Random(side)
    at = [
        (10 * (k % side) + rng.uniform(-2, 2), 10 * (k // side) + rng.uniform(-2, 2))
        for k in range(side * side)
    ]
    rows = []
    for k in range(2, len(at)):
        near = ([k - 1] if k % side else []) + [
            o for o in (k - side, k - side - 1, k - side + 1) if 0 <= o < k - 1
        ]
        for o in dict.fromkeys([*near, k - 2] if k < side else near):
            value = math.dist(at[k], at[o]) + 4 + rng.gauss(0, U)
            rows.append(Distance(len(rows), f"h{k}", f"h{o}", ReadEdge.FAR, ReadEdge.FAR, value, U))
    posts = tuple(FixedThing(Centred(f"h{k}", 2.0), at[k]) for k in (0, 1))
    return Network(tuple(Centred(f"h{k}", 2.0) for k in range(2, len(at))), (), posts, rows=tuple(rows)), at


def test_a_large_tied_net_leaves_its_two_mirror_images():
    # the whole folded over the line of the two known holes is the only other answer; `roughly` then chooses
    net, at = tied_grid(15)
    s = solve_network(net)
    assert [len(t.places) for t in s.two_places] == [2]
    assert (s.left_open, s.misfits) == ((), ())
    known = Network(
        net.things, (), net.fixed_things, rows=net.rows, roughly=(Roughly(9999, "h224", at[224]),)
    )
    s = solve_network(known)
    assert (s.left_open, s.two_places, s.misfits) == ((), (), ())
    assert max(math.dist(s.things[f"h{k}"], xy) for k, xy in enumerate(at)) < 1.0


def test_redundant_noisy_net_leaves_one_mirror_image():
    rng = random.Random(3)
    at = [(rng.uniform(0, 60), rng.uniform(0, 60)) for _ in range(8)]
    rows = tuple(
        Distance(
            8 * i + j,
            f"h{i}",
            f"h{j}",
            ReadEdge.CENTRE,
            ReadEdge.CENTRE,
            math.dist(at[i], at[j]) + rng.gauss(0, U),
            U,
        )
        for i in range(8)
        for j in range(i)
    )
    s = solve_network(Network(tuple(Centred(f"h{k}", 2.0) for k in range(8)), rows=rows))
    assert [t.name for t in s.two_places] == ["h2"]
    assert s.left_open == ()
    assert s.misfits == ()
    for i in range(8):
        for j in range(i):
            assert math.dist(s.things[f"h{i}"], s.things[f"h{j}"]) == pytest.approx(
                math.dist(at[i], at[j]), abs=5 * U
            )


def test_no_heavy_import():
    code = "import sys, makegood.places; print('scipy' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"


def test_trilateration_of_the_surveyors():
    """Ghilani & Wolf, Adjustment Computations, example 14.2: stations and lengths read; adjusted place
    recomputed.
    """
    stations = ((865.4, 4527.15), (2432.55, 2047.25), (2865.22, 27.15))
    lengths = (6049.0, 4736.83, 5446.49)
    fixed = tuple(FixedThing(Centred(n), at) for n, at in zip("rst", stations, strict=True))
    rows = tuple(
        Distance(k, "u", n, ReadEdge.CENTRE, ReadEdge.CENTRE, v, 0.1)
        for k, (n, v) in enumerate(zip("rst", lengths, strict=True))
    )
    s = solve_network(Network((Centred("u"),), fixed_things=fixed, rows=rows))
    assert s.things["u"] == pytest.approx((6861.316787718086, 3727.818565717482), abs=1e-6)
    assert tuple(s.residuals.values()) == pytest.approx((-0.037372650, 0.076792842, -0.047365573), abs=1e-6)
    assert s.two_places == ()


def test_broken_contract_is_told():
    pivot, back = Centred("pivot", 3.05), FixedLine("back", math.pi / 2, 0.0, 1)
    with pytest.raises(ValueError, match="no thing"):
        solve_network(
            Network(
                (pivot,), rows=(ToLine(1, "nobody", "back", ReadEdge.CENTRE, 1.0, U),), fixed_lines=(back,)
            )
        )
    with pytest.raises(ValueError, match="twice"):
        solve_network(Network((pivot, pivot)))
    with pytest.raises(ValueError, match="none"):
        solve_network(
            Network(
                (pivot,),
                rows=(ToLine(1, "pivot", "back", ReadEdge.CENTRE, math.nan, U),),
                fixed_lines=(back,),
            )
        )
