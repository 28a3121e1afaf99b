"""The ridges of a thread as closed meshes that wind about z, one for each start.

A ridge stands on its ground (the core of a bolt, the wall of a bore) and reaches a little into it, so that joining the
two leaves no seam.  Both ends fade into the ground: what screws on finds its way in, and no edge is feather-thin.

The free side.  A ridge is material, so its facets must lie within the true ridge.  On a bolt the corners lie on the true
surface, and chords cut inside.  In a bore the corners are set out to r / cos(step / 2), so that the middles of the
chords touch.  A panel of a flank is not flat; of its two diagonals one lies within the ridge, the other outside: where
the flank climbs with the turn, a diagonal drawn outwards hangs below the true flank by about lead x step x depth /
(4 pi r), drawn inwards it stands above it by as much.  Each flank takes the one that hangs inside.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from ..diagnostics.types import Trouble
from ..facts.threads import ThreadForm
from ..profiles.threads import ridge_section
from ..profiles.types import XY
from .kernel import Longs, Solid, from_arrays
from .turnings import facet_count, unit_circle
from .types import Floats

MOST_POINTS = 150_000
MOST_TURNS = 500
LEAST_TURNS = 0.1
LONGEST_FADE = 0.5
INTO = 0.02
MOST_STARTS = 60
MOST_STEPS = 4096
THIN = 0.25
"""Share of a crest that the bulge of a flank's panels may take: the ridges of steep threads are narrow beside their steps."""


def ridges(form: ThreadForm, low: float, high: float, chord: float, label: int, flip: bool = False) -> list[Solid]:
    """The ridges of a thread about z between the heights `low` and `high` (mm), to be joined to what they stand on.

    `flip` makes the other hand.  Raises Trouble: 'thread-too-short', 'too-many-facets'.
    """
    section = ridge_section(form, chord)
    foot = 2.0 * section[-1][0]
    turns = (high - low - foot) / form.lead
    if turns < LEAST_TURNS:
        whole = foot + form.lead
        raise Trouble("thread-too-short", f"a thread with {form.pitch:.4g} from crest to crest needs more than "
                      f"{high - low:.4g} mm of length", advice=(f"{whole:.4g} would be one turn",))  # fmt: skip
    if form.starts > MOST_STARTS:
        raise Trouble("bad-thread", f"{form.starts} starts: no thread has so many")
    count = _steps_a_turn(form, chord)
    steps = math.floor(turns * count + 1e-9)
    if turns * form.starts > MOST_TURNS or steps * (2 * len(section) + 2) * form.starts > MOST_POINTS:
        raise Trouble("too-many-facets", f"this thread has {turns * form.starts:.0f} turns: too many facets to make",
                      advice=("ask for coarser curves: --chord 0.05", "make the thread shorter"))  # fmt: skip
    left = form.left != flip
    start = low + 0.5 * foot
    found = []
    for number in range(form.starts):
        first = _points(form, section, count, steps, chord, left, start)
        turn = number / form.starts
        c, s = math.cos(math.tau * turn), math.sin(math.tau * turn)
        spun = first if number == 0 else first @ np.array([[c, s, 0.0], [-s, c, 0.0], [0.0, 0.0, 1.0]])
        found.append(_closed(spun, len(section), left, form.outside, label))
    return found


def _steps_a_turn(form: ThreadForm, chord: float) -> int:
    """Steps that keep to the chord, and so many that the diagonals of both flanks stay clear of one another.

    A diagonal between the radii r and R leaves its flank by about lead / (2 count) x (R - r) / (R + r).
    """
    count = facet_count(0.5 * max(form.across, form.core), chord)
    bulge = 0.5 * form.lead * abs(form.across - form.core) / (form.across + form.core)
    while bulge / count > THIN * form.crest and count < MOST_STEPS:
        count *= 2
    return count


def buried(chord: float) -> float:
    """How far (mm) a ridge reaches into what it stands on: deeper than facets cut into it."""
    return INTO + 3.0 * chord


