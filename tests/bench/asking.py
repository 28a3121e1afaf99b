"""How long checks and did-you-mean take beside the work they go with.  By hand: `python
tests/bench/asking.py`.
"""

from __future__ import annotations

import time

import makegood
from makegood.checks import check_part
from makegood.diagnostics import nearest


def best(work: object, times: int = 3) -> float:
    """The shortest of a few runs, seconds."""
    took = []
    for _ in range(times):
        begun = time.perf_counter()
        work()  # type: ignore[operator]
        took.append(time.perf_counter() - begun)
    return min(took)


def checks(side: int) -> None:
    """The questions about a plate of many bores, as a share of compiling it."""
    bores = "".join(
        f"bore h{k}\n    across 4.0\n    from body.left centre {6.0 * (k % side) + 6.0}\n"
        f"    from body.bottom centre {6.0 * (k // side) + 6.0}\n"
        for k in range(side * side)
    )
    wide = 6.0 * side + 10
    text = (
        f'recipe "plate"\nblock body\n    long {wide} wanted\n    wide {wide} wanted\n    thick 4.0\n{bores}'
    )
    begun = time.perf_counter()
    result = makegood.compile_text(text)
    whole = time.perf_counter() - begun
    assert result.ok, result.diagnostics[:3]
    share = best(lambda: check_part(result.made.card, result.made, result.part)) / whole
    print(f"checks of {side * side} bores: {100 * share:.1f} % of the compile (aim 10)")


def names() -> None:
    """Did you mean among ten thousand names, against sorting them."""
    known = [f"name{number:05}" for number in range(10_000)] + ["name0" * 60]
    bare = best(lambda: sorted(set(known)))
    for typed in ("name00412", "x" * 100_000, "name0" * 10, "nam"):
        ratio = best(lambda t=typed: nearest(t, known)) / bare
        print(f"nearest to {typed[:12]!r} among {len(known)}: {ratio:.0f} times a sort")


if __name__ == "__main__":
    checks(20)
    checks(32)
    names()
