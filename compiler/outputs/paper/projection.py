"""Which views a drawing needs, and where they stand: third-angle projection, each view on the side it is seen
from.

The plan (the sheet as it was laid) is always there; a view from a side where that side holds something; and
one that shows the depth: a section through the features that have some inside, else the edge seen from below
or from the right."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from msgspec import Struct

from ...mesh.looking import opened
from ...mesh.types import Mesh
from ...model import Body, Thing
from ...model.corners import CornerFill
from ...model.holes import Hole
from ...model.zones import Zone
from ...quantities.arrays import Floats
from ...quantities.vectors import Vector
from .chains import Wire
from .edges import Edges
from .views import Scene, View

_X, _Y, _Z = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)


def _back(way: Vector) -> Vector:
    return (-way[0] + 0.0, -way[1] + 0.0, -way[2] + 0.0)


SIDES: dict[str, tuple[View, tuple[int, int]]] = {
    "front": (View(_X, _Y, _Z), (0, 0)),
    "right": (View(_back(_Z), _Y, _X), (1, 0)),
    "left": (View(_Z, _Y, _back(_X)), (-1, 0)),
    "top": (View(_X, _back(_Z), _Y), (0, 1)),
    "bottom": (View(_X, _Z, _back(_Y)), (0, -1)),
    "back": (View(_back(_X), _Y, _back(_Z)), (2, 0)),
}
"""The six views of third-angle projection (ISO 5456-2): view, and column and row on the sheet."""

CUT_LABEL = 2_000_000_000


class SectionCut(Struct, frozen=True):
    """A cutting plane: square to the plan, along x (`level`) or along y, at `at` mm in the finished part."""

    level: bool
    at: float
    letter: str = "S"


class Shown(Struct, frozen=True):
    """One view of a drawing: its name, where it stands, its edges, and of a section the cut faces (rings)."""

    name: str
    view: View
    cell: tuple[int, int]
    wires: list[Wire]
    low: tuple[float, float]
    high: tuple[float, float]
    faces: list[Floats]
    mesh: Mesh
    cut: SectionCut | None = None


def needed(scene: Scene) -> list[Shown]:
    """The views of a part, the plan first."""
    mesh = scene.part.mesh
    cut = _cut(scene)
    names = ["front", *sorted(_used_sides(scene) - {"front"})]
    if cut is not None:
        side = "bottom" if cut.level else "right"
        names = [*(one for one in names if one != side), side]
    elif len(names) == 1:
        names.append(_edge_view(scene))
    elif not {"right", "left"} & set(names):
        names.append("right")
    edges = Edges(mesh)
    found = []
    for name in names:
        view, cell = SIDES[name]
        if cut is not None and name == ("bottom" if cut.level else "right"):
            found.append(_section(mesh, cut, view, cell, name) or _shown(scene, name, view, cell, edges))
        else:
            found.append(_shown(scene, name, view, cell, edges))
    if cut is not None and _lost(scene, found[-1].mesh):
        name = "right" if cut.level else "bottom"
        if name not in names:
            found.append(_shown(scene, name, *SIDES[name], edges))
    found += _slanting(scene, edges, len(found))
    return found


def _lost(scene: Scene, rest: Mesh) -> bool:
    """True where the section has taken a whole body away, which then wants a view of its own."""
    kept = {
        scene.part.faces[label][0]
        for label in set(rest.labels.tolist())
        if 0 <= label < len(scene.part.faces)
    }
    there = {scene.part.faces[label][0] for label in set(scene.part.mesh.labels.tolist()) if label >= 0}
    return any(body.name in there - kept for body in scene.model.of(Body))


def _shown(scene: Scene, name: str, view: View, cell: tuple[int, int], edges: Edges) -> Shown:
    """One view from outside; of threads that are hidden the turns are left out, as they would make a black
    spot.
    """
    mesh = scene.part.mesh
    low, high = _reach(view, mesh)
    turns = {label for label, (_, detail) in enumerate(scene.part.faces) if detail == "thread"}
    wires = [wire for wire in edges.wires(view) if not (wire.hidden and wire.labels <= turns)]
    return Shown(name, view, cell, wires, low, high, [], mesh)


def _reach(view: View, mesh: Mesh) -> tuple[tuple[float, float], tuple[float, float]]:
    flat = view.flat(mesh.points)
    low, high = flat.min(axis=0), flat.max(axis=0)
    return (float(low[0]), float(low[1])), (float(high[0]), float(high[1]))


def _section(mesh: Mesh, cut: SectionCut, view: View, cell: tuple[int, int], name: str) -> Shown | None:
    """What lies behind the cutting plane, and the faces that it laid open; hidden lines are left out (ISO
    128-3).
    """
    point = (0.0, cut.at, 0.0) if cut.level else (cut.at, 0.0, 0.0)
    rest = opened(mesh, point, view.out, CUT_LABEL)
    if rest is None:
        return None
    low, high = _reach(view, mesh)
    faces = _outlines(rest, view)
    wires = Edges(rest).wires(view, hidden=False)
    return Shown(name, view, cell, wires, low, high, faces, rest, cut) if faces else None


def _outlines(mesh: Mesh, view: View) -> list[Floats]:
    """Rings round the faces that carry the cut's label."""
    corner = mesh.triangles[mesh.labels == CUT_LABEL].astype(np.int64)
    ahead: dict[int, list[int]] = {}
    sides = {(int(a), int(b)) for row in corner for a, b in zip(row, np.roll(row, -1), strict=True)}
    for a, b in sorted(sides):
        if (b, a) not in sides:
            ahead.setdefault(a, []).append(b)
    flat = view.flat(mesh.points)
    rings = []
    while ahead:
        start = min(ahead)
        ring, here = [start], ahead[start].pop()
        while here != start and here in ahead:
            ring.append(here)
            following = ahead[here].pop()
            if not ahead[here]:
                del ahead[here]
            here = following
        if not ahead[start]:
            del ahead[start]
        rings.append(flat[ring])
    return rings


