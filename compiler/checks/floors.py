"""Does a blind hole leave enough floor, or does it come out on the other side?

A floor of less than two layers of 0.2 is printed with gaps or not at all (common practice, no source).  Where
another body goes on behind the floor there is nothing to say."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ..diagnostics.types import Diagnostic, Severity
from ..model.types import Depth, Mouth
from .openings import Opening, PlaneOpenings, Survey

FLOOR = 0.4
EXACT = 1e-6
_BEYOND = 1e-3


def thin_floors(scene: Survey, group: PlaneOpenings) -> Iterator[Diagnostic]:
    """A warning for each hole or counterbore of a body, once for all its copies, that leaves less than
    `FLOOR` behind its bottom.
    """
    if group.body.plane != group.plane:
        return
    low, high = group.body.low, group.body.high
    for one in group.openings:
        told: Depth | Mouth | None = one.hole.depth if one.mouth is None else one.mouth
        blind = told is not None and not (isinstance(told, Mouth) and told.conical) and one.copy == 1
        if told is None or not blind:
            continue
        # one that begins at a plane inside the body has two ends, and goes against the way the plane faces
        down = told.out > 0 if math.isfinite(one.low) and math.isfinite(one.high) else math.isinf(one.high)
        bottom, back = (one.low, low) if down else (one.high, high)
        floor = abs(bottom - back) if (bottom > back) == down else 0.0
        if floor > FLOOR - EXACT or _goes_on(scene, group, one, back + (back - 0.5 * (low + high)) * _BEYOND):
            continue
        says = f"leaves a floor of only {floor:.2f} mm" if floor > EXACT else "comes out on the other side"
        thick = f"`{group.body.name}` is {high - low:.2f} there"
        yield Diagnostic(
            "thin-floor",
            Severity.WARNING,
            f"{one.shown} {says}: {thick}",
            told.said.span,
            advice=("less deep, or a thicker body; a hole that is to go through needs no `deep`",),
        )


def _goes_on(scene: Survey, group: PlaneOpenings, one: Opening, height: float) -> bool:
    """True where the box of another body holds the point behind the floor."""
    point = scene.model.frames[group.plane].point(one.cores[0][0], height)
    for body in scene.bodies_but(group.body.name):
        box = scene.shop.solid(body.name).bounding_box()
        if all(box[k] - EXACT <= point[k] <= box[k + 3] + EXACT for k in range(3)):
            return True
    return False
