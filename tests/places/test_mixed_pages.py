"""Pages with every kind of row, made from known places: found again, turned with the page, and never broken
by nonsense.
"""

import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from makegood.network import solve_network
from makegood.network.adjust import adjust
from makegood.network.hypotheses import usual_alternatives
from makegood.network.suspects import verdicts
from makegood.network.types import (
    Centred,
    Coordinate,
    Distance,
    FixedLine,
    FixedThing,
    Heading,
    LineAngle,
    LineGap,
    LineThing,
    Midway,
    Network,
    ReadEdge,
    Roughly,
    SideWord,
    SizeReading,
    Tangent,
    ToLine,
    Way,
)

N, C, F = ReadEdge.NEAR, ReadEdge.CENTRE, ReadEdge.FAR
U, EXACT, UP = 0.05, 1e-5, math.pi / 2
LUG = (8.0, 5.0)
SIDES = {"left": (math.pi, 8.0), "right": (0.0, 8.0), "top": (UP, 5.0), "bottom": (-UP, 5.0)}


class Page:
    """True places and readings of one made-up page, laid at (7, -4), turned and perhaps mirrored."""

    def __init__(self, seed, turn=0.0, mirror=False, noise=0.0):
        self.rng, self.turn, self.mirror, self.noise = random.Random(seed), turn, mirror, noise
        self.true = {n: (self.rng.uniform(5, 60), self.rng.uniform(6, 40)) for n in ("h0", "h2", "h4", "lug")}
        x, y = self.true["h0"]
        self.true["h1"] = (x + self.rng.uniform(15, 30), y + self.rng.uniform(-5, 5))
        self.across = {"drill": self.rng.choice([3.0, 4.2]), "reamer": self.rng.choice([5.0, 6.0])}
        self.size = dict.fromkeys(("h0", "h1", "h2", "h3"), "drill") | dict.fromkeys(
            ("h4", "h5", "g"), "reamer"
        )
        self.rows, self.sides, self.lines = [], [], {}
        self.fill()

    def angle(self, a):
        return (-a if self.mirror else a) + self.turn

    def place(self, p):
        x, y = p[0], -p[1] if self.mirror else p[1]
        c, s = math.cos(self.turn), math.sin(self.turn)
        return (x * c - y * s + 7, x * s + y * c - 4)

    def read(self, value):
        return value + self.rng.gauss(0, self.noise)

    def half(self, name):
        return self.across[self.size[name]] / 2 if name in self.size else 0.0

    def line(self, name, angle, offset):
        """A line's true normal angle and offset, on the page."""
        foot = self.place((math.cos(angle) * offset, math.sin(angle) * offset))
        turned = self.angle(angle)
        self.lines[name] = (turned, math.cos(turned) * foot[0] + math.sin(turned) * foot[1], angle, offset)

    def away(self, name, line):
        _, _, angle, offset = self.lines[line]
        x, y = self.true[name]
        return math.cos(angle) * x + math.sin(angle) * y - offset

    def to_line(self, name, line, edge, side, u=U):
        """Read to a line; `side` 0 leaves the side to be found."""
        away = self.away(name, line)
        value = abs(away) + edge.value * self.half(name)
        self.rows.append(
            ToLine(len(self.rows), name, line, edge, self.read(value) if u == U else 0.0, u, side)
        )

    def distance(self, a, b, ea, eb):
        value = math.dist(self.true[a], self.true[b]) + ea.value * self.half(a) + eb.value * self.half(b)
        self.rows.append(Distance(len(self.rows), a, b, ea, eb, self.read(value), U))

    def from_side(self, name, where, edge):
        out, reach = SIDES[where]
        x, y = (p - q for p, q in zip(self.true[name], self.true["lug"], strict=True))
        value = reach - math.cos(out) * x - math.sin(out) * y + edge.value * self.half(name)
        self.rows.append(
            Coordinate(len(self.rows), name, f"lug.{where}", self.angle(out), self.read(value), U, edge, -1)
        )

    def fill(self):
        self.line("back", UP, 0.0)
        self.line("end", 0.0, 0.0)
        self.line("rim", UP, 50.0)
        edges = self.rng.choices((N, C, F), k=8)
        for k, name in enumerate(("h0", "h1", "h2", "h4")):
            self.to_line(name, "end", edges[2 * k], 1)
            self.to_line(name, "back" if name != "h4" else "rim", edges[2 * k + 1], 1 if name != "h4" else -1)
        self.axle()
        self.lug()
        x, y = self.true["h1"]
        bearing, far = self.rng.uniform(0.3, 1.2), self.rng.uniform(9, 14)
        self.true["g"] = (x + far * math.cos(bearing), y + far * math.sin(bearing))
        said = math.pi - bearing if self.mirror else bearing
        self.rows.append(Heading(len(self.rows), "h1", "g", "back", said, 1e-3))
        self.distance("h1", "g", F, F)
        self.true["m"] = tuple((p + q) / 2 for p, q in zip(self.true["h0"], self.true["h2"], strict=True))
        self.rows += [
            Midway(900, "m", "h0", "h2", EXACT),
            LineAngle(901, "rim", "back", 0.0, EXACT),
            LineGap(902, "rim", "back", self.read(50.0), U, 1),
        ]
        self.distance("h4", "g", N, N)
        self.distance("h3", "h5", N, F)
        self.distance("m", "h4", C, N)

    def axle(self):
        """A line through two holes, a third read from it and from one of them."""
        (x, y), (p, q) = self.true["h0"], self.true["h1"]
        angle = math.atan2(q - y, p - x) + UP
        self.line("axle", angle, math.cos(angle) * x + math.sin(angle) * y)
        self.to_line("h0", "axle", C, 0, EXACT)
        self.to_line("h1", "axle", C, 0, EXACT)
        along, across = self.rng.uniform(9, 12), self.rng.uniform(5, 8)
        lean = angle - UP
        self.true["h3"] = (
            x + along * math.cos(lean) + across * math.cos(angle),
            y + along * math.sin(lean) + across * math.sin(angle),
        )
        self.to_line("h3", "axle", F, 0)
        self.distance("h3", "h0", N, F)

    def lug(self):
        """A body read from page edges, a hole read from the body's sides."""
        x, y = self.true["lug"]
        self.rows.append(ToLine(910, "lug", "end", N, self.read(x - 8.0), U, 1))
        self.rows.append(ToLine(911, "lug", "back", F, self.read(y + 5.0), U, 1))
        for where, (out, reach) in SIDES.items():
            self.true[f"lug.{where}"] = (x + reach * math.cos(out), y + reach * math.sin(out))
            self.rows += [
                Coordinate(0, "lug", f"lug.{where}", self.angle(out), 0.0, EXACT, N, -1),
                Coordinate(0, f"lug.{where}", "lug", self.angle(out + UP), 0.0, EXACT),
            ]
        self.true["h5"] = (x + self.rng.uniform(-3, 3), y + self.rng.uniform(-2, 2))
        for where, edge in (("left", N), ("right", N), ("bottom", F), ("top", C)):
            self.from_side("h5", where, edge)

    def network(self):
        things = [Centred(n, self.half(n), size=self.size.get(n)) for n in self.true if n != "lug"]
        things.append(Centred("lug", 0.0, *LUG, self.turn))
        fixed = tuple(FixedLine(n, *self.lines[n][:2], 1) for n in ("back", "end"))
        sizes = tuple(
            SizeReading(950 + k, n, self.read(d), U) for k, (n, d) in enumerate(sorted(self.across.items()))
        )
        rough = tuple(Roughly(960, n, self.place(self.true[n])) for n in ("h3",))
        return Network(
            tuple(things),
            (LineThing("axle"), LineThing("rim")),
            (),
            fixed,
            tuple(self.rows),
            (),
            rough,
            sizes=sizes,
        )


