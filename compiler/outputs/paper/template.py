"""The paper template: each page of the part at true size, to lay the broken part on or to centre-punch
through.

Problem: a home printer can't print to the paper's edge and likes to shrink a page to fit; a long part does
not fit at all.  Choice: two check bars on every sheet, one each way, because printers err differently along
and across; parts larger than a sheet go on several that overlap, with numbered register marks that must lie
on one another."""

from __future__ import annotations

import math
from collections.abc import Iterator

from msgspec import Struct

from ...diagnostics.types import Trouble
from ...model import Thing
from ...model.holes import Hole
from ...model.things import Round
from ...model.types import SHEET, Centre
from ...quantities.vectors import XY
from .boards import Board, moved
from .chains import Wire
from .edges import Edges
from .lettering import shortened, text_width
from .marks import PAPERS, Arc, Line, Mark, Role, Sheet, Text, line, ring
from .pdf import pdf_bytes
from .placing import Placer, around, leader
from .views import Scene, View

MARGIN = 10.0
BAR = 9.0  # room for the upright check bar at the left
FOOT = 16.0  # room for the level check bar and the line beside it
HEAD = 8.0
OVERLAP = 12.0
AIR = 12.0  # round a view, for its labels
MOST_SHEETS = 60
SIZE = 3.6
CROSS = 3.0


def template_bytes(scene: Scene, paper: str = "a4") -> bytes:
    """The template as PDF.  Raises Trouble('too-large-for-paper') for a part that would take too many
    sheets.
    """
    return pdf_bytes(template_sheets(scene, paper), f"{scene.model.card.title}: paper template")


def template_sheets(scene: Scene, paper: str = "a4") -> list[Sheet]:
    """The sheets of the template; of upright and lying paper the one that takes fewer is used."""
    edges = Edges(scene.part.mesh)
    boards = [_board(scene, edges, view, pages) for view, pages in scene.views()]
    wide, high = PAPERS[paper]
    plans = [_Plan(*size).lay(boards) for size in ((wide, high), (high, wide))]
    best = min(plans, key=lambda plan: len(plan.sheets))
    total = len(best.sheets)
    return [
        Sheet(best.wide, best.high, (*_surround(best, scene.model.card.title, number, total), *marks))
        for number, marks in enumerate(best.sheets, start=1)
    ]


class _Plan:
    """Boards laid on sheets of one size."""

    def __init__(self, wide: float, high: float) -> None:
        self.wide, self.high = wide, high
        self.left, self.low = MARGIN + BAR, MARGIN + FOOT
        self.room = (wide - MARGIN - self.left, high - MARGIN - HEAD - self.low)
        self.sheets: list[list[Mark]] = []
        self._x = self._y = self._row = 0.0

    def lay(self, boards: list[Board]) -> _Plan:
        """Lay all boards: side by side in rows from the top, what is too large on sheets of its own."""
        for board in boards:
            if board.wide > self.room[0] or board.high > self.room[1]:
                self._tile(board)
            else:
                self._beside(board)
        return self

    def _beside(self, board: Board) -> None:
        if self._x + board.wide > self.room[0]:
            self._x, self._y, self._row = 0.0, self._y + self._row, 0.0
        if (not self._row and not self._x and not self._y) or self._y + board.high > self.room[1]:
            self.sheets.append([])
            self._x = self._y = self._row = 0.0
        top = self.low + self.room[1] - self._y
        self.sheets[-1].extend(board.moved(self.left + self._x, top - board.high))
        self._x += board.wide
        self._row = max(self._row, board.high)

    def _tile(self, board: Board) -> None:
        across = _tiles(board.wide, self.room[0])
        up = _tiles(board.high, self.room[1])
        if across * up > MOST_SHEETS:
            said = (
                f"a template of this part would take {across * up} "
                f"sheets of paper; {MOST_SHEETS} are the most"
            )
            raise Trouble("too-large-for-paper", said)
        step = (self.room[0] - OVERLAP, self.room[1] - OVERLAP)
        for row in range(up - 1, -1, -1):
            for column in range(across):
                x, y = column * step[0], row * step[1]
                marks = [
                    _moved(one, self.left - x, self.low - y)
                    for one in board.within(x, y, x + self.room[0], y + self.room[1])
                ]
                own = [
                    one
                    for one in _registers(across, up, step, self.room)
                    if x < one.at[0] < x + self.room[0] and y < one.at[1] < y + self.room[1]
                ]
                for one in own:
                    marks += one.marks((one.at[0] + self.left - x, one.at[1] + self.low - y))
                said = (
                    f"column {column + 1} of {across}, row {up - row} "
                    f"of {up}: lay equal numbers on one another"
                )
                marks.append(Text((self.left, self.high - MARGIN - HEAD + 0.5), said, 3.0))
                self.sheets.append(marks)
        # what follows begins on a sheet of its own
        self._x, self._y, self._row = 0.0, self.room[1], 1.0


