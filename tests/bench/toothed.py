"""How long threads and gears take; run by hand: `python tests/bench/toothed.py`.

* `make` of an M8 x 40 thread with a wheel of 43 teeth, the whole process, against a program written by hand
on the kernel
  for this part alone, which takes turns with it (aim: under 1 s, at most 1.3 times);
* each kind beside the same part without it: the best of three compiles, how many times the plain part's, the
triangles."""

from __future__ import annotations

import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import makegood

BOLT_AND_WHEEL = """recipe "bolt with a wheel"
turning bolt
    across 8 from 0 to 45
    thread M8 from 5 to 45
gear wheel
    on     bolt.back
    around bolt
    teeth  43
    module 1
    thick  6
"""

# The same part straight on the kernel: a wheel of involutes with plain feet, and a ridge swept round a core,
# with the chord error of ours (48 facets a turn).  Flanks that meet the core at a slant leave it a quarter
# more triangles than ours; with upright feet it would have half as many again.
BARE = """
import math, sys, lark, manifold3d as m, numpy as np
pitch, core, n = 1.25, 6.4664, 48
step = np.arange(int((40 - 1.2) / pitch * n) + 1)
half, tall = np.array([0.0781, 0.4929, 0.6]), np.array([4.0, 3.2816, 3.2197])
fade = np.clip(np.minimum(step, step[-1] - step) / (n / 2), 0, 1)
radius = 3.2 + (tall - 3.2) * fade[:, None]
radius[:, -1] = tall[-1]
angle = 2 * math.pi * step[:, None] / n
ring = np.empty((len(step), 6, 3))
for part, sign, order in ((ring[:, :3], 1, slice(None)), (ring[:, 3:], -1, slice(None, None, -1))):
    part[..., 0], part[..., 1] = radius[:, order] * np.cos(angle), radius[:, order] * np.sin(angle)
    part[..., 2] = 5.6 + pitch * step[:, None] / n + sign * half[order]
at = np.arange(len(step) * 6, dtype=np.uint64).reshape(-1, 6)
a, b, c, d = at[:-1], np.roll(at[:-1], -1, 1), np.roll(at[1:], -1, 1), at[1:]
cap = np.array([(0, i, i + 1) for i in range(1, 5)], np.uint64)
sides = [np.stack(three, -1).reshape(-1, 3) for three in ((a, c, b), (a, d, c))]
ridge = m.Manifold(m.Mesh64(ring.reshape(-1, 3), np.concatenate([*sides, cap, cap[:, ::-1] + at[-1, 0]])))
assert ridge.status() == m.Error.NoError and ridge.volume() > 0, (ridge.status(), ridge.volume())
outline = [(0, 0), (4, 0), (4, 5), (core / 2, 5), (core / 2, 45), (0, 45)]
shaft = m.Manifold.revolve(m.CrossSection([outline]), n)
z, alpha = 43, math.radians(20)
base = z / 2 * math.cos(alpha)
inv = lambda x: math.tan(x) - x
r = np.concatenate([[z / 2 - 1.25, z / 2 - 1.1, z / 2 - 0.9], np.linspace(base, z / 2 + 1, 9)[1:]])
wide = np.array([math.pi / 2 / z + inv(alpha) - inv(math.acos(min(1.0, base / q))) for q in r]) - 0.05 / z
wide[:3] += [0.03, 0.012, 0.002]
tooth = np.concatenate([np.column_stack([r, -wide]), np.column_stack([r, wide])[::-1]])
turn = np.concatenate([tooth + [0, 2 * math.pi * k / z] for k in range(z)])
outline = turn[:, :1] * np.column_stack([np.cos(turn[:, 1]), np.sin(turn[:, 1])])
wheel = m.CrossSection([outline]).extrude(6).translate((0, 0, -6))
part = m.Manifold.batch_boolean([shaft, ridge, wheel], m.OpType.Add)
mesh = part.to_mesh64()
assert part.genus() == 0 and abs(part.volume() - 10470) < 100, part.volume()
assert 20000 < len(mesh.tri_verts) < 30000, len(mesh.tri_verts)
open(sys.argv[1], 'wb').write(mesh.vert_properties.tobytes() + mesh.tri_verts.tobytes())
"""

BOLT = "turning bolt\n    across {size} from 0 to {long}\n"
WHEEL = "gear wheel\n    teeth {teeth}\n    module 1\n    thick 6\n"
ROWS = (
    ("M8 x 20", BOLT.format(size=8, long=20), "    thread M8 from 0 to 20\n"),
    ("M60 x 100", BOLT.format(size=60, long=100), "    thread M60 from 0 to 100\n"),
    ("43 teeth", "turning wheel\n    across 45 from 0 to 6\n", WHEEL.format(teeth=43)),
    (
        "43 leaning teeth",
        "turning wheel\n    across 45 from 0 to 6\n",
        WHEEL.format(teeth=43) + "    helix 20 right-handed\n",
    ),
    ("400 teeth", "turning wheel\n    across 402 from 0 to 6\n", WHEEL.format(teeth=400)),
)


def best(text: str) -> tuple[float, int]:
    """The shortest of three compiles in seconds, and the triangles of the part."""
    times, triangles = [], 0
    for _ in range(3):
        began = time.perf_counter()
        result = makegood.compile_text(f'recipe "bench"\n{text}')
        times.append(time.perf_counter() - began)
        assert result.figures is not None
        triangles = result.figures.triangles
    return min(times), triangles


def whole_process() -> None:
    """`make` of a threaded bolt with a wheel against the hand-written program: medians of runs that take
    turns.
    """
    with tempfile.TemporaryDirectory() as made:
        recipe = Path(made) / "bolt.mend"
        recipe.write_text(BOLT_AND_WHEEL, encoding="utf-8")
        make = [sys.executable, "-m", "makegood", "make", str(recipe)]
        bare = [sys.executable, "-c", BARE, str(Path(made) / "bare.bin")]
        took: tuple[list[float], list[float]] = ([], [])
        for _ in range(15):
            for command, own in zip((make, bare), took, strict=True):
                begun = time.perf_counter()
                subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
                own.append(time.perf_counter() - begun)
    ours, hand = (statistics.median(own) for own in took)
    print(
        f"M8 x 40 and 43 teeth: make {ours:.2f} s (aim 1.0), by "
        f"hand {hand:.2f} s, ratio {ours / hand:.2f} (aim 1.3)"
    )


def main() -> None:
    """Print the whole process, and a row for each part."""
    whole_process()
    for name, plain, more in ROWS:
        before, _ = best(plain)
        after, triangles = best(plain + more if more.startswith(" ") else more)
        print(
            f"{name:18} {after:7.3f} s  {after / before:6.1f} times the plain part  {triangles:7d} triangles"
        )


if __name__ == "__main__":
    main()
