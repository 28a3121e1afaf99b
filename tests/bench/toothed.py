"""How long threads and gears take beside the same part without them; run by hand: `python tests/bench/toothed.py`.

Each row: the best of three compiles, how many times the plain part's, and the triangles.  The ratios are what counts.
"""

from __future__ import annotations

import time

import makegood

BOLT = "turning bolt\n    across {size} from 0 to {long}\n"
WHEEL = "gear wheel\n    teeth {teeth}\n    module 1\n    thick 6\n"
ROWS = (
    ("M8 x 20", BOLT.format(size=8, long=20), "    thread M8 from 0 to 20\n"),
    ("M60 x 100", BOLT.format(size=60, long=100), "    thread M60 from 0 to 100\n"),
    ("43 teeth", "turning wheel\n    across 45 from 0 to 6\n", WHEEL.format(teeth=43)),
    ("43 leaning teeth", "turning wheel\n    across 45 from 0 to 6\n", WHEEL.format(teeth=43) + "    helix 20 right-handed\n"),
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


def main() -> None:
    """Print a row for each part."""
    for name, plain, more in ROWS:
        before, _ = best(plain)
        after, triangles = best(plain + more if more.startswith(" ") else more)
        print(f"{name:18} {after:7.3f} s  {after / before:6.1f} times the plain part  {triangles:7d} triangles")


if __name__ == "__main__":
    main()
