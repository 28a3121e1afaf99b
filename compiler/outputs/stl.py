"""The part as a binary STL: 80 bytes of header, a count, 50 bytes a triangle, little-endian; by custom in mm.

The format has no paper of its own; its layout (StereoLithography Interface Specification, 3D Systems, 1988)
is told alike by many.  It keeps corners as 32-bit floats and not as indices: two corners that fall on the
same float become one for the reader, and the surface may then hang together at an edge where three or four
faces meet."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from ..diagnostics.types import Trouble
from ..mesh.types import Mesh
from ..quantities.arrays import Floats
from .sound import demand_sound

_TRIANGLE = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])
_HEADER = 80


def stl_bytes(mesh: Mesh, title: str) -> bytes:
    """A whole binary STL file of the mesh as it lies; the header starts `makegood`, never `solid`, then the
    title.

    Raises Trouble('too-fine-for-stl') where corners of the part would fall together, Trouble('bad-solid') for
    a mesh that is not closed."""
    demand_sound(mesh)
    coarse = mesh.points.astype(np.float32) + np.float32(0.0)  # adding zero turns -0.0 into 0.0
    _demand_apart(coarse)
    rows = np.zeros(len(mesh.triangles), dtype=_TRIANGLE)
    rows["corners"] = coarse[mesh.triangles]
    rows["normal"] = _normals(rows["corners"].astype(np.float64)) + 0.0
    return _header(title) + np.array(len(rows), dtype="<u4").tobytes() + rows.tobytes()


def _header(title: str) -> bytes:
    """80 bytes: a text that starts another way than the text form of STL does, cut short or filled with
    blanks.
    """
    kept = "".join(mark if mark.isprintable() else " " for mark in f"makegood, mm: {title}")
    return kept.encode("ascii", "replace")[:_HEADER].ljust(_HEADER)


def _demand_apart(coarse: npt.NDArray[np.float32]) -> None:
    """Raises Trouble('too-fine-for-stl') if two of the corners (n, 3) are the same."""
    order = np.lexsort(coarse.T)
    same = (coarse[order][1:] == coarse[order][:-1]).all(axis=1)
    if same.any():
        x, y, z = (float(value) for value in coarse[order[:-1][same].min()])
        raise Trouble(
            "too-fine-for-stl",
            (
                f"two corners of the part near ({x:.3f}, {y:.3f}, "
                f"{z:.3f}) lie too close together for an STL file"
            ),
            advice=("write a 3MF file instead: it keeps such corners apart",),
        )


def _normals(corners: Floats) -> Floats:
    """Unit normals (n, 3) of triangles (n, 3, 3) as they stand in the file; zero for one that is a mere line
    there.
    """
    across = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    length = np.sqrt((across**2).sum(axis=1, keepdims=True))
    return across / np.where(length > 0.0, length, 1.0)