@settings(derandomize=True, max_examples=25, deadline=None)
@given(st.integers(0, 10**6), st.floats(-3.1, 3.1), st.booleans())
def test_exact_readings_give_the_page_back(seed, turn, mirror):
    page = Page(seed, turn, mirror)
    net = page.network()
    s = solve_network(net)
    assert (s.left_open, s.two_places, s.misfits) == ((), (), ())
    a = adjust(net)
    for name, xy in page.true.items():
        i = a.problem.where[name]
        assert a.layout.at[2 * i : 2 * i + 2] == pytest.approx(page.place(xy), abs=1e-9)
        assert a.z[2 * i : 2 * i + 2] == pytest.approx(page.place(xy), abs=1e-9)
    for name, d in page.across.items():
        assert a.z[a.fit.system.base + a.fit.system.size_of[name]] == pytest.approx(d, abs=1e-9)
    for name in ("axle", "rim"):
        i, (angle, offset, _, _) = a.problem.where[name], page.lines[name]
        facing = math.cos(a.z[2 * i] - angle)
        assert abs(facing) == pytest.approx(1.0, abs=1e-12)
        assert facing * a.z[2 * i + 1] == pytest.approx(offset, abs=1e-8)


@settings(derandomize=True, max_examples=15, deadline=None)
@given(st.integers(0, 10**6), st.floats(-3.1, 3.1), st.booleans())
def test_a_turned_or_mirrored_page_turns_places_and_their_uncertainty(seed, turn, mirror):
    page, there = Page(seed, noise=U / 2), Page(seed, turn, mirror, noise=U / 2)
    a, b = adjust(page.network()), adjust(there.network())
    assert sum(t.total for t in b.tests) == pytest.approx(sum(t.total for t in a.tests), rel=1e-5)
    c, s, m = math.cos(turn), math.sin(turn), -1 if mirror else 1
    for name, one in a.things.items():
        base = page.place((0.0, 0.0))
        before = (one.at[0] - base[0], one.at[1] - base[1])
        assert b.things[name].at == pytest.approx(there.place(before), abs=5e-6)
        vx, vy, vxy = one.u_x**2, one.u_y**2, m * one.cov_xy
        turned = c * c * vx + s * s * vy - 2 * s * c * vxy
        assert b.things[name].u_x ** 2 == pytest.approx(turned, rel=1e-3, abs=1e-9)
        assert b.things[name].u == pytest.approx(one.u, rel=1e-3)


