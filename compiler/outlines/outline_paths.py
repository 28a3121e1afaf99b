"""Outlines of the model: walked, belted, chained or merged, then grown or shrunk, then rounded.

The order of these steps is fixed, whatever order the facts are written in; so is which edge gets whose label.
An outline is a path as long as that is exact, a region of polygons after that."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..diagnostics.types import Trouble, at_fault
from ..model.sections import ArcAt, Belted, Chained, LineAt, Merged, Outline, PointAt, RoundAt, StopAt
from ..model.types import Corners
from .belts import belt, chain
from .booleans import merge
from .corners import round_corners
from .facets import facet
from .marks import Marks
from .measure import ring_area
from .offsets import offset, offset_path
from .shape_paths import shape_path
from .smoothing import smoothed
from .stops import ArcStop, LineStop, PointStop, RoundStop, Stop
from .types import Path, Region, Ring
from .walks import walk

NO_OUTLINE = (
    "line-misses",
    "no-arc",
    "no-tangent",
    "outline-crosses",
    "outline-too-short",
    "outline-two-sided",
)
"""Codes of what stands in the way of a walk."""


def corner_stop(stop: PointAt | RoundAt, marks: Marks) -> PointStop | RoundStop:
    """A point or round as a stop of a walk, labelled as its statement's."""
    label = marks.of(stop.owner)
    if isinstance(stop, PointAt):
        return PointStop(stop.at, label, stop.name)
    return RoundStop(stop.at, stop.radius, stop.hollow, label, stop.name)


def _stop(stop: StopAt, marks: Marks) -> Stop:
    label = marks.of(stop.owner)
    match stop:
        case LineAt(owner, foot, way, into):
            return LineStop(foot, way, into, label=label, name=owner)
        case ArcAt(owner, rise, radius, outwards):
            return ArcStop(rise, radius, outwards, label, owner)
        case _:
            return corner_stop(stop, marks)


def outlined(outline: Outline, owner: str, marks: Marks, chord: float) -> Path | Region:
    """The outline as it is told, its own edges labelled as the side of its owner.

    Raises Trouble as `walk`, `belt` and `round_corners` do, and 'falls-apart' for merged shapes that do not
    touch."""
    label = marks.of(owner, "side")
    if isinstance(outline, Merged):
        region = merge([facet(shape_path(shape, marks), chord) for shape in outline.shapes])
        _in_one_piece(region, owner)
        return region
    if isinstance(outline, Belted | Chained):
        rounds = [stop for stop in _stops(outline.rounds, marks) if isinstance(stop, RoundStop)]
        if isinstance(outline, Belted):
            return belt(rounds, label)
        return merge([facet(path, chord) for path in chain(rounds, label)])
    return walk(_stops(outline.stops, marks), label)


def _stops(stops: Sequence[StopAt], marks: Marks) -> list[Stop]:
    return [_stop(stop, marks) for stop in stops]


def grown(shape: Path | Region, by: float, chord: float, label: int) -> Path | Region:
    """An outline drawn out by mm all round (in: < 0).  Raises Trouble as `offset` does."""
    if not by:
        return shape
    if isinstance(shape, Region):
        return offset(shape, by, chord, label)
    path = offset_path(shape, by)
    return offset(shape, by, chord) if path is None else path


def rounded(
    shape: Path | Region, corners: Sequence[Corners], owner: str, marks: Marks, chord: float
) -> Path | Region:
    """An outline with some of its corners rounded.  Raises Trouble as `round_corners` does."""
    for some in corners:
        size, label = some.size.value, marks.of(owner, some.said.word)
        with at_fault(some.said.span):
            if isinstance(shape, Region):
                shape = smoothed(shape, size, some.hollow, list(some.places) or None, chord, label)
            else:
                places = [place for place, _ in some.places] or None
                shape = round_corners(shape, size, "inside" if some.hollow else "outside", places, label)
    return shape


def eased(path: Path, chord: float) -> Ring:
    """The polygon of an outline that is to be bevelled, without the stub beside each end of an arc.

    Facets stand on a fixed grid, so the first one of an arc may be as short as you like; drawn in by the
    bevel it would turn round, though the arc itself is far from being eaten up.  Facets a third finer make up
    for the longer ones."""
    ring = facet(path, 0.7 * chord)
    points, labels = ring.points, ring.labels
    step = np.roll(points, -1, axis=0) - points
    after = np.hypot(step[:, 0], step[:, 1])
    before = np.roll(after, 1)
    whole = points - np.roll(points, 1, axis=0) + step
    off = np.abs(step[:, 0] * whole[:, 1] - step[:, 1] * whole[:, 0]) / np.maximum(
        np.hypot(whole[:, 0], whole[:, 1]), 1e-300
    )
    uneven = np.minimum(before, after) < 0.2 * np.maximum(before, after)
    stub = uneven & (labels == np.roll(labels, 1)) & (off < 0.3 * chord)
    stub &= ~np.roll(stub, 1)
    return Ring(points[~stub], labels[~stub]) if len(points) - int(stub.sum()) > 2 else ring


def _in_one_piece(region: Region, owner: str) -> None:
    if sum(1 for ring in region.rings if ring_area(ring) > 0) > 1:
        raise Trouble(
            "falls-apart",
            f"the shapes merged in `{owner}` do not all touch",
            (owner,),
            advice=("join them with a web, or move them together",),
        )