class _Register(Struct, frozen=True):
    """A register mark: its place on the board and its number."""

    at: XY
    number: int

    def marks(self, at: XY) -> list[Mark]:
        """A cross in a ring with its number."""
        x, y = at
        return [
            Arc(Role.NARROW, at, 2.0),
            line(Role.NARROW, (x - 4, y), (x + 4, y)),
            line(Role.NARROW, (x, y - 4), (x, y + 4)),
            Text((x + 2.0, y + 1.6), str(self.number), 2.6),
        ]


def _tiles(long: float, room: float) -> int:
    return 1 if long <= room else math.ceil((long - OVERLAP) / (room - OVERLAP))


def _registers(across: int, up: int, step: XY, room: XY) -> list[_Register]:
    """Two marks on every seam between two sheets, in the middle of the overlap."""
    places: list[XY] = []
    for row in range(up):
        for column in range(across):
            x, y = column * step[0], row * step[1]
            if column + 1 < across:
                places += [(x + step[0] + 0.5 * OVERLAP, y + share * room[1]) for share in (0.2, 0.8)]
            if row + 1 < up:
                places += [(x + share * room[0], y + step[1] + 0.5 * OVERLAP) for share in (0.2, 0.8)]
    return [_Register(place, number) for number, place in enumerate(places, start=1)]


def _moved(mark: Mark, dx: float, dy: float) -> Mark:
    return moved(mark, dx, dy)


def _surround(plan: _Plan, title: str, number: int, total: int) -> Iterator[Mark]:
    """The check bars and the words on every sheet."""
    x, y = MARGIN + BAR, MARGIN + 5.0
    yield from _bar((x, y), (x + 100.0, y))
    yield Text((x + 2.0, y + 1.6), "100 mm", 3.0)
    u, v = MARGIN + 3.0, MARGIN + FOOT
    yield from _bar((u, v), (u, v + 50.0))
    yield Text((u - 1.2, v + 2.0), "50 mm", 3.0, 90)
    right = plan.wide - MARGIN
    said = "print at 100 %"
    yield Text((right - text_width(said, 4.2, True), y + 1.0), said, 4.2, bold=True)
    said = "not fitted to the page; measure both bars first"
    yield Text((right - text_width(said, 2.8), y - 3.0), said, 2.8)
    top = plan.high - MARGIN - 3.0
    count = f"sheet {number} of {total}"
    room = right - x - text_width(count, 3.0) - 5.0
    yield Text((x, top), shortened(title, 4.2, room, True), 4.2, bold=True)
    yield Text((right - text_width(count, 3.0), top), count, 3.0)


def _bar(start: XY, end: XY) -> Iterator[Line]:
    """A check bar: a line with an end stroke at either end; the bar is measured between their middles."""
    yield line(Role.NARROW, start, end)
    dx, dy = (end[0] - start[0]) / math.dist(start, end), (end[1] - start[1]) / math.dist(start, end)
    for x, y in (start, end):
        yield line(Role.NARROW, (x - 2.5 * dy, y - 2.5 * dx), (x + 2.5 * dy, y + 2.5 * dx))


