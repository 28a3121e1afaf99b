"""A mesh file as stock: read, taken in its unit, checked, mended only where that is said."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from .diagnostics.types import Diagnostic, Severity, Trouble
from .facts import Entry
from .facts.stock import Stock
from .mesh.mending import Mended, faults, mend
from .source import Shelf, find_file
from .source.meshes import RawMesh, read_mesh

SMALLEST, LARGEST, MOST = 2.0, 1000.0, 10_000.0
LEAST_MOVED, MOST_MOVED = 0.01, 10.0  # mm
MOST_MOVED_FACETS = 5_000  # about ten seconds
MOST_MADE = 100_000  # facets that growing and shrinking has made in one run
UNITS = {"mm": 1.0, "cm": 10.0, "in": 25.4, "m": 1000.0}


def blank_stock(
    entry: Entry, shelf: Shelf, chord: float, moved: dict[tuple[object, ...], Stock]
) -> tuple[Stock, tuple[Diagnostic, ...]]:
    """The mesh that a `blank` names, and what is to be said of it.

    `moved`: what this run has grown or shrunk so far, so that nothing is moved twice.
    Raises Trouble: as `find_file` and `read_mesh` do, 'which-unit', 'mesh-not-closed', and as `_moved` does.
    """
    claim = entry.one("file")
    assert claim is not None
    path = find_file(claim.word_of("file"), (".stl", ".3mf"), shelf)
    raw = read_mesh(path)
    unit = _unit(entry, raw, path.name)
    points = raw.points * unit
    points, triangles, told = _closed(entry, points - points.min(axis=0), raw.triangles, path.name)
    stock = _stock(points, triangles)
    by = entry.one("grow", "shrink")
    if by is not None:
        step = by.number("number") * (1.0 if by.word == "grow" else -1.0)
        key = (path, unit, entry.has("repair"), step)
        if key not in moved:
            moved[key] = _moved(
                stock, by.word, step, chord, entry.name, sum(len(one.triangles) for one in moved.values())
            )
        stock = moved[key]
    return stock, told


def _stock(points: npt.NDArray[np.float64], triangles: npt.NDArray[np.integer]) -> Stock:
    """A mesh whose box begins at the origin as stock."""
    box = points.max(axis=0) - points.min(axis=0)
    labels = np.zeros(len(triangles), dtype=np.int32)
    return Stock(
        (float(box[0]), float(box[1]), float(box[2])), points, triangles.astype(np.int32), labels, ()
    )


def _moved(stock: Stock, word: str, by: float, chord: float, name: str, before: int) -> Stock:
    """The stock with its whole surface moved outwards by mm (inwards: < 0); `before`: facets of what was
    moved already.

    Raises Trouble: 'bad-size', 'too-many-facets', 'nothing-left', 'bad-solid'."""
    if not LEAST_MOVED <= abs(by) <= MOST_MOVED:
        said = f"`{word}` of `{name}` is {abs(by):g}: it goes from {LEAST_MOVED:g} to {MOST_MOVED:g} mm"
        raise Trouble(
            "bad-size",
            said,
            advice=("grow and shrink are for a fit; build on it with blocks and plates, or trim it",),
        )
    if len(stock.triangles) > MOST_MOVED_FACETS or before > MOST_MADE:
        said = (
            f"`{name}` has {len(stock.triangles)} facets, and {word} works with {MOST_MOVED_FACETS} at most"
        )
        if len(stock.triangles) <= MOST_MOVED_FACETS:
            said = f"with `{name}` more meshes are grown or shrunk than can be done in good time"
        raise Trouble(
            "too-many-facets",
            said,
            advice=(
                "make it coarser in the program it comes from",
                f"or leave {word} out and thicken where it is needed",
            ),
        )
    from .mesh.growing import shifted

    mesh = shifted(stock.points, stock.triangles.astype(np.int64), by, chord)
    if mesh is None:
        raise Trouble(
            "nothing-left", f"`shrink {-by:g}` leaves nothing of `{name}`", advice=("shrink it by less",)
        )
    return _stock(mesh.points - mesh.points.min(axis=0), mesh.triangles)


def _unit(entry: Entry, raw: RawMesh, name: str) -> float:
    """Millimetres to one unit of the file: as said, else as the file says, else one; what can't be meant is
    asked.
    """
    box = np.sort(raw.points.max(axis=0) - raw.points.min(axis=0))[::-1]
    said = entry.one("unit")
    unit = UNITS[said.word_of("unit")] if said is not None else raw.unit if raw.unit is not None else 1.0
    largest = float(box[0]) * unit
    if SMALLEST <= largest <= LARGEST or (said is not None and 0.01 <= largest <= MOST):
        return unit
    fitting = [(word, size) for word, size in UNITS.items() if SMALLEST <= float(box[0]) * size <= LARGEST]
    advice = tuple(
        f"unit {word}   makes it {' x '.join(f'{one * size:.4g}' for one in box)} mm"
        for word, size in fitting
    )
    raise Trouble(
        "which-unit",
        f"{name} would be {largest:.4g} mm at its largest: in which unit is it?",
        advice=advice or ("measure the thing it shows, and save it in millimetres",),
    )


def _closed(
    entry: Entry, points: npt.NDArray[np.float64], triangles: npt.NDArray[np.int64], name: str
) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.int64], tuple[Diagnostic, ...]]:
    """The mesh where it is the surface of a solid, mended first where `repair` is said."""
    found = faults(points, triangles)
    if not len(triangles):
        raise _flat(name)
    if found.closed:
        return points, triangles, ()
    repair = entry.one("repair")
    if repair is None:
        raise Trouble(
            "mesh-not-closed",
            f"{name} is not the surface of a solid: {found.told()}",
            advice=("repair   welds points, drops doubles and closes flat holes, and says what it did",),
        )
    mended: Mended = mend(points, triangles)
    if not len(mended.triangles):
        raise _flat(name)
    left = faults(mended.points, mended.triangles)
    if not left.closed:
        raise Trouble(
            "mesh-not-closed",
            f"{name} can't be repaired here: {left.told()} are left",
            advice=("what is left needs a hand: mend it in the program it comes from",),
        )
    said = f"{name} was repaired: {mended.told()}"
    advice = ("look at the picture: is the shape what it was?",)
    return (
        mended.points,
        mended.triangles,
        (Diagnostic("mesh-repaired", Severity.NOTE, said, repair.span, advice=advice),),
    )


def _flat(name: str) -> Trouble:
    return Trouble(
        "mesh-not-closed",
        f"{name} encloses nothing: its facets lie on one another, or have no area",
        advice=("is it the right file? look at it in the program it comes from",),
    )
