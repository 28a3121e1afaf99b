"""A thread measured back on the corners of its ridges: what a thread gauge and callipers over it find.

What it should be follows from its line alone: the basic profile of ISO 68-1 with H = sqrt(3) / 2 P (its bolt
rounded with H / 6 at the root), or the readings of the neighbour it goes on; moved by the clear that is
asked for."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
from msgspec import Struct

from ...callipers.bench import Bench
from ...callipers.surfaces import Facets
from ...callipers.taking import Seen, follows, sized
from ...callipers.turned import FoundAxis, axis_of_bands
from ...callipers.types import Taken
from ...model import Thing
from ...model.stated import Number, Said
from ...quantities.arrays import Floats
from ...quantities.tables import metric_thread

GONE = "too little of its ridges is left on the part"
POINTED = "so much clear leaves its ridge pointed before it is so high"
NEAR = 2e-5
SHARE = 0.2
"""Of the corners that the most frequent radius has: what fewer have is no crest or ground."""
MOST_STARTS = 60
LEAST_DEEP = 1e-3
LEAST_RIDGE = 0.05
"""mm: a crest narrower than this is cut lower, where it is so wide (at fine pitches P / 8)."""


class FoundThread(Struct, frozen=True):
    """A thread on the mesh: its axis, the faces of its ridges (of its ground, too), whether it is in a
    bore.
    """

    axis: FoundAxis
    facets: Facets
    inside: bool


def wound_round(bench: Bench, thing: Thing, inside: bool) -> FoundThread | None:
    """The thread of a peg or bore, whose ridges have faces of their own name."""
    facets = bench.own(thing, 1, "thread")
    groups = (bench.own(thing, 1, ""), facets)
    axis = axis_of_bands(groups, bench.home(thing), bench.model.frame(thing).out)
    return None if axis is None else FoundThread(axis, facets, inside)


class Found(Struct, frozen=True):
    """A thread as it was found: diameters over (inside: between) its crests and at its ground, the width of
    its crests, how far its flanks run along the axis for each mm off it, its pitch and its lead (None: less
    than a turn is left), which is < 0 for a left-handed one.
    """

    crests: float
    ground: float
    wide: float
    lean: float
    pitch: float | None
    lead: float | None


class Told(Struct, frozen=True):
    """A thread as its line has it, of a bolt or its nut: across and core; pitch; how wide the ridge is at
    its tip and where it stands; its lead (left-handed: < 0); `named`: after a screw."""

    across: float
    core: float
    pitch: float
    crest: float
    foot: float
    lead: float
    named: bool

    @property
    def slope(self) -> float:
        """How the flanks lean, radians."""
        return math.atan2(self.foot - self.crest, self.across - self.core)


def thread_rows(
    bench: Bench, thing: Thing, numbers: list[Number], wound: FoundThread | None
) -> Iterator[Taken]:
    """All that the line of a thread says or means, by the numbers of that line."""
    meant = next((one for one in numbers if one.key == "meant"), None)
    if meant is None:
        return
    said = meant.size.said
    told = None if wound is None else _told(bench, said, wound.inside)
    clear = next((one for one in numbers if one.key == "clear"), None)
    found = None if wound is None else _found(wound, bench.mirrored)
    if wound is None or told is None or found is None:
        yield from (sized(thing, one, None, GONE) for one in numbers if one.key in ("meant", "clear"))
        return
    mine = told if said.word == "thread" else _mate(told, meant.size.value, wound.inside)
    pointed = mine.crest < min(LEAST_RIDGE, 0.125 * mine.pitch)
    outer = found.ground if wound.inside else found.crests
    seen: Seen = (None, POINTED) if pointed and not wound.inside else (outer, "")
    yield sized(thing, meant, *seen)
    if clear is not None:
        at_crest = found.crests - told.core if wound.inside else told.across - found.crests
        yield sized(thing, clear, *((None, POINTED) if pointed else (at_crest, "")))
    yield from _following(thing, said, mine, found, wound.inside)


def _following(thing: Thing, said: Said, mine: Told, found: Found, inside: bool) -> Iterator[Taken]:
    """What follows without numbers: core, width of the ridge, pitch, lead."""
    least = min(LEAST_RIDGE, 0.125 * mine.pitch)
    if not inside:
        yield follows(thing, said, "core", _ground(mine), (found.ground, ""))
    elif mine.crest >= least:
        yield follows(thing, said, "core", mine.core, (found.crests, ""))
    lower = found.crests - mine.core if inside else mine.across - found.crests
    wide = mine.crest + max(0.0, lower) * math.tan(mine.slope)
    yield follows(thing, said, "crest", wide, (found.wide, ""))
    deep = mine.across - found.crests if inside else found.crests - mine.core
    yield follows(thing, said, "foot", mine.foot, (found.wide + found.lean * deep, ""))
    for key, meant, seen in (("pitch", mine.pitch, found.pitch), ("lead", mine.lead, found.lead)):
        yield follows(thing, said, key, meant, (seen, "" if seen is not None else GONE))


def _ground(mine: Told) -> float:
    """Where the ridges of an outside thread stand: its core; of one that is named after a screw the bottom of
    its rounded root, which touches both flanks at the core: its radius is half the gap / cos s."""
    if not mine.named:
        return mine.core
    rounding = 0.5 * (mine.pitch - mine.foot) / math.cos(mine.slope)
    return mine.core - 2 * rounding * (1 - math.sin(mine.slope))


def _mate(told: Told, across: float, inside: bool) -> Told:
    """The thread that goes with another, g all round from it: its gap at either radius, less
    2 g (1 - sin s) / cos s along the axis; `across` tells g."""
    moved = across - told.across
    widen = abs(moved) * (1 - math.sin(told.slope)) / math.cos(told.slope)
    return Told(
        across,
        told.core + moved,
        told.pitch,
        told.pitch - told.foot - widen,
        told.pitch - told.crest - widen,
        told.lead,
        told.named,
    )


def _told(bench: Bench, said: Said, inside: bool) -> Told | None:
    """The thread that a line names: that of `thread` itself, else its mate's."""
    neighbour = next((bench.model.things[name] for name in said.of if name in bench.model.things), None)
    if neighbour is not None:
        return _read(neighbour)
    words = said.text.removeprefix(said.word).replace(",", " ").split()
    name = next(word for word in words if word != "inside")
    one = metric_thread(name, "fine" in words)
    p = one.pitch
    height = math.sqrt(0.75) * p
    bolt = inside == (said.word != "thread")  # mine is a bolt's, or my mate is one
    crest, foot = (p / 8, 0.75 * p) if bolt else (0.25 * p, 0.875 * p)
    return Told(one.across, one.across - 1.25 * height, p, crest, foot, p, True)


