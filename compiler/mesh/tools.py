"""Cutters and pegs.

A cutter is set out so that the true cylinder or cone passes; a peg stays inside its true surface.
"""

from __future__ import annotations

import numpy as np

from ..diagnostics.types import Trouble
from .kernel import Solid
from .turnings import turned


def round_tool(across: float, low: float, high: float, chord: float, label: int) -> Solid:
    """A round cutter: a true cylinder of diameter `across` passes the bore it leaves.  All mm."""
    return _frustum(across, across, low, high, chord, label, outside=False)


def cone_tool(
    across_face: float,
    across_deep: float,
    face: float,
    depth: float,
    chord: float,
    label: int,
    above: float = 0.0,
) -> Solid:
    """A countersink cutter: `across_face` wide at z = face, `across_deep` at z = face - depth; the true cone
    fits in.

    `above` carries it on straight above the face, through whatever stands there.  `across_deep` 0 ends in a
    point. A negative depth cuts upwards from a face that looks down; `above` then reaches below the face."""
    if depth == 0:
        raise Trouble("no-thickness", "a countersink needs a depth")
    way = 1.0 if depth > 0 else -1.0
    profile = [(0.0, face - depth), (across_deep / 2, face - depth), (across_face / 2, face)]
    if above > 0:
        profile += [(across_face / 2, face + way * above)]
    profile += [(0.0, face + way * above)]
    return _one_label(profile, chord, label, outside=False)


def peg(
    across: float, low: float, high: float, chord: float, label: int, across_high: float | None = None
) -> Solid:
    """A round peg, tapering to `across_high` at its upper end if given; it stays inside its true surface."""
    return _frustum(
        across, across if across_high is None else across_high, low, high, chord, label, outside=True
    )


def _frustum(
    across_low: float, across_high: float, low: float, high: float, chord: float, label: int, *, outside: bool
) -> Solid:
    if not high > low:
        raise Trouble("no-thickness", "the two ends of this round lie on each other or the wrong way round")
    profile = [(0.0, low), (across_low / 2, low), (across_high / 2, high), (0.0, high)]
    return _one_label(profile, chord, label, outside=outside)


def _one_label(profile: list[tuple[float, float]], chord: float, label: int, *, outside: bool) -> Solid:
    n = len(profile)
    return turned(np.array(profile), np.full(n, label, dtype=np.int32), np.full(n, outside), chord)
