"""The half section of a thread's ridge, cut along the axis: how wide it is at each height over the ground it
stands on.
"""

from __future__ import annotations

import math

from ...quantities.vectors import XY
from .form import ThreadForm


def ridge_section(form: ThreadForm, chord: float) -> tuple[XY, ...]:
    """(half width, height) in mm from the crest down to the ground; the rounded root of a bolt as tangents to
    its arc.

    Tangents of a hollow lie on its free side: the ridge drawn is never wider than the true one, and narrower
    by no more than `chord`."""
    depth = 0.5 * abs(form.across - form.core)
    half_crest, half_foot = 0.5 * form.crest, 0.5 * form.foot
    if not form.rounded:
        return ((half_crest, depth), (half_foot, 0.0))
    radius, low = form.root_radius, 0.5 * (form.core - form.ground)
    arc = 0.5 * math.pi - form.slope
    count = max(1, math.ceil(arc / (2.0 * math.acos(radius / (radius + chord)))))
    out = radius / math.cos(0.5 * arc / count)
    corners = []
    for k in range(count):
        angle = arc * (1.0 - (k + 0.5) / count)
        corners.append((0.5 * form.pitch - out * math.sin(angle), radius - out * math.cos(angle)))
    # The first corner lies on the flank, drawn out beyond where the arc begins; the last one on the ground.
    last = (corners[-1][0], 0.0)
    return ((half_crest, depth + low), *corners[:-1], last)


__all__ = ["ridge_section"]
