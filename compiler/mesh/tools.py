"""Cutters and pegs.

A cutter is set out so that the true cylinder or cone passes; a peg stays inside its true surface.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from ..diagnostics.types import Trouble
from .kernel import Solid
from .turnings import turned


def round_tool(across: float, low: float, high: float, chord: float, label: int) -> Solid:
    """A round cutter: a true cylinder of diameter `across` passes the bore it leaves.  All mm."""
    return _one_label(_frustum(across, across, low, high), chord, label, outside=False)


class Countersink(Struct, frozen=True):
    """A cone cut into a face: `across_face` wide at z = face, `across_deep` (0: a point) at z = face - depth,
    mm.

    A negative depth cuts upwards from a face that looks down.  `above` carries it on straight out of the
    face, through whatever stands there."""

    across_face: float
    across_deep: float
    face: float
    depth: float
    above: float = 0.0


def cone_tool(cone: Countersink, chord: float, label: int) -> Solid:
    """The cutter of a countersink; the true cone fits in."""
    if cone.depth == 0:
        raise Trouble("no-thickness", "a countersink needs a depth")
    way = 1.0 if cone.depth > 0 else -1.0
    deep, top, wide = cone.face - cone.depth, cone.face + way * cone.above, cone.across_face / 2
    profile = [(0.0, deep), (cone.across_deep / 2, deep), (wide, cone.face)]
    if cone.above > 0:
        profile += [(wide, top)]
    profile += [(0.0, top)]
    return _one_label(profile, chord, label, outside=False)


def peg(
    across: float, low: float, high: float, chord: float, label: int, across_high: float | None = None
) -> Solid:
    """A round peg, tapering to `across_high` at its upper end if given; it stays inside its true surface."""
    profile = _frustum(across, across if across_high is None else across_high, low, high)
    return _one_label(profile, chord, label, outside=True)


def _frustum(across_low: float, across_high: float, low: float, high: float) -> list[tuple[float, float]]:
    """The half profile of a round that tapers."""
    if not high > low:
        raise Trouble("no-thickness", "the two ends of this round lie on each other or the wrong way round")
    return [(0.0, low), (across_low / 2, low), (across_high / 2, high), (0.0, high)]


def _one_label(profile: list[tuple[float, float]], chord: float, label: int, *, outside: bool) -> Solid:
    n = len(profile)
    return turned(np.array(profile), np.full(n, label, dtype=np.int32), np.full(n, outside), chord)
