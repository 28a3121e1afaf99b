"""The dimensioned drawing: views, section, centre lines, dimensions, datums and the title block on one sheet.

The largest scale of ISO 5455 at which the views fit is tried first; where something finds no place there, the
next smaller one, then paper twice as large.  What still finds none is listed beside the title block, so
nothing is lost."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np
from msgspec import Struct

from ...quantities.arrays import Floats
from ...quantities.vectors import XY
from .axes import centre_lines, chain_circles
from .datums import datums
from .dimensioning import Laying
from .dimensions import corners
from .lettering import text_width
from .marks import Line, Mark, Role, Sheet, Text, arrow, line
from .notes import notes
from .placing import Box, Placer
from .projection import Shown, needed
from .sizes import dimensions
from .title import STRIP, frame_and_title
from .types import Dimension, Note, Pair
from .views import Scene

SCALES = (10.0, 5.0, 2.0, 1.0, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01)  # ISO 5455
PAPER = ((297.0, 210.0), (420.0, 297.0))  # A4 and A3, lying (ISO 216)
EDGE = 10.0
ROUND_VIEWS = 20.0  # mm of room round the views
BETWEEN = 27.0  # mm between two views
FEW = 6  # sizes without a place for which a second try is worth while
HATCH = 2.0  # mm between hatching lines


def drawing_sheet(scene: Scene) -> Sheet:
    """The drawing of a part."""
    shown = needed(scene)
    said = (dimensions(scene), notes(scene))
    best: _Drawing | None = None
    for paper, scale in _tries(shown):
        drawn = _tried(scene, shown, paper, scale, *said)
        if best is None or len(drawn.unplaced) < len(best.unplaced):
            best = drawn
        if not drawn.unplaced:
            return drawn.sheet()
    assert best is not None
    return best.sheet()


def _tries(shown: Sequence[Shown]) -> Iterator[tuple[XY, float]]:
    """Paper and scale to try: the largest that fits, the next where that still enlarges, then larger
    paper.
    """
    first = _scales(shown, PAPER[0])
    yield PAPER[0], first[0]
    if len(first) > 1 and first[1] >= 2.0:
        yield PAPER[0], first[1]
    yield PAPER[1], _scales(shown, PAPER[1])[0]


def _tried(
    scene: Scene,
    shown: Sequence[Shown],
    paper: XY,
    scale: float,
    said: Sequence[Dimension],
    told: Sequence[Note],
) -> _Drawing:
    """A drawing at one scale; what found no place goes first at the second try."""
    first = _Drawing(scene, shown, paper, scale)
    first.lay(said, told)
    if not 0 < len(first.unplaced) <= FEW:
        return first
    second = _Drawing(scene, shown, paper, scale, frozenset(first.unplaced))
    second.lay(said, told)
    return second if len(second.unplaced) < len(first.unplaced) else first


def _scales(shown: Sequence[Shown], paper: XY) -> list[float]:
    """The scales at which the views fit, largest first; the smallest one there is where none does."""
    fitting = [scale for scale in SCALES if all(_fits(shown, paper, scale))]
    return fitting or [SCALES[-1]]


def _fits(shown: Sequence[Shown], paper: XY, scale: float) -> Iterator[bool]:
    room = (paper[0] - 2 * EDGE, paper[1] - 2 * EDGE - STRIP)
    for axis in range(2):
        sizes = _bands(shown, axis)
        need = scale * sum(sizes.values()) + BETWEEN * (len(sizes) - 1) + 2 * ROUND_VIEWS
        yield need <= room[axis]


def _bands(shown: Sequence[Shown], axis: int) -> dict[int, float]:
    """Width of each column (or height of each row) of views, mm of the part."""
    sizes: dict[int, float] = {}
    for one in shown:
        sizes[one.cell[axis]] = max(sizes.get(one.cell[axis], 0.0), one.high[axis] - one.low[axis])
    return dict(sorted(sizes.items()))


class Placed(Struct, frozen=True):
    """A view on the sheet: where its lower left corner is, its scale, its rectangle, and its lines there."""

    shown: Shown
    at: XY
    scale: float
    zone: Box
    outline: Floats

    def point(self, flat: XY) -> XY:
        """A point of the view on the sheet."""
        return (
            self.at[0] + self.scale * (flat[0] - self.shown.low[0]),
            self.at[1] + self.scale * (flat[1] - self.shown.low[1]),
        )

    def of(self, point: tuple[float, float, float]) -> XY:
        """A point of the part on the sheet."""
        return self.point(self.shown.view.at(point))


def _strokes(one: Shown) -> Floats:
    """The visible edges of a view as strokes (n, 4)."""
    found = []
    for wire in one.wires:
        if not wire.hidden:
            points = np.array([*wire.points, *(wire.points[:1] if wire.closed else ())])
            found.append(np.concatenate([points[:-1], points[1:]], axis=1))
    return np.concatenate(found) if found else np.array([[*one.low, *one.high]])


class _Drawing:
    def __init__(
        self,
        scene: Scene,
        shown: Sequence[Shown],
        paper: XY,
        scale: float,
        early: frozenset[str] = frozenset(),
    ) -> None:
        self.early = early
        self.scene, self.paper, self.scale = scene, paper, scale
        self.bounds = (EDGE + 2.0, EDGE + STRIP + 2.0, paper[0] - EDGE - 2.0, paper[1] - EDGE - 2.0)
        self.placer = Placer(self.bounds)
        self.placed = self._arranged(shown)
        self.marks: list[Mark] = []
        self.unplaced: list[str] = []
        self.chains: list[Floats] = []

    def _arranged(self, shown: Sequence[Shown]) -> list[Placed]:
        """Views set in rows and columns, the whole in the middle of the room."""
        starts: list[dict[int, float]] = []
        for axis in range(2):
            sizes = _bands(shown, axis)
            total = self.scale * sum(sizes.values()) + BETWEEN * (len(sizes) - 1)
            low, high = self.bounds[axis], self.bounds[axis + 2]
            spare = max(0.0, (high - low - total - 2 * ROUND_VIEWS) / (len(sizes) + 1))
            spare = min(spare, 12.0)
            total += spare * (len(sizes) - 1)
            at = low + 0.5 * (high - low - total)
            places: dict[int, float] = {}
            for cell, size in sizes.items():
                places[cell] = at
                at += self.scale * size + BETWEEN + spare
            starts.append(places)
        found = []
        for one in shown:
            at_x, at_y = starts[0][one.cell[0]], starts[1][one.cell[1]]
            wide, high = (self.scale * (one.high[axis] - one.low[axis]) for axis in range(2))
            outline = np.array([at_x, at_y] * 2) + self.scale * (
                _strokes(one) - np.array([*one.low, *one.low])
            )
            zone = (at_x - 1.0, at_y - 1.0, at_x + wide + 1.0, at_y + high + 1.0)
            found.append(Placed(one, (at_x, at_y), self.scale, zone, outline))
        return found

    def lay(self, said_spans: Sequence[Dimension], said_notes: Sequence[Note]) -> None:
        """Draw the views, then everything that is written at them."""
        for one in self.placed:
            self._view(one)
        self._captions()
        laying = Laying(self.placer, [one.zone for one in self.placed])
        self._dimensions(laying, said_spans)
        datums(self.scene, self.placed, laying)
        for note in sorted(
            said_notes, key=lambda one: (one.text not in self.early, one.radius or 0.0, one.name, one.text)
        ):
            note, view = self._best_seen(note)
            rim = None if note.radius is None else self.scale * note.radius
            lines = np.concatenate([view.outline, *self.chains]) if note.chain else view.outline
            if not laying.note(view.of(note.at), rim, _broken(note.text), lines, view.zone):
                self.unplaced.append(note.text)
        self.marks += laying.marks

    def _dimensions(self, laying: Laying, said: Sequence[Dimension]) -> None:
        """Dimensions, the short ones next to the part; one that would stand over another of the same ends is
        left out.
        """
        drawn: set[tuple[object, ...]] = set()
        seen = [
            (one[0].told not in self.early, round(math.dist(*one[2]), 3), one) for one in self._seen(said)
        ]
        for _, _, (span, view, ends) in sorted(
            seen, key=lambda one: (one[0], one[1], one[2][0].name, one[2][0].text)
        ):
            key = (self.placed.index(view), span.text, *_direction(*ends))
            if key in drawn:
                continue
            drawn.add(key)
            if not laying.dimension(*ends, span.text, view.outline, view.zone):
                self.unplaced.append(span.told)

    def _seen(self, some: Sequence[Dimension]) -> Iterator[tuple[Dimension, Placed, tuple[XY, XY]]]:
        """Each distance in the view that shows it best; one that no view shows is listed."""
        for span in some:
            found: list[tuple[tuple[int, int, int, int], Placed, tuple[XY, XY]]] = []
            for view in self.placed:
                if _lies(view, span.blind):
                    continue
                for number, pair in enumerate(self._pairs(span, view)):
                    way = np.subtract(pair[1], pair[0])
                    if abs(float(way @ np.array(view.shown.view.out))) > 1e-6 * max(1.0, span.value):
                        continue
                    faced = 0 if span.face is None or _lies(view, span.face) else 1
                    rank = (faced, int(_cut_away(view, pair)), 0 if view.shown.cut else 1, number)
                    found.append((rank, view, (view.of(pair[0]), view.of(pair[1]))))
            if found:
                _, view, ends = min(found, key=lambda one: one[0])
                yield span, view, ends
            else:
                self.unplaced.append(span.told)

    def _pairs(self, span: Dimension, view: Placed) -> Sequence[Pair]:
        """Where a distance may be drawn in a view; in a section at what is left of the body there."""
        if view.shown.cut is None or not span.outermost or span.blind is None:
            return span.pairs
        return [span.at(one) for one in corners(self.scene, span.outermost, span.blind, view.shown.mesh)]

    def _best_seen(self, note: Note) -> tuple[Note, Placed]:
        """A note, or the same elsewhere where a view looks straighter at that, and its view."""
        view, other = self._best_view(note), note.other
        if other is not None and self._faced(other, self._best_view(other)) > self._faced(note, view):
            return other, self._best_view(other)
        return note, view

    @staticmethod
    def _faced(note: Note, view: Placed) -> float:
        """How straight a view looks at what a note speaks of, 0 to 1."""
        return abs(round(sum(a * b for a, b in zip(view.shown.view.out, note.face, strict=True)), 6))

    def _best_view(self, note: Note) -> Placed:
        def rank(view: Placed) -> tuple[float, int]:
            facing = sum(a * b for a, b in zip(view.shown.view.out, note.face, strict=True))
            return (-abs(round(facing, 6)) - 0.1 * (facing > 0.5), self.placed.index(view))

        return min(self.placed, key=rank)

    def _view(self, one: Placed) -> None:
        hidden = [wire for wire in one.shown.wires if wire.hidden]
        for wire in [*hidden, *(wire for wire in one.shown.wires if not wire.hidden)]:
            points = tuple(one.point(point) for point in wire.points)
            self.marks.append(Line(Role.HIDDEN if wire.hidden else Role.VISIBLE, points, wire.closed))
            self.placer.avoid(points, wire.closed)
        for points in hatching(
            [np.array([one.point((float(x), float(y))) for x, y in ring]) for ring in one.shown.faces]
        ):
            self.marks.append(line(Role.NARROW, *points))
            self.placer.hatched(points)
        for role, start, end in centre_lines(self.scene, one):
            self.marks.append(line(role, start, end))
            self.placer.avoid((start, end))
        for arc in chain_circles(self.scene, one):
            self.marks.append(arc)
            points = arc.points()
            self.placer.avoid(points)
            self.chains.append(np.concatenate([points[:-1], points[1:]], axis=1))

    def _captions(self) -> None:
        """The letters of a section at its cut and at its view, the names of views of slanting pages."""
        front = self.placed[0]
        for one in self.placed:
            if one.shown.cut is not None:
                self._cut_line(front, one)
                self._over(one, f"{one.shown.cut.letter} \u2013 {one.shown.cut.letter}", 4.5)
            elif one.shown.name not in ("front", "right", "left", "top", "bottom", "back"):
                self._over(one, one.shown.name, 3.5)

    def _over(self, one: Placed, text: str, size: float) -> None:
        wide = text_width(text, size)
        middle = 0.5 * (one.zone[0] + one.zone[2]) - 0.5 * wide
        places = [Text((middle, one.zone[3] + away), text, size) for away in (3.0, 6.0, 9.0)]
        found = self.placer.put(
            [*places, *(Text((middle, one.zone[1] - away), text, size) for away in (6.0, 10.0))]
        )
        if found is not None:
            self.marks.append(found)

    def _cut_line(self, front: Placed, section: Placed) -> None:
        """The cutting plane in the plan: a chain line, wide at its ends, with arrows the way one looks."""
        cut = section.shown.cut
        assert cut is not None
        left, low, right, high = front.zone
        if cut.level:
            y = front.of((0.0, cut.at, 0.0))[1]
            ends, way = ((left - 7.0, y), (right + 7.0, y)), 0.5 * math.pi
        else:
            x = front.of((cut.at, 0.0, 0.0))[0]
            ends, way = ((x, low - 7.0), (x, high + 7.0)), math.pi
        self.marks.append(line(Role.CENTRE, *ends))
        self.placer.avoid(ends)
        inward = ((1.0, 0.0), (-1.0, 0.0)) if cut.level else ((0.0, 1.0), (0.0, -1.0))
        for (x, y), (dx, dy) in zip(ends, inward, strict=True):
            self.marks.append(line(Role.CUT, (x, y), (x + 5.0 * dx, y + 5.0 * dy)))
            tail = (x - 5.0 * math.cos(way), y - 5.0 * math.sin(way))
            self.marks += [line(Role.NARROW, tail, (x, y)), arrow((x, y), way, 3.0, 1.2)]
            self.placer.avoid((tail, (x, y)))
            wide = text_width(cut.letter, 4.5)
            at = (x - 0.5 * wide, tail[1] - 4.2) if cut.level else (tail[0] + 1.0, y - 1.5)
            words = Text(at, cut.letter, 4.5)
            if (found := self.placer.put([words])) is not None:
                self.marks.append(found)

    def sheet(self) -> Sheet:
        """The finished sheet."""
        around = frame_and_title(self.scene, self.paper, self.scale, self.unplaced)
        return Sheet(self.paper[0], self.paper[1], (*around, *self.marks))


def _direction(a: XY, b: XY) -> tuple[float, ...]:
    """The way of a dimension and where its ends lie along it, whichever end comes first; rounded, to be
    compared.
    """
    if (b[0] - a[0], b[1] - a[1]) < (-1e-6, 0.0) or (abs(b[0] - a[0]) <= 1e-6 and b[1] < a[1]):
        a, b = b, a
    long = math.dist(a, b)
    ux, uy = (b[0] - a[0]) / long, (b[1] - a[1]) / long
    return tuple(round(value, 2) + 0.0 for value in (ux, uy, ux * a[0] + uy * a[1], ux * b[0] + uy * b[1]))


def _cut_away(view: Placed, pair: Pair) -> bool:
    """True where an end of a distance lies in what a section has taken away."""
    cut = view.shown.cut
    if cut is None:
        return False
    return any(end[1] < cut.at - 1e-6 if cut.level else end[0] > cut.at + 1e-6 for end in pair)


def _lies(view: Placed, way: tuple[float, float, float] | None) -> bool:
    return (
        way is not None and abs(sum(a * b for a, b in zip(view.shown.view.out, way, strict=True))) > 1 - 1e-9
    )


def _broken(text: str, room: float = 44.0) -> list[str]:
    """A long note in lines, broken behind commas."""
    lines: list[str] = []
    for piece in text.split(", "):
        longer = f"{lines[-1]}, {piece}" if lines else piece
        if lines and text_width(longer, 3.5) <= room:
            lines[-1] = longer
        else:
            lines[-1:] = [lines[-1] + ",", piece] if lines else [piece]
    return lines


def hatching(rings: Sequence[Floats]) -> Iterator[tuple[XY, XY]]:
    """Narrow lines at 45 degrees inside rings (even-odd), in mm of the sheet."""
    if not rings:
        return
    turn = math.sqrt(0.5)
    across = [
        np.column_stack([turn * (ring[:, 0] + ring[:, 1]), turn * (ring[:, 1] - ring[:, 0])])
        for ring in rings
    ]
    low, high = min(float(one[:, 1].min()) for one in across), max(float(one[:, 1].max()) for one in across)
    for number in range(math.ceil(low / HATCH), math.floor(high / HATCH) + 1):
        level = number * HATCH + 1e-7
        met: list[float] = []
        for one in across:
            start, end = one, np.roll(one, -1, axis=0)
            crosses = (start[:, 1] > level) != (end[:, 1] > level)
            a, b = start[crosses], end[crosses]
            met += (a[:, 0] + (level - a[:, 1]) / (b[:, 1] - a[:, 1]) * (b[:, 0] - a[:, 0])).tolist()
        met.sort()
        for first, last in zip(met[0::2], met[1::2], strict=False):
            yield (
                (turn * (first - level), turn * (first + level)),
                (turn * (last - level), turn * (last + level)),
            )
