"""Is anything read from a flat or side that a trim has cut away?

Flats and sides keep the place they were read at: `body.front` of a body that is trimmed lies where it lay
before the trim.  A depth that counts from it is less deep in what is left than it says."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from ..diagnostics.types import Diagnostic, Label, Severity
from ..facts import Claim, Entry, Ref
from ..facts.types import FLATS, SIDES
from ..mesh.combine import trim
from ..mesh.kernel import Solid
from .openings import Scene


def trimmed_flats(scene: Scene) -> list[Diagnostic]:
    """A note for each line that speaks of a flat or side of which a trim has left nothing."""
    found: list[Diagnostic] = []
    for entry in scene.claims.of_kind("plate", "block"):
        if entry.has("trim"):
            gone = _gone(scene, entry)
            found += [told for part, by in gone.items() for told in _told(scene, entry, part, by)]
    return found


def _gone(scene: Scene, entry: Entry) -> dict[str, Claim]:
    """The flats and sides of a body of which trims leave nothing, each with the trim that takes it."""
    found: dict[str, Claim] = {}
    solid = scene.bodies.solid(entry.name)
    before = _faces(scene, entry, solid)
    for claim in sorted(entry.all("trim"), key=lambda one: one.text):
        flat = scene.pages.flat(claim.ref("thing"))
        if flat is None:
            continue
        x, y, z = flat.normal
        halves = [trim(solid, flat.point, way, 0) for way in ((x, y, z), (-x, -y, -z))]
        solid = max(halves, key=lambda one: float(one.volume()))
        left = _faces(scene, entry, solid)
        found |= dict.fromkeys(sorted(before - left), claim)
        before = left
    return found


def _faces(scene: Scene, entry: Entry, solid: Solid) -> set[str]:
    """The flats and sides that a solid still has."""
    labels = set(np.asarray(solid.to_mesh64().face_id).tolist())
    return {part for part in (*FLATS, *SIDES) if scene.marks.of(entry.name, part) in labels}


def _told(scene: Scene, body: Entry, part: str, by: Claim) -> Iterator[Diagnostic]:
    own = by.ref("thing").name
    for entry in scene.claims.entries.values():
        for claim in entry.claims:
            refs = [value for _, value in claim.values if isinstance(value, Ref)]
            if entry.name == own or not any((ref.name, ref.part) == (body.name, part) for ref in refs):
                continue
            said = f"`{body.name}.{part}` is cut away by `{by.text}`: `{claim.text}` of {entry.kind} "
            said += f"`{entry.name}` counts from where it was"
            advice = (f"if it was read from what is there now, name that:  {by.ref('thing')}",)
            others = (Label(by.span, "this cuts it away"),)
            yield Diagnostic("flat-trimmed", Severity.NOTE, said, claim.span, others=others, advice=advice)
