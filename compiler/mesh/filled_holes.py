"""Holes that a body, or a copy of one, fills again or closes, found once all bodies stand in their places.

Boxes are asked first, so that an ordinary part costs the kernel nothing.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..diagnostics.types import Diagnostic
from ..model import Body
from ..model.holes import Hole
from ..places.layout import Frame
from ..quantities.arrays import Floats
from .combine import common, join, moved, overlap, pieces, remove, touches, trim
from .crowds import MOST_MEETINGS
from .cutters import Cut, hole_tool
from .hole_tools import heights_over, reach_of
from .holes_in_outline import RoundHole
from .kernel import Solid
from .refilled_holes import ROOM, Filled, body_of, closed, in_the_way, mouths, refilled
from .workshop import Workshop

SLIVER = 1e-3
MOST = 200
MOST_TRIED = 20
"""So many times the whole part is put together anew to see whether an advice holds; later ones are given
unasked.
"""
FLOOR = 0.01
"""The floor of a hole, on which a thing may stand, is looked past by so much (mm)."""


class Fillings:
    """Judges the holes of one recipe.  `parts`: each body and copy (`peg`, `peg.2`) with its material in
    place; `one_round`: holes and the bodies of just their size that stand in them and are one with them.
    """

    def __init__(
        self,
        shop: Workshop,
        built: dict[str, Solid],
        parts: Sequence[tuple[str, Solid]],
        one_round: frozenset[tuple[str, str]] = frozenset(),
    ) -> None:
        self.shop, self.model, self.built, self.parts = shop, shop.model, built, parts
        self.one_round = one_round
        self.tried = 0
        self.boxes = np.array([solid.bounding_box() for _, solid in parts]).reshape(-1, 2, 3)

    def told(self, cutters: Sequence[Cut], whole: Solid) -> list[Diagnostic]:
        """What is said of the holes of this recipe and of the parts that it uses, where something stands in
        one that need not be there on purpose.
        """
        found = refilled(self.shop, self.parts, self.boxes)
        some = list(cutters)
        if not some or not self._may_be_filled(some):
            return found
        if overlap(join([tool for cut in some for tool in cut.tools]), whole) <= SLIVER:
            return found
        # each body that a hole goes through has cutters of its own, of its own reach: each body in the way is
        # told of once
        told: set[tuple[str, str]] = set()
        for cut in some[:MOST_MEETINGS]:
            found += self._judged(cut, told)
        return found

    def _near(self, tools: Sequence[Solid], own: set[str]) -> tuple[list[tuple[str, Solid]], list[Solid]]:
        """The bodies and copies, those that a hole cuts left out, whose boxes meet a box of its tools; and
        those tools.
        """
        others = np.array([name not in own for name, _ in self.parts])
        meets = np.zeros(len(self.parts), dtype=np.bool_)
        met = []
        for tool in tools:
            here = others & meeting(np.array(tool.bounding_box()).reshape(2, 3), self.boxes)
            meets |= here
            met += [tool] if here.any() else []
        return [self.parts[k] for k in np.flatnonzero(meets).tolist()], met

    def _judged(self, cut: Cut, told_of: set[tuple[str, str]]) -> list[Diagnostic]:
        """What stands in a hole or before it, once for each body (hole and body go into `told_of`)."""
        own = set(cut.hole.owners)
        near, tools = self._near(cut.tools, own)
        near = [one for one in near if (cut.hole.name, body_of(one[0])) not in told_of]
        if not near:
            return []
        tools = tools[:MOST]
        bare = join([self.shop.solid(name) for name in sorted(own)])
        frame = self.model.frame(cut.hole)
        ends = (
            []
            if cut.hole.depth is not None
            else mouths(tools, [heights_over(self.built[one], frame) for one in own], frame)
        )
        inner = [common(tool, bare) for tool in tools]
        found: dict[str, Diagnostic | None] = {}
        for name, solid in near[:MOST]:
            if body_of(name) in found:
                continue
            if any(overlap(solid, one) > self._least(one, name, own) for one in inner):
                found[body_of(name)] = self._filled(cut, own, name, solid, inner, frame)
            elif (
                body_of(name) not in own
                and (told := closed(self.model, cut.hole, ends, own, name, solid)) is not None
            ):
                found[body_of(name)] = told
        told_of |= {(cut.hole.name, body) for body, one in found.items() if one is not None}
        return [one for one in found.values() if one is not None]

    def _least(self, hole: Solid, name: str, own: set[str]) -> float:
        """How much (mm3) of a hole must be filled to be told: a copy has the same hole, but its facets
        turned.
        """
        return SLIVER + (self.shop.chord * float(hole.surface_area()) if body_of(name) in own else 0.0)

    def _filled(
        self, cut: Cut, own: set[str], name: str, solid: Solid, inner: Sequence[Solid], frame: Frame
    ) -> Diagnostic | None:
        if (cut.hole.name, body_of(name)) in self.one_round:
            return in_the_way(self.model, cut.hole, name, own, Filled.ONE)
        free = not any(self._leans_on_wall(common(solid, one), own, frame) for one in inner)
        body = self.model.body(body_of(name))
        enters = body.enters
        if (free and (enters or cut.hole.depth is not None)) or _plugs(body, cut.hole):
            return None  # there on purpose: what only stands on the floor of a blind hole is, too
        how = Filled.FREE if free else Filled.APART
        if not (free or enters or body_of(name) in own):
            if self._on_purpose(cut, own, solid, inner, frame):
                return None
            if self._holds_when_cut(body_of(name), cut.tools):
                how = Filled.BOTH
        return in_the_way(self.model, cut.hole, name, own, how)

    def _on_purpose(
        self, cut: Cut, own: set[str], solid: Solid, inner: Sequence[Solid], frame: Frame
    ) -> bool:
        """True for a body that ends below the mouth of a hole with a floor and lies wholly within the bodies
        that the hole cuts, as they were before it: without the hole it would change nothing, so it is there
        to fill some of it.
        """
        if cut.hole.depth is None:
            return False
        way = cut.hole.depth.out
        bare = join([self.shop.solid(name) for name in sorted(own)])
        foot, top = min(_along(bare, way, frame)), max(_along(solid, way, frame))
        for one in inner:
            if overlap(solid, one) > SLIVER:
                floor, mouth = sorted(_along(one, way, frame))
                if floor < foot + FLOOR or mouth < top + FLOOR:
                    return False
        return bool(remove(solid, [bare]).volume() <= SLIVER)

    def _leans_on_wall(self, inside: Solid, own: set[str], frame: Frame) -> bool:
        """True where what stands in a hole comes to its wall; it may stand on its floor."""
        if inside.is_empty() or inside.volume() <= SLIVER:
            return False
        low, high = heights_over(inside, frame)
        if high - low <= 2.0 * FLOOR:
            return True
        x, y, z = frame.out
        for height, way in ((high - FLOOR, (x, y, z)), (low + FLOOR, (-x, -y, -z))):
            inside = trim(inside, frame.point((0.0, 0.0), height), way, 0)
        return any(
            touches(inside, self._between(one, low + FLOOR, high - FLOOR, frame), ROOM) for one in sorted(own)
        )

    def _between(self, body: str, low: float, high: float, frame: Frame) -> Solid:
        x, y, z = frame.out
        solid = trim(self.built[body], frame.point((0.0, 0.0), high), (x, y, z), 0)
        return trim(solid, frame.point((0.0, 0.0), low), (-x, -y, -z), 0)

    def _holds_when_cut(self, body: str, tools: Sequence[Solid]) -> bool:
        """True where the part stays in one piece if a hole cuts this body, too."""
        self.tried += 1
        if self.tried > MOST_TRIED or len(self.parts) > MOST:
            return True
        left = [remove(solid, tools) if body_of(name) == body else solid for name, solid in self.parts]
        return len(pieces(join(left))) == 1 and not any(one.is_empty() for one in left)

    def met(self, let_in: Sequence[tuple[RoundHole, str]]) -> list[Cut]:
        """Cutters, to be judged like the others, of the holes let into an outline that another body's box
        meets.
        """
        found = []
        for one, body in let_in:
            hole, frame = one.hole, self.model.frame(one.hole)
            own = np.array(self.built[body].bounding_box()).reshape(2, 3)
            at = np.array([frame.point(xy) for xy in one.centres])
            wide = one.radius * np.sqrt(np.maximum(0.0, 1.0 - np.square(frame.out)))
            leans = np.abs(frame.out) > SLIVER
            low = np.where(leans, np.minimum(own[0] - SLIVER, at - wide), at - wide)
            high = np.where(leans, np.maximum(own[1] + SLIVER, at + wide), at + wide)
            others = [box for box, (name, _) in zip(self.boxes, self.parts, strict=True) if name != body]
            if any(((low < box[1]) & (box[0] < high)).all(axis=1).any() for box in others):
                first = hole_tool(self.shop, hole, reach_of(body, self.built[body], frame))
                found.append(Cut(hole, [first, *(moved(first, move) for move in hole.copies)]))
        return found

    def _may_be_filled(self, cutters: Sequence[Cut]) -> bool:
        """False where no hole's box meets the box of a body it does not cut: cheaper than cutting them with
        each other.
        """
        if len(cutters) * len(self.parts) > MOST_MEETINGS:
            return True
        return any(self._near(cut.tools, set(cut.hole.owners))[1] for cut in cutters)


def _along(solid: Solid, way: int, frame: Frame) -> list[float]:
    """The heights between which a solid lies over a plane, counted the other way where `way` is -1."""
    return [way * height for height in heights_over(solid, frame)]


def meeting(mine: Floats, boxes: Floats) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    """Which boxes (n, 2, 3; low corner, high corner) share room with one (2, 3)."""
    return np.asarray(((mine[0] < boxes[:, 1]) & (boxes[:, 0] < mine[1])).all(axis=1))


def _plugs(body: Body, hole: Hole) -> bool:
    """Whether a round body shares the middle of a round hole and is no wider: it is there to go into it."""
    radius = body.round_radius
    if hole.diameter is None or radius is None or body.around != hole.name:
        return False
    return 2.0 * radius <= hole.diameter + FLOOR
