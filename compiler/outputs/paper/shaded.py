"""A shaded, labelled picture of the part as PNG, made without a display: the same bytes on every run.

Every triangle that faces the eye is cut into the runs of pixels it covers on each row; of all runs over a
pixel the one nearest to the eye wins.  All of that is done by numpy for all triangles at once, so nothing is
sorted and no triangle can come out in front of one that hides it.  Light falls from the upper left; corners
of curved faces share their direction, so that facets do not show.  The edges are those of the drawing, drawn
over it."""

from __future__ import annotations

import io
import itertools
import math
from collections.abc import Iterator

import numpy as np

from ...mesh.types import Mesh
from ...model import Body, Thing
from ...model.holes import Hole
from ...model.zones import Zone
from ...quantities.arrays import Floats, Longs
from ...quantities.vectors import XY, Vector
from .chains import Wire
from .edges import CREASE, Edges
from .marks import Line, Mark, Role, line
from .placing import Placer, around, leader
from .png import FINER, draw_on
from .template import label
from .views import Scene, View

WIDE, HIGH = 170.0, 113.0  # mm
DPI = 180
AIR = 17.0  # mm round the part, for the labels
PLASTIC, ADDED = (214.0, 206.0, 193.0), (201.0, 150.0, 118.0)
_LIGHT = np.array([-0.45, 0.55, 0.70])
_DIM = 0.60  # of full light where none falls


def picture_bytes(scene: Scene) -> bytes:
    """The picture as a PNG; what a zone has changed is of another colour."""
    from PIL import Image

    mesh, view = scene.part.mesh, _view(scene)
    flat = view.flat(mesh.points)
    low, high = flat.min(axis=0), flat.max(axis=0)
    scale = min(
        (WIDE - 2 * AIR) / max(high[0] - low[0], 1e-6), (HIGH - 2 * AIR) / max(high[1] - low[1], 1e-6)
    )
    tall = float(scale * (high[1] - low[1])) + 2 * AIR
    shift = np.array([WIDE / 2, tall / 2]) - scale * (low + high) / 2
    dots = DPI / 25.4
    size = (round(WIDE * dots), round(tall * dots))
    places = scale * flat + shift
    screen = np.column_stack([places[:, 0] * dots, (tall - places[:, 1]) * dots, view.depth(mesh.points)])
    shade = _shaded(scene, mesh, view, screen, size)

    def at(point: XY) -> XY:
        return (scale * point[0] + float(shift[0]), scale * point[1] + float(shift[1]))

    ink = Image.new("L", (size[0] * FINER, size[1] * FINER), 255)
    draw_on(ink, list(_lines(scene, view, at, tall)), tall, dots * FINER)
    paper = np.asarray(ink.resize(size, Image.Resampling.BOX), dtype=np.float64)[..., None] / 255.0
    picture = Image.fromarray(np.rint(shade * paper).astype(np.uint8), "RGB")
    held = io.BytesIO()
    picture.save(held, "PNG", optimize=True, dpi=(DPI, DPI))
    return held.getvalue()


def _view(scene: Scene) -> View:
    """From in front and above: a flat part as it lies on a table, any other as it stands."""
    x, y, z = scene.part.figures.box
    out = np.array((0.22, -0.55, 0.80) if z < 0.6 * min(x, y) else (0.50, 0.42, 0.76))
    out = out / np.sqrt(out @ out)
    up = np.array([0.0, 1.0, 0.0]) - out[1] * out
    up = up / np.sqrt(up @ up)
    right = np.cross(up, out)

    def vector(way: Floats) -> Vector:
        return (float(way[0]), float(way[1]), float(way[2]))

    return View(vector(right), vector(up), vector(out))


