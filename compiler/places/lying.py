"""Turnings that lie along a line: their ends, their sides as the page sees them, holes along their axis.

The ends `front` and `back` lie on a plane square to the axis, named for the front: its origin is at station
0, `out` is the way the stations count up, and up is the front of the page, as on a plane square to a line."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..diagnostics.types import Trouble
from ..facts import Entry, Ref
from ..facts.extents import half, station_ends
from ..facts.kind_questions import flats_of_depths, is_hole
from ..facts.placing import Around, LevelLine, LiesAlong, On, UprightLine
from ..facts.types import FLATS
from ..quantities.vectors import XY, clean, cross, dot
from .edge_lines import ahead
from .layout import Frame

if TYPE_CHECKING:
    from .planes import Planes

_FORTH = ("right", "bottom")  # where what lies to the left of the way out is further on along the axis
_LEVEL = 1.0 - 1e-9
_ENDS = {"level": {"left": "back", "right": "front"}, "upright": {"bottom": "back", "top": "front"}}


def lying(pages: Planes, name: str) -> LiesAlong | None:
    """What a turning lies along, None for what stands on its plane."""
    placing = pages.facts.of.get(name)
    return None if placing is None else placing.one(LiesAlong)


def axis_plane(name: str) -> str:
    """The plane square to the axis of a lying turning."""
    return f"{name}.front"


def axis_frame(pages: Planes, name: str) -> Frame | None:
    """The frame of that plane, None while the turning is not placed."""
    spot, lies = pages.layout.spots.get(name), lying(pages, name)
    page = pages.layout.frames.get(spot.plane) if spot is not None else None
    edge = ahead(pages, lies.line, page) if lies is not None and page is not None else None
    if spot is None or page is None or edge is None:
        return None
    _, way, out = edge
    return Frame(page.point(spot.at, spot.base), clean(cross(out, way)), out, way)


def end_page(pages: Planes, ref: Ref) -> tuple[str, float, int] | None:
    """The plane of an end of a lying turning, its station, and +1 where it faces the way they count up; None
    for all else.
    """
    if ref.part not in FLATS or lying(pages, ref.name) is None:
        return None
    low, high = _stations(pages, ref.name)
    return axis_plane(ref.name), high if ref.part == "front" else low, 1 if ref.part == "front" else -1


def _runs(pages: Planes, name: str) -> str | None:
    """Whether a lying turning runs level or upright on its page; None while it is not placed.

    Raises Trouble('not-square') for one that lies aslant."""
    frame, spot = axis_frame(pages, name), pages.layout.spots.get(name)
    if frame is None or spot is None:
        return None
    page = pages.layout.frames[spot.plane]
    if abs(dot(frame.out, page.right)) > _LEVEL:
        return "level"
    if abs(dot(frame.out, page.up)) > _LEVEL:
        return "upright"
    raise Trouble(
        "not-square",
        f"`{name}` lies aslant: it has ends, but no side that faces left, right, up or down",
        (name,),
        advice=(f"its ends: {name}.front   (where its stations count up to)   and   {name}.back",),
    )


def outline_of(pages: Planes, name: str, made: bool = True) -> tuple[XY, XY] | None:
    """The middle of a body on its plane and its half-sizes as made or as read; None while it is not placed.

    Raises Trouble('not-square') for a turning that lies aslant."""
    spot = pages.layout.spots.get(name)
    if spot is None or spot.plane not in pages.layout.frames:
        return None
    x, y = spot.half if made else half(pages.claims.entries[name], made=False)
    if lying(pages, name) is None:
        return spot.at, (x, y)
    runs = _runs(pages, name)
    if runs is None:
        return None
    low, high = _stations(pages, name)
    middle, reach = 0.5 * (low + high), 0.5 * (high - low)
    if runs == "level":
        return (spot.at[0] + middle, spot.at[1]), (reach, y)
    return (spot.at[0], spot.at[1] + middle), (x, reach)


def side_offset(pages: Planes, ref: Ref) -> XY | None:
    """How far the middle of a side of a lying turning that is still to be placed lies from where its axis
    starts: outwards, and to the left of that; None where its line does not say that it is level or upright.
    """
    lies = lying(pages, ref.name)
    facts = pages.facts.of[lies.line.name].facts if lies is not None else ()
    level, upright = (any(isinstance(fact, kind) for fact in facts) for kind in (LevelLine, UprightLine))
    if not (level or upright):
        return None
    low, high = _stations(pages, ref.name)
    end = _ENDS["level" if level else "upright"].get(ref.part)
    if end is not None:
        return (high if end == "front" else -low), 0.0
    middle = 0.5 * (low + high)
    return half(pages.claims.entries[ref.name], made=False)[0], middle if ref.part in _FORTH else -middle


def heights_of(pages: Planes, name: str) -> tuple[float, float]:
    """Lowest and highest height of a placed body over its plane, mm: of a lying turning half its round either
    way.
    """
    if lying(pages, name) is None:
        return pages.heights(name)
    spot = pages.layout.spots[name]
    return spot.base - spot.half[0], spot.base + spot.half[0]


def _stations(pages: Planes, name: str) -> tuple[float, float]:
    ends = station_ends(pages.claims.entries[name]) or [0.0]
    return min(ends), max(ends)


def along_axis(pages: Planes, entry: Entry) -> str | None:
    """The plane of a hole that is `around` a lying turning and on no flat: it runs along the axis, unless it
    counts its depth from a flat of another body.  None for all else.
    """
    placing = pages.facts.of[entry.name]
    around = placing.one(Around)
    if around is None or not is_hole(entry) or lying(pages, around.thing.name) is None:
        return None
    if any(pages.is_flat(fact.thing) for fact in placing.all(On)):
        return None
    own = all(flat.name in ("", around.thing.name) for flat in flats_of_depths(entry))
    return axis_plane(around.thing.name) if own else None
