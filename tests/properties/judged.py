"""What is asked of a compiled part, worked out here once more from its mesh alone."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
from makegood.quantities.vectors import dot
from makegood.result import Result

Floats = npt.NDArray[np.float64]


def compiled(text: str, chord: float = 0.01) -> Result:
    """The part of a recipe that must compile."""
    import makegood

    result = makegood.compile_text(text, "part.mend", chord=chord)
    assert result.ok, ([one.headline for one in result.diagnostics], text)
    return result


def closed_and_oriented(result: Result) -> None:
    """Every directed edge once, its reverse once; one piece; more than no volume; Euler's number agrees with
    the genus.
    """
    mesh, figures = result.mesh, result.figures
    assert mesh is not None
    assert figures is not None
    assert np.isfinite(mesh.points).all()
    assert mesh.triangles.min() == 0
    assert mesh.triangles.max() == len(mesh.points) - 1
    edges = np.concatenate(
        [mesh.triangles[:, [0, 1]], mesh.triangles[:, [1, 2]], mesh.triangles[:, [2, 0]]]
    ).astype(np.int64)
    keys = edges[:, 0] * len(mesh.points) + edges[:, 1]
    assert len(np.unique(keys)) == len(keys)
    assert np.array_equal(np.sort(keys), np.sort(edges[:, 1] * len(mesh.points) + edges[:, 0]))
    assert figures.watertight
    assert figures.pieces == 1
    a, b, c = (mesh.points[mesh.triangles[:, k]] for k in range(3))
    volume = float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum()) / 6
    assert volume > 0
    assert abs(volume - figures.volume) <= 1e-6 * max(1.0, volume)
    assert np.abs(mesh.points.min(axis=0)).max() <= 1e-9


def every_face_named(result: Result) -> None:
    """Every triangle has a label, and the label names a statement of the recipe."""
    assert result.mesh is not None
    assert result.part is not None
    assert result.mesh.labels.min() >= 0
    named = {result.part.faces[int(label)][0] for label in np.unique(result.mesh.labels)}
    assert named <= set(result.claims.entries)


def same_mesh(one: Result, two: Result) -> None:
    """The same bytes: points, triangles, and what the labels stand for."""
    assert one.mesh is not None
    assert two.mesh is not None
    assert one.mesh.points.tobytes() == two.mesh.points.tobytes()
    assert one.mesh.triangles.tobytes() == two.mesh.triangles.tobytes()
    assert faces(one) == faces(two)


def faces(result: Result) -> list[tuple[str, str]]:
    """What made each triangle, in order."""
    assert result.mesh is not None
    assert result.part is not None
    return [result.part.faces[int(label)] for label in result.mesh.labels]


def about_axis(result: Result, name: str, details: tuple[str, ...] | None = ("",), move: int = 0) -> Floats:
    """Triangles (n, 3, 2) that a statement made, seen along the axis of its place, axis at the origin (mm).

    `details`: only faces so marked, None for all; `move`: 0 for the thing itself, i for its copy .i + 1.
    """
    assert result.mesh is not None
    assert result.part is not None
    spot = result.layout.spots[name]
    frame = result.layout.frames[spot.plane]
    centre = frame.point(spot.at)
    right, up = frame.right, frame.up
    if move:
        one = result.layout.copies[name][move - 1]
        centre = one.point(centre)
        right, up = ((dot(one.rows[0], v), dot(one.rows[1], v), dot(one.rows[2], v)) for v in (right, up))
    flip = np.array([-1.0 if result.part.mirrored else 1.0, 1.0, 1.0])
    axes = np.array([right, up]) * flip
    at = np.array(centre) * flip - np.array(result.part.low)
    kept = [who == name and (details is None or what in details) for who, what in faces(result)]
    corners = result.mesh.points[result.mesh.triangles[np.array(kept, dtype=bool)]]
    return (corners - at) @ axes.T


def nearest_to_axis(flat: Floats) -> float:
    """How near any edge of these triangles comes to the axis, in mm."""
    a, b = flat.reshape(-1, 2), np.roll(flat, -1, axis=1).reshape(-1, 2)
    way = b - a
    long = np.maximum((way * way).sum(axis=1), 1e-300)
    t = np.clip(-(a * way).sum(axis=1) / long, 0.0, 1.0)
    return float(np.hypot(*(a + t[:, None] * way).T).min())


def furthest_from_axes(views: list[Floats]) -> float:
    """How far any corner of triangles lies from the axis nearest to it, given as seen along each axis, in
    mm.
    """
    return float(np.min([np.hypot(*view.reshape(-1, 2).T) for view in views], axis=0).max())
