"""Outline: closed flat regions, exact as paths of lines and arcs, and faceted as rings whose every edge is
labelled.
"""

from .booleans import canonical, common, cut, merge, turned_over
from .facets import CHORD, facet, facet_count, hole_ring
from .measure import area, contains, crossing, extent, nearest_edge, ring_area
from .plane import backwards, path_area
from .shapes import circle, flatted, polygon, rectangle, slot_path
from .types import Bend, Edge, Path, Region, Ring, Straight

__all__ = [
    "CHORD",
    "Bend",
    "Edge",
    "Path",
    "Region",
    "Ring",
    "Straight",
    "area",
    "backwards",
    "canonical",
    "circle",
    "common",
    "contains",
    "crossing",
    "cut",
    "extent",
    "facet",
    "facet_count",
    "flatted",
    "hole_ring",
    "merge",
    "nearest_edge",
    "path_area",
    "polygon",
    "rectangle",
    "ring_area",
    "slot_path",
    "turned_over",
]