def test_stated_uncertainty_covers_the_noise_of_mixed_readings():
    # 95 % of errors within 1.96 u (JCGM 100:2008, G.3); 60 pages, errors on one page go together, so the band
    # is wide
    inside = total = 0
    for seed in range(60):
        page = Page(seed, noise=U)
        a = adjust(page.network())
        for name in page.true:
            one, xy = a.things[name], page.place(page.true[name])
            for k, u in enumerate((one.u_x, one.u_y)):
                inside += abs(one.at[k] - xy[k]) < 1.96 * u
                total += 1
        for name, d in page.across.items():
            inside += abs(a.sizes[name].diameter - d) < 1.96 * a.sizes[name].u
            total += 1
    assert 0.925 < inside / total < 0.975


@settings(derandomize=True, max_examples=15, deadline=None)
@given(st.integers(0, 10**6), st.randoms(use_true_random=False))
def test_order_never_matters(seed, rng):
    net = Page(seed, noise=U / 2).network()

    def mixed(items):
        items = list(items)
        rng.shuffle(items)
        return tuple(items)

    other = Network(
        mixed(net.things),
        mixed(net.lines),
        (),
        mixed(net.fixed_lines),
        mixed(net.rows),
        (),
        net.roughly,
        sizes=mixed(net.sizes),
    )
    p, q = adjust(net), adjust(other)
    assert repr((p.things, p.lines, p.sizes)) == repr((q.things, q.lines, q.sizes))
    assert repr(solve_network(net)) == repr(solve_network(other))


