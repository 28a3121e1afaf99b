"""Marks: texts and arrows that stand out of a flat of a body or are sunk into it.

A mark reads right from outside: on a back it is turned over, and so it is where the finished part is mirrored
last (`other hand`) or where a mirror copies its body; it is made anew for that and never mirrored."""

from __future__ import annotations

import itertools
import unicodedata
from collections.abc import Iterator, Sequence

import numpy as np

from ...diagnostics.types import Diagnostic, Label, Severity, Trouble
from ...facts.types import FLATS
from ...mesh.combine import join, moved, overlap, place, remove
from ...mesh.crowds import crowded, too_fine
from ...mesh.kernel import Solid
from ...mesh.prisms import prism
from ...mesh.standing import surface
from ...mesh.workshop import axes
from ...model import Body, Model
from ...model.zones import Zone
from ...outlines import Region
from ...outlines.letters import arrow_region, letters_region
from ...outlines.marks import Marks
from ...places.layout import Frame, Move
from .buried import back_again, under_bodies, under_zone
from .model import Mark
from .sizes import MOST_LETTERS, typeface

HIGHEST = 200.0  # mm
SKIN = 0.05  # mm: how deep below a flat it is asked whether there is anything to write on
WHOLE = 0.999
FAR = 1e4  # mm
MOST_ASKED = 8
OVER = 0.5  # mm: how far a sunk mark's cutter stands out of the flat


class Lettering:
    """Makes the marks of one recipe."""

    def __init__(self, model: Model, marks: Marks, chord: float, flip: bool) -> None:
        self.model, self.marks, self.chord, self.flip = model, marks, chord, flip
        self.found: list[Diagnostic] = []
        self.troubles: list[tuple[Trouble, Mark]] = []
        self.lifts: dict[str, tuple[float, ...]] = {}
        self.on: dict[str, list[Mark]] = {}
        for one in model.of(Mark):
            if one.spot is not None:
                self.on.setdefault(one.body, []).append(one)

    def of(self, body: str) -> list[Mark]:
        """The marks on a body's flats and sides, in the order of their names."""
        return self.on.get(body, [])

    def answered(self) -> list[tuple[Trouble, Mark]]:
        """What stands in the way of a mark, those that are on no flat or side of a body among them."""
        homeless = [(no_home(one), one) for one in self.model.of(Mark) if not self._has_home(one)]
        return [*homeless, *self.troubles]

    def _has_home(self, mark: Mark) -> bool:
        return isinstance(self.model.things.get(mark.body), Body)

    def body(self, name: str, solid: Solid, tools: list[Solid]) -> Solid:
        """A body with its marks and without its holes (`tools`); what is wrong with a mark is kept."""
        added: list[Solid] = []
        sunk: list[Solid] = []
        for mark in self.of(name):
            try:
                some = self._some(mark, name, solid)
            except Trouble as trouble:
                self.troubles.append((trouble, mark))
                continue
            (sunk if mark.sunk is not None else added).extend(some)
        solid = join([solid, *added]) if added else solid
        return remove(solid, [*sunk, *tools])

    def _some(self, mark: Mark, name: str, solid: Solid) -> list[Solid]:
        """A mark and its copies on one body; none, with a message kept, where they are too many."""
        moves = self.moves(mark, name)
        first = self._lifted(mark, name, solid, None)
        some = [self.solid(mark, False, first)]
        who = (mark.name, mark.span, some[0])
        too_many = crowded(*who, mark.copies) or too_fine(*who, len(mark.copies))
        if too_many is not None:
            self.found.append(too_many)
            return []
        lifts = [self._lifted(mark, name, solid, move) for move in moves]
        some += [
            moved(self.solid(mark, move.mirrors, lift), move) for move, lift in zip(moves, lifts, strict=True)
        ]
        self.lifts[mark.name] = (first, *lifts)
        self._overhang(mark, name, solid, first)
        return some

    def moves(self, mark: Mark, name: str) -> tuple[Move, ...]:
        """Where else a mark stands on its body: a body that is copied together with it takes its own
        along.
        """
        return () if self.model.things[name].copies == mark.copies else mark.copies

    def _lifted(self, mark: Mark, name: str, solid: Solid, move: Move | None) -> float:
        """How far outwards of its flat (mm) a mark, or a copy of it, stands on what zones made of the
        flat.
        """
        if mark.part not in FLATS or all(zone.body != name for zone in self.model.of(Zone)):
            return 0.0  # zones work on no other side
        mirrored = move is not None and move.mirrors
        there = solid if move is None else moved(solid, back_again(move))
        column = self._prism(mark, mirrored, -FAR, FAR)
        lift, faces = surface(column, there, self.model.frame(mark), mark.placed, self.marks)
        zones = sorted(one for one in faces if isinstance(self.model.things.get(one), Zone))
        if not lift or not zones:
            return 0.0
        skin = self._prism(mark, mirrored, lift - SKIN, lift)
        if overlap(skin, there) >= WHOLE * skin.volume():
            return lift
        if lift > 0.0 and not any(one.code == "mark-buried" and one.span == mark.span for one in self.found):
            self.found.append(under_zone(mark, self.model.things[zones[0]], lift))
        return 0.0

    def _overhang(self, mark: Mark, name: str, solid: Solid, lift: float) -> None:
        probe = self._prism(mark, False, lift - SKIN, lift)
        if overlap(probe, solid) < WHOLE * probe.volume():
            told = f"mark `{mark.name}` runs out over the edge of `{mark.on}`"
            self.found.append(
                Diagnostic(
                    "mark-runs-out",
                    Severity.WARNING,
                    told,
                    mark.span,
                    others=(Label(self.model.things[name].span, "this holds it"),),
                    advice=("move it, make it less high, or say less",),
                )
            )

    def buried(self, parts: Sequence[tuple[str, Solid]]) -> Iterator[Diagnostic]:
        """A warning for each mark that another body or copy lies on.  `parts`: each with its material in
        place.
        """
        if len(parts) < 2 or not self.on:
            return
        boxes = np.array([solid.bounding_box() for _, solid in parts]).reshape(-1, 2, 3)
        for name, some in sorted(self.on.items()):
            for mark in (one for one in some if one.name in self.lifts):
                top = max(0.0, _reach(mark)[1] if mark.raised is not None else 0.0)
                skins = []
                copies = zip(self.lifts[mark.name], (None, *self.moves(mark, name)), strict=True)
                for lift, move in itertools.islice(copies, MOST_ASKED):
                    skin = self._prism(mark, move is not None and move.mirrors, lift + top, lift + top + SKIN)
                    skins.append((name, skin if move is None else moved(skin, move)))
                found = under_bodies(self.model, mark, skins, parts, boxes)
                if found is not None:
                    yield found

    def solid(self, mark: Mark, mirrored: bool = False, lift: float = 0.0) -> Solid:
        """What a mark adds or takes away, `lift` mm over its flat; Trouble where it can't be written.
        `mirrored`: for a copy of it that will be."""
        low, high = _reach(mark)
        return self._prism(mark, mirrored, lift + low, lift + high)

    def _prism(self, mark: Mark, mirrored: bool, low: float, high: float) -> Solid:
        spot, frame = mark.placed, self.model.frame(mark)
        over = (spot.out < 0) ^ mirrored ^ self.flip
        bottom, top = sorted((spot.base + spot.out * low, spot.base + spot.out * high))
        label = self.marks.of(mark.name, "letters")
        solid = prism(self._region(mark, over, spot.turn, label), bottom, top, label, label)
        solid = solid.translate((spot.at[0], spot.at[1], 0.0))
        return solid if frame == Frame() else place(solid, frame.origin, axes(frame))

    def _region(self, mark: Mark, flip: bool, turn: float, label: int) -> Region:
        high = mark.tall.value
        if high > HIGHEST:
            raise Trouble(
                "bad-size",
                f"mark `{mark.name}` is {high:g} high; {HIGHEST:g} is the most",
                (mark.name,),
                advice=("marks are texts and arrows on a part: make it less high",),
            )
        if mark.arrow:
            return arrow_region(high, label, flip, turn)
        _writable(mark)
        return letters_region(mark.text, high, self.chord, label, flip, turn)


