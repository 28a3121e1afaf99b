"""Outline: closed flat regions, exact as paths of lines and arcs, and faceted as rings whose every edge is
labelled.
"""

from .belts import belt, chain
from .booleans import canonical, common, cut, merge, turned_over
from .corners import corners_of, round_corners
from .facets import CHORD, facet, facet_count, hole_ring
from .measure import area, contains, crossing, extent, nearest_edge, ring_area
from .offsets import inset_matched, offset, offset_path, relabelled
from .plane import backwards, path_area
from .shapes import circle, flatted, polygon, rectangle, slot_path, web
from .stops import ArcStop, Corner, LineStop, PointStop, RoundStop, Stop
from .strips import Side, strip
from .types import Bend, Edge, Path, Region, Ring, Straight
from .walks import walk

__all__ = [
    "CHORD",
    "ArcStop",
    "Bend",
    "Corner",
    "Edge",
    "LineStop",
    "Path",
    "PointStop",
    "Region",
    "Ring",
    "RoundStop",
    "Side",
    "Stop",
    "Straight",
    "area",
    "backwards",
    "belt",
    "canonical",
    "chain",
    "circle",
    "common",
    "contains",
    "corners_of",
    "crossing",
    "cut",
    "extent",
    "facet",
    "facet_count",
    "flatted",
    "hole_ring",
    "inset_matched",
    "merge",
    "nearest_edge",
    "offset",
    "offset_path",
    "path_area",
    "polygon",
    "rectangle",
    "relabelled",
    "ring_area",
    "round_corners",
    "slot_path",
    "strip",
    "turned_over",
    "walk",
    "web",
]
