"""What is open in which body, seen flat: every hole, counterbore and countersink with its copies, and the
body's edge.

Openings are grouped by the body they are in and the page they are drawn on; only things of one group can
leave a wall between them that is seen on that page."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

import numpy as np
from msgspec import Struct, field

from ..diagnostics.types import Span
from ..kinds import own_file
from ..kinds.block.model import Block
from ..mesh.hole_tools import begins_inside, heights_over
from ..mesh.workshop import Workshop
from ..model import Body, Model
from ..model.holes import Hole
from ..model.sections import RoundSection, SlotSection, ToothedSection
from ..model.types import Depth, Mouth, Prism
from ..outlines import Region, Ring, contains, facet
from ..outlines.sections import section_path
from ..outlines.shape_paths import mouth_path
from ..outlines.types import Bend, Path
from ..places.layout import Frame, Move
from ..quantities.vectors import XY, Vector, dot
from .gaps import Stadiums

Cores = tuple[tuple[tuple[XY, XY], ...], float]

FINE = 0.001
"""Chord (mm) of the outlines that walls are measured to: a tenth of what is printed, so that walls come out
exact.
"""


class Opening(Struct, frozen=True):
    """A hole, or the mouth of one, in one body: cores of its stadiums, their radius, its heights.

    `copy` counts from 1.  Heights are over the plane, endless where it goes through."""

    hole: Hole
    copy: int
    mouth: Mouth | None
    cores: tuple[tuple[XY, XY], ...]
    radius: float
    low: float
    high: float

    @property
    def span(self) -> Span:
        """Where it was written."""
        return self.hole.span if self.mouth is None else self.mouth.said.span

    @property
    def shown(self) -> str:
        """How a message speaks of it."""
        name = f"`{self.hole.name}`" if self.copy == 1 else f"`{self.hole.name}.{self.copy}`"
        return f"{self.hole.noun} {name}" if self.mouth is None else f"the {self.mouth.said.word} of {name}"


class PlaneOpenings(Struct):
    """The openings of one body on one plane."""

    body: Body
    plane: str
    openings: list[Opening] = field(default_factory=list)

    def stadiums(self) -> Stadiums:
        """All openings as arrays."""
        cores = [core for one in self.openings for core in one.cores]
        counts = [len(one.cores) for one in self.openings]
        flat = np.array(cores, dtype=np.float64).reshape(-1, 2, 2)
        radii = np.repeat(np.array([one.radius for one in self.openings], dtype=np.float64), counts)
        return Stadiums(flat[:, 0], flat[:, 1], radii, np.repeat(np.arange(len(counts)), counts))


class Survey:
    """Holes, bodies and their edges of a model that was built without error."""

    def __init__(self, model: Model, shop: Workshop) -> None:
        self.model, self.shop, self.marks = model, shop, shop.marks
        self.chord = shop.chord
        self._groups: list[PlaneOpenings] | None = None
        self._edges: dict[tuple[str, str], Region | None] = {}

    def groups(self) -> list[PlaneOpenings]:
        """Every body with its openings, by the names of body and plane."""
        if self._groups is None:
            found: dict[tuple[str, str], PlaneOpenings] = {}
            for hole in self.model.of(Hole):
                for owner in hole.owners:
                    group = found.setdefault(
                        (owner, hole.plane), PlaneOpenings(self.model.body(owner), hole.plane)
                    )
                    group.openings.extend(self._openings(hole, owner))
            self._groups = [found[key] for key in sorted(found)]
        return self._groups

    # -- one hole ----------------------------------------------------------------------------------

    def _openings(self, hole: Hole, owner: str) -> Iterator[Opening]:
        own = [Opening(hole, 1, None, *self._cores(hole), *self._run(hole, hole.depth, owner))]
        mouth = hole.mouth
        if mouth is not None:
            own.append(Opening(hole, 1, mouth, *self._mouth(hole, mouth), *self._run(hole, mouth, owner)))
        yield from own
        frame = self.model.frame(hole)
        for copy, move in enumerate(hole.copies, start=2):
            out = tuple(dot(row, frame.out) for row in move.rows)
            if abs(abs(dot((out[0], out[1], out[2]), frame.out)) - 1.0) < 1e-9:
                yield from (_moved(one, copy, move, frame) for one in own)

    def _cores(self, hole: Hole) -> Cores:
        at, section = hole.placed.at, hole.section
        if isinstance(section, RoundSection | ToothedSection):
            return ((at, at),), section.radius
        path = section_path(section, at, hole.name, self.marks)
        if isinstance(section, SlotSection) and not section.square:
            bends = [edge for edge in path if isinstance(edge, Bend)]
            return ((bends[0].centre, bends[-1].centre),), bends[0].radius
        return self._round_about(path), 0.0

    def _mouth(self, hole: Hole, mouth: Mouth) -> Cores:
        at = hole.placed.at
        if mouth.nut:
            return self._round_about(mouth_path(mouth, at, hole.name, self.marks)), 0.0
        return ((at, at),), 0.5 * mouth.wide.value

    def _round_about(self, path: Path) -> tuple[tuple[XY, XY], ...]:
        points = [(float(x), float(y)) for x, y in facet(path, self.chord).points]
        return tuple(zip(points, [*points[1:], points[0]], strict=True))

    def _run(self, hole: Hole, told: Depth | Mouth | None, owner: str) -> tuple[float, float]:
        """The heights between which an opening is open, by what says how deep it goes (None: through)."""
        if told is None:
            return -math.inf, math.inf
        height, out = self._start(hole, told, owner)
        bottom = height - out * (told.size.value if isinstance(told, Depth) else told.depth)
        far = math.inf * out
        if told.from_plane and hole.depth is not None:
            low, high = heights_over(self.shop.solid(owner), self.model.frame(hole))
            far = height if begins_inside(told, low, high) else far
        return (bottom, far) if out > 0 else (far, bottom)

    def _start(self, hole: Hole, told: Depth | Mouth, owner: str) -> tuple[float, int]:
        """The height of the flat that an opening starts from, and +1 where that faces out of the plane; of a
        flat named without its body each body has its own."""
        frame, own = self.model.frame(hole), self.model.flats.get(told.flat)
        flat = self.model.flats.get(f"{owner}.{own.part}") if told.bare and own is not None else None
        facing = 0.0 if flat is None else dot(flat.flat.normal, frame.out)
        if flat is None or owner == hole.owners[0] or abs(abs(facing) - 1.0) > 1e-9:
            return told.start, told.out
        return frame.onto(flat.flat.point)[1], 1 if facing > 0 else -1

    # -- the edge of a body ------------------------------------------------------------------------

    def edge(self, body: Body, plane: str) -> Region | None:
        """A body's outline on a plane; None where it is not told by a flat outline (turnings, other
        directions).
        """
        if (body.name, plane) not in self._edges:
            self._edges[(body.name, plane)] = self._edge(body, plane)
        return self._edges[(body.name, plane)]

    def _edge(self, body: Body, plane: str) -> Region | None:
        if body.plane != plane:
            return self._seen_from_aside(body, plane) if isinstance(body, Block) else None
        if isinstance(body, Prism):
            return self.shop.region(body.name)
        own = own_file(body.noun, "solid")
        found: Region | None = own.edge(self.shop, body) if own is not None and hasattr(own, "edge") else None
        return found

    def _seen_from_aside(self, body: Block, plane: str) -> Region | None:
        """A block as a plane that stands square to its own sees it: a rectangle."""
        frame, seen = body.frame, self.model.frames[plane]
        axes = (frame.right, frame.up, frame.out)
        if any(all(abs(abs(dot(axis, way)) - 1.0) > 1e-9 for axis in axes) for way in (seen.out, seen.right)):
            return None
        (at_x, at_y), (x, y) = body.placed.at, body.placed.half
        corners = [
            seen.onto(frame.point((at_x + i * x, at_y + j * y), height))[0]
            for i in (-1, 1)
            for j in (-1, 1)
            for height in (body.low, body.high)
        ]
        low = (min(at[0] for at in corners), min(at[1] for at in corners))
        high = (max(at[0] for at in corners), max(at[1] for at in corners))
        points = np.array([low, (high[0], low[1]), high, (low[0], high[1])], dtype=np.float64)
        return Region((Ring(points, np.full(4, self.marks.of(body.name, "side"), dtype=np.int32)),))

    # -- other bodies ------------------------------------------------------------------------------

    def joined_on(self, group: PlaneOpenings, opening: Opening, at: XY) -> bool:
        """True where another body's material lies at a place of the plane, all along the opening: there is no
        edge.
        """
        frame = self.model.frames[group.plane]
        points = [frame.point(at, height) for height in self._heights(group, opening)]
        others = self.bodies_but(group.body.name)
        return all(self.held(others, point) for point in points)

    def held(self, bodies: Iterable[Body], point: Vector) -> bool:
        """True where a point in space lies in the bare material of some bodies or of their copies."""
        return any(
            self._holds(one, point if move is None else move.back(point))
            for one in bodies
            for move in (None, *one.copies)
        )

    def bodies_but(self, name: str) -> list[Body]:
        """The other bodies."""
        return [one for one in self.model.of(Body) if one.name != name]

    def _heights(self, group: PlaneOpenings, opening: Opening) -> list[float]:
        low, high = opening.low, opening.high
        if group.body.plane == group.plane:
            ends = group.body.low, group.body.high
        else:
            ends = heights_over(self.shop.solid(group.body.name), self.model.frames[group.plane])
        low, high = max(low, ends[0]), min(high, ends[1])
        return [low + share * (high - low) for share in (0.02, 0.5, 0.98)]

    def _holds(self, body: Body, point: Vector) -> bool:
        """True where a point lies in the bare material of a body (a turning: within its largest round)."""
        lying = body.lying
        if lying is not None:
            at, place = lying.axis.onto(point)
            return lying.start <= place <= lying.stop and math.hypot(*at) <= lying.radius
        at, height = body.frame.onto(point)
        if not body.low - 1e-6 <= height <= body.high + 1e-6:
            return False
        region = self.edge(body, body.plane)
        if region is not None:
            return contains(region, at)
        return body.round_radius is not None and math.dist(at, body.placed.at) <= body.round_radius


def _moved(one: Opening, copy: int, move: Move, frame: Frame) -> Opening:
    """An opening as a copy of its hole has it."""

    def there(at: XY, height: float) -> tuple[XY, float]:
        return frame.onto(move.point(frame.point(at, height)))

    anchor = one.cores[0][0]
    ends = [there(anchor, height)[1] if math.isfinite(height) else height for height in (one.low, one.high)]
    if there(anchor, 1.0)[1] < there(anchor, 0.0)[1]:
        ends = [-ends[1] if math.isinf(ends[1]) else ends[1], -ends[0] if math.isinf(ends[0]) else ends[0]]
    cores = tuple((there(p, 0.0)[0], there(q, 0.0)[0]) for p, q in one.cores)
    return Opening(one.hole, copy, one.mouth, cores, one.radius, ends[0], ends[1])