def _board(scene: Scene, edges: Edges, view: View, pages: list[str]) -> Board:
    """One view at true size with its crosses and names."""
    rings = view.outline(scene.part.mesh)
    low = (min(float(one[:, 0].min()) for one in rings), min(float(one[:, 1].min()) for one in rings))
    high = (max(float(one[:, 0].max()) for one in rings), max(float(one[:, 1].max()) for one in rings))
    shift = (AIR - low[0], AIR - low[1])
    said = _caption(scene, pages)
    wide = max(high[0] - low[0] + 2 * AIR, text_width(said, 3.0) + 2.0)
    tall = high[1] - low[1] + 2 * AIR + 4.0

    def at(point: XY) -> XY:
        return (point[0] + shift[0], point[1] + shift[1])

    marks: list[Mark] = [Text((1.0, tall - 3.4), said, 3.0)]
    placer = Placer((0.0, 0.0, wide, tall - 4.5))
    for wire in _shown(scene, edges.wires(view), pages):
        points = tuple(at(one) for one in wire.points)
        marks.append(Line(Role.HIDDEN if wire.hidden else Role.NARROW, points, wire.closed))
        placer.avoid(points, wire.closed)
    for one in rings:
        points = tuple(at((float(x), float(y))) for x, y in one)
        marks.append(ring(Role.VISIBLE, points))
        placer.avoid(points, True)
    marks += _crosses(scene, view, pages, at, placer)
    return Board(wide, tall, tuple(marks))


def _shown(scene: Scene, wires: list[Wire], pages: list[str]) -> Iterator[Wire]:
    """All that is seen, and the hidden edges of the holes that lie on these pages."""
    own = {hole.name for hole in scene.model.of(Hole) if hole.plane in pages}
    faces = scene.part.faces
    for wire in wires:
        if not wire.hidden or any(label >= 0 and faces[label][0] in own for label in wire.labels):
            yield wire


def _caption(scene: Scene, pages: list[str]) -> str:
    names = ", ".join("as laid" if page == SHEET else page for page in pages[:4])
    side = " (the other hand, as it is made)" if scene.part.mirrored else ""
    return f"{names}{side}"


def _crosses(scene: Scene, view: View, pages: list[str], at: object, placer: Placer) -> Iterator[Mark]:
    """A cross at the centre of every round thing, slot and notch of these pages, and the name of each."""
    assert callable(at)
    named: list[tuple[Thing, XY, float, int]] = []
    seen: set[XY] = set()
    for thing in scene.model.things.values():
        if thing.centre < Centre.CROSS or thing.placed.plane not in pages:
            continue
        places = [at(view.at(place)) for place in scene.places(thing)]
        reach = thing.placed.half[1]
        for x, y in places:
            if (round(x, 3), round(y, 3)) in seen:
                continue
            seen.add((round(x, 3), round(y, 3)))
            arm = max(CROSS, reach + CROSS) if reach < 30 else CROSS
            for stroke in (((x - arm, y), (x + arm, y)), ((x, y - arm), (x, y + arm))):
                yield line(Role.NARROW, *stroke)
                placer.avoid(stroke)
        if not isinstance(thing, Round) or thing.name in scene.model.spoken_of:
            named.append((thing, places[0], reach, len(places)))
    for thing, place, reach, count in sorted(named, key=lambda one: (one[2], one[0].name)):
        said = label(thing, count)
        text = placer.put(around(place, reach, said, SIZE - 0.6))
        if text is not None:
            yield text
            start, end = leader(text, place, reach)
            if math.dist(start, end) > 3.0:
                yield line(Role.NARROW, start, end)


def label(thing: Thing, count: int) -> str:
    """The name of a thing with its size across where it is round, and how often it is there."""
    often = f" ({count} times)" if count > 1 else ""
    across = f" \u00d8 {thing.diameter:.4g}" if thing.diameter is not None else ""
    return f"{thing.name}{across}{often}"
