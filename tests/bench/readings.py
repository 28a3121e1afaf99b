"""How long a plane of many readings takes, beside a bare library optimiser; run by hand: `python
tests/bench/readings.py`.

Two parts: holes read from two edges and to neighbours ("gauged": three drills shared by all), and holes read
only from one another ("tied").  The optimiser gets the same rows, as arrays, and a start within a millimetre;
it finds no mirror answers and states no uncertainty.  Every size runs in a process of its own, so that its
peak memory is its own (interpreter and imports included).  Times are processor times of one thread, for both
sides, so that a busy machine bends them less; they still wander from run to run: the ratios are what counts.
Aims: at most 1.0 times the optimiser at 10 and 100 holes, at most 15 times the 100-hole time at 1,000, memory
linear in the readings."""

from __future__ import annotations

import math
import os
import random
import subprocess
import sys
import time
import tracemalloc

import numpy as np
from makegood.network.adjust import adjust
from makegood.network.solve import solve_layout
from makegood.network.types import (
    Centred,
    Distance,
    FixedLine,
    FixedThing,
    Network,
    ReadEdge,
    Roughly,
    SizeReading,
    ToLine,
)

U, DRILL_U = 0.05, 0.03
DRILLS = (3.0, 4.2, 5.0)
ONE_THREAD = {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1", "MKL_NUM_THREADS": "1"}


def places(count: int, rng: random.Random) -> list[tuple[float, float]]:
    """Holes a good 10 mm apart, in rows."""
    side = math.ceil(math.sqrt(count))
    return [
        (10 + 10 * (k % side) + rng.uniform(-2, 2), 10 + 10 * (k // side) + rng.uniform(-2, 2))
        for k in range(count)
    ]


def gauged(count: int) -> tuple[Network, list[tuple[float, float]]]:
    """Two edges and up to two neighbours per hole; diameters shared."""
    rng = random.Random(count)
    at, side = places(count, rng), math.ceil(math.sqrt(count))
    rows: list[ToLine | Distance] = []
    for k, (x, y) in enumerate(at):
        half = DRILLS[k % 3] / 2
        rows.append(ToLine(len(rows), f"h{k}", "left", ReadEdge.NEAR, x - half + rng.gauss(0, U), U))
        rows.append(ToLine(len(rows), f"h{k}", "foot", ReadEdge.FAR, y + half + rng.gauss(0, U), U))
        for other in ([k - 1] if k % side else []) + ([k - side] if k >= side else []):
            wide = half + DRILLS[other % 3] / 2
            value = math.dist(at[k], at[other]) - wide + rng.gauss(0, U)
            rows.append(Distance(len(rows), f"h{k}", f"h{other}", ReadEdge.NEAR, ReadEdge.NEAR, value, U))
    things = tuple(Centred(f"h{k}", DRILLS[k % 3] / 2, size=f"drill{k % 3}") for k in range(count))
    lines = (FixedLine("left", 0.0, 0.0, 1), FixedLine("foot", math.pi / 2, 0.0, 1))
    sizes = tuple(SizeReading(10**6 + k, f"drill{k}", d, DRILL_U) for k, d in enumerate(DRILLS))
    return Network(things, (), (), lines, tuple(rows), sizes=sizes), at


def tied(count: int) -> tuple[Network, list[tuple[float, float]]]:
    """Three or four near neighbours per hole, two known posts to start from."""
    rng = random.Random(count)
    at, side = places(count, rng), math.ceil(math.sqrt(count))
    rows: list[Distance] = []
    for k in range(2, count):
        near = [k - 1] if k % side else []
        near += [o for o in (k - side, k - side - 1, k - side + 1) if 0 <= o < k - 1] + (
            [k - 2] if k < side else []
        )
        for other in dict.fromkeys(near[:4]):
            wide = (DRILLS[k % 3] + DRILLS[other % 3]) / 2
            value = math.dist(at[k], at[other]) + wide + rng.gauss(0, U)
            rows.append(Distance(len(rows), f"h{k}", f"h{other}", ReadEdge.FAR, ReadEdge.FAR, value, U))
    things = [Centred(f"h{k}", DRILLS[k % 3] / 2, size=f"drill{k % 3}") for k in range(count)]
    posts = tuple(FixedThing(things[k], at[k]) for k in (0, 1))
    sizes = tuple(SizeReading(10**6 + k, f"drill{k}", d, DRILL_U) for k, d in enumerate(DRILLS))
    rough = tuple(Roughly(2 * 10**6 + k, f"h{k}", at[k]) for k in range(2, count))
    return Network(tuple(things[2:]), (), posts, rows=tuple(rows), sizes=sizes, roughly=rough), at


PARTS = {"gauged": gauged, "tied": tied}


def library(net: Network, at: list[tuple[float, float]]) -> float:
    """Seconds of a bare least_squares on the same rows."""
    from scipy.optimize import least_squares

    free = {t.name: k for k, t in enumerate(net.things)}
    n, start = len(free), np.array(at)
    pairs = [r for r in net.rows if isinstance(r, Distance)]
    walls = [r for r in net.rows if isinstance(r, ToLine)]

    def number(name: str) -> int:
        return int(name[1:])

    a, b = (np.array([number(getattr(r, s)) for r in pairs], dtype=int) for s in "ab")
    ea, eb = (np.array([getattr(r, f"edge_{s}").value for r in pairs]) / 2 for s in "ab")
    pv = np.array([r.value for r in pairs])
    t, axis = (
        np.array([number(r.thing) for r in walls], dtype=int),
        np.array([int(r.line == "foot") for r in walls], dtype=int),
    )
    et, wv = np.array([r.edge.value for r in walls]) / 2, np.array([r.value for r in walls])
    moving = np.array([number(name) for name in free])

    def misses(x: np.ndarray) -> np.ndarray:
        p, d = start.copy(), x[2 * n :]
        p[moving] = x[: 2 * n].reshape(-1, 2)
        gap = p[a] - p[b]
        between = np.hypot(gap[:, 0], gap[:, 1]) + ea * d[a % 3] + eb * d[b % 3] - pv
        return np.concatenate([between / U, (p[t, axis] + et * d[t % 3] - wv) / U, (d - DRILLS) / DRILL_U])

    rng = np.random.default_rng(1)
    x0 = np.concatenate([start[moving].ravel() + rng.uniform(-1, 1, 2 * n), DRILLS])
    began = time.process_time()
    least_squares(misses, x0)
    return time.process_time() - began


def peak() -> float:
    """Peak memory of this process in MB, where the system tells."""
    try:
        import resource
    except ImportError:
        return math.nan
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def best_of(job, count: int) -> float:
    """The shortest of some runs, in seconds."""
    times = []
    for _ in range(count):
        began = time.process_time()
        job()
        times.append(time.process_time() - began)
    return min(times)


def one(part: str, count: int) -> None:
    net, at = PARTS[part](count)
    repeat = {10: 30, 100: 5}.get(count, 1)
    layout = solve_layout(net)
    placed = best_of(lambda: solve_layout(net), repeat)
    adjusted = best_of(lambda: adjust(net, layout), repeat)
    memory = peak()
    tracemalloc.start()
    found = adjust(net, layout)
    own = tracemalloc.get_traced_memory()[1] / 1e6
    tracemalloc.stop()
    off = max(math.dist(found.things[f"h{k}"].at, xy) for k, xy in enumerate(at))
    bare = min(library(net, at) for _ in range(repeat)) if count <= 100 else math.nan
    print(
        f"{part:7} {count:5} holes {len(net.rows):5} rows   place "
        f"{placed * 1e3:8.1f} ms   adjust {adjusted * 1e3:7.1f} ms   "
        f"library {bare * 1e3:7.1f} ms   ours/library {(placed + adjusted) / bare:5.2f}   "
        f"adjust alone holds {own:6.1f} MB, peak {memory:5.0f} MB   furthest off {off:.3f} mm",
        flush=True,
    )


if __name__ == "__main__":
    if len(sys.argv) == 3:
        one(sys.argv[1], int(sys.argv[2]))
    else:
        for part in PARTS:
            for count in (10, 100, 1000):
                subprocess.run(
                    [sys.executable, __file__, part, str(count)], check=False, env=os.environ | ONE_THREAD
                )
