"""What something that stands on a flat of a body finds there: zones may have moved the flat as measured."""

from __future__ import annotations

import numpy as np

from ..outlines.marks import Marks
from ..places.layout import Frame, Spot
from ..quantities.arrays import Floats
from .kernel import Solid

LEVEL = 1e-6  # mm


def surface(column: Solid, solid: Solid, frame: Frame, spot: Spot, marks: Marks) -> tuple[float, set[str]]:
    """How far (mm, outwards) what a thing would be seen on lies over its flat, and the statements whose faces
    these are.

    `column`: its outline drawn through all of the body."""
    met = column ^ solid
    if met.is_empty():
        return 0.0, set()
    raw = met.to_mesh64()
    points: Floats = np.asarray(raw.vert_properties)[:, :3]
    over = spot.out * ((points - np.array(frame.origin)) @ np.array(frame.out) - spot.base)
    top = float(over.max())
    upper = (over[np.asarray(raw.tri_verts).astype(np.int64)] >= top - LEVEL).all(axis=1)
    labels = set(np.asarray(raw.face_id)[upper].tolist())
    return (0.0 if abs(top) <= LEVEL else top), {marks.faces[label][0] for label in labels}