def _shaded(scene: Scene, mesh: Mesh, view: View, screen: Floats, size: tuple[int, int]) -> Floats:
    """Colours (rows, columns, 3) of the shaded part on white."""
    corner = mesh.triangles.astype(np.int64)
    normals = face_normals(mesh.points, corner)
    front = np.flatnonzero(normals @ np.array(view.out) > 1e-9)
    winner, column, row = _nearest(screen[corner[front]], size)
    picture = np.full((size[1], size[0], 3), 255.0)
    triangle = front[winner]
    weights = _weights(screen[corner[triangle]], column, row)
    smooth = corner_normals(mesh, corner, normals)[triangle]
    way = np.einsum("ij,ijk->ik", weights, smooth)
    way = way / np.maximum(np.sqrt(np.einsum("ij,ij->i", way, way)), 1e-9)[:, None]
    axes = np.array([view.right, view.up, view.out])
    # the light comes from so large a window that what is turned away from it still gets some
    bright = 0.5 + 0.5 * ((way @ axes.T) @ (_LIGHT / np.sqrt(_LIGHT @ _LIGHT)))
    bright = _DIM + (1.0 - _DIM) * np.clip(bright, 0.0, 1.0) ** 1.5
    changed = {zone.name for zone in scene.model.of(Zone)}
    added = np.array([name in changed for name, _ in scene.part.faces] + [False])
    colour = np.where(added[mesh.labels[triangle]][:, None], np.array(ADDED), np.array(PLASTIC))
    picture[row, column] = np.clip(colour * bright[:, None] * 1.08, 0.0, 255.0)
    return picture


def face_normals(points: Floats, corner: Longs) -> Floats:
    """Unit normals (m, 3) of triangles (m, 3), out of the material."""
    a, b, c = (points[corner[:, k]] for k in range(3))
    found = np.cross(b - a, c - a)
    unit: Floats = found / np.maximum(np.sqrt(np.einsum("ij,ij->i", found, found)), 1e-300)[:, None]
    return unit


def corner_normals(mesh: Mesh, corner: Longs, normals: Floats) -> Floats:
    """Directions (m, 3, 3) of the surface at each corner: shared by the faces of one label that meet there
    smoothly.
    """
    keys = (corner * (int(mesh.labels.max()) + 2) + mesh.labels[:, None].astype(np.int64) + 1).reshape(-1)
    order = np.argsort(keys, kind="stable")
    fresh = np.concatenate([[True], keys[order][1:] != keys[order][:-1]])
    group = np.empty(len(keys), dtype=np.int64)
    group[order] = np.cumsum(fresh) - 1
    flat = np.repeat(normals, 3, axis=0)
    sums = np.column_stack([np.bincount(group, weights=flat[:, k]) for k in range(3)])
    shared = sums[group]
    shared = shared / np.maximum(np.sqrt(np.einsum("ij,ij->i", shared, shared)), 1e-9)[:, None]
    same = np.einsum("ij,ij->i", shared, flat) > math.cos(CREASE)
    found: Floats = np.where(same[:, None], shared, flat).reshape(-1, 3, 3)
    return found


def _nearest(corners: Floats, size: tuple[int, int]) -> tuple[Longs, Longs, Longs]:
    """Of triangles (n, 3, 3) on the screen (x, y down, depth towards the eye): which one shows at which
    pixel.
    """
    triangle, row = _spread(
        np.ceil(corners[..., 1].min(axis=1) - 0.5), np.ceil(corners[..., 1].max(axis=1) - 0.5), size[1]
    )
    level = row + 0.5
    first, last = np.full(len(row), np.inf), np.full(len(row), -np.inf)
    for k in range(3):
        a, b = corners[triangle, k], corners[triangle, (k + 1) % 3]
        spans = (a[:, 1] <= level) != (b[:, 1] <= level)
        rise = np.where(spans, b[:, 1] - a[:, 1], 1.0)
        x = a[:, 0] + (level - a[:, 1]) / rise * (b[:, 0] - a[:, 0])
        first, last = np.where(spans, np.minimum(first, x), first), np.where(spans, np.maximum(last, x), last)
    good = last >= first
    triangle, row, first, last = triangle[good], row[good], first[good], last[good]
    run, column = _spread(np.ceil(first - 0.5), np.ceil(last - 0.5), size[0])
    triangle, row = triangle[run], row[run]
    weights = _weights(corners[triangle], column, row)
    depth = np.einsum("ij,ij->i", weights, corners[triangle, :, 2])
    pixel = row * size[0] + column
    best = np.full(size[0] * size[1], -np.inf)
    np.maximum.at(best, pixel, depth)
    won = np.flatnonzero(depth == best[pixel])
    shown = np.full(size[0] * size[1], -1, dtype=np.int64)
    shown[pixel[won][::-1]] = triangle[won][::-1]
    seen = np.flatnonzero(shown >= 0)
    return shown[seen], seen % size[0], seen // size[0]


