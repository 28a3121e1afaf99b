"""How material from a file lies: on the side it is said to lie on, turned, its box beginning at the
origin.
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from .facts import HOLES, Entry
from .facts.extents import across, is_box, station_across
from .facts.needs import THREAD_WORDS
from .facts.stock import Held, Stock
from .mesh.inner_holes import STILL, axis_of, finished, inner_things
from .quantities.arrays import Floats
from .quantities.vectors import Vector
from .result import Result

GRID = 2e-6
"""Sizes of the box are multiples of this (mm), so that its middle and its sides are places that a solved page
can have.
"""
_LYING: dict[str, tuple[Vector, Vector, Vector]] = {
    "back": ((1, 0, 0), (0, 1, 0), (0, 0, 1)),
    "front": ((-1, 0, 0), (0, 1, 0), (0, 0, -1)),
    "left": ((0, 0, -1), (0, 1, 0), (1, 0, 0)),
    "right": ((0, 0, 1), (0, 1, 0), (-1, 0, 0)),
    "bottom": ((1, 0, 0), (0, 0, -1), (0, 1, 0)),
    "top": ((1, 0, 0), (0, 0, 1), (0, -1, 0)),
}
"""Rows of the turn that brings each side of a box to the back of the page."""
SIDES = ("left", "right", "bottom", "top", "back", "front")


def part_stock(result: Result) -> Stock:
    """A finished part as stock: as it would be printed, with the places of all that its recipe names."""
    part, layout = result.part, result.layout
    assert part is not None
    held: dict[str, Held] = {}
    for name, spot in sorted(layout.spots.items()):
        entry, frame = result.claims.entries[name], layout.frames[spot.page]
        for number, move in enumerate((STILL, *layout.copies.get(name, ())), start=1):
            at, axis = (
                finished(move.point(frame.point(spot.at, spot.base)), part),
                axis_of(frame.out, move, part),
            )
            size = _size(entry) if abs(frame.out[2]) > 1.0 - 1e-9 else 0.0
            held[name if number == 1 else f"{name}-{number}"] = Held(
                at, size, entry.kind, axis, _bored(entry)
            )
    for one in inner_things(result.made, part):
        name = f"{one.owner}-{one.name}" + (f"-{one.number}" if one.number > 1 else "")
        size = one.of.bored if one.of.bored is not None and abs(one.axis[2]) > 1.0 - 1e-9 else 0.0
        held.setdefault(name, Held(one.at, size, one.of.kind, one.axis, one.of.bored))
    faces = tuple(f"{statement} {detail}".strip() for statement, detail in part.faces)
    labels = np.where(part.mesh.labels < 0, len(faces), part.mesh.labels).astype(np.int32)
    own = any(one.has(*THREAD_WORDS) or one.kind == "mark" for one in result.claims.entries.values())
    wound = own or any(one.wound for one in result.claims.stock.values())
    return Stock(
        part.figures.box,
        part.mesh.points,
        part.mesh.triangles,
        labels,
        (*faces, ""),
        held,
        _hollows(result, faces),
        wound,
    )


def _hollows(result: Result, faces: tuple[str, ...]) -> dict[str, tuple[str, ...]]:
    """The holes of a part, those of parts that it uses too, each with the names of its faces that are
    left.
    """
    assert result.part is not None
    left = set(result.part.mesh.labels.tolist())
    made_by: dict[str, list[str]] = {}
    for label, (statement, detail) in enumerate(result.part.faces):
        entry, stock = result.claims.entries.get(statement), result.claims.stock.get(statement)
        if label not in left:
            continue
        if entry is not None and entry.kind in HOLES:
            made_by.setdefault(statement, []).append(faces[label])
        for name in (
            (one for one, some in stock.hollows.items() if detail in some) if stock is not None else ()
        ):
            made_by.setdefault(f"{statement}-{name}", []).append(faces[label])
    return {name: tuple(some) for name, some in sorted(made_by.items())}


def _size(entry: Entry) -> float:
    if entry.kind == "turning":
        return max((station_across(claim) for claim in entry.all("across", "taper")), default=0.0)
    if entry.kind not in ("bore", "round", "peg") or entry.has("hex", "square"):
        return 0.0
    size = across(entry)
    return size.made.value if size is not None else 0.0


def _bored(entry: Entry) -> float | None:
    size = across(entry) if entry.kind in HOLES and not is_box(entry) else None
    return size.made.value if size is not None else None


def laid_down(stock: Stock, entry: Entry) -> Stock:
    """The stock as its statement says it lies (`lies on`, `turned`), its box at the origin and its sizes on
    the grid.
    """
    lies, turned = entry.one("lies on"), entry.one("turned")
    side = lies.word_of("side") if lies is not None else "back"
    angle = turned.number("angle") if turned is not None else 0.0
    turn = _turn(angle) @ np.array(_LYING[side], dtype=np.float64)
    points = stock.points @ turn.T
    low, high = points.min(axis=0), points.max(axis=0)
    plain = np.maximum(high - low, GRID)
    box = np.round(np.round(plain / GRID) * GRID, 9)
    box = np.where(box > 0, box, GRID)
    scale = box / plain
    upright = abs(turn[2, 2]) > 1.0 - 1e-9
    held = {}
    for name, one in stock.held.items():
        x, y, z = ((turn @ np.array(one.at) - low) * scale).tolist()
        ahead, up, out = (turn @ np.array(one.axis)).tolist()
        held[name] = Held((x, y, z), one.across if upright else 0.0, one.kind, (ahead, up, out), one.bored)
    faces, labels = (
        stock.faces or (*SIDES, ""),
        stock.labels if stock.faces else _sides(points, stock.triangles),
    )
    laid = np.minimum((points - low) * scale, box)
    return Stock(
        (float(box[0]), float(box[1]), float(box[2])),
        laid,
        stock.triangles,
        labels,
        faces,
        held,
        stock.hollows,
        stock.wound,
        None if stock.twin is None else laid_down(stock.twin, entry),
    )


def _sides(points: Floats, triangles: npt.NDArray[np.int32]) -> npt.NDArray[np.int32]:
    """For each triangle the side of the box it lies in, as a number into `SIDES`; the number behind the last
    for the rest.
    """
    labels = np.full(len(triangles), len(SIDES), dtype=np.int32)
    corners = points[triangles]
    for number in range(len(SIDES)):
        axis, end = divmod(number, 2)
        edge = points[:, axis].max() if end else points[:, axis].min()
        labels[(corners[:, :, axis] == edge).all(axis=1)] = number
    return labels


def _turn(angle: float) -> Floats:
    """Turn anticlockwise by an angle in degrees; exact for quarter turns."""
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    if angle % 90.0 == 0.0:
        c, s = float(round(c)), float(round(s))
    return np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]])
