"""The half profile of a turning from its stations.

Stations name their own places, so their order can't matter: where two outer stations overlap the larger one
holds, where two bores overlap the wider one does, and a groove cuts whatever stands there.  Gaps are
answered, not filled."""

from __future__ import annotations

import itertools
from collections.abc import Callable

import numpy as np
from msgspec import Struct

from ...diagnostics.types import Trouble
from ...outlines.marks import Marks
from ...quantities.arrays import Floats, Ints
from .. import needed_file
from .edges import Corner, eased
from .model import Turning
from .stretches import Stretch, check_count, outside_of, shaped, stretch_of

Profile = tuple[Floats, Ints, np.ndarray]
"""Corners (n, 2) as (r, z) in mm, labels (n,) of the edges that follow them, True (n,) for corners of the
outside.
"""


class AsBuilt(Struct, frozen=True, eq=False):
    """A turning as it is built along z: its half profile, the height of its station 0 (mm), and which way its
    stations run from there (1: up, -1: down).
    """

    turning: Turning
    profile: Profile
    base: float
    out: int


SHORT = 1e-9  # mm along the axis: less is no stretch
LEAST_WALL = (
    0.0005  # mm, on the radius: what is thinner is no wall, and faceted outside and inside would cross
)


def half_profile(turning: Turning, marks: Marks, base: float, out: int, chord: float) -> Profile:
    """The closed half profile of a turning whose station 0 lies at `base`.

    Where it is threaded it is cut down (bored) to what the ridges stand on.  Raises Trouble:
    'gap-in-turning', 'bad-station', 'no-wall', 'bevel-too-large', 'thread-misses'."""
    name, threads = turning.name, turning.threads
    side, bore = marks.of(name, "side"), marks.of(name, "bore")
    outer = outside_of(turning, side)
    inner = [stretch_of(station, bore) for station in turning.bored]
    grooves = [stretch_of(station, marks.of(name, "groove")) for station in turning.grooves]
    cuts = [Stretch(one.start, one.stop, one.ground, one.ground, marks.of(name, "thread")) for one in threads]
    for one in threads:
        others = [
            cut for cut, other in zip(cuts, threads, strict=True) if other.form.outside != one.form.outside
        ]
        needed_file("turning", "threads").check_thread(
            name,
            one,
            outer,
            [*grooves, *others] if not one.form.outside else grooves,
            [*inner, *others] if one.form.outside else inner,
            chord,
        )
    for cut, one in zip(cuts, threads, strict=True):
        (grooves if one.form.outside else inner).append(cut)
    beads, ridges, scoops = _shapes(turning, outer, inner, marks, chord)
    grooves += scoops
    stops = _stops([*outer, *inner, *grooves, *beads, *ridges])
    low, high = min(one.start for one in outer), max(one.stop for one in outer)
    stops = [one for one in stops if low - 1e-9 <= one <= high + 1e-9]
    corners: list[Corner] = []
    for start, stop in itertools.pairwise(stops):
        corners.extend(_piece(name, [*outer, *beads], grooves, start, stop, max))
    inside: list[Corner] = []
    for start, stop in itertools.pairwise(stops):
        inside.extend(_bored(inner, ridges, start, stop))
    _check_wall(name, corners, inside)
    front = marks.of(name, "front" if out > 0 else "back")
    back = marks.of(name, "back" if out > 0 else "front")
    outline = [(r, z, True, label) for r, z, _, label in corners]
    outline[-1] = (*outline[-1][:3], front)
    # Where it is not bored the inside runs along the axis and has no label; the floor of a blind bore belongs
    # to the bore.
    inside = [(r, z, False, label if label >= 0 else bore) for r, z, _, label in reversed(inside)]
    inside = [(*one[:3], inside[i + 1][3] if i + 1 < len(inside) else back) for i, one in enumerate(inside)]
    ring = _tidied([*outline, *inside])
    for edge in turning.eased:
        ring = eased(name, ring, edge, marks, chord)
    points = np.array([(r, base + out * z) for r, z, _, _ in ring], dtype=np.float64)
    labels = np.array([label for *_, label in ring], dtype=np.int32)
    return points, labels, np.array([outer_one for _, _, outer_one, _ in ring], dtype=np.bool_)


def surface_of(built: AsBuilt, marks: Marks) -> list[Stretch]:
    """The surface that teeth follow, along z as built: the stations, and the beads and hollows that stand on
    them.

    What is let into a turning (grooves, coves, vees, bevels, rounds) is left out: teeth run over it at their
    own depth."""
    turning, (_, labels, outside) = built.turning, built.profile
    words = {*(one.word for one in turning.shaped), *(one.word for one in turning.eased)}
    standing = [marks.of(turning.name, word) for word in ("bead", "hollow") if word in words]
    some = [_built(one, built.base, built.out) for one in outside_of(turning)]
    some += _lengthwise(built.profile, outside, np.isin(labels, standing))
    found: list[Stretch] = []
    for start, stop in itertools.pairwise(_stops(some)):
        middle = 0.5 * (start + stop)
        there = [one for one in some if one.start < middle < one.stop]
        if there and stop - start > SHORT:
            best = max(there, key=lambda one: one.radius(middle))
            found.append(Stretch(start, stop, best.radius(start), best.radius(stop), 0))
    return found


def bore_of(profile: Profile) -> list[Stretch]:
    """The bore of a turning, along z as built."""
    return [one for one in _lengthwise(profile, ~profile[2]) if max(one.first, one.second) > 0.0]


