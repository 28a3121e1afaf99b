"""The finished part on the bench: its mesh where the recipe has it, its faces by the statement that made
them.

The mesh of a part was mirrored (for the other hand) and moved to the origin of a printer's bed at the end; on
the bench it lies where it was read.  All else that is known of it here comes from its triangles."""

from __future__ import annotations

import math
from typing import cast

import numpy as np

from ..mesh.finish import shells
from ..mesh.types import Part
from ..model import Model, Thing
from ..places.layout import Frame
from ..quantities.arrays import Floats, Ints, Longs
from ..quantities.vectors import Vector, cross, dot
from .surfaces import Facets, FlatFace, RoundFace, flats_of, round_of

ALONG = 1e-6
MOST_PAIRS = 1_000_000
"""So many pairs of pieces and copies are compared one by one."""


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
        self.kept: dict[object, object] = {}
        self._own: dict[tuple[str, int, tuple[str, ...]], Facets] = {}
        self._flats_of: dict[str, list[FlatFace]] = {}
        self._labels: dict[str, list[tuple[str, int]]] = {}
        for label, (name, detail) in enumerate(part.faces):
            self._labels.setdefault(name, []).append((detail, label))
        self._labelled = part.mesh.labels
        self._names = [name for name, _ in part.faces]
        self.names = list(self._labels)
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
        key = (thing.name, number, details)
        if key not in self._own:
            self._own[key] = self._of_copy(thing, number, self.faces(thing.name, *details))
        return self._own[key]

    def _of_copy(self, thing: Thing, number: int, facets: Facets) -> Facets:
        if facets.empty or not thing.copies or thing.spot is None:
            return facets
        homes = np.array([self.home(thing, k) for k in range(1, len(thing.copies) + 2)])
        piece, middles = self._middles(facets)
        if len(middles) * len(homes) <= MOST_PAIRS:
            away = np.linalg.norm(middles[:, None, :] - homes[None, :, :], axis=2)
            return facets.some((away.argmin(axis=1) == number - 1)[piece])
        # of very many copies: what lies nearer to this one, seen along its axis, than half way to the next
        axis = np.asarray(self.turned(thing, number, self.model.frame(thing).out))
        home = homes[number - 1]
        apart = np.linalg.norm(homes - home, axis=1)
        room = 0.5 * float(apart[apart > 0].min(initial=math.inf))
        aside = middles - home - np.outer((middles - home) @ axis, axis)
        return facets.some((np.linalg.norm(aside, axis=1) < room)[piece])

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

    def flats(self, name: str) -> list[FlatFace]:
        """The flats of all faces of a statement, the largest first."""
        if name not in self._flats_of:
            self._flats_of[name] = flats_of(self.faces(name))
        return self._flats_of[name]

    def _middles(self, facets: Facets) -> tuple[Longs, Floats]:
        """For each triangle the connected piece it belongs to, and the middle of each piece."""
        piece = shells(len(self.points), facets.numbers)[facets.numbers[:, 0]]
        _, piece = np.unique(piece, return_inverse=True)
        weight = np.bincount(piece, weights=facets.areas)
        centres = facets.corners.mean(axis=1)
        sums = [np.bincount(piece, weights=facets.areas * centres[:, k]) / weight for k in range(3)]
        return piece, np.stack(sums, axis=1)

    # -- measuring ------------------------------------------------------------------------------

    def names_at(self, corners: Longs | Ints) -> set[str]:
        """The statements whose faces meet at some corners of the mesh (by number)."""
        marked = np.zeros(len(self.points), dtype=np.bool_)
        marked[corners] = True
        labels = np.unique(self._labelled[marked[self.all.numbers].any(axis=1)])
        return {self._names[label] for label in labels.tolist() if label >= 0}

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

    def round_face(self, thing: Thing, number: int = 1) -> RoundFace | None:
        """The round that the walls of a thing or a copy lie on, its axis square to its plane."""
        key = ("round", thing.name, number)
        if key not in self.kept:
            way = self.turned(thing, number, self.model.frame(thing).out)
            self.kept[key] = self.rounded(self.own(thing, number, ""), way, self.home(thing, number))
        return cast("RoundFace | None", self.kept[key])

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
