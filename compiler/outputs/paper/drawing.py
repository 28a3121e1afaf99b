"""The dimensioned drawing: views, section, centre lines, dimensions, datums and the title block on one sheet.

The largest scale of ISO 5455 at which the views fit is tried first; where something finds no place there, the
next smaller one, then paper twice as large.  What still finds none is listed beside the title block, so
nothing is lost."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np

from ...quantities.arrays import Floats
from ...quantities.vectors import XY
from .axes import centre_lines, chain_circles
from .choosing import best_ends, best_seen
from .datums import datums
from .dimensioning import Arranging
from .hatching import hatching
from .lettering import text_width
from .marks import Line, Mark, Role, Sheet, Text, arrow, line
from .notes import notes
from .placed import BETWEEN, ROUND_VIEWS, Placed, arranged, bands
from .placing import Placer
from .projection import Shown, needed
from .sizes import dimensions
from .title import STRIP, frame_and_title
from .types import Dimension, Note
from .views import Scene

SCALES = (10.0, 5.0, 2.0, 1.0, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01)  # ISO 5455
PAPER = ((297.0, 210.0), (420.0, 297.0))  # A4 and A3, lying (ISO 216)
EDGE = 10.0
FEW = 6  # sizes without a place for which a second try is worth while


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
        sizes = bands(shown, axis)
        need = scale * sum(sizes.values()) + BETWEEN * (len(sizes) - 1) + 2 * ROUND_VIEWS
        yield need <= room[axis]


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
        self.placed = arranged(shown, scale, self.bounds)
        self.marks: list[Mark] = []
        self.unplaced: list[str] = []
        self.chains: list[Floats] = []

    def lay(self, said_spans: Sequence[Dimension], said_notes: Sequence[Note]) -> None:
        """Draw the views, then everything that is written at them."""
        for one in self.placed:
            self._view(one)
        self._captions()
        arranging = Arranging(self.placer, [one.zone for one in self.placed])
        self._dimensions(arranging, said_spans)
        datums(self.scene, self.placed, arranging)
        for note in sorted(
            said_notes, key=lambda one: (one.text not in self.early, one.radius or 0.0, one.name, one.text)
        ):
            note, view = best_seen(note, self.placed)
            rim = None if note.radius is None else self.scale * note.radius
            lines = np.concatenate([view.outline, *self.chains]) if note.chain else view.outline
            if not arranging.note(view.of(note.at), rim, _broken(note.text), lines, view.zone):
                self.unplaced.append(note.text)
        self.marks += arranging.marks

    def _dimensions(self, arranging: Arranging, said: Sequence[Dimension]) -> None:
        """Dimensions, the short ones next to the part; one that would stand over another of the same ends is
        left out.
        """
        drawn: set[tuple[object, ...]] = set()
        seen: list[tuple[Dimension, Placed, tuple[XY, XY]]] = []
        for one in said:
            best = best_ends(self.scene, one, self.placed)
            if best is None:
                self.unplaced.append(one.told)
            else:
                seen.append((one, *best))
        seen.sort(key=lambda one: self._turn(one[0], math.dist(*one[2])))
        for span, view, ends in seen:
            key = (self.placed.index(view), span.text, *_direction(*ends))
            if key in drawn:
                continue
            drawn.add(key)
            if not arranging.dimension(*ends, span.text, view.outline, view.zone):
                self.unplaced.append(span.told)

    def _turn(self, told: Dimension, long: float) -> tuple[bool, float, str, str]:
        """When a dimension has its turn: what found no place before first, then the short ones."""
        return told.told not in self.early, round(long, 3), told.name, told.text

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