def _spread(start: Floats, stop: Floats, most: int) -> tuple[Longs, Longs]:
    """Every whole number of each half-open range start..stop within 0..most, with the number of its range."""
    low, high = np.clip(start, 0, most).astype(np.int64), np.clip(stop, 0, most).astype(np.int64)
    count = np.maximum(high - low, 0)
    which = np.repeat(np.arange(len(low)), count)
    before = np.cumsum(count) - count
    return which, np.arange(int(count.sum())) - np.repeat(before, count) + np.repeat(low, count)


def _weights(corners: Floats, column: Longs, row: Longs) -> Floats:
    """Barycentric shares (n, 3) of the middles of pixels in triangles (n, 3, ...)."""
    x, y = column + 0.5, row + 0.5
    ax, ay, bx, by, cx, cy = (corners[:, k, axis] for k in range(3) for axis in range(2))
    area = (bx - ax) * (cy - ay) - (cx - ax) * (by - ay)
    area = np.where(np.abs(area) < 1e-12, 1e-12, area)
    two = ((x - ax) * (cy - ay) - (cx - ax) * (y - ay)) / area
    three = ((bx - ax) * (y - ay) - (x - ax) * (by - ay)) / area
    return np.column_stack([1.0 - two - three, two, three])


def _lines(scene: Scene, view: View, at: object, tall: float) -> Iterator[Mark]:
    """The visible edges, and the names of holes, zones and (where there are several) bodies with their
    leaders.
    """
    assert callable(at)
    placer = Placer((2.0, 2.0, WIDE - 2.0, tall - 2.0))
    wires = Edges(scene.part.mesh).wires(view, hidden=False)
    for wire in wires:
        points = tuple(at(one) for one in wire.points)
        yield Line(Role.NARROW, points, wire.closed)
        placer.avoid(points, wire.closed)
    for thing in scene.model.things.values():
        named = isinstance(thing, Hole | Zone) or (scene.several and isinstance(thing, Body))
        where = _anchor(scene, thing, wires) if named else None
        if where is None:
            continue
        said = label(thing, len(scene.places(thing))) if isinstance(thing, Hole) else thing.name
        text = placer.put(around(at(where), 0.6, said, 3.4, (5.0, 9.0, 13.0, 18.0, 24.0, 31.0, 40.0)))
        if text is not None:
            yield text
            start, end = leader(text, at(where), 0.0)
            yield line(Role.NARROW, start, end)
            placer.avoid((start, end))


def _anchor(scene: Scene, thing: Thing, wires: list[Wire]) -> XY | None:
    """A point on the longest visible edge that a thing has, nearest to the edge's own middle."""
    labels = {i for i, (name, _) in enumerate(scene.part.faces) if name == thing.name}
    own = [wire for wire in wires if wire.labels & labels]
    if not own:
        return None
    longest = max(own, key=lambda wire: (round(_length(wire), 3), wire.points))
    half, points = _length(longest) / 2, longest.points
    for start, end in itertools.pairwise(points):
        step = math.dist(start, end)
        if half <= step:
            share = half / max(step, 1e-9)
            return (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))
        half -= step
    return points[-1]


def _length(wire: Wire) -> float:
    return sum(math.dist(a, b) for a, b in itertools.pairwise(wire.points))
