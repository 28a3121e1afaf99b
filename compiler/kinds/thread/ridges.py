"""The surface of a threaded stretch: ridges that wind about z and the ground between them, as one strip of a
turned mesh.

The strip takes the place of the plain cylinder between two circles of the turned surface; its columns stand
over the corners of those circles, so that the ground between the ridges lies in the cylinder's own facets.
Both ends of a ridge fade into the ground: what screws on finds its way in, and no edge is feather-thin.

The free side.  A ridge is material, so its facets must lie within the true ridge.  On a bolt the corners lie
on the true surface, and chords cut inside.  In a bore the corners are set out to r / cos(step / 2), so that
the middles of the chords touch.  A panel of a flank is not flat; of its two diagonals one lies within the
ridge, the other outside: where the flank climbs with the turn, a diagonal drawn outwards hangs below the true
flank by about lead x step x depth / (4 pi r), drawn inwards it stands above it by as much.  Each flank takes
the one that hangs inside.

Rejected.  A ridge as a solid of its own, joined to its core, is simpler to mesh; but then the two cross in
every facet all along the helix, which took the kernel as long as the whole of the rest of a bolt."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import partial

import numpy as np
from msgspec import Struct

from ...diagnostics.types import Trouble
from ...mesh.kernel import Solid, drop_collapsed
from ...mesh.turnings import SurfaceStrip, facet_count, prepared, swept, unit_circle
from ...quantities.arrays import Bools, Floats, Ints, Longs
from ...quantities.vectors import XY
from .form import ThreadForm
from .section import ridge_section

MEETS = 1e-6
MOST_POINTS = 150_000
MOST_TURNS = 500
LEAST_TURNS = 0.1
LONGEST_FADE = 0.5
FADE_SHARE = 0.25
"""Each end of a ridge fades over half a turn, or over this share of a ridge of less than two turns."""
MOST_STARTS = 60
MOST_STEPS = 4096
OFF_ENDS = 0.002
"""How far (mm) a ridge keeps off the circles its stretch ends at: no closer, or points there could not be
told apart.
"""
THIN = 0.25
"""Share of a crest that the bulge of a flank's panels may take: the ridges of steep threads are narrow beside
their steps.
"""


class Wound(Struct, frozen=True):
    """A stretch of a turned surface that is threaded, between two heights (mm); `left`: as it is to wind in
    the mesh.
    """

    form: ThreadForm
    low: float
    high: float
    left: bool
    label: int


def threaded(profile: Floats, labels: Ints, outside: Bools, chord: float, threads: Sequence[Wound]) -> Solid:
    """As `turned`, with threads that wind along upright edges at the radius of their ground.

    Raises Trouble: what `turned`, `along_edges` and `strip` raise."""
    profile, labels, outside, n = prepared(profile, labels, outside, chord)
    profile, labels, outside, counts, wound = along_edges(profile, labels, outside, n, threads, chord)
    strips = {edge: partial(_strip, one, chord) for edge, one in wound.items()}
    return swept(profile, labels, outside, counts, strips)


def _strip(one: Wound, chord: float, count: int) -> SurfaceStrip:
    return strip(one, count, chord)


def along_edges(
    profile: Floats, labels: Ints, outside: Bools, n: int, threads: Sequence[Wound], chord: float
) -> tuple[Floats, Ints, Bools, Longs, dict[int, Wound]]:
    """A half profile with corners where threads begin and end; the facets round each corner; the threaded
    edges.

    A thread takes what is straight of its stretch: bevels and rounds at its ends are left to themselves.
    Raises Trouble: 'thread-too-short' where nothing is, 'bad-thread', 'too-many-facets'."""
    rows = [
        (float(r), float(z), int(label), bool(out))
        for (r, z), label, out in zip(profile, labels, outside, strict=True)
    ]
    stretches: list[tuple[float, float, Wound]] = []
    for one in threads:
        i, start, stop = _stretch(rows, one)
        (_, z, label, out), to = rows[i], rows[(i + 1) % len(rows)][1]
        start, stop = (z if abs(start - z) <= MEETS else start), (to if abs(stop - to) <= MEETS else stop)
        rows[i + 1 : i + 1] = [(rows[i][0], end, label, out) for end in (start, stop) if end not in (z, to)]
        stretches.append(
            (start, stop, Wound(one.form, min(start, stop), max(start, stop), one.left, one.label))
        )
    wound = {}
    for start, stop, one in stretches:
        wound[
            next(
                i
                for i, row in enumerate(rows)
                if _upon(row, one) and row[1] == start and rows[(i + 1) % len(rows)][1] == stop
            )
        ] = one
    drawn = np.array([row[:2] for row in rows])
    columns = _columns(drawn[:, 0], wound, n, steps_a_turn(threads, chord))
    return drawn, np.array([row[2] for row in rows]), np.array([row[3] for row in rows]), columns, wound


def _upon(row: tuple[float, float, int, bool], one: Wound) -> bool:
    return abs(row[0] - 0.5 * one.form.ground) < MEETS


def _stretch(rows: list[tuple[float, float, int, bool]], one: Wound) -> tuple[int, float, float]:
    """The edge that a thread winds along, and the heights it begins and ends at, the way the edge runs."""
    for i, row in enumerate(rows):
        to = rows[(i + 1) % len(rows)]
        low, high = max(one.low, min(row[1], to[1])), min(one.high, max(row[1], to[1]))
        if _upon(row, one) and _upon(to, one) and high - low > MEETS:
            return (i, low, high) if row[1] < to[1] else (i, high, low)
    raise Trouble("thread-too-short", "nothing straight is left of the stretch this thread winds along")


def _columns(radii: Floats, wound: dict[int, Wound], n: int, count: int) -> Longs:
    """Facets round each corner: `n`, at threads `count`; the same all over where circles beside a thread come
    so close that the corners of the one would lie beyond the facets of the other."""
    size = len(radii)
    columns = np.full(size, n)
    at = sorted({corner % size for edge in wound for corner in (edge, edge + 1)})
    columns[at] = count
    bulge = 2.0 * (1.0 / math.cos(math.pi / min(n, count)) - math.cos(math.pi / min(n, count)))
    for corner in at:
        for other in ((corner - 1) % size, (corner + 1) % size):
            if (
                columns[other] != count
                and radii[other] > 0.0
                and abs(radii[other] - radii[corner]) < bulge * radii[corner]
            ):
                whole = math.lcm(4, *(one.form.starts for one in wound.values()))
                return np.full(size, whole * math.ceil(max(n, count) / whole))
    return columns


def steps_a_turn(threads: Sequence[Wound], chord: float) -> int:
    """Columns round a turned surface with these threads: each ridge begins over one of them.  Raises
    Trouble.
    """
    for one in threads:
        if one.form.starts > MOST_STARTS:
            raise Trouble("bad-thread", f"{one.form.starts} starts: no thread has so many")
    whole = math.lcm(4, *(one.form.starts for one in threads))
    count = whole * math.ceil(max(_finest(one.form, chord) for one in threads) / whole)
    if count > 2 * MOST_STEPS:
        raise Trouble(
            "too-many-facets",
            "the starts of these threads don't go together in one mesh",
            advice=("make two turnings of it",),
        )
    return count


def _finest(form: ThreadForm, chord: float) -> int:
    """Steps that keep to the chord, and so many that the diagonals of both flanks stay clear of one another.

    A diagonal between the radii r and R leaves its flank by about lead / (2 count) x (R - r) / (R + r).
    """
    count = facet_count(0.5 * max(form.across, form.core), chord)
    bulge = 0.5 * form.lead * abs(form.across - form.core) / (form.across + form.core)
    while bulge / count > THIN * form.crest and count < MOST_STEPS:
        count *= 2
    return count


def turns_over(form: ThreadForm, tall: float, chord: float) -> tuple[float, float]:
    """How many turns a ridge makes on a stretch of this length (mm), and how many of them at its full
    height.
    """
    foot = 2.0 * (ridge_section(form, chord)[-1][0] + OFF_ENDS)
    turns = (tall - foot) / form.lead
    return turns, turns - 2.0 * min(LONGEST_FADE, FADE_SHARE * turns)


def strip(one: Wound, count: int, chord: float) -> SurfaceStrip:
    """The threaded surface about z between circles of `count` corners.

    Raises Trouble: 'thread-too-short', 'too-many-facets'.
    """
    form = one.form
    section = ridge_section(form, chord)
    foot = 2.0 * (section[-1][0] + OFF_ENDS)
    tall = one.high - one.low
    turns = (tall - foot) / form.lead
    if turns < LEAST_TURNS:
        whole = foot + form.lead
        raise Trouble(
            "thread-too-short",
            f"a thread with {form.pitch:.4g} from crest to crest needs more than {tall:.4g} mm of length",
            advice=(f"{whole:.4g} would be one turn",),
        )
    steps = math.floor(turns * count + 1e-9)
    if turns * form.starts > MOST_TURNS or steps * (2 * len(section) + 2) * form.starts > MOST_POINTS:
        raise Trouble(
            "too-many-facets",
            f"this thread has {turns * form.starts:.0f} turns: too many facets to make",
            advice=("ask for coarser curves: --chord 0.05", "make the thread shorter"),
        )
    begins = np.arange(form.starts) * (count // form.starts)
    points = _points(form, section, count, steps, begins, one.low + 0.5 * foot)
    at = 2 * count + np.arange(points.size // 3).reshape(form.starts, steps + 1, -1)
    half = at.shape[-1] // 2
    # At either end the section has sunk into the ground: of its corners only those at its foot are left.
    for end in (0, -1):
        at[:, end, :half], at[:, end, half:] = at[:, end, :1], at[:, end, -1:]
    height = np.concatenate([np.full(count, one.low), np.full(count, one.high), points[..., 2].reshape(-1)])
    ridge, ground = _flanks(at, form.outside), _ground(at, begins, count, height)
    both = np.concatenate([ridge, ground])
    triangles, mark = drop_collapsed(both, (np.arange(len(both)) < len(ridge)).astype(np.int32))
    flat = points.reshape(-1, 3)
    if one.left:
        flat = flat * [1.0, -1.0, 1.0]
        mirror = -np.arange(count) % count
        triangles = np.concatenate([mirror, count + mirror, 2 * count + np.arange(len(flat))])[
            triangles[:, ::-1]
        ]
    return SurfaceStrip(flat, triangles, np.flatnonzero(mark), one.label)


def _points(
    form: ThreadForm, section: Sequence[XY], count: int, steps: int, begins: Longs, start: float
) -> Floats:
    """Corners (starts, steps + 1, 2 levels, 3) of right-handed ridges: at each step the section from its
    lower foot over the crest to its upper foot."""
    wide, tall = (np.array(column) for column in zip(*section, strict=True))
    step = np.arange(steps + 1)
    fade = max(1.0, min(LONGEST_FADE * count, FADE_SHARE * steps))
    height = np.clip(np.minimum(step, steps - step) / fade, 0.0, 1.0)[:, None] * np.concatenate(
        [tall[::-1], tall]
    )
    ground = 0.5 * form.ground
    radius = ground + height if form.outside else (ground - height) / math.cos(math.pi / count)
    width = wide[None, :] - _narrower(form, count, steps, fade, float(tall[0]), float(radius.min()))[:, None]
    if width.min() <= 0.0:
        whole = 2.0 * (wide[-1] + OFF_ENDS) + form.lead
        raise Trouble(
            "thread-too-short",
            "on so short a stretch the ridge of this steep thread fades out before it stands",
            advice=(f"{whole:.4g} would be one turn",),
        )
    points = np.empty((len(begins), *radius.shape, 3))
    circle = unit_circle(count)[(begins[:, None] + step) % count]
    points[..., :2] = radius[..., None] * circle[:, :, None]
    points[..., 2] = (start + form.lead * step / count)[:, None] + np.concatenate(
        [-width[:, ::-1], width], axis=1
    )
    return points


def _narrower(form: ThreadForm, count: int, steps: int, fade: float, tall: float, least: float) -> Floats:
    """How much (mm) each section (steps + 1,) is narrower than the true one, so that chords of upright flanks
    stay within.

    Along a chord over the step 2 h the height runs evenly and the angle does not: they part by up to 2 p h^3
    / (9 sqrt 3), p = lead / 2 pi, and where the ridge rises by d over a step, by p tan(h) d / 2 r more."""
    half = math.pi / count
    rise = form.lead / math.tau
    step = np.arange(steps + 1)
    fading = np.minimum(step, steps - step) <= fade + 1.0
    narrower = 0.13 * half**3 + fading.astype(np.float64) * (math.tan(half) * tall / (2.0 * fade * least))
    return np.asarray(rise * narrower, dtype=np.float64)


def _flanks(at: Longs, outside: bool) -> Longs:
    """Triangles of the ridges, from the numbers of their corners (starts, steps + 1, levels)."""
    here, here_up = at[:, :-1, :-1], at[:, :-1, 1:]
    on, on_up = at[:, 1:, :-1], at[:, 1:, 1:]
    # The diagonal of the upper flank runs outwards with the turn, that of the lower one inwards.
    bolt, bore = ((here, on, here_up), (on, on_up, here_up)), ((here, on, on_up), (here, on_up, here_up))
    return np.concatenate([np.stack(three, -1).reshape(-1, 3) for three in (bolt if outside else bore)])


def _ground(at: Longs, begins: Longs, count: int, height: Floats) -> Longs:
    """Triangles of what lies between the ridges and the two circles, all in the facets of the cylinder.

    In each facet ridges pass one above the other: a panel reaches from what bounds it below to what bounds it
    above."""
    steps = at.shape[1] - 1
    facet = np.arange(count)
    on = (facet + 1) % count
    sector = np.concatenate([facet, facet, ((begins[:, None] + np.arange(steps)) % count).reshape(-1)])
    lower, upper = at[:, :, 0], at[:, :, -1]  # feet
    # (left, right) ends of the upper bound of what passes, which is below a panel, and of its lower bound
    below = np.stack(
        [
            np.concatenate([facet, facet, upper[:, :-1].reshape(-1)]),
            np.concatenate([on, on, upper[:, 1:].reshape(-1)]),
        ]
    )
    above = np.stack(
        [
            np.concatenate([count + facet, count + facet, lower[:, :-1].reshape(-1)]),
            np.concatenate([count + on, count + on, lower[:, 1:].reshape(-1)]),
        ]
    )
    level = height[below[0]]
    level[count : 2 * count] = np.inf
    order = np.lexsort((level, sector))
    first, second = order[:-1], order[1:]
    inner = sector[first] == sector[second]
    a, b = below[:, first[inner]]
    d, c = above[:, second[inner]]
    where = sector[first[inner]]
    special: dict[int, tuple[list[int], list[int]]] = {}
    for start, begin in enumerate(begins.tolist()):
        for left, end, column in ((False, 0, (begin - 1) % count), (True, -1, (begin + steps) % count)):
            feet = [int(lower[start, end]), int(upper[start, end])]
            edge = (a, d) if left else (b, c)
            z = height[feet[0]]
            found = np.flatnonzero((where == column) & (height[edge[0]] < z) & (z < height[edge[1]]))
            special.setdefault(int(found[0]), ([], []))[0 if left else 1].extend(feet)
    plain = np.ones(len(a), dtype=np.bool_)
    plain[list(special)] = False
    rows = [np.stack([a, b, c], -1)[plain], np.stack([a, c, d], -1)[plain]]
    for panel, (left_feet, right_feet) in special.items():
        left_side = [int(a[panel]), *sorted(left_feet, key=height.__getitem__), int(d[panel])]
        right_side = [int(b[panel]), *sorted(right_feet, key=height.__getitem__), int(c[panel])]
        rows.append(np.array(list(_zipped(left_side, right_side, height)), dtype=np.int64))
    return np.concatenate(rows)


def _zipped(left: list[int], right: list[int], height: Floats) -> Iterator[tuple[int, int, int]]:
    """Triangles of a facet between two upright rows of corners, each from the lowest up."""
    i = j = 0
    while i + 1 < len(left) or j + 1 < len(right):
        if j + 1 == len(right) or (i + 1 < len(left) and height[left[i + 1]] < height[right[j + 1]]):
            yield left[i], right[j], left[i + 1]
            i += 1
        else:
            yield left[i], right[j], right[j + 1]
            j += 1
