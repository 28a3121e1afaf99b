"""Dimensions and notes laid on a drawing (ISO 129-1): where each goes, and the lines, arrows and texts it is
made of.

Every dimension tries lines outside the part, nearest first and on both sides; every note tries places round
its thing. A place where the text would lie on another text, or a line would run through one, is out of the
question; of the rest the one is taken that crosses least and lies nearest.  What finds no place is handed
back and goes into a list."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np
from msgspec import Struct

from ...quantities.arrays import Floats
from ...quantities.vectors import XY
from .lettering import ASCENT, DESCENT, text_boxes, text_width
from .marks import Area, Line, Mark, Role, Text, arrow, line
from .placing import Box, Placer

SIZE = 3.5  # em of figures in mm: 2.3 mm high
FIRST, STEP, LANES = (
    7.0,
    6.5,
    9,
)  # mm from the part to the first dimension line, from one to the next, how many
GAP, OVER = 1.0, 1.5  # mm between the part and an extension line, and of that beyond the dimension line
ARROW = 2.5
_BESIDE = 0.5  # mm between a note and a line it stands beside, or it would be read as part of it
_TEXT_CROSSED, _LINE_CROSSED = 14.0, 1.5


class Place(Struct, frozen=True):
    """A place for something: its marks, the boxes of its texts, its strokes, how bad it is, and its dimension
    line.
    """

    marks: tuple[Mark, ...]
    boxes: tuple[Box, ...]
    strokes: tuple[tuple[XY, XY], ...]
    cost: float
    bar: tuple[XY, XY] | None = None


class Arranging:
    """Lays dimensions and notes on one sheet.  `zones` are the rectangles of the views: no text into a
    foreign one.
    """

    def __init__(self, placer: Placer, zones: Sequence[Box]) -> None:
        self.placer, self.zones = placer, list(zones)
        self.marks: list[Mark] = []
        self._bars: list[tuple[XY, XY]] = []

    def dimension(self, a: XY, b: XY, text: str, outline: Floats, zone: Box) -> bool:
        """A dimension between two points of a view, outside of its strokes (n, 4); False where there is no
        room.
        """
        return self._best(self._dimensions(a, b, text, outline), zone)

    def note(self, at: XY, radius: float | None, lines: Sequence[str], outline: Floats, zone: Box) -> bool:
        """A note with a leader to a round thing, to a point of an edge (radius 0), or into a face (None: it
        ends in a dot).

        False where there is no room."""
        return self._best(self._notes(at, radius, lines, outline), zone)

    def datum(self, at: XY, ways: Sequence[float], letter: str, zone: Box) -> bool:
        """A datum's letter in its frame, on a triangle that stands on the feature at `at`, pointing one of
        the `ways`.
        """
        return self._best(_datums(at, ways, letter), zone)

    def _best(self, places: Iterator[Place], zone: Box) -> bool:
        best: Place | None = None
        for place in places:
            if best is not None and place.cost >= best.cost:
                continue
            if not all(self._free(box, zone) for box in place.boxes):
                continue
            if any(self.placer.struck(*stroke) for stroke in place.strokes):
                continue
            if place.bar is not None and any(_along_one_another(place.bar, other) for other in self._bars):
                continue
            air = _BESIDE if place.bar is None else 0.0
            cost = place.cost + _TEXT_CROSSED * sum(
                self.placer.crossed(_wider(box, air)) for box in place.boxes
            )
            cost += _LINE_CROSSED * sum(self.placer.met(*stroke) for stroke in place.strokes)
            if best is None or cost < best.cost:
                best = Place(place.marks, place.boxes, place.strokes, cost, place.bar)
        if best is None:
            return False
        self.marks.extend(best.marks)
        if best.bar is not None:
            self._bars.append(best.bar)
        for box in best.boxes:
            self.placer.keep_clear(box)
        for stroke in best.strokes:
            self.placer.avoid(stroke)
        return True

    def _free(self, box: Box, zone: Box) -> bool:
        foreign = any(
            box[0] < other[2] and other[0] < box[2] and box[1] < other[3] and other[1] < box[3]
            for other in self.zones
            if other != zone
        )
        return not foreign and self.placer.free(box)

    # -- dimensions --------------------------------------------------------------------------------

    def _dimensions(self, a: XY, b: XY, text: str, outline: Floats) -> Iterator[Place]:
        if (b[0] - a[0], b[1] - a[1]) < (-1e-9, 0.0) or (abs(b[0] - a[0]) <= 1e-9 and b[1] < a[1]):
            a, b = b, a
        long = math.dist(a, b)
        along = np.array([(b[0] - a[0]) / long, (b[1] - a[1]) / long])
        up = np.array([-along[1], along[0]])
        near = np.concatenate([_heights(outline - np.array([*a, *a]), along, up, -1.5, long + 1.5), [0.0]])
        for lane in range(LANES):
            for height in (float(near.max()) + FIRST + STEP * lane, float(near.min()) - FIRST - STEP * lane):
                # the side below or to the right is no better than the other, but two orders must not depend
                # on rounding
                cost = 1.2 * lane + 0.02 * (height < 0) + 0.1 * abs(height)
                yield from _drawn((a, b), (along, up), height, text, cost)

    # -- notes -------------------------------------------------------------------------------------

    def _notes(self, at: XY, rim: float | None, lines: Sequence[str], outline: Floats) -> Iterator[Place]:
        wide = max(text_width(one, SIZE) for one in lines)
        high = SIZE * (ASCENT + DESCENT) * len(lines)
        radius = rim or 0.0
        tips = [(at[0] + radius * math.cos(turn), at[1] + radius * math.sin(turn)) for turn in _TURNS]
        # an arrow should end on a line that is there, not where the rest of a round would have been
        bare = [0.0 if rim is None or on_line(tip, outline) else 25.0 for tip in tips]
        if min(bare) > 0.0:
            rim, radius, tips = None, 0.0, [at] * len(tips)
        for away in (4.0, 5.5, 7.0, 9.0, 11.0, 15.0, 20.0, 26.0, 33.0, 41.0, 50.0, 60.0):
            for turn, tip, lost in zip(_TURNS, tips, bare, strict=True):
                c, s = math.cos(turn), math.sin(turn)
                elbow = (at[0] + c * (radius + away), at[1] + s * (radius + away))
                side = 1.0 if c >= 0 else -1.0
                left = elbow[0] + 2.0 if side > 0 else elbow[0] - 2.0 - wide
                top = elbow[1] + 0.5 * SIZE
                texts = [
                    Text((left, top - SIZE * (ASCENT + (ASCENT + DESCENT) * i)), one, SIZE)
                    for i, one in enumerate(lines)
                ]
                strokes = ((tip, elbow), (elbow, (elbow[0] + 1.5 * side, elbow[1])))
                marks: tuple[Mark, ...] = (
                    *texts,
                    line(Role.NARROW, tip, elbow, strokes[1][1]),
                    _dot(tip) if rim is None else arrow(tip, turn + math.pi),
                )
                box = (left, top - high, left + wide, top)
                yield Place(marks, (box,), strokes, 0.25 * away + 0.2 * abs(s) + lost)


def _dot(at: XY) -> Area:
    turns = [math.pi / 8 * step for step in range(16)]
    return Area((tuple((at[0] + 0.5 * math.cos(turn), at[1] + 0.5 * math.sin(turn)) for turn in turns),))


_TURNS = tuple(math.radians(7.5 + 15 * step) for step in range(24))


def _heights(strokes: Floats, along: Floats, up: Floats, first: float, last: float) -> Floats:
    """Heights of strokes (n, 4) over a line, of what lies between two places along it: at the ends of the
    clipped strokes.
    """
    t = np.column_stack([strokes[:, :2] @ along, strokes[:, 2:] @ along])
    s = np.column_stack([strokes[:, :2] @ up, strokes[:, 2:] @ up])
    kept = (t.min(axis=1) < last) & (t.max(axis=1) > first)
    t, s = t[kept], s[kept]
    way = t[:, 1] - t[:, 0]
    safe = np.where(np.abs(way) < 1e-9, 1.0, way)
    found = []
    for end in range(2):
        share = np.where(np.abs(way) < 1e-9, float(end), (np.clip(t[:, end], first, last) - t[:, 0]) / safe)
        found.append(s[:, 0] + share * (s[:, 1] - s[:, 0]))
    return np.concatenate(found)


def _wider(box: Box, by: float) -> Box:
    """A box with as much more all round, in mm."""
    return box[0] - by, box[1] - by, box[2] + by, box[3] + by


def on_line(point: XY, strokes: Floats) -> bool:
    """True where a point lies on one of the strokes (n, 4), within 0.4 mm."""
    start, way = strokes[:, :2], strokes[:, 2:] - strokes[:, :2]
    away = np.array(point) - start
    share = np.clip(
        np.einsum("ij,ij->i", away, way) / np.maximum(np.einsum("ij,ij->i", way, way), 1e-12), 0.0, 1.0
    )
    return float(np.hypot(*(away - share[:, None] * way).T).min(initial=math.inf)) < 0.4


def _along_one_another(bar: tuple[XY, XY], other: tuple[XY, XY], apart: float = 4.0) -> bool:
    """True where two parallel dimension lines lie on one another, or so near that one would be taken for the
    other's.
    """
    (ax, ay), (bx, by) = bar
    long = math.dist(*bar)
    ux, uy = (bx - ax) / long, (by - ay) / long
    places = [((x - ax) * ux + (y - ay) * uy, (y - ay) * ux - (x - ax) * uy) for x, y in other]
    if abs(places[0][1] - places[1][1]) > 0.5 or abs(places[0][1]) > apart:
        return False
    low, high = sorted(one[0] for one in places)
    return low < long - 0.1 and high > 0.1


def _drawn(
    ends: tuple[XY, XY], ways: tuple[Floats, Floats], height: float, text: str, cost: float
) -> Iterator[Place]:
    """One dimension with its line `height` mm over its first point: text above the line, or beside it where
    it is short.
    """
    (a, b), (along, up) = ends, ways
    long = math.dist(a, b)

    def at(t: float, s: float) -> XY:
        return (float(a[0] + along[0] * t + up[0] * s), float(a[1] + along[1] * t + up[1] * s))

    sign = 1.0 if height > 0 else -1.0
    wide = text_width(text, SIZE)
    turn = math.degrees(math.atan2(along[1], along[0]))
    turn = float(round(turn)) if abs(turn - round(turn)) < 1e-9 else turn
    roomy = long >= 2 * ARROW + 2.0
    strokes = [
        (at(0.0, sign * GAP), at(0.0, height + sign * OVER)),
        (at(long, sign * GAP), at(long, height + sign * OVER)),
    ]
    beyond = 0.0 if roomy else ARROW + 2.0
    spare = max(0.0, long - wide - 2 * ARROW)
    inside = [
        (0.5 * (long - wide) + share * spare, abs(share))
        for share in ((0.0, 0.3, -0.3) if spare > 4 else (0.0,))
    ]
    for start, extra in (*inside, (long + beyond + 1.0, 1.0), (-beyond - 1.0 - wide, 1.2)):
        if extra < 1 and wide > (long if roomy else 0.0):
            continue
        first, last = (
            min(-beyond, start if extra >= 1 else 0.0),
            max(long + beyond, start + wide if extra >= 1 else 0.0),
        )
        bar = (at(first, height), at(last, height))
        words = Text(at(start, height + 0.9), text, SIZE, turn)
        way = math.atan2(along[1], along[0])
        tips = (
            arrow(at(0.0, height), way + (math.pi if roomy else 0.0)),
            arrow(at(long, height), way + (0.0 if roomy else math.pi)),
        )
        marks: tuple[Mark, ...] = (*(line(Role.NARROW, *one) for one in (*strokes, bar)), *tips, words)
        yield Place(marks, tuple(text_boxes(words)), (*strokes, bar), cost + extra, bar)


def _datums(at: XY, ways: Sequence[float], letter: str) -> Iterator[Place]:
    half = 2.5
    for stem in (5.0, 8.0, 12.0, 17.0, 23.0):
        for number, way in enumerate(ways):
            c, s = math.cos(way), math.sin(way)
            foot = (at[0] + 2.2 * c, at[1] + 2.2 * s)
            middle = (at[0] + (stem + half) * c, at[1] + (stem + half) * s)
            reach = half / max(abs(c), abs(s))
            edge = (middle[0] - reach * c, middle[1] - reach * s)
            box = (middle[0] - half, middle[1] - half, middle[0] + half, middle[1] + half)
            frame = ((box[0], box[1]), (box[2], box[1]), (box[2], box[3]), (box[0], box[3]))
            wide = text_width(letter, SIZE)
            words = Text((middle[0] - 0.5 * wide, middle[1] - 0.33 * SIZE), letter, SIZE)
            marks: tuple[Mark, ...] = (
                arrow(at, way + math.pi, 2.2, 2.6),
                line(Role.NARROW, foot, edge),
                Line(Role.NARROW, frame, True),
                words,
            )
            yield Place(marks, (box,), ((foot, edge),), 0.3 * stem + 0.1 * number)
