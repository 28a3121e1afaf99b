"""The last step of a recipe that another one uses: its part as it would be printed, with the places of all
that it names, and nothing else of it."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from ..facts import HOLES, Claims, Entry
from ..facts.extents import across, is_box, station_across
from ..facts.needs import THREAD_WORDS
from ..imports.types import FinishedPart, HeldThing, ImportedMesh, ImportedPart
from ..model import Model
from ..places.layout import Layout
from .inner_holes import STILL, axis_of, finished, inner_things
from .types import Part


def finished_part(
    model: Model, claims: Claims, layout: Layout, part: Part, meshes: Mapping[str, ImportedMesh]
) -> FinishedPart:
    """The part of a recipe that was compiled without error; `meshes`: what it brought in itself."""
    names = tuple(f"{statement} {detail}".strip() for statement, detail in part.faces)
    labels = np.where(part.mesh.labels < 0, len(names), part.mesh.labels).astype(np.int32)
    own = any(one.has(*THREAD_WORDS) or one.kind == "mark" for one in claims.entries.values())
    wound = own or any(one.wound for one in claims.imported.values())
    hollows = _hollows(claims, part, names, meshes)
    mesh = ImportedMesh(
        part.figures.box, part.mesh.points, part.mesh.triangles, labels, (*names, ""), hollows
    )
    return FinishedPart(ImportedPart(part.figures.box, _held(model, claims, layout, part), wound), mesh)


def _held(model: Model, claims: Claims, layout: Layout, part: Part) -> dict[str, HeldThing]:
    """All that the recipe names and places, and what the parts that it uses hold; copies are numbered."""
    found: dict[str, HeldThing] = {}
    for name, spot in sorted(layout.spots.items()):
        entry, frame = claims.entries[name], layout.frames[spot.page]
        size = _across(entry) if abs(frame.out[2]) > 1.0 - 1e-9 else 0.0
        for number, move in enumerate((STILL, *layout.copies.get(name, ())), start=1):
            found[_numbered(name, number)] = HeldThing(
                finished(move.point(frame.point(spot.at, spot.base)), part),
                size,
                entry.kind,
                axis_of(frame.out, move, part),
                _bored(entry),
                entry.kind in HOLES,
            )
    for one in inner_things(model, part):
        size = one.of.bored if one.of.bored is not None and abs(one.axis[2]) > 1.0 - 1e-9 else 0.0
        name = _numbered(f"{one.owner}-{one.name}", one.number)
        found.setdefault(name, HeldThing(one.at, size, one.of.kind, one.axis, one.of.bored, one.of.hole))
    return found


def _numbered(name: str, number: int) -> str:
    return name if number == 1 else f"{name}-{number}"


def _hollows(
    claims: Claims, part: Part, names: tuple[str, ...], meshes: Mapping[str, ImportedMesh]
) -> dict[str, tuple[str, ...]]:
    """The holes of a part, those of parts that it uses too, each with the names of its faces that are
    left.
    """
    left = set(part.mesh.labels.tolist())
    made_by: dict[str, list[str]] = {}
    for label, (statement, detail) in enumerate(part.faces):
        if label not in left:
            continue
        entry, mesh = claims.entries.get(statement), meshes.get(statement)
        if entry is not None and entry.kind in HOLES:
            made_by.setdefault(statement, []).append(names[label])
        for hole, faces in mesh.hollows.items() if mesh is not None else ():
            if detail in faces:
                made_by.setdefault(f"{statement}-{hole}", []).append(names[label])
    return {hole: tuple(faces) for hole, faces in sorted(made_by.items())}


def _across(entry: Entry) -> float:
    """The size across as made (mm) of what is round; 0 for the rest."""
    if entry.kind == "turning":
        return max((station_across(claim) for claim in entry.all("across", "taper")), default=0.0)
    if entry.kind not in ("bore", "round", "peg") or entry.has("hex", "square"):
        return 0.0
    size = across(entry)
    return size.made.value if size is not None else 0.0


def _bored(entry: Entry) -> float | None:
    """The size across as made (mm) of a hole that is no box."""
    size = across(entry) if entry.kind in HOLES and not is_box(entry) else None
    return size.made.value if size is not None else None
