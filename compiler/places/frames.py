"""The frames of planes that stand on sides and lines, lean over other planes, or lie on a sloping flat.

Each function gives None while what a plane stands on is not placed."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from ..diagnostics.types import Trouble
from ..facts import Entry, Ref
from ..facts.placing import Faces, Leans, SquareAt, StandsOn, Taper
from ..facts.types import SIDES
from ..quantities.vectors import XY, Vector, along, clean, cross, dot
from .edge_lines import STEEPER, edge_frame, edge_line
from .layout import Frame
from .leaning import leaning
from .lying import heights_of, outline_of

if TYPE_CHECKING:
    from .planes import Planes

_WAYS: dict[str, Vector] = {
    "left": (-1.0, 0.0, 0.0),
    "right": (1.0, 0.0, 0.0),
    "above": (0.0, 1.0, 0.0),
    "below": (0.0, -1.0, 0.0),
}
_NONE: Vector = (0.0, 0.0, 0.0)


def taper_frame(pages: Planes, name: str) -> Frame | None:
    """The frame of the flat of a body that slopes because the body tapers."""
    plane, _, out = pages.stand(name)
    fact, frame = pages.facts.of[name].one(Taper), pages.layout.frames.get(plane)
    if fact is None or frame is None:
        return None
    low, high = pages.heights(name)
    foot = low if out > 0 else high
    pages.layout.use(pages.claims.entries[name], fact)
    return _between(pages, fact, frame, (foot + out * fact.first, foot + out * fact.second))


def leaning_frame(pages: Planes, fact: Leans) -> Frame | None:
    """The frame of a plane told by its height over a flat at two places."""
    plane, base, out = pages.lean(fact)
    frame = pages.layout.frames.get(plane)
    if frame is None:
        return None
    return _between(pages, fact, frame, (base + out * fact.first, base + out * fact.second))


def _between(pages: Planes, fact: Leans | Taper, frame: Frame, heights: tuple[float, float]) -> Frame | None:
    """The plane through two heights (mm) over a plane, each read at a thing or at a side."""
    spots, frames = pages.layout.spots, pages.layout.frames
    places: list[XY] = []
    ways: list[XY] = []
    for ref in (fact.here, fact.there):
        spot = spots.get(ref.name)
        side = pages.side(ref, made=False) if ref.part in SIDES else None
        if spot is None or (ref.part in SIDES and side is None) or spot.plane not in frames:
            return None
        point = side.point if side is not None else frames[spot.plane].point(spot.at)
        places.append(frame.onto(point)[0])
        if side is not None:
            ways.append((dot(side.normal, frame.right), dot(side.normal, frame.up)))
    (ax, ay), (bx, by) = places
    if ways and math.hypot(*ways[0]) > 1e-6:  # a side is level along itself: the slope runs square to it
        x, y = ways[0]
        share = ((bx - ax) * x + (by - ay) * y) / (x * x + y * y)
        bx, by = ax + share * x, ay + share * y
    return leaning(frame, (ax, ay), (bx, by), heights)


def side_frame(pages: Planes, name: str, side: str) -> Frame | None:
    """The frame of a side of a body, seen as in third-angle projection (ISO 128): the side is turned towards
    the reader, up or right stays.
    """
    outline = outline_of(pages, name)
    if outline is None:
        return None
    frame = pages.layout.frames[pages.layout.spots[name].plane]
    ((x, y), (w, h)), (low, high) = outline, heights_of(pages, name)
    back = clean(along(_NONE, (frame.out, -1.0)))
    left = clean(along(_NONE, (frame.right, -1.0)))
    down = clean(along(_NONE, (frame.up, -1.0)))
    if side == "right":
        return Frame(frame.point((x + w, y - h), high), back, frame.up, frame.right)
    if side == "left":
        return Frame(frame.point((x - w, y - h), low), frame.out, frame.up, left)
    if side == "top":
        return Frame(frame.point((x - w, y + h), high), frame.right, back, frame.up)
    return Frame(frame.point((x - w, y - h), low), frame.right, frame.out, down)


def plane_frame(pages: Planes, entry: Entry) -> Frame | None:
    """The frame of a `plane` statement."""
    placing = pages.facts.of[entry.name]
    for fact in placing.facts:
        if isinstance(fact, Leans):
            frame = leaning_frame(pages, fact)
        elif isinstance(fact, SquareAt):
            frame = _square_frame(pages, entry, fact)
        elif isinstance(fact, StandsOn):
            frame = _standing_frame(pages, entry, fact)
        else:
            continue
        if frame is not None:
            pages.layout.use(entry, fact)
        return frame
    raise AssertionError(entry.name)


def _square_frame(pages: Planes, entry: Entry, fact: SquareAt) -> Frame | None:
    edge, spot = _edge(pages, fact.line), pages.layout.spots.get(fact.point.name)
    if edge is None or spot is None:
        return None
    _, direction, out, _ = edge
    origin = pages.layout.frames[spot.plane].point(spot.at, spot.base)
    return _turned(pages, entry, Frame(origin, clean(cross(out, direction)), out, direction))


def _turned(pages: Planes, entry: Entry, frame: Frame) -> Frame:
    """A plane turned so that it faces the way it says, where it says one."""
    faces = pages.facts.of[entry.name].one(Faces)
    if faces is None:
        return frame
    pages.layout.use(entry, faces)
    return _facing(entry, faces, frame)


def _standing_frame(pages: Planes, entry: Entry, fact: StandsOn) -> Frame | None:
    edge = _edge(pages, fact.thing)
    if edge is None:
        return None
    point, direction, out, ahead = edge
    angle = math.radians(fact.angle)
    flat_up = clean(cross(out, direction))
    up = clean(along(_NONE, (flat_up, math.cos(angle)), (out, math.sin(angle))))
    frame = _turned(pages, entry, Frame(point, direction, up, clean(cross(direction, up))))
    if not ahead:
        return frame
    # turned as the left or right side of a box is: up on the page stays up (third-angle, ISO 128)
    up = clean(along(_NONE, (direction, float(ahead))))
    return Frame(frame.origin, clean(cross(up, frame.out)), up, frame.out)


def _edge(pages: Planes, ref: Ref) -> tuple[Vector, Vector, Vector, int] | None:
    """A line or the edge of a side: a point of it, its direction, the way out of its page, and +1 or -1
    where it runs more up, or more down, than across (else 0).

    A line is run to the right, or down where it runs more up than across, so that one that was read a hair
    off upright gives the plane that an upright one gives; a side so that its body lies to the left of it."""
    edge, page = edge_line(pages, ref), edge_frame(pages, ref)
    if edge is None or page is None:
        return None
    point, way, out = edge
    right, up = dot(way, page.right), dot(way, page.up)
    ahead = 0 if abs(up) < abs(right) + STEEPER else 1 if up > 0.0 else -1
    if ahead > 0 and not ref.part:
        return point, clean(along(_NONE, (way, -1.0))), out, -1
    return point, way, out, ahead


def _facing(entry: Entry, fact: Faces, frame: Frame) -> Frame:
    """The plane turned about its upright, so that it `faces` the way it says, as seen on the sheet."""
    share = dot(frame.out, _WAYS[fact.where])
    if abs(share) < 1e-6:
        raise Trouble(
            "not-square",
            f"plane `{entry.name}` can't face {fact.where}: it lies along that way",
            (entry.name,),
        )
    if share > 0:
        return frame
    back, left = ((-x + 0.0, -y + 0.0, -z + 0.0) for x, y, z in (frame.out, frame.right))
    return Frame(frame.origin, left, frame.up, back)
