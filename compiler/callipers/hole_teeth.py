"""Serrations and splines in a hole: how far apart their grooves are over the middle, how deep, how many."""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from ..model.holes import Hole
from ..quantities.arrays import Floats
from .bench import Bench

TIP = 1e-3
"""Corners no further than this (mm) from the furthest one are tips of teeth."""
RADIAL = 0.98
"""Facets that face the middle more nearly than this (as a cosine) are crowns or floors of splines."""


class Teeth(Struct, frozen=True):
    """Over the grooves and how deep they are (mm), how many there are, and where one of them points
    (degrees).
    """

    over: float
    deep: float
    count: float
    turn: float


def teeth(bench: Bench, hole: Hole, splines: bool) -> Teeth | None:
    """The teeth of a hole about its middle; None where nothing is left of them.

    Flanks of serrations meet in edges, so those tell; the round crowns and floors of splines touch their
    rounds in the middle of facets."""
    frame, facets = bench.model.frame(hole), bench.own(hole, 1, "")
    out = np.asarray(frame.out)
    facets = facets.some(np.abs(facets.normals @ out) < TIP)
    if facets.empty:
        return None
    ways = np.stack([np.asarray(frame.right), np.asarray(frame.up)], axis=1)
    home = np.asarray(bench.home(hole))
    if not splines:
        at = (facets.corners.reshape(-1, 3) - home) @ ways
        away = np.linalg.norm(at, axis=1)
        tips = at[away > away.max() - TIP]
        many = _directions(tips)
        return Teeth(2 * float(away.max()), float(away.max() - away.min()), many, _pointing(tips, many))
    middles = (facets.corners.mean(axis=1) - home) @ ways
    normals = facets.normals @ ways
    reach = -np.einsum("ij,ij->i", (facets.corners[:, 0] - home) @ ways, normals)
    share = -np.einsum("ij,ij->i", normals, middles) / np.linalg.norm(middles, axis=1)
    faced = share > RADIAL
    if not faced.any():
        return None
    most, least = float(reach[faced].max()), float(reach[faced].min())
    flanks = (np.abs(share) < 0.5) & (facets.areas > 0)
    # a flank lies along the radius: all its corners are in one direction, and each tooth has two
    ends = ((facets.corners[flanks] - home) @ ways).reshape(-1, 2)
    crowns = normals[faced & (reach > 0.5 * (most + least))] * -1.0
    many = 0.5 * _directions(ends)
    return Teeth(2 * most, most - least, many, _pointing(crowns, many))


def _pointing(points: Floats, count: float) -> float:
    """Where one of some equal teeth points (degrees), from points or directions alike about each."""
    turns = count * np.arctan2(points[:, 1], points[:, 0])
    mean = np.arctan2(np.sin(turns).sum(), np.cos(turns).sum())
    return float(np.degrees(mean)) / max(count, 1.0)


def _directions(points: Floats) -> float:
    """In how many directions from the middle some points lie."""
    turns = np.sort(np.arctan2(points[:, 1], points[:, 0]))
    if not len(turns):
        return 0.0
    gaps = np.diff(np.concatenate([turns, turns[:1] + 2 * np.pi]))
    return float((gaps > 1e-3).sum())
