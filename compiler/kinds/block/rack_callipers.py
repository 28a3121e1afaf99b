"""The racks of a block measured back on the flanks of their teeth, which lean by 20 degrees (ISO 53)."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from ...callipers.bench import Bench
from ...callipers.surfaces import FlatFace, flats_of
from ...callipers.taking import Seen, follows, sized
from ...callipers.types import ALLOWED, Taken
from ...model.stated import Number
from ...quantities.arrays import Floats
from ...quantities.gears import ADDENDUM, DEDENDUM, PRESSURE
from ...quantities.vectors import Vector, dot
from .model import Block

GONE = "too little of its teeth is left on the part"
COUNTS = "it tells over how many teeth the pitch was read"
SNAPPED = "within what it was read to: a module of ISO 54 is taken where one lies there"
NO_END = "the end of the side that it counts from is not left on the part"
USUAL_PLAY = 0.1
"""mm that each tooth gives up where no `backlash` is said."""
LEANS = 1e-5
WHERE = {
    "left": ("bottom", -1, 0),
    "right": ("bottom", 1, 0),
    "bottom": ("left", -1, 1),
    "top": ("left", 1, 1),
}
"""Of the side that a rack is in: the side its teeth are counted from, which way it faces, along which of the
block's axes."""


class ToothedSide(Struct, frozen=True):
    """A rack on the mesh: where the left and right flanks of its teeth cross the line half way up them, the
    pitch, how thick teeth are on the pitch line, how deep its gaps are (None: no ground is left).
    """

    left: Floats
    right: Floats
    pitch: float
    thick: float
    depth: float | None

    @property
    def teeth(self) -> Floats:
        """The middles of teeth that have both flanks."""
        nearest = [(one, self.right[self.right > one].min(initial=math.inf)) for one in self.left.tolist()]
        whole = [0.5 * (a + b) for a, b in nearest if b - a < self.pitch]
        return np.array(whole)


def rack_rows(bench: Bench, body: Block) -> Iterator[Taken]:
    """All that the lines of racks say."""
    for said in body.said:
        if said.word != "rack":
            continue
        where = said.text.split()[1]
        numbers = {number.key: number for number in body.numbers if number.size.said.span == said.span}
        row = _row(bench, body, where)
        for number in numbers.values():
            yield _taken(bench, body, number, where, row)
        if row is None:
            continue
        if "play" not in numbers:
            yield follows(body, said, "play", USUAL_PLAY, (0.5 * row.pitch - row.thick, ""))
        if "number" not in numbers and "readings" not in numbers:
            wheel = next((bench.model.things[name] for name in said.of if name in bench.model.things), None)
            told = [] if wheel is None else [one for one in wheel.numbers if one.word == "module"]
            if told:
                yield follows(body, said, "pitch", math.pi * told[0].size.value, (row.pitch, ""))
        if row.depth is not None:
            deep = (ADDENDUM + DEDENDUM) * row.pitch / math.pi
            yield follows(body, said, "depth", deep, (row.depth, ""))


def _taken(bench: Bench, body: Block, number: Number, where: str, row: ToothedSide | None) -> Taken:
    if number.key == "over":
        return sized(body, number, None, COUNTS)
    if row is None:
        return sized(body, number, None, GONE)
    if number.key == "first":
        return sized(body, number, *_first(bench, body, where, row))
    if number.key == "readings":
        over = [one for one in body.numbers if one.key == "over"]
        count = next(one.size.value for one in over if one.size.said.span == number.size.said.span)
        read = number.size.made if number.size.read is None else number.size.read
        # the module may be off what was read by as much as the reading may be off
        taken = sized(body, number, row.pitch * count, SNAPPED)
        return replace(taken, allowed=ALLOWED + math.sqrt(3.0) * read.u)
    found = {
        "number": row.pitch / math.pi,
        "count": float(len(row.teeth)),
        "play": 0.5 * row.pitch - row.thick,
    }[number.key]
    return sized(body, number, found)


def _first(bench: Bench, body: Block, where: str, row: ToothedSide) -> Seen:
    """From the left or bottom end of the side to the middle of the first tooth that is whole there."""
    end, _, which = WHERE[where]
    flat = bench.flat(body.name, end)
    along = _ways(bench, body)[1 - which]
    if flat is None or abs(dot(flat.normal, along)) < 1 - LEANS or not len(row.teeth):
        return None, NO_END
    from_end = row.teeth - dot(flat.point, along)
    whole = from_end[from_end > 0.5 * row.thick]
    return (float(whole.min()), "") if len(whole) else (None, GONE)


def _ways(bench: Bench, body: Block) -> tuple[Vector, Vector]:
    frame, turn = bench.model.frame(body), body.placed.turn
    return frame.direction(turn), frame.direction(turn + 0.5 * math.pi)


def _row(bench: Bench, body: Block, where: str) -> ToothedSide | None:
    """The rack in a side, by its flanks: their normals lean by 20 degrees from the side's."""
    _, facing, which = WHERE[where]
    ways = _ways(bench, body)
    along, x, y, z = ways[1 - which], *ways[which]
    out = (facing * x, facing * y, facing * z)
    flats = flats_of(bench.own(body, 1, f"rack {where}"))
    flanks = [flat for flat in flats if abs(dot(flat.normal, out) - math.sin(PRESSURE)) < LEANS]
    sides = flats_of(bench.own(body, 1, where))
    tips = [dot(flat.point, out) for flat in sides if dot(flat.normal, out) > 1 - LEANS]
    grounds = [dot(flat.point, out) for flat in flats if dot(flat.normal, out) > 1 - LEANS]
    pitch = _pitch(flanks, along, out)
    if pitch is None or not tips:
        return None
    line = max(tips) - ADDENDUM * pitch / math.pi
    left = np.sort([_crosses(flat, along, out, line) for flat in flanks if dot(flat.normal, along) < 0])
    right = np.sort([_crosses(flat, along, out, line) for flat in flanks if dot(flat.normal, along) > 0])
    row = ToothedSide(left, right, pitch, 0.0, max(tips) - min(grounds) if grounds else None)
    if not len(row.teeth):
        return None
    thick = [float(right[right > one].min(initial=math.inf)) - one for one in left.tolist()]
    return replace(row, thick=float(np.median([one for one in thick if one < pitch])))


def _crosses(flat: FlatFace, along: Vector, out: Vector, height: float) -> float:
    """How far along the side a flank stands at a height over the middle."""
    rise = height - dot(flat.point, out)
    return dot(flat.point, along) - rise * dot(flat.normal, out) / dot(flat.normal, along)


def _pitch(flanks: list[FlatFace], along: Vector, out: Vector) -> float | None:
    """From a flank to the next that leans the same way: of all steps (over a tooth that is cut away, of two)
    the one that is furthest off the usual one; None where there are no two.
    """
    steps: list[float] = []
    for sign in (-1, 1):
        at = sorted(_crosses(flat, along, out, 0.0) for flat in flanks if dot(flat.normal, along) * sign > 0)
        steps += np.diff(at).tolist()
    if not steps:
        return None
    usual = float(np.median(steps))
    single = [step / max(1, round(step / usual)) for step in steps]
    return max(single, key=lambda step: abs(step - usual))


__all__ = ["rack_rows"]