def _lengthwise(profile: Profile, kept: np.ndarray, edges: np.ndarray | bool = True) -> list[Stretch]:
    """Those of some edges of a ring that run along the axis and of which both corners are kept."""
    points, _, _ = profile
    ends = np.roll(points, -1, axis=0)
    some = edges & kept & np.roll(kept, -1) & (np.abs(ends[:, 1] - points[:, 1]) > SHORT)
    return [
        Stretch(z, w, r, s, 0) if z < w else Stretch(w, z, s, r, 0)
        for (r, z), (s, w) in zip(points[some].tolist(), ends[some].tolist(), strict=True)
    ]


def _built(one: Stretch, base: float, out: int) -> Stretch:
    if out > 0:
        return Stretch(base + one.start, base + one.stop, one.first, one.second, one.label)
    return Stretch(base - one.stop, base - one.start, one.second, one.first, one.label)


def _shapes(
    turning: Turning, outer: list[Stretch], inner: list[Stretch], marks: Marks, chord: float
) -> tuple[list[Stretch], list[Stretch], list[Stretch]]:
    """What beads add outside, what they add in the bore, and what coves and vees take away."""
    found: dict[str, list[Stretch]] = {"bead": [], "inside": [], "": []}
    check_count(turning)
    for one in turning.shaped:
        key = "inside" if one.inside else one.word if one.word == "bead" else ""
        label = marks.of(turning.name, one.word)
        found[key] += shaped(turning.name, one, inner if one.inside else outer, label, chord)
    return found["bead"], found["inside"], found[""]


def _stops(stretches: list[Stretch]) -> list[float]:
    """Every place on the axis where something begins, ends, or two radii change places."""
    places = {place for one in stretches for place in (one.start, one.stop)}
    along = sorted(stretches, key=lambda one: (one.start, one.stop, one.first, one.second))
    for i, a in enumerate(along):
        for b in along[i + 1 :]:
            if b.start >= a.stop:
                break
            low, high = max(a.start, b.start), min(a.stop, b.stop)
            if low < high:
                before, after = a.radius(low) - b.radius(low), a.radius(high) - b.radius(high)
                if before * after < 0:
                    places.add(low + (high - low) * before / (before - after))
    return sorted(places)


def _piece(
    name: str,
    outer: list[Stretch],
    grooves: list[Stretch],
    start: float,
    stop: float,
    pick: Callable[..., Stretch],
) -> list[Corner]:
    middle = 0.5 * (start + stop)
    covering = [one for one in outer if one.start < middle < one.stop]
    if not covering:
        raise Trouble(
            "gap-in-turning",
            f"turning `{name}` has nothing from {start:g} to {stop:g}",
            (name,),
            advice=(f"add a station:  across 10.0 from {start:g} to {stop:g}",),
        )
    best = pick(covering, key=lambda one: one.radius(middle))
    cutting = [
        one for one in grooves if one.start < middle < one.stop and one.radius(middle) < best.radius(middle)
    ]
    if cutting:
        best = min(cutting, key=lambda one: one.radius(middle))
    return [(best.radius(start), start, True, best.label), (best.radius(stop), stop, True, best.label)]


def _bored(inner: list[Stretch], ridges: list[Stretch], start: float, stop: float) -> list[Corner]:
    middle = 0.5 * (start + stop)
    covering = [one for one in inner if one.start < middle < one.stop]
    if not covering:
        return [(0.0, start, False, -1), (0.0, stop, False, -1)]
    best = max(covering, key=lambda one: one.radius(middle))
    standing = [
        one for one in ridges if one.start < middle < one.stop and one.radius(middle) < best.radius(middle)
    ]
    if standing:
        best = min(standing, key=lambda one: one.radius(middle))
    return [(best.radius(start), start, False, best.label), (best.radius(stop), stop, False, best.label)]


def _check_wall(name: str, corners: list[Corner], inside: list[Corner]) -> None:
    ends = (corners[0], corners[-1])
    for corner, (hollow, *_) in zip(corners, inside, strict=True):
        r, z, *_ = corner
        pointed = r > -1e-9 and hollow == 0.0 and corner in ends
        if hollow >= r - LEAST_WALL and not pointed:
            raise Trouble(
                "no-wall",
                f"turning `{name}` has no wall left at {z:g}: {2 * r:g} across outside, {2 * hollow:g} bored",
                (name,),
            )


def _tidied(ring: list[Corner]) -> list[Corner]:
    """Without repeated corners and without corners in the middle of a straight stretch of one label."""
    kept: list[Corner] = []
    for corner in ring:
        if kept and abs(kept[-1][0] - corner[0]) < 1e-9 and abs(kept[-1][1] - corner[1]) < 1e-9:
            kept[-1] = (*kept[-1][:2], kept[-1][2] or corner[2], corner[3])
        else:
            kept.append(corner)
    if len(kept) > 1 and abs(kept[0][0] - kept[-1][0]) < 1e-9 and abs(kept[0][1] - kept[-1][1]) < 1e-9:
        kept.pop()
    found = []
    for i, corner in enumerate(kept):
        before, after = kept[i - 1], kept[(i + 1) % len(kept)]
        straight = abs(
            (corner[0] - before[0]) * (after[1] - corner[1])
            - (corner[1] - before[1]) * (after[0] - corner[0])
        )
        if straight > 1e-9 or before[3] != corner[3]:
            found.append(corner)
    # A step is a face square to the axis: it belongs to the stretch that stands out.
    return [(r, z, o, label if label >= 0 else 0) for r, z, o, label in found]
