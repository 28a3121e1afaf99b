"""What the page is told of a recipe: its lines and messages (`state`), and the part as arrays (`part`).

Arrays are sent as base64 of little-endian numbers.  Every face label comes with its statement, what it is of
it, and the line that made it: a fact's own line where the face is named for a fact (`bevel`, `counterbore`),
else the statement's head."""

from __future__ import annotations

import base64
from collections.abc import Iterator, Mapping, Sequence

import numpy as np
import numpy.typing as npt

from ...callipers import ways_of
from ...diagnostics import in_order, to_json
from ...diagnostics.cells import harmless
from ...diagnostics.types import Diagnostic
from ...mesh.types import Mesh, Part
from ...model import Body, Card, Model, Thing
from ...model.holes import Hole
from ...model.zones import Zone
from ...source import Source
from ..features import part_report
from ..paper import Scene
from ..paper.edges import SMOOTH, Edges
from ..paper.shaded import corner_normals, face_normals
from ..paper.template import label
from ..tables import rounded

Json = dict[str, object]
MOST_LINES = 3000
MOST_MESSAGES = 200
FLAT = np.cos(SMOOTH / 100)  # two faces of one plane, as near as their corners can say


def state_document(
    source: Source,
    card: Card,
    heads: Mapping[str, int],
    found: Sequence[Diagnostic],
    number: int,
    part: int | None,
) -> Json:
    """The recipe as saved: lines, which statement each belongs to, messages.  `heads`: the line of
    each statement; `part`: number of the edition
    whose part is the last good one, None where there was none yet."""
    told = in_order(found)
    wrong = sum(one.is_error for one in told)
    other = len(told) - wrong
    counts = ", ".join(
        _counted(count, word) for count, word in ((wrong, "error"), (other, "other message")) if count
    )
    return {
        "number": number,
        "part": part,
        "ok": not wrong and part == number,
        "file": harmless(source.name),
        "title": harmless(card.title),
        "card": _card(card),
        "counts": counts,
        "lines": [harmless(line) for line in source.lines[:MOST_LINES]],
        "cut": max(0, len(source.lines) - MOST_LINES),
        "owners": _owners(source, heads),
        "heads": dict(heads),
        "messages": [_message(one, source.name) for one in told[:MOST_MESSAGES]],
        "more": max(0, len(told) - MOST_MESSAGES),
    }


def _counted(count: int, word: str) -> str:
    return f"{count} {word}{'' if count == 1 else 's'}"


def _card(card: Card) -> dict[str, str]:
    return {name: harmless(said) for name, said in card.fields}


def _message(one: Diagnostic, name: str) -> Json:
    said = to_json(one, name)
    others = [
        {
            "line": other.span.line,
            "column": other.span.start,
            "end_column": other.span.end,
            "label": harmless(other.text),
        }
        for other in one.others
    ]
    advice = [harmless(row) for text in one.advice for row in text.splitlines()]
    return {
        **said,
        "headline": harmless(one.headline),
        "label": harmless(one.label),
        "others": others,
        "advice": advice,
    }


def _owners(source: Source, statements: Mapping[str, int]) -> list[Json | None]:
    """For every line the statement it belongs to, None for the card, comments and blanks."""
    # `a.b` is said by `a`
    heads = {line: name for name, line in statements.items() if "." not in name}
    owners: list[Json | None] = [None] * min(len(source.lines), MOST_LINES)
    name = None
    for row in source.rows:
        if not row.text:
            continue
        if not row.indented:
            name = heads.get(row.line)
        for piece in row.pieces if name is not None else ():
            if piece.line <= len(owners):
                owners[piece.line - 1] = {"name": name, "head": not row.indented}
    return owners