def _read(neighbour: Thing) -> Told | None:
    """The thread that was read from a neighbour."""
    sizes = {(one.word, one.key): one.size.value for one in neighbour.numbers}
    deep, across, core = (sizes.get((word, "size")) for word in ("deep", "across", "core"))
    if across is None and core is not None and deep is not None:
        across = core + 2 * deep
    if core is None and across is not None and deep is not None:
        core = across - 2 * deep
    crest, foot, pitch = (sizes.get((word, "size")) for word in ("crest", "foot", "pitch"))
    if across is None or core is None or crest is None or foot is None or pitch is None:
        return None
    pitch /= sizes.get(("pitch", "over"), 1.0)
    hand = -1 if any(said.word == "left-handed" for said in neighbour.said) else 1
    lead = hand * pitch * sizes.get(("starts", "count"), 1.0)
    return Told(across, core, pitch, crest, foot, lead, False)


# -- on the mesh --------------------------------------------------------------------------------


def _found(wound: FoundThread, mirrored: bool) -> Found | None:
    """The thread on the mesh; a mirrored part keeps the hand of its threads, so on the bench they have the
    other one."""
    axis, facets = wound.axis, wound.facets
    if facets.empty:
        return None
    seen = axis.across(facets.corners)
    radii, angles = np.linalg.norm(seen, axis=2), np.arctan2(seen[..., 1], seen[..., 0])
    usual, count = np.unique(np.round(radii, 5), return_counts=True)
    usual = usual[count >= SHARE * count.max()]
    crest, ground = (usual[0], usual[-1]) if wound.inside else (usual[-1], usual[0])
    crowns = (np.abs(radii - crest) < NEAR).all(axis=1)
    columns = _columns(axis.heights(facets.corners[crowns]), angles[crowns])
    if len(columns) < 3 or crest == ground:
        return None
    angle, middle, wide = columns.T
    step = math.tau / round(math.tau / float(np.median(_gaps(angle))))
    # in a bore the middles of the chords touch the true surface
    true = math.cos(0.5 * step) if wound.inside else 1.0
    pitch = _pitch(angle, middle)
    if pitch is not None:
        lead: float | None = pitch * _starts(angle, middle, pitch)
    else:
        pitch, lead = _short(angle, middle, step)
    if lead is not None and mirrored:
        lead = -lead
    lean = _lean(axis.heights(facets.corners), angles, radii * true, float(crest) * true)
    sizes = 2 * float(crest) * true, 2 * float(ground) * true, float(np.median(wide))
    return Found(*sizes, lean, pitch, lead)


