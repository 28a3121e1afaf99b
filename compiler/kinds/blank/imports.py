"""A mesh file as a finished part: read, taken in its unit, checked, mended only where that is said."""

from __future__ import annotations

import numpy as np

from ...diagnostics.types import Diagnostic, Severity, Trouble
from ...imports.mending import faults, mend
from ...imports.stock_orientation import laid_down
from ...imports.store import Messages, Store
from ...imports.types import FinishedPart, ImportedMesh, ImportedPart, MeshRequest
from ...quantities.arrays import Floats, Longs
from ...source import find_file
from ...source.mesh_reading import read_mesh
from ...source.meshes import RawMesh

SMALLEST, LARGEST, MOST = 2.0, 1000.0, 10_000.0
LEAST_MOVED, MOST_MOVED = 0.01, 10.0  # mm
MOST_MOVED_FACETS = 5_000  # about ten seconds
MOST_MADE = 100_000  # facets that growing and shrinking has made in one run
UNITS = {"mm": 1.0, "cm": 10.0, "in": 25.4, "m": 1000.0}


def bring(request: MeshRequest, store: Store, messages: Messages) -> FinishedPart:
    """The mesh that a `blank` names.  What this run has grown or shrunk already is not moved twice.

    Raises Trouble: as `find_file` and `read_mesh` do, 'which-unit', 'mesh-not-closed', and as `_shifted`
    does."""
    path = find_file(request.file, (".stl", ".3mf"), store.shelf)
    raw = read_mesh(path)
    unit = _unit(request, raw, path.name)
    points = raw.points * unit
    points, triangles, said = _closed(request, points - points.min(axis=0), raw.triangles, path.name)
    if request.change:
        step = request.by if request.change == "grow" else -request.by
        key = (path, unit, request.repair is not None, step)
        if key not in store.shifted:
            store.shifted[key] = _shifted(request, step, points, triangles.astype(np.int64), store)
    # not held to the limit of messages: no mesh is mended without a word
    messages.found.extend(said)
    return store.shifted[key] if request.change else _part(points, triangles)


def _part(points: Floats, triangles: Longs) -> FinishedPart:
    """A mesh whose box begins at the origin, as a part that holds nothing."""
    long, wide, thick = (points.max(axis=0) - points.min(axis=0)).tolist()
    box = (long, wide, thick)
    labels = np.zeros(len(triangles), dtype=np.int32)
    return FinishedPart(ImportedPart(box), ImportedMesh(box, points, triangles.astype(np.int32), labels, ()))


def _shifted(request: MeshRequest, by: float, points: Floats, triangles: Longs, store: Store) -> FinishedPart:
    """The part with its whole surface moved outwards by mm (inwards: < 0).

    Raises Trouble: 'bad-size', 'too-many-facets', 'nothing-left', 'bad-solid'."""
    word, name = request.change, request.name
    if not LEAST_MOVED <= abs(by) <= MOST_MOVED:
        raise Trouble(
            "bad-size",
            f"`{word}` of `{name}` is {abs(by):g}: it goes from {LEAST_MOVED:g} to {MOST_MOVED:g} mm",
            advice=("grow and shrink are for a fit; build on it with blocks and plates, or trim it",),
        )
    made = sum(len(one.mesh.triangles) for one in store.shifted.values())
    if len(triangles) > MOST_MOVED_FACETS or made > MOST_MADE:
        headline = f"`{name}` has {len(triangles)} facets, and {word} works with {MOST_MOVED_FACETS} at most"
        if len(triangles) <= MOST_MOVED_FACETS:
            headline = f"with `{name}` more meshes are grown or shrunk than can be done in good time"
        raise Trouble(
            "too-many-facets",
            headline,
            advice=(
                "make it coarser in the program it comes from",
                f"or leave {word} out and thicken where it is needed",
            ),
        )
    moved = store.makers.shifted(points, triangles, by, store.chord)
    if moved is None:
        raise Trouble(
            "nothing-left", f"`shrink {-by:g}` leaves nothing of `{name}`", advice=("shrink it by less",)
        )
    return _part(moved[0] - moved[0].min(axis=0), moved[1])


def _unit(request: MeshRequest, raw: RawMesh, file: str) -> float:
    """Millimetres to one unit of the file: as the recipe says, else as the file says, else one; what can't be
    meant is asked.
    """
    box = np.sort(raw.points.max(axis=0) - raw.points.min(axis=0))[::-1]
    unit = UNITS[request.unit] if request.unit else raw.unit if raw.unit is not None else 1.0
    largest = float(box[0]) * unit
    if SMALLEST <= largest <= LARGEST or (request.unit and 0.01 <= largest <= MOST):
        return unit
    fitting = [(word, size) for word, size in UNITS.items() if SMALLEST <= float(box[0]) * size <= LARGEST]
    advice = tuple(
        f"unit {word}   makes it {' x '.join(f'{side * size:.4g}' for side in box)} mm"
        for word, size in fitting
    )
    raise Trouble(
        "which-unit",
        f"{file} would be {largest:.4g} mm at its largest: in which unit is it?",
        advice=advice or ("measure the thing it shows, and save it in millimetres",),
    )


def _closed(
    request: MeshRequest, points: Floats, triangles: Longs, file: str
) -> tuple[Floats, Longs, tuple[Diagnostic, ...]]:
    """The mesh where it is the surface of a solid, mended first where `repair` is said, and what was
    mended.
    """
    found = faults(points, triangles)
    if not len(triangles):
        raise _flat(file)
    if found.closed:
        return points, triangles, ()
    if request.repair is None:
        raise Trouble(
            "mesh-not-closed",
            f"{file} is not the surface of a solid: {found.told()}",
            advice=("repair   welds points, drops doubles and closes flat holes, and says what it did",),
        )
    mended = mend(points, triangles)
    if not len(mended.triangles):
        raise _flat(file)
    left = faults(mended.points, mended.triangles)
    if not left.closed:
        raise Trouble(
            "mesh-not-closed",
            f"{file} can't be repaired here: {left.told()} are left",
            advice=("what is left needs a hand: mend it in the program it comes from",),
        )
    headline = f"{file} was repaired: {mended.told()}"
    advice = ("look at the picture: is the shape what it was?",)
    note = Diagnostic("mesh-repaired", Severity.NOTE, headline, request.repair, advice=advice)
    return mended.points, mended.triangles, (note,)


def _flat(file: str) -> Trouble:
    return Trouble(
        "mesh-not-closed",
        f"{file} encloses nothing: its facets lie on one another, or have no area",
        advice=("is it the right file? look at it in the program it comes from",),
    )


__all__ = ["bring", "laid_down"]