def _reach(mark: Mark) -> tuple[float, float]:
    """From where to where a mark reaches over its flat, outwards."""
    if mark.sunk is not None:
        return -mark.sunk.value, OVER
    assert mark.raised is not None
    if mark.raised.value <= 0.0:
        raise Trouble(
            "bad-size",
            f"mark `{mark.name}` is raised by nothing",
            (mark.name,),
            advice=("raised 0.6, or sunk 0.4",),
        )
    return 0.0, mark.raised.value


def _writable(mark: Mark) -> None:
    """Trouble('text-too-long') and Trouble('no-such-letter') for what can't be written."""
    text = mark.text
    if len(text) > MOST_LETTERS:
        raise Trouble(
            "text-too-long",
            f"mark `{mark.name}` says {len(text)} letters; {MOST_LETTERS} are the most",
            (mark.name,),
            advice=("break it into several marks",),
        )
    letters = typeface().letters
    missing = [one for one in dict.fromkeys(text) if ord(one) not in letters]
    if missing:
        told = [
            (f"`{one}` " if one.isprintable() else "", unicodedata.name(one, "no letter").lower())
            for one in missing[:3]
        ]
        shown = ", ".join(f"{sign}({name})" for sign, name in told)
        raise Trouble(
            "no-such-letter",
            f"mark `{mark.name}` says what the typeface has no letter for: {shown}",
            (mark.name,),
            advice=(
                "Latin, Greek and Cyrillic letters, figures and many signs can be written",
                "or draw an `arrow`",
            ),
        )
    if not text.strip():
        raise Trouble(
            "no-such-letter", f"mark `{mark.name}` says nothing", (mark.name,), advice=('says "LID 2"',)
        )


def no_home(mark: Mark) -> Trouble:
    """The answer to a mark that is on no flat of a body."""
    return Trouble(
        "which-body",
        f"mark `{mark.name}` is on no flat or side of a body",
        (mark.name,),
        advice=("on cover.front   or   on cover.top",),
    )
