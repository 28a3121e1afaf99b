"""What is worked into things, in the words of the recipe with its sizes as made: beads, coves, grips, slopes,
letters.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from ...facts import BODIES, Claim, Entry
from ...facts.turned import SHAPED
from ...quantities.vectors import Vector, along, clean, cross, dot
from ..slopes import Slope
from .amounts import amount, exactly, shown
from .lettering import DIAMETER
from .notes_types import Note
from .relations import finished_way
from .turned import Axis
from .views import Scene, finished

CUT = ("serrated", "splines", "diamond", "hex", "square", "flat")
NEAR = 1e-3  # mm


def owner(scene: Scene, entry: Entry) -> str:
    """The name of a body before what is said of it; '' where there is no other body."""
    return f"{entry.name} " if len(scene.claims.of_kind(*BODIES)) > 1 else ""


def on_turning(scene: Scene, entry: Entry) -> Iterator[Note]:
    """A note at each bead, cove, vee and grip of a turning, where it is seen from the side."""
    axis = Axis(scene, entry)
    for k, claim in enumerate(entry.all(*SHAPED, *CUT)):
        sign, text = -1.0 if k % 2 else 1.0, owner(scene, entry) + worked_text(claim)
        note: Note | None = None
        for side, face in ((1, 0), (0, 1)):
            radius, at = _where(scene, entry, claim, axis, axis.sides[side])
            place = along(along(axis.start, (axis.way, at)), (axis.sides[side], sign * radius))
            note = Note(entry.name, place, 0.0, text, axis.sides[face], other=note)
        if note is not None:
            yield note


def _where(scene: Scene, entry: Entry, claim: Claim, axis: Axis, side: Vector) -> tuple[float, float]:
    """How far off the axis a note points, and at which station: a crown or floor, else half way along a
    grip's edge.
    """
    if claim.word in SHAPED:
        return 0.5 * claim.number("size"), claim.number("station")
    start, stop = sorted((claim.number("start"), claim.number("stop")))
    faces, mesh = scene.part.faces, scene.part.mesh
    labels = [i for i, face in enumerate(faces) if face == (entry.name, claim.word)]
    points = mesh.points[np.unique(mesh.triangles[np.isin(mesh.labels, labels)].ravel())] - np.array(
        axis.start
    )
    height = points @ np.array(axis.way)
    off = np.abs(points @ np.array(side))
    # at one end the cut may meet a wider stretch
    ends = [float(off[np.abs(height - end) < NEAR].max(initial=0.0)) for end in (start, stop)]
    return min((one for one in ends if one > 0.0), default=0.0), 0.5 * (start + stop)


def worked_text(claim: Claim) -> str:
    """A line such as `bead 22.4 at 20 wide 3` or `diamond 48 deep 0.6 from 6 to 17`, its main size with its
    tolerance.
    """
    said = " ".join((claim.word, *(("inside",) if claim.get("which") is not None else ())))
    if claim.word in SHAPED:
        said += f" {amount(claim.measure('size')).text(DIAMETER)} at {shown(claim.number('station'))}"
        said += f" wide {shown(claim.number('wide'))}"
        return said + (f" through {shown(claim.number('mouth'))}" if claim.get("mouth") is not None else "")
    if claim.word in ("hex", "square", "flat"):
        said += f" {amount(claim.measure('size')).text()}"
    else:
        said += toothed_text(claim)
    return said + f", from {shown(claim.number('start'))} to {shown(claim.number('stop'))}"


def toothed_text(claim: Claim) -> str:
    """How many teeth and how deep, of serrations, splines and a diamond grip."""
    return f" {int(claim.number('count'))} deep {shown(claim.number('depth'))}"


def lettered_text(entry: Entry) -> str:
    """A mark: what it says, how high its letters are, how deep they are sunk or how far they stand out."""
    says, high, depth = entry.one("says"), entry.one("high"), entry.one("raised", "sunk")
    if high is None or depth is None:
        return ""
    said = f"\u201c{says.word_of('text')}\u201d" if says is not None else "arrow"
    return (
        f"{entry.name} {said}, high {amount(high.measure('size')).text()}, "
        f"{depth.word} {shown(depth.number('number'))}"
    )


def slope_note(scene: Scene, slope: Slope) -> Note | None:
    """The angle of a plane that leans or of a sloping flat, at the middle of what it left in the mesh; None
    where nothing.

    It follows from the two heights, so it stands in brackets (ISO 129-1)."""
    part = scene.part
    normal = np.array(finished_way(slope.frame.out, part.mirrored))
    origin = finished(slope.frame.origin, part)
    points = part.mesh.points[np.abs((part.mesh.points - np.array(origin)) @ normal) < NEAR]
    if len(points) < 3:
        return None
    middle = 0.5 * (points.min(axis=0) + points.max(axis=0))
    x, y, z = (middle - normal * float((middle - np.array(origin)) @ normal)).tolist()
    level = clean(cross(slope.frame.out, slope.under.out))
    size = dot(level, level) ** 0.5
    if size < 1e-9:
        return None
    face = finished_way(along((0.0, 0.0, 0.0), (level, 1.0 / size)), part.mirrored)
    angle = exactly(slope.degrees).text().replace(")", "\u00b0)")
    return Note(
        slope.name, (x, y, z), 0.0, f"{slope.name} {slope.word} {_thicknesses(scene, slope)}{angle}", face
    )


def _thicknesses(scene: Scene, slope: Slope) -> str:
    """How thick a plate is at its two places; of the others both heights are drawn."""
    entry = scene.claims.entries[slope.name]
    claim = entry.one("taper") if entry.kind == "plate" else None
    if claim is None:
        return ""
    first, second = (
        f"{amount(claim.quantity(key)).text()} at {claim.ref(place)}"
        for key, place in (("first", "here"), ("second", "there"))
    )
    return f"{first}, {second}, "


def way_of_mark(scene: Scene, entry: Entry) -> Vector:
    """The way a mark faces."""
    spot = scene.layout.spots[entry.name]
    out = scene.layout.frames[spot.page].out
    return finished_way(along((0.0, 0.0, 0.0), (out, -1.0 if spot.out < 0 else 1.0)), scene.part.mirrored)
