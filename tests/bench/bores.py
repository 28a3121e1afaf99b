"""How long a plate with many bores takes, by several routes; run by hand: `python tests/bench/bores.py [count
...]`.

Two routes are whole recipes (every bore read from two edges; one bore and a grid), of which the geometry is
timed, and the whole compile told beside it. Every route ends in a finished mesh, checked against the closed
form of its volume. Each runs in a process of its own, so that its peak memory is its own; the interpreter and
the imports are in that figure, not in the time. Times wander by half or so from run to run: the ratios are
what counts."""

from __future__ import annotations

import math
import subprocess
import sys
import time

import manifold3d
import numpy as np
from makegood.facts import state_tree
from makegood.mesh import Solid, assemble, finish, measure, prism
from makegood.model import build_model
from makegood.outlines.types import Region, Ring
from makegood.places import place_all
from makegood.source import read_text
from makegood.tree import parse_rows

PITCH, RADIUS, THICK, FACETS = 6.0, 2.0, 4.0, 32
ROUTES = ("prism in cells", "one outline, one extrusion", "one batch difference")
CHORD = 0.01  # what makes 32 facets of these bores
RECIPES = ("recipe, read from edges", "recipe, a grid")


def centres(count: int) -> list[tuple[float, float]]:
    """A square pattern, every second row half a pitch along."""
    side = math.ceil(math.sqrt(count))
    return [
        (PITCH * (k % side + 0.5 + 0.5 * (k // side % 2)), PITCH * (k // side + 0.5)) for k in range(count)
    ]


def plate_size(count: int) -> tuple[float, float]:
    side = math.ceil(math.sqrt(count))
    return PITCH * (side + 1), PITCH * math.ceil(count / side)


def hole(x: float, y: float) -> np.ndarray:
    angles = -np.arange(FACETS) * 2 * math.pi / FACETS
    return np.column_stack([x + RADIUS * np.cos(angles), y + RADIUS * np.sin(angles)])


def sheet(count: int) -> np.ndarray:
    wide, high = plate_size(count)
    return np.array([[0.0, 0.0], [wide, 0.0], [wide, high], [0.0, high]])


def prism_in_cells(count: int) -> Solid:
    rings = [Ring(sheet(count), np.arange(4, dtype=np.int32))]
    rings += [
        Ring(hole(x, y), np.full(FACETS, 5 + k, dtype=np.int32)) for k, (x, y) in enumerate(centres(count))
    ]
    return prism(Region(tuple(rings)), 0.0, THICK, 4, 4)


def one_outline(count: int) -> Solid:
    section = manifold3d.CrossSection([sheet(count), *(hole(x, y) for x, y in centres(count))])
    return manifold3d.Manifold.extrude(section, THICK)


def one_batch(count: int) -> Solid:
    wide, high = plate_size(count)
    tool = manifold3d.Manifold.cylinder(THICK + 2, RADIUS, RADIUS, FACETS)
    cutters = [tool.translate((x, y, -1.0)) for x, y in centres(count)]
    plate = manifold3d.Manifold.cube((wide, high, THICK))
    return manifold3d.Manifold.batch_boolean([plate, *cutters], manifold3d.OpType.Subtract)


def recipe(route: str, count: int) -> str:
    """The same plate as a recipe; the grid is a square without the half pitch."""
    wide, high = plate_size(count)
    head = f'recipe "plate"\nblock body\n    long {wide}\n    wide {high}\n    thick {THICK}\n'
    one = "bore h{}\n    across 4.0\n    from body.left centre {}\n    from body.bottom centre {}\n"
    if route == RECIPES[1]:
        side = math.isqrt(count)
        return (
            head
            + one.format(0, 3.0, 3.0)
            + f"grid all\n    of h0\n    count {side}, {side}\n    pitch {PITCH}, {PITCH}\n"
        )
    return head + "".join(one.format(k, x, y) for k, (x, y) in enumerate(centres(count)))


def child(route: str, count: int) -> None:
    """One route, in a process of its own; prints time, peak memory, volume off, triangles, whole compile."""
    whole = math.nan
    if route in RECIPES:
        count = math.isqrt(count) ** 2 if route == RECIPES[1] else count
        text = recipe(route, count)
        start = time.perf_counter()
        source, _ = read_text(text, "plate.mend")
        claims, _ = state_tree(parse_rows(source)[0])
        layout, _ = place_all(claims)
        begun = time.perf_counter()
        model, _ = build_model(claims, layout)
        part, found = assemble(model, CHORD, {})
        took, whole = time.perf_counter() - begun, time.perf_counter() - start
        assert part is not None, found
        figures, outer = part.figures, RADIUS / math.cos(math.pi / FACETS)
    else:
        make = dict(zip(ROUTES, (prism_in_cells, one_outline, one_batch), strict=True))[route]
        start = time.perf_counter()
        mesh = finish(make(count))
        took = time.perf_counter() - start
        figures, outer = measure(mesh), RADIUS
    wide, high = plate_size(count)
    exact = THICK * (wide * high - count * FACETS / 2 * outer**2 * math.sin(2 * math.pi / FACETS))
    assert figures.watertight
    assert figures.genus == count
    print(took, peak_memory(), figures.volume / exact - 1, figures.triangles, whole)


def peak_memory() -> float:
    """Peak memory of this process in MB; nan where the system doesn't tell."""
    try:
        import resource
    except ImportError:
        return math.nan
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / (2**20 if sys.platform == "darwin" else 2**10)


def main(counts: list[int]) -> None:
    for count in counts:
        print(f"{count} bores of {FACETS} facets")
        base = math.nan
        for route in (*ROUTES[:1], *RECIPES, *ROUTES[1:]):
            run = subprocess.run(
                [sys.executable, __file__, "--child", route, str(count)],
                capture_output=True,
                text=True,
                check=True,
            )
            took, memory, off, triangles, whole = map(float, run.stdout.split())
            base = took if route == ROUTES[0] else base
            print(
                f"  {route:<28}{took:9.3f} s {took / base:8.1f} x  peak {memory:7.0f} MB"
                f"  volume off by {off:8.1e}  {triangles:9.0f} triangles"
                + ("" if math.isnan(whole) else f"  whole compile {whole:.2f} s"),
                flush=True,
            )


if __name__ == "__main__":
    if sys.argv[1:2] == ["--child"]:
        child(sys.argv[2], int(sys.argv[3]))
    else:
        main([int(word) for word in sys.argv[1:]] or [1_000, 10_000])
