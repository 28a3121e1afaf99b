"""Is anything read from a flat or side that a trim has cut away?

Flats and sides keep the place they were read at: `body.front` of a body that is trimmed lies where it lay
before the trim.  A depth that counts from it is less deep in what is left than it says."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from ..diagnostics.types import Diagnostic, Label, Severity
from ..kinds.types import FLATS, SIDES
from ..mesh.combine import trim
from ..mesh.kernel import Solid
from ..model import Body
from ..model.types import Prism, Trim
from .openings import Survey


def trimmed_flats(scene: Survey, body: Body) -> Iterator[Diagnostic]:
    """A note for each line that speaks of a flat or side of a prism of which a trim has left nothing."""
    if isinstance(body, Prism) and body.trims:
        for part, by in _gone(scene, body).items():
            yield from _told(scene, body, part, by)


def _gone(scene: Survey, body: Body) -> dict[str, Trim]:
    """The flats and sides of a body of which trims leave nothing, each with the trim that takes it."""
    found: dict[str, Trim] = {}
    solid = scene.shop.solid(body.name)
    before = _faces(scene, body, solid)
    for by in sorted(body.trims, key=lambda one: one.said.text):
        x, y, z = by.by.flat.normal
        halves = [trim(solid, by.by.flat.point, way, 0) for way in ((x, y, z), (-x, -y, -z))]
        solid = max(halves, key=lambda one: float(one.volume()))
        left = _faces(scene, body, solid)
        found |= dict.fromkeys(sorted(before - left), by)
        before = left
    return found


def _faces(scene: Survey, body: Body, solid: Solid) -> set[str]:
    """The flats and sides that a solid still has."""
    labels = set(np.asarray(solid.to_mesh64().face_id).tolist())
    return {part for part in (*FLATS, *SIDES) if scene.shop.marks.of(body.name, part) in labels}


def _told(scene: Survey, body: Body, part: str, by: Trim) -> Iterator[Diagnostic]:
    flat = f"{body.name}.{part}"
    for thing in scene.model.things.values():
        for said in thing.said if thing.name != by.by.body else ():
            if flat not in said.of:
                continue
            text = f"`{flat}` is cut away by `{by.said.text}`: `{said.text}` of {thing.noun} "
            text += f"`{thing.name}` counts from where it was"
            advice = (f"if it was read from what is there now, name that:  {by.by.name}",)
            others = (Label(by.said.span, "this cuts it away"),)
            yield Diagnostic("flat-trimmed", Severity.NOTE, text, said.span, others=others, advice=advice)
