"""How long whole commands take, as ratios to bare ones in the same run.  By hand: `python
tests/bench/whole.py`.

* `make` of the largest example against a bare script that imports numpy, manifold3d and lark, builds the same
solid by
  hand and writes its arrays (aim: at most 1.5);
* `--help` against `python -c pass` (aim: under twice that plus 50 ms);
* parsing 1,000 to 100,000 statements (aim: linear);
* hostile sizes: refused in under 2 s and under 500 MB."""

from __future__ import annotations

import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
EXAMPLE = ROOT / "examples" / "wardrobe-rail-bracket.mend"

# The bracket of that recipe, straight on the kernel.
BARE = """
import sys, math, lark, manifold3d as m, numpy as np
def box(x, y, z, at): return m.Manifold.cube((x, y, z)).translate(at)
def hole(d, h, n): return m.Manifold.cylinder(h, d / 2 / math.cos(math.pi / n), -1, n, True)
wall, rail = box(24, 46, 3, (0, 0, 0)), box(24, 3, 35, (0, 0, 3))
tri = m.CrossSection([[(3, 3), (23, 3), (3, 23)]])
turn = lambda s: s.transform(np.array([[0, 0, 1, 0], [0, 1, 0, 0], [1, 0, 0, 0]], float))
ribs = [turn(tri.extrude(3)).translate((x, 0, 0)) for x in (0, 21)]
arc = [(5 - 2 * math.sin(a), 5 - 2 * math.cos(a)) for a in np.linspace(0, math.pi / 2, 12)]
root = turn(m.CrossSection([[(3, 3), *arc]], m.FillRule.NonZero).extrude(24))
holes = [hole(4.2, 9, 48).translate((12, y, 1)) for y in (8, 38)]
slot = m.Manifold.batch_hull([hole(5, 9, 52).rotate((90, 0, 0)).translate((12, 1, z)) for z in (21.5, 29.5)])
part = m.Manifold.batch_boolean([wall, rail, *ribs, root], m.OpType.Add)
part = m.Manifold.batch_boolean([part, *holes, slot], m.OpType.Subtract)
mesh = part.to_mesh64()
assert part.genus() == 3 and abs(part.volume() - 6785) < 70, (part.genus(), part.volume())
open(sys.argv[1], 'wb').write(mesh.vert_properties.tobytes() + mesh.tri_verts.tobytes())
"""


def in_turn(*commands: list[str], times: int = 25) -> list[float]:
    """Median wall time of each command; they take turns, so that a busy machine is busy for all of them."""
    took: list[list[float]] = [[] for _ in commands]
    for _ in range(times):
        for command, own in zip(commands, took, strict=True):
            begun = time.perf_counter()
            subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
            own.append(time.perf_counter() - begun)
    return [statistics.median(own) for own in took]


def whole_process(folder: Path) -> None:
    """make and --help against bare commands."""
    tool = [sys.executable, "-m", "makegood"]
    make = [*tool, "make", str(EXAMPLE), "-o", str(folder / "made.3mf")]
    made, bare = in_turn(make, [sys.executable, "-c", BARE, str(folder / "bare.bin")])
    print(
        f"make {EXAMPLE.stem}: {made * 1e3:.0f} ms, bare script "
        f"{bare * 1e3:.0f} ms, ratio {made / bare:.2f} (aim 1.5)"
    )
    helped, nothing = in_turn([*tool, "--help"], [sys.executable, "-c", "pass"])
    room = 2 * nothing + 0.05
    print(
        f"--help: {helped * 1e3:.0f} ms, python -c pass "
        f"{nothing * 1e3:.0f} ms, of its room {helped / room:.2f} (aim 1.0)"
    )


def parsing() -> None:
    """Time a statement of ten parse sizes; linear means the same everywhere."""
    from makegood.source import read_text
    from makegood.tree import parse_rows

    one = "bore h{0}\n    drill      5.2 not 5.3\n    from back  near {0}.25\n    from side  far {0}.5\n\n"
    first = 0.0
    for count in (1_000, 10_000, 100_000):
        text = 'recipe "many"\n' + "".join(one.format(i) for i in range(count))
        begun = time.perf_counter()
        source, _ = read_text(text, "many.mend")
        tree, _, found = parse_rows(source)
        took = (time.perf_counter() - begun) / count
        assert len(tree.statements) == count + 1
        assert not found
        first = first or took
        print(
            f"parse {count:7d} statements: {took * 1e6:.0f} us "
            f"a statement, {took / first:.2f} of that at 1,000"
        )


HOSTILE = {
    "a ring of 10^9": 'recipe "x"\nturning t\n    across 9 from 0 to 3\n'
    "bore b\n    across 1\n    at 3, 0 from t\n"
    "ring r\n    of b\n    about t\n    count 1000000000\n",
    "a number of 10^300": 'recipe "x"\nblock b\n    long ' + "9" * 300 + "\n    wide 2\n    thick 1\n",
    "10^5 levels of brackets": 'recipe "x"\nblock b\n    long ' + "(" * 100_000 + "1" + ")" * 100_000 + "\n",
    "a 50 MB file": "# filler\n" * 5_600_000,
}

WATCH = """
import resource, sys, time, makegood
begun = time.perf_counter()
result = makegood.compile_file(sys.argv[1])
assert not result.ok and result.diagnostics, "not refused"
took = time.perf_counter() - begun
try:  # the high-water mark of this process alone
    most = int(open("/proc/self/status").read().split("VmHWM:")[1].split()[0]) / 1024
except OSError:
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
print(f"{took:.2f} s, {most:.0f} MB: {result.diagnostics[0].headline[:60]}")
"""


def hostile(folder: Path) -> None:
    """Refused with a message, quickly and in little memory."""
    for name, text in HOSTILE.items():
        path = folder / "hostile.mend"
        path.write_text(text, encoding="utf-8")
        told = subprocess.run(
            [sys.executable, "-c", WATCH, str(path)], check=True, capture_output=True, text=True
        ).stdout
        print(f"{name}: {told.strip()} (aim 2 s, 500 MB)")


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as made:
        whole_process(Path(made))
        parsing()
        hostile(Path(made))
