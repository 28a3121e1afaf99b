"""The outline of a gear square to its axis, cut by the ISO 53 rack as a hobbing machine would cut it.

Problem: the foot of a tooth is not a curve one draws but what the rack's rounded corner leaves behind, and
where teeth are few that corner eats into the flank (undercut).  The corner's centre runs along a trochoid;
what it leaves is the curve at one corner radius from it, measured along the line through the pitch point,
where rack and wheel roll on each other.  So the foot has a closed form, and so has the flank (an involute of
the base circle).  Where the corner still touches the flank's straight part the two curves are tangent; with
undercut they cross, and the crossing is searched for.

Free side: flanks of a wheel are convex, so corners lie on the involute and chords inside it.  The foot is
hollow: it is drawn by tangents.  A ring's flanks are hollow too, and are drawn by tangents.  A facet never
stands proud of the true curve, and leaves it by no more than the chord error."""

from __future__ import annotations

import itertools
import math

import numpy as np
import numpy.typing as npt

from ..diagnostics.types import Trouble
from ..quantities.arrays import Floats
from ..quantities.gears import DEDENDUM, ROOT, Gear
from .facets import facet_count
from .types import Ring

MOST_TEETH = 400
LEAST_TEETH = 5
LEAST_RING = 16
SAMPLES = 4096
FILLETS = 20


def gear_ring(gear: Gear, chord: float, label: int) -> Ring:
    """The closed outline about the origin, a tooth (ring: a space) on the x axis: anticlockwise, of a ring
    clockwise.

    Raises Trouble('bad-gear') for counts or shifts that leave no tooth."""
    least = LEAST_RING if gear.inside else LEAST_TEETH
    if not least <= gear.teeth <= MOST_TEETH:
        raise Trouble("bad-gear", f"a gear of {gear.teeth} teeth can't be made: {least} to {MOST_TEETH} can")
    half = space_half(gear, chord) if gear.inside else tooth_half(gear, chord)
    tooth = np.concatenate([half * [1.0, -1.0], half[::-1]])
    turn = 2.0 * math.pi * np.arange(gear.teeth) / gear.teeth
    c, s = np.cos(turn)[:, None], np.sin(turn)[:, None]
    x, y = tooth[None, :, 0], tooth[None, :, 1]
    points = np.stack([c * x - s * y, s * x + c * y], axis=-1).reshape(-1, 2)
    if gear.inside:
        points = points[::-1]
    return Ring(np.ascontiguousarray(points), np.full(len(points), label, dtype=np.int32))


def tooth_half(gear: Gear, chord: float) -> Floats:
    """Upper half of a wheel's tooth from the root to the tip, (n, 2); the lower half is its image in the x
    axis.
    """
    foot, start = foot_curve(gear)
    rise = _flank(gear, start, gear.tip, chord)
    flank = np.column_stack(_polar(rise, [gear.half_angle(float(d)) for d in 2.0 * rise]))
    top = _arc(0.5 * gear.tip, gear.half_angle(gear.tip), chord)
    if flank[-1, 1] <= 0.0:
        raise Trouble(
            "bad-gear", f"the teeth of this gear come to a point: {gear.teeth} teeth, shift {gear.shift:g}"
        )
    return np.concatenate([_tangents(foot, chord)[:-1], flank, top])


def space_half(gear: Gear, chord: float) -> Floats:
    """Upper half of a ring's space from the tips of the teeth beside it to its ground, (n, 2)."""
    if gear.root <= gear.tip:
        raise Trouble(
            "bad-gear", f"the teeth of this ring have no height: {gear.teeth} teeth, shift {gear.shift:g}"
        )
    fillet = _ring_fillet(gear)
    rise = _flank(gear, 0.5 * gear.tip, 2.0 * math.hypot(*fillet[0, :2]), 0.5 * chord)
    at = np.column_stack(_polar(rise, [gear.half_angle(float(d)) for d in 2.0 * rise]))
    # Tangents at the sampled points: an involute runs along the line from the foot of its generator, square
    # to it.
    normals = np.array([_involute_normal(gear, float(r), p) for r, p in zip(rise, at, strict=True)])
    corners = [_meet(at[i], normals[i], at[i + 1], normals[i + 1]) for i in range(len(at) - 1)]
    ground = _arc_around(0.5 * gear.root, math.atan2(fillet[-1, 1], fillet[-1, 0]), chord)
    # The tips of the teeth beside it, from the middle of one: a hollow arc like the ground.
    middle = math.pi / gear.teeth
    beside = _arc_around(0.5 * gear.tip, middle - math.atan2(at[0, 1], at[0, 0]), chord)[::-1] * [1.0, -1.0]
    c, s = math.cos(middle), math.sin(middle)
    tips = beside @ np.array([[c, s], [-s, c]])
    return np.concatenate([tips, at[:1], np.array(corners), _tangents(fillet, chord), ground])