def _columns(heights: Floats, angles: Floats) -> Floats:
    """Where crests run over a column of corners: angle, height of their middle, and width (n, 3)."""
    rows = []
    for k in range(3):
        a, b = k, (k + 1) % 3
        upright = np.abs(np.mod(angles[:, a] - angles[:, b] + math.pi, math.tau) - math.pi) < 1e-6
        wide = np.abs(heights[:, a] - heights[:, b])
        middle = 0.5 * (heights[:, a] + heights[:, b])
        rows.append(np.stack([angles[:, a], middle, wide], axis=1)[upright])
    found: Floats = np.unique(np.round(np.concatenate(rows), 6), axis=0)
    return found


def _lean(heights: Floats, angles: Floats, radii: Floats, crest: float) -> float:
    """How far flanks run along the axis for each mm off it: by their edges over one column of corners that
    begin at a full crest."""
    found: list[float] = []
    for k in range(3):
        a, b = k, (k + 1) % 3
        upright = np.abs(np.mod(angles[:, a] - angles[:, b] + math.pi, math.tau) - math.pi) < 1e-6
        off = np.abs(radii[:, a] - radii[:, b])
        full = (np.abs(radii[:, a] - crest) < NEAR) | (np.abs(radii[:, b] - crest) < NEAR)
        mine = upright & full & (off > LEAST_DEEP)
        found += (np.abs(heights[:, a] - heights[:, b])[mine] / off[mine]).tolist()
    return float(np.median(found)) if found else 0.0


def _gaps(angles: Floats) -> Floats:
    """How far columns are apart."""
    gaps: Floats = np.diff(np.unique(np.round(np.mod(angles, math.tau), 5)))
    return gaps if len(gaps) else np.array([math.tau])


def _pitch(angles: Floats, heights: Floats) -> float | None:
    """From crest to crest over a column: the usual step; None where no column has two."""
    column = np.round(np.mod(angles, math.tau), 5)
    order = np.lexsort((heights, column))
    same = np.diff(column[order]) < 1e-4
    steps = np.diff(heights[order])[same]
    return float(np.median(steps)) if len(steps) else None


def _short(angles: Floats, heights: Floats, step: float) -> tuple[float | None, float | None]:
    """Pitch and lead of ridges of less than a turn: how they climb from column to column, and how many of
    them there are."""
    apart = np.mod(angles[None, :] - angles[:, None] + math.pi, math.tau) - math.pi
    climb = np.where(np.abs(apart - step) < 0.01 * step, heights[None, :] - heights[:, None], np.inf)
    nearest = climb[np.arange(len(climb)), np.abs(climb).argmin(axis=1)]
    nearest = nearest[np.isfinite(nearest)]
    if not len(nearest) or abs(float(np.median(nearest))) < 1e-9:
        return None, None
    lead = float(np.median(nearest)) * math.tau / step
    winding = np.sort(np.mod(math.tau * heights / lead - angles, math.tau))
    gaps = np.diff(np.concatenate([winding, winding[:1] + math.tau]))
    count = int((gaps > 0.5 * math.tau / MOST_STARTS).sum())
    return abs(lead) / max(1, count), lead


def _starts(angles: Floats, heights: Floats, pitch: float) -> int:
    """How many ridges wind side by side (left-handed: < 0): by so many pitches a turn all crests lie on one
    helix."""
    # so many columns can't tell a helix from one that winds half as many times faster
    columns = len(np.unique(np.round(np.mod(angles, math.tau), 5)))
    most = min(MOST_STARTS, max(1, columns // 2 - 1))
    turns = np.array([k for k in range(-most, most + 1) if k != 0])
    phase = math.tau * heights[None, :] / pitch - turns[:, None] * angles[None, :]
    together = np.abs(np.exp(1j * phase).mean(axis=1))
    return int(turns[int(together.argmax())])


__all__ = ["FoundThread", "thread_rows", "wound_round"]
