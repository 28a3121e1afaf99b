"""Marks that can't be seen: under a zone that raised their flat, or under another body."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ...diagnostics.types import Diagnostic, Label, Severity
from ...mesh.combine import overlap
from ...mesh.kernel import Solid
from ...model import Model, Thing
from ...places.layout import Move
from ...quantities.arrays import Floats
from ...quantities.vectors import dot
from .model import Mark

HIDDEN = 0.01
"""A mark is hidden where more than this share of its letters lies under something."""


def back_again(move: Move) -> Move:
    """The move that undoes a move."""
    (a, b, c), shift = move.rows, move.shift
    x, y, z = ((a[k], b[k], c[k]) for k in range(3))
    return Move((x, y, z), (-dot(x, shift), -dot(y, shift), -dot(z, shift)))


def under_zone(mark: Mark, zone: Thing, by: float) -> Diagnostic:
    """The warning for a mark of which a zone hides some."""
    told = f"mark `{mark.name}` lies partly under zone `{zone.name}`, which stands {by:.4g} over `{mark.on}`"
    others = (Label(zone.span, "this buries it"),)
    return Diagnostic(
        "mark-buried",
        Severity.WARNING,
        told,
        mark.span,
        others=others,
        advice=(f"move it wholly onto the flat of `{zone.name}`, or off it",),
    )


def under_bodies(
    model: Model,
    mark: Mark,
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
                others = (Label(model.things[name.split(".")[0]].span, "this buries it"),)
                return Diagnostic(
                    "mark-buried",
                    Severity.WARNING,
                    f"mark `{mark.name}` lies {how}under `{name}`",
                    mark.span,
                    others=others,
                    advice=("move it, or put it on what is seen there",),
                )
    return None