def _ring_fillet(gear: Gear) -> Floats:
    """The hollow between a ring's upper flank and its ground, from the flank on, (n, 4): points and normals
    into the ring.

    A circle that touches both.  Its radius is that of the ISO 53 rack, or less where the ground has no room
    for two."""
    radius = ROOT * gear.module
    for _ in range(FILLETS):
        found = _touching(gear, radius)
        if found is not None:
            return found
        radius *= 0.8
    raise Trouble(
        "bad-gear", f"the spaces of this ring come to a point: {gear.teeth} teeth, shift {gear.shift:g}"
    )


def _touching(gear: Gear, radius: float) -> Floats | None:
    """The arc of that radius between flank and ground; None where its centre lies beyond the middle of the
    space.
    """
    low, high = 0.5 * gear.tip, 0.5 * gear.root
    for _ in range(60):
        r = 0.5 * (low + high)
        at = np.array(_polar(np.array([r]), [gear.half_angle(2.0 * r)]))[:, 0]
        normal = _involute_normal(gear, r, at)
        centre = at - radius * normal
        low, high = (r, high) if math.hypot(*centre) + radius < 0.5 * gear.root else (low, r)
    if centre[1] < 0.0 or at[1] <= 0.0 or low < 0.5 * gear.tip + 1e-9:
        return None
    start, stop = math.atan2(normal[1], normal[0]), math.atan2(centre[1], centre[0])
    angles = np.linspace(start, stop, SAMPLES // 16)
    normals = np.column_stack([np.cos(angles), np.sin(angles)])
    return np.column_stack([centre + radius * normals, normals])


def foot_curve(gear: Gear) -> tuple[Floats, float]:
    """What the rack's corner leaves of the upper side of a tooth, from the root up, (n, 4): point and outward
    normal of the corner there; and the radius (mm) from which on the involute holds.

    Frame: the tooth on the x axis.  The rack's corner of radius q has its centre y below the pitch line and x
    beside the middle of its tooth; rolled on by u it touches along the line from the pitch point through that
    centre."""
    mt, mn, at = gear.transverse, gear.module, gear.pressure
    corner = ROOT * mn
    y = (DEDENDUM - ROOT - gear.shift) * mn
    # Half of the rack's tooth at the reference line, and from there to the corner's centre; play widens the
    # rack's tooth.
    wide = (
        0.25 * math.pi * mt
        + 0.5 * gear.thinner
        - (DEDENDUM - ROOT) * mn * math.tan(at)
        - corner / math.cos(at)
    )
    if y <= 0.0:
        raise Trouble("bad-gear", f"a shift of {gear.shift:g} lifts the rack's corner out of the tooth")
    if wide < 0.0:
        raise Trouble("bad-gear", "the teeth of the rack that cuts this gear come to a point")
    radius, end = 0.5 * gear.pitch, y / math.tan(at)
    u = end * np.linspace(0.0, 1.0, SAMPLES)
    away = np.hypot(u, y)
    # The touching point and the normal in the rack's frame: x to the right, y up, the axis at (0, -radius).
    normal = np.column_stack([u / away, np.full(SAMPLES, -y) / away])
    touch = np.column_stack([u, np.full(SAMPLES, -y)]) + corner * normal + [0.0, radius]
    # The wheel has turned by (u - wide) / radius; turned back, the space's middle is up, half a pitch beside
    # the tooth.
    back = (u - wide) / radius
    spin = back - 0.5 * math.pi + math.pi / gear.teeth
    found = np.column_stack([_turned(touch, spin), _turned(normal, spin)])
    flank = (y + corner * math.sin(at)) / math.sin(at)
    reach = 0.5 * gear.pitch * math.sin(at)
    if flank <= reach:
        return found, math.hypot(0.5 * gear.base, reach - flank)
    return _undercut(gear, found)


def _undercut(gear: Gear, foot: Floats) -> tuple[Floats, float]:
    """The foot up to where it crosses the involute, the first time its tooth gets wider than the
    involute's.
    """
    radius = np.hypot(foot[:, 0], foot[:, 1])
    over = radius > 0.5 * gear.base * (1.0 + 1e-9)
    angle = np.arctan2(foot[:, 1], foot[:, 0])
    true = np.array(
        [gear.half_angle(2.0 * float(r)) if o else math.inf for r, o in zip(radius, over, strict=True)]
    )
    wider = np.flatnonzero(over & (angle >= true))
    if not len(wider) or wider[0] == 0:
        raise Trouble("bad-gear", f"{gear.teeth} teeth at a shift of {gear.shift:g} are undercut to nothing")
    k = int(wider[0])
    before, after = angle[k - 1] - true[k - 1], angle[k] - true[k]
    share = before / (before - after) if math.isfinite(before) else 1.0
    last = foot[k - 1] + share * (foot[k] - foot[k - 1])
    start = float(np.hypot(last[0], last[1]))
    if start >= 0.5 * gear.tip:
        raise Trouble("bad-gear", f"{gear.teeth} teeth at a shift of {gear.shift:g} are undercut to nothing")
    return np.concatenate([foot[:k], last[None, :]]), start


def _flank(gear: Gear, start: float, across: float, chord: float) -> Floats:
    """Radii (mm) from `start` to half of `across` at which an involute is sampled: even steps of roll, fine
    enough.
    """
    base = 0.5 * gear.base
    low, high = (math.sqrt(max(0.0, (r / base) ** 2 - 1.0)) for r in (start, 0.5 * across))
    # Between rolls a and b the chord leaves the involute by base x roll x (b - a)^2 / 8: its radius is base x
    # roll.
    count = max(2, math.ceil((high - low) * math.sqrt(base * max(high, 1e-9) / (8.0 * chord))))
    return base * np.sqrt(1.0 + np.linspace(low, high, count + 1) ** 2)


def _tangents(curve: Floats, chord: float) -> Floats:
    """A hollow curve of points and normals as the corners of tangents to it, its ends kept."""
    step = np.hypot(*np.diff(curve[:, :2], axis=0).T)
    turn = np.abs(np.diff(np.unwrap(np.arctan2(curve[:, 3], curve[:, 2]))))
    # A stretch of length s that turns by t leaves its chord by about s t / 8, and the corner of its end
    # tangents as much.
    cost = np.concatenate([[0.0], np.cumsum(np.sqrt(np.maximum(step * turn, 0.0)))])
    count = max(2, math.ceil(float(cost[-1]) / math.sqrt(8.0 * chord)))
    # (numpy's `unique` would load masked arrays, which takes longer than the teeth.)
    picked = sorted(
        {min(int(k), len(curve) - 1) for k in np.searchsorted(cost, np.linspace(0.0, cost[-1], count + 1))}
    )
    some = curve[picked]
    corners = [_meet(a[:2], a[2:], b[:2], b[2:]) for a, b in itertools.pairwise(some)]
    return np.array([some[0, :2], *corners, some[-1, :2]])


def _meet(a: Floats, n: Floats, b: Floats, m: Floats) -> Floats:
    """Where the lines through a square to n and through b square to m meet; the middle of a and b where they
    hardly do.
    """
    det = float(n[0] * m[1] - n[1] * m[0])
    if abs(det) < 1e-9:
        return np.asarray(0.5 * (a + b), dtype=np.float64)
    first, second = float(n @ a), float(m @ b)
    return np.array([(first * m[1] - second * n[1]) / det, (n[0] * second - m[0] * first) / det])


def _involute_normal(gear: Gear, radius: float, at: Floats) -> Floats:
    """The normal of the upper flank there: the direction of its generator, tangent to the base circle."""
    lean = math.atan2(float(at[1]), float(at[0])) - math.acos(min(1.0, 0.5 * gear.base / radius))
    return np.array([-math.sin(lean), math.cos(lean)])


def _arc(radius: float, half: float, chord: float) -> Floats:
    """Corners on the tip circle between a flank's end at angle `half` and the x axis, which the middle facet
    straddles.
    """
    count = math.ceil(half / (math.pi / facet_count(radius, chord))) | 1
    angles = half * (1.0 - 2.0 * np.arange(1, (count + 1) // 2) / count)
    return np.column_stack([radius * np.cos(angles), radius * np.sin(angles)])


def _arc_around(radius: float, half: float, chord: float) -> Floats:
    """Corners of tangents to the ground circle of a space between a flank's end at angle `half` and the x
    axis.
    """
    count = max(1, math.ceil(half / (math.pi / facet_count(radius, chord, around=True))))
    out, step = radius / math.cos(0.5 * half / count), half / count
    return np.array(
        [
            [out * math.cos(half - (k + 0.5) * step), out * math.sin(half - (k + 0.5) * step)]
            for k in range(count)
        ]
    )


def _polar(radius: Floats, angle: list[float]) -> tuple[Floats, Floats]:
    turned = np.array(angle)
    return radius * np.cos(turned), radius * np.sin(turned)


def _turned(points: Floats, angle: npt.NDArray[np.float64]) -> Floats:
    """Points (n, 2) each turned by its own angle, anticlockwise."""
    c, s = np.cos(angle), np.sin(angle)
    return np.column_stack([c * points[:, 0] - s * points[:, 1], s * points[:, 0] + c * points[:, 1]])