@st.composite
def nonsense(draw):
    """Any rows between any things, with values and give-or-takes from nothing to absurd."""
    number, way = st.sampled_from([0.0, 1.0, 5.0, 5.0, 12.5, -3.0, 1e6, 1e-6]), st.sampled_from([1, -1])
    u, edge, side = (
        st.sampled_from([1e-6, 0.05, 0.05, 1e3]),
        st.sampled_from(list(ReadEdge)),
        st.sampled_from([0, 1, -1]),
    )
    names, lines = ["a", "b", "c", "d"], ["back", "edge", "rim"]
    two = st.permutations(names).map(lambda p: p[:2])
    both = st.permutations(lines).map(lambda p: p[:2])
    made = {
        Distance: lambda k: Distance(k, *draw(two), draw(edge), draw(edge), draw(number), draw(u)),
        ToLine: lambda k: ToLine(
            k, draw(two)[0], draw(both)[0], draw(edge), draw(number), draw(u), draw(side)
        ),
        Coordinate: lambda k: Coordinate(k, draw(two)[0], None, draw(number), draw(number), draw(u)),
        Heading: lambda k: Heading(
            k, *draw(two), draw(st.sampled_from([None, *lines])), draw(number), draw(u)
        ),
        LineAngle: lambda k: LineAngle(k, draw(both)[0], None, draw(number), draw(u)),
        LineGap: lambda k: LineGap(k, *draw(both), draw(number), draw(u), draw(side)),
        Midway: lambda k: Midway(
            k,
            draw(st.sampled_from(["a", "edge"])),
            *draw(st.sampled_from([("b", "c"), ("back", "rim")])),
            draw(u),
        ),
        Tangent: lambda k: Tangent(k, draw(both)[0], draw(two)[0], draw(u), draw(side)),
        SideWord: lambda k: Coordinate(
            k, *draw(two), draw(number), draw(number), draw(u), draw(edge), draw(way)
        ),
    }
    kinds = draw(st.lists(st.sampled_from(sorted(made, key=lambda kind: kind.__name__)), max_size=10))
    rows = tuple(made[kind](k) for k, kind in enumerate(kinds))
    size = st.sampled_from([None, "d", "e"])
    things = [Centred(n, draw(st.sampled_from([0.0, 2.0])), size=draw(size)) for n in names[:3]]
    things.append(Centred("d", 1.0, 3.0, 0.0, 0.4))
    post = draw(st.booleans())
    fixed = (FixedThing(things.pop(), (3.0, 4.0)),) if post else ()
    words = tuple(
        SideWord(
            80 + k,
            *(draw(two)[0], draw(st.sampled_from([Way.LEFT, Way.ABOVE])), draw(st.sampled_from(lines))),
        )
        for k in range(draw(st.integers(0, 2)))
    )
    sizes = tuple(SizeReading(90 + k, "d", draw(number), draw(u)) for k in range(draw(st.integers(0, 2))))
    return Network(
        tuple(things),
        (LineThing("edge"), LineThing("rim")),
        fixed,
        (FixedLine("back", UP, 0.0),),
        rows,
        words,
        free_frame=draw(st.booleans()),
        sizes=sizes,
    )


@settings(derandomize=True, max_examples=60, deadline=None)
@given(nonsense())
def test_singular_and_contradictory_pages_never_raise(net):
    s = solve_network(net)
    numbers = [v for xy in s.things.values() for v in xy] + [
        v for one in s.lines.values() for v in (one.angle, one.offset)
    ]
    assert all(math.isfinite(v) for v in [*numbers, *s.residuals.values()])
    a = adjust(net)
    assert all(math.isfinite(v) for t in a.things.values() for v in t.at)
    assert not any(math.isnan(v) for t in a.things.values() for v in (t.u, t.u_x, t.u_y))
    verdicts(a, usual_alternatives(net, 1e-5))
    a.leverages()
