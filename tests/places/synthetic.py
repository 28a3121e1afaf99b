"""Eight holes with known places and sizes, read with noise, and one reading spoiled: what the shares are
counted on.
"""

import math
import random
from dataclasses import dataclass

from makegood.network.adjust import adjust
from makegood.network.hypotheses import edge_alternatives, sized_things
from makegood.network.suspects import verdicts
from makegood.network.types import Centred, Distance, FixedThing, Network, ReadEdge, Roughly, SizeReading
from msgspec.structs import replace

U = 0.05
READ_AS = (
    (ReadEdge.NEAR, ReadEdge.NEAR),
    (ReadEdge.FAR, ReadEdge.FAR),
    (ReadEdge.CENTRE, ReadEdge.CENTRE),
    (ReadEdge.NEAR, ReadEdge.FAR),
)


@dataclass(frozen=True)
class Part:
    net: Network
    at: list[tuple[float, float]]
    diameters: list[float]
    rng: random.Random


def _squareness(at, k, pair):
    (ax, ay), (bx, by), (x, y) = at[pair[0]], at[pair[1]], at[k]
    return abs((ax - x) * (by - y) - (ay - y) * (bx - x)) / (
        math.hypot(ax - x, ay - y) * math.hypot(bx - x, by - y)
    )


def part(seed: int, redundancy: int, noise: float = U, count: int = 8, known: bool = False) -> Part:
    """Holes read one to another; every diameter is gauged too; `redundancy` readings more than needed.

    `known`: the first two holes' places are, and mirror answers are chosen, as a recipe's side words do;
    otherwise nothing is said of either."""
    rng = random.Random(seed)
    while True:
        at = [(rng.uniform(0, 60), rng.uniform(0, 40)) for _ in range(count)]
        if min(math.dist(a, b) for i, a in enumerate(at) for b in at[:i]) > 9:
            break
    diameters = [rng.choice([3.0, 4.0, 5.2, 6.0]) for _ in range(count)]
    pairs = [(0, 1)]
    for k in range(2, count):
        choices = [(i, j) for i in range(k) for j in range(i)]
        good = [p for p in choices if _squareness(at, k, p) > 0.35]
        i, j = rng.choice(good) if good else max(choices, key=lambda p: _squareness(at, k, p))
        pairs += [(k, i), (k, j)]
    rest = [(i, j) for i in range(count) for j in range(i) if (i, j) not in pairs and (j, i) not in pairs]
    pairs += rng.sample(rest, redundancy)
    rows = []
    for i, j in pairs:
        a, b = rng.choice(READ_AS)
        value = math.dist(at[i], at[j]) + a.value * diameters[i] / 2 + b.value * diameters[j] / 2
        rows.append(Distance(len(rows), f"h{i}", f"h{j}", a, b, value + rng.gauss(0, noise), U))
    sizes = tuple(SizeReading(100 + k, f"D{k}", d + rng.gauss(0, noise), U) for k, d in enumerate(diameters))
    things = tuple(Centred(f"h{k}", s.value / 2, size=s.size) for k, s in enumerate(sizes))
    if not known:
        return Part(Network(things, rows=tuple(rows), sizes=sizes), at, diameters, rng)
    posts = tuple(FixedThing(t, at[k]) for k, t in enumerate(things[:2]))
    rough = tuple(Roughly(200 + k, f"h{k}", at[k]) for k in range(2, count))
    return Part(
        Network(things[2:], (), posts, rows=tuple(rows[1:]), sizes=sizes, roughly=rough), at, diameters, rng
    )


@dataclass(frozen=True)
class Outcome:
    fired: bool
    held: bool
    named: bool
    ranked: bool
    misnamed: bool
    suspects: int


def spoiled(seed: int, redundancy: int, kind: str, known: bool = True) -> Outcome:
    """One reading `slip`ped by half a millimetre, or taken with the wrong edge `word` (1 mm off at least)."""
    made = part(seed, redundancy, known=known)
    net, rng = made.net, made.rng
    sized, radius = sized_things(net), {f"h{k}": d / 2 for k, d in enumerate(made.diameters)}

    def reach(row):
        return row.edge_a.value * radius[row.a] + row.edge_b.value * radius[row.b]

    while True:
        k = rng.randrange(len(net.rows))
        row = net.rows[k]
        if kind == "slip":
            bad = replace(row, value=row.value + rng.choice([-0.5, 0.5]))
            break
        bad = rng.choice(edge_alternatives(row, sized)).row
        if abs(reach(bad) - reach(row)) >= 1.0:
            break
    rows = (*net.rows[:k], bad, *net.rows[k + 1 :])
    found = verdicts(adjust(replace(net, rows=rows)), [a for r in rows for a in edge_alternatives(r, sized)])
    if not found:
        return Outcome(False, False, False, False, False, 0)

    def right(hypothesis):
        # two words that mean the same length (near-far and far-near of equal holes) are one explanation
        best = hypothesis.alternative
        return best.key == row.key and abs(reach(best.row) - reach(row)) < 1e-9

    nearest, named = found[0].nearest, bool(found[0].readings_as)
    hit = named and right(found[0].readings_as[0])
    keys = {s.key for s in found[0].suspects}
    ranked = nearest is not None and right(nearest)
    return Outcome(True, row.key in keys, hit, ranked, named and not hit, len(keys))


def shares(count: int, redundancy: int, kind: str, known: bool = True) -> dict[str, float]:
    """Over `count` parts: how often the test fires; of those, how often the suspects hold the right one, the
    right word is named, ranked best (named or not), or a wrong one is named; and the mean number of
    suspects."""
    found = [spoiled(seed, redundancy, kind, known) for seed in range(count)]
    fired = [f for f in found if f.fired]
    many = max(1, len(fired))
    return {
        "fired": len(fired) / count,
        "held": sum(f.held for f in fired) / many,
        "named": sum(f.named for f in fired) / many,
        "ranked": sum(f.ranked for f in fired) / many,
        "misnamed": sum(f.misnamed for f in fired) / many,
        "suspects": sum(f.suspects for f in fired) / many,
    }
