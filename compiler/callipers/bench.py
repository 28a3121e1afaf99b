"""The finished part on the bench: its mesh where the recipe has it, its faces by the statement that made
them.

The mesh of a part was mirrored (for the other hand) and moved to the origin of a printer's bed at the end; on
the bench it lies where it was read.  All else that is known of it here comes from its triangles."""

from __future__ import annotations

import math
from collections.abc import Iterable
from functools import cached_property

import numpy as np

from ..kinds import own_file
from ..mesh.finish import shells
from ..mesh.types import Part
from ..model import Body, Model, Thing
from ..model.sections import Belted, Chained, Merged, Walked
from ..places.layout import Frame
from ..quantities.arrays import Floats, Ints, Longs
from ..quantities.vectors import XY, Vector, cross, dot
from .surfaces import Facets, FlatFace, RoundFace, flats_of, round_of

ALONG = 1e-6


class Bench:
    """A part on the bench, and what a kind's own measures need of it."""

    def __init__(self, model: Model, part: Part) -> None:
        self.model = model
        self.mirrored = part.mirrored
        points = part.mesh.points + np.asarray(part.low)
        turned = part.mesh.triangles
        if part.mirrored:
            points = points * np.array([-1.0, 1.0, 1.0])
            turned = turned[:, ::-1]
        self.points: Floats = points
        corners = points[turned]
        cross = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
        double = np.linalg.norm(cross, axis=1)
        normals = cross / np.where(double > 0, double, 1.0)[:, None]
        self.all = Facets(corners, normals, double / 2, turned.astype(np.int32))
        self._flats_of: dict[str, list[FlatFace]] = {}
        self._labels: dict[str, list[tuple[str, int]]] = {}
        for label, (name, detail) in enumerate(part.faces):
            self._labels.setdefault(name, []).append((detail, label))
        self._labelled = part.mesh.labels
        self._names = [name for name, _ in part.faces]
        order = np.argsort(part.mesh.labels, kind="stable")
        ranked = part.mesh.labels[order]
        starts = np.searchsorted(ranked, np.arange(len(part.faces) + 1))
        self._rows = [order[starts[k] : starts[k + 1]] for k in range(len(part.faces))]

    def faces(self, name: str, *details: str) -> Facets:
        """The triangles of a statement, or those of some of its sides and parts only; copies of it
        included.
        """
        rows = [self._rows[k] for detail, k in self._labels.get(name, ()) if not details or detail in details]
        return self.all.some(np.sort(np.concatenate(rows)) if rows else np.zeros(0, dtype=np.int64))

    def own(self, thing: Thing, number: int = 1, *details: str) -> Facets:
        """The same of the thing itself (copy 1) or of one copy: the connected faces that lie nearer to its
        place than to that of any other.
        """
        facets = self.faces(thing.name, *details)
        if facets.empty or not thing.copies or thing.spot is None:
            return facets
        homes = np.array([self.home(thing, k) for k in range(1, len(thing.copies) + 2)])
        return facets.some(self._nearest(facets, homes) == number - 1)

    def names_at(self, corners: Longs | Ints) -> set[str]:
        """The statements whose faces meet at some corners of the mesh (by number)."""
        marked = np.zeros(len(self.points), dtype=np.bool_)
        marked[corners] = True
        labels = np.unique(self._labelled[marked[self.all.numbers].any(axis=1)])
        return {self._names[label] for label in labels.tolist() if label >= 0}

    def home(self, thing: Thing, number: int = 1) -> Vector:
        """Where a thing or a copy of it was put."""
        home = self.model.frame(thing).point(thing.placed.at, thing.placed.base)
        return home if number < 2 else thing.copies[number - 2].point(home)

    def turned(self, thing: Thing, number: int, way: Vector) -> Vector:
        """A direction of a thing as a copy of it has it."""
        if number < 2:
            return way
        rows = thing.copies[number - 2].rows
        return dot(rows[0], way), dot(rows[1], way), dot(rows[2], way)

    def walls_through(self, point: str, frame: Frame, at: XY, within: float) -> list[tuple[XY, float]]:
        """The walls of bodies drawn through a point that pass it within some mm, as a plane sees them
        edge-on: normal and offset, the largest first.
        """
        found = []
        for body in self.drawn_with(point):
            for flat in self._flats(body):
                way = dot(flat.normal, frame.right), dot(flat.normal, frame.up)
                if math.hypot(*way) < 1 - ALONG:
                    continue
                foot, _ = frame.onto(flat.point)
                offset = foot[0] * way[0] + foot[1] * way[1]
                if abs(at[0] * way[0] + at[1] * way[1] - offset) < within:
                    found.append((way, offset, flat.area))
        return [(way, offset) for way, offset, _ in sorted(found, key=lambda one: -one[2])]

    def drawn_with(self, point: str) -> list[str]:
        """The bodies that are drawn through a point, and all else that their outlines run along."""
        return self._drawn_through.get(point, [])

    def trimmed(self, names: Iterable[str]) -> bool:
        """Whether any of some bodies is cut off by a plane."""
        return any(body.trims for body in self.model.of(Body) if body.name in names)

    @property
    def names(self) -> list[str]:
        """The statements that have faces."""
        return list(self._labels)

    @cached_property
    def _drawn_through(self) -> dict[str, list[str]]:
        """What carries the faces of outlines, by each name that their lines speak of."""
        found: dict[str, list[str]] = {}
        for body in self.model.of(Body):
            along = _drawn_along(body)
            for name in along:
                found.setdefault(name, []).extend((body.name, *along))
        return found

    def _flats(self, name: str) -> list[FlatFace]:
        if name not in self._flats_of:
            self._flats_of[name] = flats_of(self.faces(name))
        return self._flats_of[name]

    def _nearest(self, facets: Facets, homes: Floats) -> Longs:
        """For each triangle, which of some places its connected piece lies nearest to."""
        piece = shells(len(self.points), facets.numbers)[facets.numbers[:, 0]]
        _, piece = np.unique(piece, return_inverse=True)
        weight = np.bincount(piece, weights=facets.areas)
        middle = np.stack(
            [
                np.bincount(piece, weights=facets.areas * facets.corners.mean(axis=1)[:, k]) / weight
                for k in range(3)
            ],
            axis=1,
        )
        away = np.linalg.norm(middle[:, None, :] - homes[None, :, :], axis=2)
        nearest: Longs = away.argmin(axis=1)[piece]
        return nearest

    # -- measuring ------------------------------------------------------------------------------

    def rounded(self, facets: Facets, way: Vector, home: Vector | None = None) -> RoundFace | None:
        """The round that facets lie on, its axis along `way`; None where they are no round.

        Of several rounds that don't hang together (over one another, or where what carries them is copied)
        the one nearest to `home` that has at least half of the surface that the largest has."""
        whole = round_of(facets, way)
        if whole is not None or facets.empty:
            return whole
        sides = facets.some(np.abs(facets.normals @ np.asarray(way)) < ALONG)
        found = [(float(one.areas.sum()), round_of(one, way)) for one in self.pieces(sides)]
        rounds = [(area, face) for area, face in found if face is not None]
        least = 0.5 * max((area for area, _ in rounds), default=0.0)
        large = [face for area, face in rounds if area >= least]
        return min(large, key=lambda face: _off_axis(face, home), default=None)

    def pieces(self, facets: Facets) -> list[Facets]:
        """Facets parted into those that hang together by common corners."""
        if facets.empty:
            return []
        piece = shells(len(self.points), facets.numbers)[facets.numbers[:, 0]]
        order = np.argsort(piece, kind="stable")
        ends = np.flatnonzero(np.diff(piece[order])) + 1
        return [facets.some(rows) for rows in np.split(order, ends)]

    def flat(self, name: str, *details: str) -> FlatFace | None:
        """The largest flat of some faces of a statement; None where none is left."""
        flats = flats_of(self.faces(name, *details))
        return flats[0] if flats else None

    def level(self, facets: Facets, frame: Frame, out: int = 0) -> list[float]:
        """Heights (mm) over a plane at which facets lie level with it, ascending; only those that face out of
        it (out > 0) or into it (out < 0) where one is asked.
        """
        facing = facets.normals @ np.asarray(frame.out)
        mask = (
            facing > 1 - ALONG if out > 0 else facing < ALONG - 1 if out < 0 else np.abs(facing) > 1 - ALONG
        )
        heights = (facets.corners[mask, 0] - np.asarray(frame.origin)) @ np.asarray(frame.out)
        return sorted(set(np.round(heights, 5).tolist()))

    def crossings(self, start: Vector, way: Vector) -> list[float]:
        """Where a ray from a point goes through the surface: distances along it (mm, of a unit `way`),
        ascending, also behind the point (< 0).

        Moeller and Trumbore, Fast, minimum storage ray-triangle intersection (1997)."""
        corners, ray = self.all.corners, np.asarray(way)
        one, two = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
        p = np.cross(ray, two)
        det = np.einsum("ij,ij->i", one, p)
        sound = np.abs(det) > 1e-12
        inverse = 1.0 / np.where(sound, det, 1.0)
        away = np.asarray(start) - corners[:, 0]
        u = np.einsum("ij,ij->i", away, p) * inverse
        q = np.cross(away, one)
        v = (q @ ray) * inverse
        hit = sound & (u >= -1e-9) & (v >= -1e-9) & (u + v <= 1 + 1e-9)
        at = np.sort((np.einsum("ij,ij->i", two, q) * inverse)[hit])
        return [float(x) for k, x in enumerate(at) if k == 0 or x - at[k - 1] > 1e-7]

    def grown(self, name: str) -> float:
        """How far (mm) the outline that is drawn along a thing was said to be grown (shrunk: < 0)."""
        for body in self.model.of(Body):
            if name in _drawn_along(body):
                own = own_file(body.noun, "callipers")
                if own is not None and hasattr(own, "grown"):
                    return float(own.grown(body))
        return 0.0


def _drawn_along(body: Body) -> list[str]:
    """The names of the things that the outline of a body runs along."""
    match getattr(body, "outline", None):
        case Walked(stops):
            return [stop.owner for stop in stops]
        case Belted(rounds) | Chained(rounds):
            return [one.owner for one in rounds]
        case Merged(shapes):
            return [one.owner for one in shapes]
    return []


def _off_axis(face: RoundFace, point: Vector | None) -> float:
    """How far (mm) a point lies from the axis of a round; 0 for none."""
    if point is None:
        return 0.0
    x, y, z = (one - other for one, other in zip(point, face.point, strict=True))
    return math.hypot(*cross((x, y, z), face.way))


def height(frame: Frame, point: Vector) -> float:
    """How high a point lies over a plane."""
    return dot(
        (point[0] - frame.origin[0], point[1] - frame.origin[1], point[2] - frame.origin[2]), frame.out
    )
