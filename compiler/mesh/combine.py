"""Solids moved, joined and cut.  Nothing here asks the kernel for a result unless its docstring says so."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..diagnostics.types import Trouble
from ..places.layout import Move
from ..quantities.arrays import Floats
from ..quantities.vectors import Vector
from .kernel import Solid, added, checked, from_arrays, taken

SNAP = 1e-12
# mm3: a shell that encloses less is a flat skin left where faces nearly met, and nothing that prints
SPECK = 1e-6


def place(solid: Solid, origin: Vector, axes: Floats) -> Solid:
    """The solid moved from its own frame: x, y, z become the columns of `axes` (3 x 3, unit, right-handed).

    Entries within 1e-12 of 0 or 1 are taken as such, so parts in axis-parallel frames keep exact coordinates.
    """
    frame = np.array(axes, dtype=np.float64)
    for exact in (-1.0, 0.0, 1.0):
        frame[np.abs(frame - exact) <= SNAP] = exact
    if np.abs(frame.T @ frame - np.eye(3)).max() > 1e-9 or np.linalg.det(frame) < 0:
        raise ValueError(
            "axes must be unit, square to each other and right-handed; mirrored() makes the other hand"
        )
    return solid.transform(np.column_stack([frame, np.array(origin, dtype=np.float64)]))


def mirrored(solid: Solid, axis: int) -> Solid:
    """The other hand: coordinate 0, 1 or 2 changes its sign; faces keep their labels."""
    return solid.transform(
        np.column_stack([np.diag([-1.0 if k == axis else 1.0 for k in range(3)]), np.zeros(3)])
    )


def moved(solid: Solid, move: Move) -> Solid:
    """A solid after a rigid move, faces labelled as before."""
    matrix = np.array([[*row, move.shift[i]] for i, row in enumerate(move.rows)], dtype=np.float64)
    return solid.transform(matrix)


def join(solids: Sequence[Solid]) -> Solid:
    """All solids as one.

    Keep the order the same from run to run: where faces of two solids lie in one plane and overlap, the order
    decides (without a rule worth telling) which of the two labels the shared part carries."""
    if not solids:
        raise Trouble("nothing-left", "there is nothing here to join")
    return added(solids)


def remove(solid: Solid, cutters: Sequence[Solid]) -> Solid:
    """The solid without any of the cutters, in one go; cut faces carry the cutters' labels."""
    if not cutters:
        return solid
    return taken([solid, *cutters])


def common(a: Solid, b: Solid) -> Solid:
    """What lies in both solids."""
    return a ^ b


def overlap(a: Solid, b: Solid) -> float:
    """Volume (mm3) that lies in both solids.  Forces the kernel to work."""
    return float((a ^ b).volume())


def frame_along(normal: Vector) -> Floats:
    """A right-handed frame (columns) whose third axis is `normal`, exact where the normal runs along an
    axis.
    """
    third = np.array(normal, dtype=np.float64)
    length = float(np.sqrt(third @ third))
    if not length > 0:
        raise ValueError("a direction needs a length")
    third = third / length
    first = np.zeros(3)
    first[(int(np.argmax(np.abs(third))) + 1) % 3] = 1.0
    first = first - (first @ third) * third
    first = first / np.sqrt(first @ first)
    return np.column_stack([first, np.cross(third, first), third])


def trim(solid: Solid, point: Vector, normal: Vector, label: int) -> Solid:
    """Cut off all that lies beyond the plane through `point` on the side `normal` points to; the new face is
    labelled.

    Reads the solid's box, so it forces the kernel to work."""
    if solid.is_empty():
        return solid
    box = np.array(solid.bounding_box()).reshape(2, 3)
    corners = np.array([[box[i, 0], box[j, 1], box[k, 2]] for i in (0, 1) for j in (0, 1) for k in (0, 1)])
    frame = frame_along(normal)
    local = (corners - np.array(point)) @ frame
    low, high = local.min(axis=0) - 1.0, local.max(axis=0) + 1.0
    if high[2] - 1.0 <= 0:
        return solid
    low[2] = 0.0
    return remove(
        solid, [place(block((low[0], low[1], low[2]), (high[0], high[1], high[2]), label), point, frame)]
    )


def block(low: Vector, high: Vector, label: int) -> Solid:
    """An axis-parallel block from corner to corner (mm), one label all over."""
    pick = np.array([[(k >> axis) & 1 for axis in range(3)] for k in range(8)])
    points = np.where(pick == 1, np.array(high), np.array(low)).astype(np.float64)
    quads = [(0, 2, 3, 1), (4, 5, 7, 6), (0, 1, 5, 4), (2, 6, 7, 3), (0, 4, 6, 2), (1, 3, 7, 5)]
    triangles = np.array([t for a, b, c, d in quads for t in ((a, b, c), (a, c, d))], dtype=np.int32)
    return from_arrays(points, triangles, np.full(12, label, dtype=np.int32))


def without_specks(solid: Solid) -> Solid:
    """The solid without shells that enclose nothing.  Forces the kernel to work.  Raises
    Trouble('bad-solid').
    """
    shells = checked(solid).decompose()
    kept = [shell for shell in shells if abs(shell.volume()) > SPECK]
    return solid if len(kept) == len(shells) else Solid.compose(kept)


def pieces(solid: Solid) -> list[Solid]:
    """The separate pieces, the one with the lowest corner (x, then y, then z) first.  Forces the kernel to
    work.

    The kernel hands back shells; the wall of a closed hollow is a shell inside out, and goes back to its
    piece. Raises Trouble('bad-solid')."""
    shells = sorted(checked(solid).decompose(), key=lambda shell: (*shell.bounding_box(), shell.volume()))
    full = [shell for shell in shells if shell.volume() > 0]
    hollows: list[list[Solid]] = [[] for _ in full]
    for shell in shells:
        if shell.volume() < 0:
            hollow = _inside_out(shell)
            around = [k for k, piece in enumerate(full) if overlap(piece, hollow) > 0.5 * hollow.volume()]
            if not around:
                raise Trouble("bad-solid", "a part of this shape is inside out")
            hollows[min(around, key=lambda k: full[k].volume())].append(hollow)
    return [remove(piece, inner) for piece, inner in zip(full, hollows, strict=True)]


def _inside_out(solid: Solid) -> Solid:
    raw = solid.to_mesh64()
    return from_arrays(
        np.asarray(raw.vert_properties)[:, :3], np.asarray(raw.tri_verts)[:, ::-1], raw.face_id
    )


def touches(a: Solid, b: Solid, within: float = 1e-9) -> bool:
    """True where the solids overlap or come within this distance (mm).  Forces the kernel to work."""
    if a.is_empty() or b.is_empty():
        return False
    box_a, box_b = np.array(a.bounding_box()).reshape(2, 3), np.array(b.bounding_box()).reshape(2, 3)
    if (box_a[0] > box_b[1] + within).any() or (box_b[0] > box_a[1] + within).any():
        return False
    return float(a.min_gap(b, 2 * within)) <= within
