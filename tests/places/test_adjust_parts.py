"""The parts of an adjustment: the sparse factor, nonsense in, round sizes, drills that bound a size."""

import math
import random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from makegood.network.adjust import adjust
from makegood.network.descent import tree_of
from makegood.network.rounding import round_offers
from makegood.network.sparse_cholesky import Factor
from makegood.network.suspects import verdicts
from makegood.network.types import (
    Centred,
    Distance,
    FixedLine,
    FixedThing,
    LineAngle,
    LineThing,
    Network,
    ReadEdge,
    Roughly,
    SizeReading,
    ToLine,
)

from .synthetic import U

C, N, F = ReadEdge.CENTRE, ReadEdge.NEAR, ReadEdge.FAR
BACK = FixedLine("back", math.pi / 2, 0.0, 1)


def test_sparse_factor_against_a_dense_one():
    rng = random.Random(2)
    at = {f"h{k}": (9.0 * (k % 12) + rng.random(), 9.0 * (k // 12) + rng.random()) for k in range(144)}
    rows = [
        Distance(n, f"h{k}", f"h{o}", F, F, math.dist(at[f"h{k}"], at[f"h{o}"]) + 4, U)
        for n, (k, o) in enumerate((k, o) for k in range(144) for o in (k - 1, k - 12, k - 13) if o >= 0)
    ]
    things = tuple(Centred(n, 2.0, size="d") for n in list(at)[2:])
    posts = tuple(FixedThing(Centred(n, 2.0, size="d"), at[n]) for n in list(at)[:2])
    net = Network(
        things,
        (),
        posts,
        rows=tuple(rows),
        sizes=(SizeReading(9999, "d", 4.0, U),),
        roughly=tuple(Roughly(0, n, xy) for n, xy in at.items()),
    )
    a = adjust(net)
    tree = tree_of(a.fit.system)
    assert len(tree.fronts) > 2
    dense = np.zeros((len(a.fit.system.scalars), a.fit.system.width))
    np.add.at(dense, (a.fit.system.rows, a.fit.system.columns), a.fit.values)
    normal = dense.T @ dense
    right = np.linspace(-1, 1, a.fit.system.width)
    assert np.allclose(
        Factor(tree, a.fit.values, np.zeros(a.fit.system.width)).solve(right),
        np.linalg.solve(normal, right),
        rtol=1e-7,
    )
    inverse = np.linalg.inv(normal)
    assert np.allclose(a.fit.variance, np.diag(inverse), rtol=1e-5)
    assert np.allclose(a.fit.redundancy, 1 - np.einsum("ij,jk,ik->i", dense, inverse, dense), atol=1e-6)


@settings(derandomize=True, max_examples=40, deadline=None)
@given(st.data())
def test_nonsense_never_raises(data):
    number = st.sampled_from([0.0, 1.0, 5.0, 5.0, 12.5, 1e6, 1e-6])
    names, rows = ["a", "b", "c", "d"], []
    for key in range(data.draw(st.integers(0, 9))):
        kind, (a, b) = data.draw(st.integers(0, 2)), data.draw(st.permutations(names))[:2]
        edge = data.draw(st.sampled_from(list(ReadEdge)))
        if kind == 0:
            rows.append(
                Distance(key, a, b, edge, data.draw(st.sampled_from(list(ReadEdge))), data.draw(number), U)
            )
        elif kind == 1:
            rows.append(
                ToLine(key, a, data.draw(st.sampled_from(["back", "edge"])), edge, data.draw(number), U)
            )
        else:
            rows.append(LineAngle(key, "edge", None, data.draw(number), 1e-3))
    size = st.sampled_from([None, "d", "e"])
    things = tuple(Centred(n, data.draw(st.sampled_from([0.0, 2.0])), size=data.draw(size)) for n in names)
    sizes = tuple(SizeReading(90 + k, "d", data.draw(number), U) for k in range(data.draw(st.integers(0, 2))))
    a = adjust(Network(things, (LineThing("edge"),), (), (BACK,), tuple(rows), sizes=sizes))
    assert all(math.isfinite(v) for t in a.things.values() for v in t.at)
    assert not any(math.isnan(v) for t in a.things.values() for v in (t.u, t.u_x, t.u_y))
    verdicts(a)
    a.leverages()


def test_round_sizes_are_offered_where_they_mean_something():
    offers = round_offers([("pin", 5.97, 0.02), ("slot", 5.97, 0.2), ("lug", 5.8, 0.02), ("eye", 6.0, 0.02)])
    assert [(o.name, o.offer, o.words) for o in offers] == [("pin", 6.0, "6")]
    (inch,) = round_offers([("bolt", 6.34, 0.02)], inches=True)
    assert (inch.words, inch.offer) == ("1/4in", 6.35)


def test_a_drill_that_goes_in_holds_the_size_from_below():
    """Between two edges 9.80 apart goes a drill of 10.0: the size is pulled from above by u = step / sqrt 3,
    from below by what plastic gives; the weighted mean of the two (JCGM 100:2008, F.2.3.3) with the u of the
    side that it falls on."""
    u, step, gives = 0.05, 0.5 / math.sqrt(3), 0.03

    def fitted(far: float) -> float:
        net = Network(
            (Centred("a", 5.0, size="a"),),
            (),
            (),
            (FixedLine("left", 0.0, 0.0, 1), FixedLine("foot", math.pi / 2, 0.0, 1)),
            (
                ToLine(1, "a", "left", ReadEdge.NEAR, 4.0, u),
                ToLine(2, "a", "left", ReadEdge.FAR, 4.0 + far, u),
                ToLine(3, "a", "foot", ReadEdge.CENTRE, 9.0, u),
            ),
            sizes=(SizeReading(4, "a", 10.0, step, gives),),
            free_frame=False,
        )
        return adjust(net).sizes["a"].diameter

    def mean(far: float, own: float) -> float:
        a, b = 1 / own**2, 1 / (2 * u**2)
        return (10.0 * a + far * b) / (a + b)

    assert fitted(9.8) == pytest.approx(mean(9.8, gives), abs=1e-6)
    assert fitted(10.3) == pytest.approx(mean(10.3, step), abs=1e-6)