def part_document(model: Model, part: Part, number: int) -> Json:
    """The part: arrays of the mesh and its edges, faces and things by name, and the figures of the title
    block.
    """
    mesh, report = part.mesh, part_report(model, part, "")
    normals = face_normals(mesh.points, mesh.triangles.astype(np.int64))
    corners = corner_normals(mesh, mesh.triangles.astype(np.int64), normals)
    edges, creases = _edges(mesh)
    zones = {zone.name for zone in model.of(Zone)}
    return {
        "number": number,
        "title": harmless(model.card.title),
        "card": _card(model.card),
        "box": [rounded(one) for one in part.figures.box],
        "volume": rounded(part.figures.volume),
        "pieces": part.figures.pieces,
        "off": report.copies,
        "mass": None if report.mass_g is None else rounded(report.mass_g),
        "low": _three(mesh.points.min(axis=0)),
        "high": _three(mesh.points.max(axis=0)),
        "points": _packed(mesh.points, "<f4"),
        "triangles": _packed(mesh.triangles, "<u4"),
        "labels": _packed(mesh.labels, "<i4"),
        "normals": _packed(np.rint(corners * 127.0), "<i1"),
        "edges": _packed(edges, "<u4"),
        "creases": creases,
        "faces": [[name, detail, _line(model, name, detail)] for name, detail in part.faces],
        "zones": [i for i, (name, _) in enumerate(part.faces) if name in zones],
        "things": list(_things(Scene(model, part))),
        "ways": {one.thing: harmless(one.text) for one in ways_of(model, part)},
    }


def _packed(
    values: npt.NDArray[np.float64] | npt.NDArray[np.int32] | npt.NDArray[np.int64], kind: str
) -> str:
    return base64.b64encode(np.ascontiguousarray(values).astype(kind).tobytes()).decode("ascii")


def _three(values: npt.NDArray[np.float64]) -> list[float]:
    return [rounded(float(one)) for one in values]


def _edges(mesh: Mesh) -> tuple[npt.NDArray[np.int64], int]:
    """Edges (k, 4) as point, point, triangle, triangle: first the creases, then those that can be the rim of
    a curve.
    """
    found = Edges(mesh)
    bend = np.einsum("ij,ij->i", found.normals[found.left], found.normals[found.right])
    rims = ~found.crease & (bend < FLAT) & found.sound[found.left] & found.sound[found.right]
    chosen = np.concatenate([np.flatnonzero(found.crease), np.flatnonzero(rims)])
    together = np.column_stack([found.ends, found.left, found.right])[chosen]
    return together.astype(np.int64), int(found.crease.sum())


def _line(model: Model, name: str, detail: str) -> int:
    """The line that made a face: the fact that the face is named for; 0 where no line is known."""
    thing = model.things.get(name)
    return 0 if thing is None else thing.line_of(detail).line


def _things(scene: Scene) -> Iterator[Json]:
    """Holes, zones and bodies by name, each with its faces and a place on it for a leader."""
    several = scene.several
    groups: tuple[tuple[str, type[Thing]], ...] = (("holes", Hole), ("zones", Zone), ("bodies", Body))
    for group, kind in groups:
        for thing in scene.model.of(kind):
            faces = [i for i, (name, _) in enumerate(scene.part.faces) if name == thing.name]
            if not faces and not several:
                continue
            said = label(thing, len(scene.places(thing))) if group == "holes" else thing.name
            place, way = _place(scene, thing, faces, group == "holes")
            yield {
                "name": thing.name,
                "kind": thing.noun,
                "group": group,
                "said": harmless(said),
                "faces": faces,
                "place": place,
                "way": way,
            }


def _place(
    scene: Scene, thing: Thing, faces: list[int], hole: bool
) -> tuple[list[float] | None, list[float]]:
    """Where a leader ends, and a way: on the largest triangle of a thing, with the direction that faces; of a
    hole in its middle, with the way from there to a mouth."""
    mesh = scene.part.mesh
    corners = mesh.points[mesh.triangles[np.isin(mesh.labels, faces)]]
    if not len(corners):
        return None, [0.0, 0.0, 0.0]
    middles = corners.mean(axis=1)
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    sizes = np.sqrt((normals**2).sum(axis=1))
    if not hole:
        largest = np.argmax(sizes)
        return _three(middles[largest]), _three(normals[largest] / max(sizes[largest], 1e-12))
    copies = np.array(scene.places(thing))
    if len(copies) > 1:
        own = np.argmin(((middles[:, None] - copies[None]) ** 2).sum(axis=2), axis=1) == 0
        corners = corners[own] if own.any() else corners
    low, high = corners.min(axis=(0, 1)), corners.max(axis=(0, 1))
    axis = np.array(scene.view(thing.plane).out)
    reach = float(np.ptp(corners.reshape(-1, 3) @ axis)) / 2
    return _three((low + high) / 2), _three(axis * reach)
