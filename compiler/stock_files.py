"""A mesh file as stock: read, taken in its unit, checked, mended only where that is said."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from .diagnostics.types import Diagnostic, Severity, Trouble
from .facts import Entry
from .facts.stock import Stock
from .solids.mending import Mended, faults, mend
from .source import Shelf, find_file
from .source.meshes import RawMesh, read_mesh

SMALLEST, LARGEST, MOST = 2.0, 1000.0, 10_000.0
UNITS = {"mm": 1.0, "cm": 10.0, "in": 25.4, "m": 1000.0}


def blank_stock(entry: Entry, shelf: Shelf) -> tuple[Stock, tuple[Diagnostic, ...]]:
    """The mesh that a `blank` names, and what is to be said of it.

    Raises Trouble: as `find_file` and `read_mesh` do, 'which-unit', 'mesh-not-closed'.
    """
    claim = entry.one("file")
    assert claim is not None
    path = find_file(claim.word_of("file"), (".stl", ".3mf"), shelf)
    raw = read_mesh(path)
    points = raw.points * _unit(entry, raw, path.name)
    points, triangles, told = _closed(entry, points - points.min(axis=0), raw.triangles, path.name)
    box = points.max(axis=0) - points.min(axis=0)
    labels = np.zeros(len(triangles), dtype=np.int32)
    return Stock((float(box[0]), float(box[1]), float(box[2])), points, triangles.astype(np.int32), labels, ()), told


def _unit(entry: Entry, raw: RawMesh, name: str) -> float:
    """Millimetres to one unit of the file: as said, else as the file says, else one; what can't be meant is asked."""
    box = np.sort(raw.points.max(axis=0) - raw.points.min(axis=0))[::-1]
    said = entry.one("unit")
    unit = UNITS[said.word_of("unit")] if said is not None else raw.unit if raw.unit is not None else 1.0
    largest = float(box[0]) * unit
    if SMALLEST <= largest <= LARGEST or (said is not None and 0.01 <= largest <= MOST):
        return unit
    fitting = [(word, size) for word, size in UNITS.items() if SMALLEST <= float(box[0]) * size <= LARGEST]
    advice = tuple(f"unit {word}   makes it {' x '.join(f'{one * size:.4g}' for one in box)} mm" for word, size in fitting)
    raise Trouble("which-unit", f"{name} would be {largest:.4g} mm at its largest: in which unit is it?", advice=advice or
                  ("measure the thing it shows, and save it in millimetres",))  # fmt: skip


def _closed(
    entry: Entry, points: npt.NDArray[np.float64], triangles: npt.NDArray[np.int64], name: str
) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.int64], tuple[Diagnostic, ...]]:
    """The mesh where it is the surface of a solid, mended first where `repair` is said."""
    found = faults(points, triangles)
    if found.closed:
        return points, triangles, ()
    repair = entry.one("repair")
    if repair is None:
        raise Trouble("mesh-not-closed", f"{name} is not the surface of a solid: {found.told()}",
                      advice=("repair   welds points, drops doubles and closes flat holes, and says what it did",))  # fmt: skip
    mended: Mended = mend(points, triangles)
    left = faults(mended.points, mended.triangles)
    if not left.closed:
        raise Trouble("mesh-not-closed", f"{name} can't be repaired here: {left.told()} are left",
                      advice=("what is left needs a hand: mend it in the program it comes from",))  # fmt: skip
    said = f"{name} was repaired: {mended.told()}"
    advice = ("look at the picture: is the shape what it was?",)
    return mended.points, mended.triangles, (Diagnostic("mesh-repaired", Severity.NOTE, said, repair.span, advice=advice),)

