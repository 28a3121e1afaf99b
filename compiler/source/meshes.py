"""Reads the triangles of a mesh file: STL, binary or as text, and 3MF.  What is in the file, no more; nothing
is mended.

A file may come from a stranger: its size is looked at before it is read, counts are held against the bytes
there are, and every number must be one.  Points at exactly the same place become one, since STL has no other
way to share them."""

from __future__ import annotations

import io

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from ..diagnostics.types import Trouble
from ..quantities.rows import distinct_rows

MOST_BYTES = 100_000_000
MOST_TRIANGLES = 500_000
MOST_LINES = 8 * MOST_TRIANGLES
LARGEST = 1e7
_FACET = np.dtype(
    [("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("spare", "<u2")]
)  # 50 bytes, as binary STL has them


class RawMesh(Struct, frozen=True, eq=False):
    """Points (n, 3) in the file's own unit, triangles (m, 3), and that unit in mm where the file says it."""

    points: npt.NDArray[np.float64]
    triangles: npt.NDArray[np.int64]
    unit: float | None = None


def read_stl(data: bytes, name: str) -> RawMesh:
    """An STL file.  It is binary where its length agrees with the count it states, whatever its first word
    is.
    """
    count = int.from_bytes(data[80:84], "little") if len(data) >= 84 else -1
    if count >= 0 and len(data) == 84 + 50 * count:
        bounded(count, name)
        with np.errstate(invalid="ignore"):  # some numbers that are none can't even be copied without a word
            corners = np.frombuffer(data, dtype=_FACET, count=count, offset=84)["corners"].astype(np.float64)
    elif data[:256].lstrip().lower().startswith(b"solid"):
        corners = _written_out(data, name)
    elif count >= 0 and len(data) < 84 + 50 * count:
        raise unread(name, f"says it holds {count} facets, but ends after {max(0, len(data) - 84) // 50}")
    else:
        raise unread(name, "is no STL file")
    return RawMesh(*shared_points(corners.reshape(-1, 3), name))


def _written_out(data: bytes, name: str) -> npt.NDArray[np.float64]:
    """Corners of the facets of an STL file written as text (n, 3, 3)."""
    numbers: list[float] = []
    facets = ended = 0
    for number, line in enumerate(io.BytesIO(data)):
        if number > MOST_LINES:
            bounded(MOST_TRIANGLES + 1, name)
        words = line.split(None, 4)
        if not words:
            continue
        first = words[0].lower()
        if first == b"vertex":
            try:
                numbers.extend(map(float, words[1:4]))
            except ValueError:
                raise unread(name, "holds a corner that is no three numbers") from None
            if len(words) != 4:
                raise unread(name, "holds a corner that is no three numbers")
        facets += first == b"facet"
        ended += first == b"endsolid"
        if len(numbers) > 9 * MOST_TRIANGLES:
            bounded(MOST_TRIANGLES + 1, name)
    if not ended:
        raise unread(name, "breaks off: its last line, endsolid, is missing")
    if len(numbers) != 9 * facets:
        raise unread(name, f"has {facets} facets, but {len(numbers) // 3} corners instead of {3 * facets}")
    return np.array(numbers, dtype=np.float64).reshape(-1, 3, 3)


def bounded(count: int, name: str) -> None:
    """Raise Trouble('file-too-big') for more triangles than a part is made of."""
    if count > MOST_TRIANGLES:
        raise Trouble(
            "file-too-big",
            f"{name} has more than {MOST_TRIANGLES} facets",
            advice=("make it coarser in the program it comes from",),
        )


def shared_points(
    corners: npt.NDArray[np.float64], name: str
) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.int64]]:
    """Points without doubles (n, 3) and triangles (m, 3) from corners (3 m, 3); facets of no area are left
    out.

    Raises Trouble('mesh-unread') for a number that is none, or where there is nothing."""
    if not len(corners):
        raise unread(name, "holds no facets")
    points, place = distinct_rows(finite(corners, name) + 0.0)
    return points, standing(place.reshape(-1, 3))


def standing(triangles: npt.NDArray[np.int64]) -> npt.NDArray[np.int64]:
    """Triangles without those of which two corners are one point."""
    a, b, c = triangles.T
    kept: npt.NDArray[np.int64] = triangles[(a != b) & (b != c) & (c != a)]
    return kept


def finite(points: npt.NDArray[np.float64], name: str) -> npt.NDArray[np.float64]:
    """The points; raises Trouble('mesh-unread') where one of their numbers is none or beyond all measure."""
    if not np.isfinite(points).all() or np.abs(points).max(initial=0.0) > LARGEST:
        raise unread(name, "holds a number that is no length")
    return points


def unread(name: str, why: str) -> Trouble:
    """The answer to a file that does not hold what its name promises."""
    return Trouble("mesh-unread", f"{name} {why}", advice=("save it anew as binary STL, or as 3MF",))
