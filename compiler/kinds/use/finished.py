"""The last step of a recipe that another one uses: its part as it would be printed, with the places of all
that it names, and nothing else of it."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from ...imports.types import FinishedPart, HeldThing, ImportedMesh, ImportedPart
from ...mesh.inner_holes import STILL, axis_of, finished, inner_things
from ...mesh.types import Part
from ...model import Model
from ...model.holes import Hole


def finished_part(model: Model, part: Part, meshes: Mapping[str, ImportedMesh]) -> FinishedPart:
    """The part of a recipe that was compiled without error; `meshes`: what it brought in itself."""
    names = tuple(f"{statement} {detail}".strip() for statement, detail in part.faces)
    labels = np.where(part.mesh.labels < 0, len(names), part.mesh.labels).astype(np.int32)
    wound = any(thing.handed for thing in model.things.values())
    hollows = _hollows(model, part, names, meshes)
    mesh = ImportedMesh(
        part.figures.box, part.mesh.points, part.mesh.triangles, labels, (*names, ""), hollows
    )
    return FinishedPart(ImportedPart(part.figures.box, _held(model, part), wound), mesh)


def _held(model: Model, part: Part) -> dict[str, HeldThing]:
    """All that the recipe names and places, and what the parts that it uses hold; copies are numbered."""
    found: dict[str, HeldThing] = {}
    for name, thing in model.things.items():
        if thing.spot is None:
            continue
        frame, hole = model.frame(thing), isinstance(thing, Hole)
        size = thing.edge_across if abs(frame.out[2]) > 1.0 - 1e-9 else 0.0
        for number, move in enumerate((STILL, *thing.copies), start=1):
            at = finished(move.point(frame.point(thing.spot.at, thing.spot.base)), part)
            bored = thing.across_made if hole else None
            axis = axis_of(frame.out, move, part)
            found[_numbered(name, number)] = HeldThing(at, size, thing.noun, axis, bored, hole)
    for one in inner_things(model, part):
        size = one.of.bored if one.of.bored is not None and abs(one.axis[2]) > 1.0 - 1e-9 else 0.0
        name = _numbered(f"{one.owner}-{one.name}", one.number)
        found.setdefault(name, HeldThing(one.at, size, one.of.kind, one.axis, one.of.bored, one.of.hole))
    return found


def _numbered(name: str, number: int) -> str:
    return name if number == 1 else f"{name}-{number}"


def _hollows(
    model: Model, part: Part, names: tuple[str, ...], meshes: Mapping[str, ImportedMesh]
) -> dict[str, tuple[str, ...]]:
    """The holes of a part, those of parts that it uses too, each with the names of its faces that are
    left.
    """
    left = set(part.mesh.labels.tolist())
    made_by: dict[str, list[str]] = {}
    for label, (statement, detail) in enumerate(part.faces):
        if label not in left:
            continue
        if isinstance(model.things.get(statement), Hole):
            made_by.setdefault(statement, []).append(names[label])
        mesh = meshes.get(statement)
        for hole, faces in mesh.hollows.items() if mesh is not None else ():
            if detail in faces:
                made_by.setdefault(f"{statement}-{hole}", []).append(names[label])
    return {hole: tuple(faces) for hole, faces in sorted(made_by.items())}