def _points(form: ThreadForm, section: Sequence[XY], count: int, steps: int, chord: float, left: bool, start: float) -> Floats:
    """Corners ((steps + 1) * 2 * levels, 3): at each step the upper side of the section from crest to root, then the lower."""
    into = buried(chord)
    levels = [*section, (section[-1][0], -into)]
    wide = np.array([half for half, _ in levels])
    tall = np.array([height for _, height in levels])
    step = np.arange(steps + 1)
    fade = max(1.0, min(LONGEST_FADE * count, 0.25 * steps))
    share = np.clip(np.minimum(step, steps - step) / fade, 0.0, 1.0)
    # Crest and flanks sink with the share; at nothing all of them lie just below the ground.
    sunk = -0.5 * into + share[:, None] * (tall[None, :-1] + 0.5 * into)
    height = np.concatenate([sunk, np.full((steps + 1, 1), -into)], axis=1)
    ground = 0.5 * form.ground
    radius = ground + height if form.outside else (ground - height) / math.cos(math.pi / count)
    circle = unit_circle(count)[step % count]
    if left:
        circle = circle * [1.0, -1.0]
    middle = start + form.lead * step / count
    points = np.empty((steps + 1, 2, len(levels), 3))
    points[..., :2] = radius[:, None, :, None] * circle[:, None, None, :]
    width = wide[None, :] - _narrower(form, count, steps, fade, float(tall[0]) + 0.5 * into, float(radius.min()))[:, None]
    points[:, 0, :, 2] = middle[:, None] + width
    points[:, 1, :, 2] = middle[:, None] - width
    return points.reshape(-1, 3)


def _narrower(form: ThreadForm, count: int, steps: int, fade: float, tall: float, least: float) -> Floats:
    """How much (mm) each section (steps + 1,) is narrower than the true one, so that chords of upright flanks stay within.

    Along a chord over the step 2 h the height runs evenly and the angle does not: they part by up to
    2 p h^3 / (9 sqrt 3), p = lead / 2 pi, and where the ridge rises by d over a step, by p tan(h) d / 2 r more.
    """
    half = math.pi / count
    rise = form.lead / math.tau
    step = np.arange(steps + 1)
    fading = np.minimum(step, steps - step) <= fade + 1.0
    narrower = 0.13 * half**3 + fading.astype(np.float64) * (math.tan(half) * tall / (2.0 * fade * least))
    return np.asarray(rise * narrower, dtype=np.float64)


def _closed(points: Floats, levels: int, left: bool, outside: bool, label: int) -> Solid:
    """The ridge between its sections (`levels` corners down either side, and one more in the ground) as a closed mesh."""
    rungs = levels + 1
    size = 2 * rungs
    at = np.arange(len(points)).reshape(-1, 2, rungs)
    here, on = at[:-1], at[1:]
    rows: list[Longs] = []

    def panel(a: Longs, b: Longs, c: Longs, d: Longs) -> None:
        """Two triangles of a panel a, b, c, d with the diagonal from a to c."""
        rows.extend([np.stack([a, b, c], -1).reshape(-1, 3), np.stack([a, c, d], -1).reshape(-1, 3)])

    upper, lower = here[:, 0], here[:, 1]
    upper_on, lower_on = on[:, 0], on[:, 1]
    # The diagonal of the upper flank runs outwards with the turn, that of the lower one inwards; levels count from the
    # crest, which is the outer end on a bolt and the inner one in a bore.
    if outside:
        panel(upper[:, 1:], upper[:, :-1], upper_on[:, :-1], upper_on[:, 1:])
        panel(lower[:, :-1], lower[:, 1:], lower_on[:, 1:], lower_on[:, :-1])
    else:
        panel(upper[:, :-1], upper_on[:, :-1], upper_on[:, 1:], upper[:, 1:])
        panel(lower[:, 1:], lower_on[:, 1:], lower_on[:, :-1], lower[:, :-1])
    panel(upper[:, 0], lower[:, 0], lower_on[:, 0], upper_on[:, 0])
    panel(lower[:, -1], upper[:, -1], upper_on[:, -1], lower_on[:, -1])
    first, last = at[0], at[-1]
    for k in range(rungs - 1):
        rows.append(np.array([[first[0, k], first[0, k + 1], first[1, k + 1]], [first[0, k], first[1, k + 1], first[1, k]]]))
        rows.append(np.array([[last[0, k], last[1, k + 1], last[0, k + 1]], [last[0, k], last[1, k], last[1, k + 1]]]))
    triangles = np.concatenate(rows)
    a, b, c = (points[triangles[:, k]] for k in range(3))
    if float(np.einsum("ij,ij->", a, np.cross(b, c))) < 0.0:
        triangles = triangles[:, ::-1]
    assert size * len(at) == len(points)
    return from_arrays(points, triangles, np.full(len(triangles), label))
