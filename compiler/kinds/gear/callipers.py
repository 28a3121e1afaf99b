"""A gear measured back: teeth counted, over tips and over some teeth; module, shift, helix and play by the
base circle of its flanks (ISO 21771)."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from ...callipers.bench import Bench
from ...callipers.involutes import Involutes, involutes, tip_axis
from ...callipers.locating import on_axis
from ...callipers.prisms import thickness
from ...callipers.standing import raised
from ...callipers.surfaces import RoundFace, square_to, vector
from ...callipers.taking import Seen, follows, sized, turned
from ...callipers.teeth import phase_of, section
from ...callipers.turned import FoundAxis
from ...callipers.types import ALLOWED, Taken
from ...model.stated import Number
from ...places.layout import Frame
from ...quantities.gears import PRESSURE, angle_of, involute
from ...quantities.vectors import XY
from .model import GearBody

GONE = "too little of its teeth is left on the part"
COUNTS = "it tells over how many teeth the jaws were laid"
SNAPPED = "within what it was read to: all readings of the gear come to one module and shift"
LESS_PLAY = "less its backlash"
USUAL_PLAY = 0.1
"""mm that each tooth gives up where no `backlash` is said."""
LEAST_TIP = 0.1
"""Modules: a tooth is cut back where it would get thinner."""
LOOK = 24
TIGHT = 0.02
"""mm: centres that were read no further off those of the plain gears ask for no shift."""


class Wheel(Struct, frozen=True):
    """What the mesh says of a gear: its teeth in the middle, its lean (radians, right-handed > 0), the module
    and the shift that follow."""

    seen: Involutes
    lean: float
    module: float
    shift: float
    play: float


def where(bench: Bench, gear: GearBody, number: int, frame: Frame) -> tuple[tuple[XY, float], ...]:
    """Where its axis is on a plane: by its rim, or the corners of its tips."""
    axis = _axis(bench, gear, number)
    if axis is None:
        return ()
    face = RoundFace(axis.start, axis.way, 0.0, False, 0.0, 0.0, 0.0)
    return on_axis(face, frame, bench.home(gear, number))


def _axis(bench: Bench, gear: GearBody, number: int = 1) -> FoundAxis | None:
    way = bench.turned(gear, number, bench.model.frame(gear).out)
    right, up = (vector(one) for one in square_to(np.asarray(way)))
    start = bench.home(gear, number)
    rim = bench.rounded(bench.own(gear, number, "side"), way)
    if rim is not None:
        point = np.asarray(rim.point) + (np.asarray(start) - np.asarray(rim.point)) @ np.asarray(
            way
        ) * np.asarray(way)
        return FoundAxis(vector(point), way, right, up)
    facets = bench.own(gear, number, "teeth")
    return tip_axis(facets, FoundAxis(start, way, right, up))


def measures(bench: Bench, gear: GearBody) -> Iterator[Taken]:
    """The sizes of the gear, and what follows from them."""
    wheel, words = _wheel(bench, gear), {number.word for number in gear.numbers}
    for number in gear.numbers:
        if number.word == "thick":
            yield thickness(bench, gear, number)
        elif number.word == "rim":
            rim = bench.rounded(bench.own(gear, 1, "side"), bench.model.frame(gear).out)
            yield sized(gear, number, *((2 * rim.radius, "") if rim is not None else (None, GONE)))
        elif number.word in ("teeth", "module", "shift", "backlash", "span", "across", "helix", "meshes"):
            yield _row(bench, gear, number, wheel)
    yield from raised(bench, gear)
    if wheel is not None:
        yield from _following(bench, gear, wheel, words)


def _row(bench: Bench, gear: GearBody, number: Number, wheel: Wheel | None) -> Taken:
    if number.key == "over":
        return sized(gear, number, None, COUNTS)
    if wheel is None:
        return sized(gear, number, None, GONE)
    if number.word == "helix":
        hand = -1 if "left-handed" in number.size.said.text else 1
        return turned(gear, number, hand * math.degrees(wheel.lean))
    if number.word == "across":
        return _read(gear, number, wheel.seen.over_tips, 0.0)
    if number.word == "span":
        over = next(one.size.value for one in gear.numbers if one.word == "span" and one.key == "over")
        less = 0.0 if _inside(gear) else wheel.play * math.cos(wheel.lean) * math.cos(PRESSURE)
        return _read(gear, number, wheel.seen.span(int(over)), less)
    if number.word == "meshes":
        return _centres(bench, gear, number, wheel)
    found = {
        "teeth": wheel.seen.count,
        "module": wheel.module,
        "shift": wheel.shift,
        "backlash": wheel.play,
    }[number.word]
    return sized(gear, number, found)


def _inside(gear: GearBody) -> bool:
    return any(said.word == "inside" for said in gear.said)


def _read(gear: GearBody, number: Number, found: float, less: float) -> Taken:
    """A reading over teeth.  A module of ISO 54 is taken where all readings are met within their
    give-or-take, so the mesh may be off each by as much."""
    size = number.size
    read = size.made if size.read is None else size.read
    row = sized(gear, number, found, LESS_PLAY if less else SNAPPED, read.value - less)
    return replace(row, allowed=ALLOWED + math.sqrt(3.0) * read.u)


# -- what the mesh says -------------------------------------------------------------------------


def _wheel(bench: Bench, gear: GearBody) -> Wheel | None:
    axis, facets, inside = _axis(bench, gear), bench.own(gear, 1, "teeth"), _inside(gear)
    if axis is None or facets.empty:
        return None
    heights = axis.heights(facets.corners)
    low, high = float(heights.min()), float(heights.max())
    seen = involutes(facets, axis, inside)
    if seen is None:
        return None
    twist = _twist(bench, gear, axis, (low, high), seen)
    lean = 0.0
    for _ in range(LOOK):  # tan b = r twist, and r follows from the base circle by b
        pressure = math.atan(math.tan(PRESSURE) / math.cos(lean))
        lean = math.atan(0.5 * seen.base / math.cos(pressure) * twist)
    pressure = math.atan(math.tan(PRESSURE) / math.cos(lean))
    pitch = seen.base / math.cos(pressure)
    module = pitch * math.cos(lean) / seen.count
    shift = 0.5 * (seen.root - pitch) / module + (-1.25 if inside else 1.25)
    thick = pitch * (seen.half - involute(pressure))
    plain = 0.5 * math.pi * pitch / seen.count + 2 * shift * module * math.tan(pressure)
    return Wheel(seen, lean, module, shift, thick - plain if inside else plain - thick)


def _twist(
    bench: Bench, gear: GearBody, axis: FoundAxis, ends: tuple[float, float], seen: Involutes
) -> float:
    """How far teeth turn on the way up the axis, radians a mm, followed from section to section."""
    facets, (low, high) = bench.own(gear, 1, "teeth"), ends
    pitch, middle = math.tau / seen.count, 0.25 * (seen.tip + seen.root)
    heights = [low + (high - low) * (0.001 + 0.998 * k / LOOK) for k in range(LOOK + 1)]
    phases: list[float] = []
    for at in heights:
        phase = phase_of(section(facets, axis, at), middle, _inside(gear))
        if phase is None:
            return 0.0
        before = phases[-1] if phases else phase
        phases.append(before + (phase - before + 0.5 * pitch) % pitch - 0.5 * pitch)
    return (phases[-1] - phases[0]) / (heights[-1] - heights[0])


# -- what follows -------------------------------------------------------------------------------


def _following(bench: Bench, gear: GearBody, wheel: Wheel, words: set[str]) -> Iterator[Taken]:
    """Play where none is said; tips and feet of ISO 53 where module and shift are."""
    sizes = {(number.word, number.key): number.size.value for number in gear.numbers}
    said = next(said for said in gear.said if said.word == "teeth")
    if "backlash" not in words:
        yield follows(gear, said, "backlash", USUAL_PLAY, (wheel.play, ""))
    module = sizes.get(("module", "size")) or _mates_module(bench, gear)
    if module is None:
        return
    if "module" not in words:
        yield follows(gear, said, "module", module, (wheel.module, ""))
    if "shift" not in words and words & {"across", "span", "meshes"}:
        return  # found of the readings, and measured by them
    if "shift" not in words and any(one.word == "from" for one in gear.numbers):
        return
    shift, way = sizes.get(("shift", "number"), 0.0), -1 if _inside(gear) else 1
    lean = math.radians(sizes.get(("helix", "angle"), 0.0))
    pitch = module * sizes[("teeth", "count")] / math.cos(lean)
    yield follows(gear, said, "root", pitch + 2 * module * (shift - way * 1.25), (wheel.seen.root, ""))
    if "shift" not in words:
        yield follows(gear, said, "shift", 0.0, (wheel.shift, ""))
    yield follows(gear, said, "tip", pitch + 2 * module * (shift + way), _tip(wheel, way))


def _tip(wheel: Wheel, way: int) -> Seen:
    """The tip circle; None where no tooth gets so far: they would come to a point, or end at the base
    circle."""
    seen = wheel.seen
    there = math.acos(min(1.0, seen.base / seen.tip))
    land = (seen.half - involute(there)) * seen.tip
    if (way > 0 and land < 1.05 * LEAST_TIP * wheel.module) or (way < 0 and seen.tip < 1.0001 * seen.base):
        return None, "its tips are cut back: no flank reaches further"
    return seen.tip, ""


def _mates_module(bench: Bench, gear: GearBody) -> float | None:
    """The module that its mate tells by its line."""
    for said in gear.said:
        if said.word == "meshes":
            mate = bench.model.things.get(said.of[0]) if said.of else None
            told = [] if mate is None else [one for one in mate.numbers if one.word == "module"]
            if told:
                return told[0].size.value
    return None


def _centres(bench: Bench, gear: GearBody, number: Number, wheel: Wheel) -> Taken:
    """How far apart the gear and its mate mesh, each with its shift: inv aw = inv at + 2 (x1 + x2) tan an /
    (z1 + z2); with a ring the differences."""
    mate = bench.model.things.get(number.size.said.of[0]) if number.size.said.of else None
    sizes = {} if mate is None else {(one.word, one.key): one for one in mate.numbers}
    if mate is None or ("teeth", "count") not in sizes:
        return sized(gear, number, None, "its mate is not told by its teeth")
    other, inside = sizes[("teeth", "count")].size.value, _inside(gear)
    ring = inside or any(said.word == "inside" for said in mate.said)
    shift = _mates_shift(sizes, wheel.module)
    count = abs(other - wheel.seen.count) if ring else other + wheel.seen.count
    total = (wheel.shift - shift if inside else shift - wheel.shift) if ring else shift + wheel.shift
    pressure = math.atan(math.tan(PRESSURE) / math.cos(wheel.lean))
    reference = 0.5 * wheel.module / math.cos(wheel.lean) * count
    working = angle_of(involute(pressure) + 2 * total * math.tan(PRESSURE) / count)
    found = reference * math.cos(pressure) / math.cos(working)
    plain = angle_of(
        involute(pressure) + 2 * (total - _own(wheel, ring, inside)) * math.tan(PRESSURE) / count
    )
    row = sized(gear, number, found, "where the two mesh without play but their backlash")
    read = number.size.made if number.size.read is None else number.size.read
    give = TIGHT + math.sqrt(3.0) * read.u
    if abs(reference * math.cos(pressure) / math.cos(plain) - read.value) > give:
        return row  # the shift follows from the centres, so they are met
    return replace(row, allowed=ALLOWED + give)


def _own(wheel: Wheel, ring: bool, inside: bool) -> float:
    """The share of its own shift in what moves the centres."""
    return -wheel.shift if ring and not inside else wheel.shift


def _mates_shift(sizes: dict[tuple[str, str], Number], module: float) -> float:
    """The shift of a mate: as said, or by what was read over its teeth or tips where that asks for one."""
    if ("shift", "number") in sizes:
        return sizes[("shift", "number")].size.value
    count = sizes[("teeth", "count")].size.value
    lean = math.radians(sizes[("helix", "angle")].size.value) if ("helix", "angle") in sizes else 0.0
    for word in ("span", "across"):
        number = sizes.get((word, "size"))
        if number is None:
            continue
        read = number.size.made if number.size.read is None else number.size.read
        if word == "span":
            over = sizes[("span", "over")].size.value
            transverse = math.atan(math.tan(PRESSURE) / math.cos(lean))
            plain = math.cos(PRESSURE) * (math.pi * (over - 0.5) + count * involute(transverse))
            step = 2 * math.sin(PRESSURE)
        else:
            plain, step = count / math.cos(lean) + 2, 2.0
        shift = (read.value / module - plain) / step
        return shift if abs(shift) * step * module > math.sqrt(3.0) * read.u + 1e-6 else 0.0
    return 0.0


__all__ = ["measures", "where"]