def _used_sides(scene: Scene) -> set[str]:
    """The sides that hold bodies or holes, by the way their pages face; corners between two flats want their
    profile.
    """
    found = set()
    for view, pages in scene.views():
        name = next(
            (name for name, (seen, _) in SIDES.items() if np.allclose(seen.out, view.out, atol=1e-9)), None
        )
        if name is not None and not (name == "back" and len(pages) == 1 and not _holes_on(scene, pages)):
            found.add(name)
    if scene.model.of(CornerFill):
        found.add("right")
    return found


def _holes_on(scene: Scene, pages: Iterable[str]) -> bool:
    return any(hole.plane in set(pages) for hole in scene.model.of(Hole))


def _edge_view(scene: Scene) -> str:
    wide, high, _ = scene.part.figures.box
    return "right" if high > 1.3 * wide else "bottom"


def _cut(scene: Scene) -> SectionCut | None:
    """The plane through most of the features of the plan that have depth; None where none has."""
    spots = [(thing, scene.places(thing)[0]) for thing in _with_depth(scene)]
    if not spots:
        return None
    box = scene.part.figures.box
    best: tuple[tuple[int, float, float], SectionCut] | None = None
    for thing, place in spots:
        for level in (True, False):
            at = place[1] if level else place[0]
            met = sum(abs((other[1] if level else other[0]) - at) < 0.2 for _, other in spots)
            # of equals the one that runs along the part, and through the thing that is named first
            score = (met, box[0] if level else box[1], -float(spots.index((thing, place))))
            if best is None or score > best[0]:
                best = (score, SectionCut(level, at))
    return best[1] if best is not None else None


def _with_depth(scene: Scene) -> list[Thing]:
    """Features on pages that face the plan or away from it, and have an inside that the plan does not show;
    and what zones are told by.
    """
    found = [
        thing for thing in scene.model.things.values() if thing.hidden_inside and _faces_plan(scene, thing)
    ]
    for zone in scene.model.of(Zone):
        about = scene.model.things[zone.about[0].thing]
        if about.spot is not None and about not in found:
            found.append(about)
    return sorted(found, key=lambda thing: thing.name)


def _faces_plan(scene: Scene, thing: Thing) -> bool:
    return thing.spot is not None and abs(scene.model.frames[thing.spot.plane].out[2]) >= 1 - 1e-9


def _slanting(scene: Scene, edges: Edges, count: int) -> list[Shown]:
    """Views onto pages that face no way of the six: they stand behind the others and are named for their
    page.
    """
    found: list[Shown] = []
    for view, pages in scene.views():
        if all(
            max(abs(a - b) for a, b in zip(seen.out, view.out, strict=True)) > 1e-9
            for seen, _ in SIDES.values()
        ):
            found.append(_shown(scene, f"onto {pages[0]}", view, (3 + len(found), 0), edges))
    return found[: max(0, 6 - count)]
