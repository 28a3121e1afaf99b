"""How high a mark stands.  It is read from a flat as measured; where zones changed the flat, it stands on
what is there now, if all of it finds one flat there.  What lies under a zone or another body is told."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..diagnostics.types import Diagnostic, Label, Severity
from ..facts import ZONES, Claims, Entry
from ..facts.types import FLATS
from ..outlines.marks import Marks
from ..places.layout import Frame, Move, Spot
from ..quantities.arrays import Floats
from ..quantities.vectors import dot
from .combine import overlap
from .kernel import Solid

LEVEL = 1e-6  # mm
HIDDEN = 0.01
"""A mark is hidden where more than this share of its letters lies under something."""


def on_a_flat(mark: Entry) -> bool:
    """True for a mark on a front or back: zones work on no other side."""
    return any(claim.ref("thing").part in FLATS for claim in mark.all("on"))


def zoned(claims: Claims, body: str) -> bool:
    """True where a zone works on a body."""
    return any(claim.ref("thing").name == body for one in claims.of_kind(*ZONES) for claim in one.all("on"))


def surface(column: Solid, solid: Solid, frame: Frame, spot: Spot, marks: Marks) -> tuple[float, set[str]]:
    """How far (mm, outwards) what a mark would be seen on lies over its flat, and the statements whose faces
    these are.

    `column`: the letters drawn through all of the body."""
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


def back_again(move: Move) -> Move:
    """The move that undoes a move."""
    (a, b, c), shift = move.rows, move.shift
    x, y, z = ((a[k], b[k], c[k]) for k in range(3))
    return Move((x, y, z), (-dot(x, shift), -dot(y, shift), -dot(z, shift)))


def under_zone(claims: Claims, mark: Entry, zone: str, by: float) -> Diagnostic:
    """The warning for a mark of which a zone hides some."""
    flat = mark.all("on")[0].ref("thing")
    told = f"mark `{mark.name}` lies partly under zone `{zone}`, which stands {by:.4g} over `{flat}`"
    others = (Label(claims.entries[zone].span, "this buries it"),)
    return Diagnostic(
        "mark-buried",
        Severity.WARNING,
        told,
        mark.span,
        others=others,
        advice=(f"move it wholly onto the flat of `{zone}`, or off it",),
    )


def under_bodies(
    claims: Claims,
    mark: Entry,
    skins: Sequence[tuple[str, Solid]],
    parts: Sequence[tuple[str, Solid]],
    boxes: Floats,
) -> Diagnostic | None:
    """The warning for a mark that another body or copy lies on.  `skins`: a thin layer over its letters, and
    over those of each copy, with the body that carries it; `boxes` (n, 2, 3): those of the parts."""
    for owner, skin in skins:
        low, high = np.array(skin.bounding_box()).reshape(2, 3)
        meets = ((low < boxes[:, 1]) & (boxes[:, 0] < high)).all(axis=1)
        for name, solid in (parts[k] for k in np.flatnonzero(meets).tolist()):
            share = overlap(skin, solid) / float(skin.volume()) if name != owner else 0.0
            if share > HIDDEN:
                how = "" if share > 1.0 - HIDDEN else "partly "
                others = (Label(claims.entries[name.split(".")[0]].span, "this buries it"),)
                return Diagnostic(
                    "mark-buried",
                    Severity.WARNING,
                    f"mark `{mark.name}` lies {how}under `{name}`",
                    mark.span,
                    others=others,
                    advice=("move it, or put it on what is seen there",),
                )
    return None
