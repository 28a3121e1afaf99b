"""Marks: texts and arrows that stand out of a flat of a body or are sunk into it.

A mark reads right from outside: on a back it is turned over, and so it is where the finished part is mirrored
last (`other hand`) or where a mirror copies its body; it is made anew for that and never mirrored."""

from __future__ import annotations

import itertools
import unicodedata
from collections.abc import Iterator, Sequence

import numpy as np

from ..diagnostics.types import Diagnostic, Label, Severity, Trouble
from ..facts import BODIES, ZONES, Claims, Entry
from ..facts.mark_sizes import MOST_LETTERS, said, typeface
from ..model import Model
from ..outlines import Region
from ..outlines.marks import Marks
from ..places.layout import Frame, Layout, Move
from .combine import join, moved, overlap, place, remove
from .crowds import crowded, too_fine
from .kernel import Solid
from .prisms import prism
from .workshop import axes

HIGHEST = 200.0  # mm
SKIN = 0.05  # mm: how deep below a flat it is asked whether there is anything to write on
WHOLE = 0.999
FAR = 1e4  # mm
MOST_ASKED = 8
OVER = 0.5  # mm: how far a sunk mark's cutter stands out of the flat


class Lettering:
    """Makes the marks of one recipe."""

    def __init__(
        self, model: Model, claims: Claims, layout: Layout, marks: Marks, chord: float, flip: bool
    ) -> None:
        self.model, self.claims, self.layout = model, claims, layout
        self.marks, self.chord = marks, chord
        self.found: list[Diagnostic] = []
        self.troubles: list[tuple[Trouble, Entry]] = []
        self.flip = flip
        self.lifts: dict[str, tuple[float, ...]] = {}
        self.on: dict[str, list[Entry]] = {}
        for one in claims.of_kind("mark"):
            if one.name in layout.spots:
                self.on.setdefault(_body(one), []).append(one)

    def of(self, body: str) -> list[Entry]:
        """The marks on a body's flats and sides, in the order of their names."""
        return self.on.get(body, [])

    def answered(self) -> list[tuple[Trouble, Entry]]:
        """What stands in the way of a mark, those that are on no flat or side of a body among them."""
        bodies = {one.name for one in self.claims.of_kind(*BODIES)}
        homeless = [(no_home(one), one) for one in self.claims.of_kind("mark") if _body(one) not in bodies]
        return [*homeless, *self.troubles]

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
            (sunk if mark.has("sunk") else added).extend(some)
        solid = join([solid, *added]) if added else solid
        return remove(solid, [*sunk, *tools])

    def _some(self, mark: Entry, name: str, solid: Solid) -> list[Solid]:
        """A mark and its copies on one body; none, with a message kept, where they are too many."""
        moves = self.moves(mark, name)
        first = self._lifted(mark, name, solid, None)
        some = [self.solid(mark, False, first)]
        who, copies = (mark.name, mark.span, some[0]), self.layout.copies.get(mark.name, ())
        too_many = crowded(*who, copies) or too_fine(*who, len(copies))
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

    def moves(self, mark: Entry, name: str) -> tuple[Move, ...]:
        """Where else a mark stands on its body: a body that is copied together with it takes its own
        along.
        """
        moves = self.layout.copies.get(mark.name, ())
        return () if self.layout.copies.get(name) == moves else moves

    def _lifted(self, mark: Entry, name: str, solid: Solid, move: Move | None) -> float:
        """How far outwards of its flat (mm) a mark, or a copy of it, stands on what zones made of the
        flat.
        """
        from .standing import back_again, on_a_flat, surface, under_zone, zoned

        if not on_a_flat(mark) or not zoned(self.claims, name):
            return 0.0
        mirrored = move is not None and move.mirrors
        there = solid if move is None else moved(solid, back_again(move))
        spot = self.layout.spots[mark.name]
        frame = self.layout.frames[spot.page]
        column = self._prism(mark, mirrored, -FAR, FAR)
        lift, faces = surface(column, there, frame, spot, self.marks)
        zones = sorted(
            one for one in faces if one in self.claims.entries and self.claims.entries[one].kind in ZONES
        )
        if not lift or not zones:
            return 0.0
        skin = self._prism(mark, mirrored, lift - SKIN, lift)
        if overlap(skin, there) >= WHOLE * skin.volume():
            return lift
        if lift > 0.0 and not any(one.code == "mark-buried" and one.span == mark.span for one in self.found):
            self.found.append(under_zone(self.claims, mark, zones[0], lift))
        return 0.0

    def _overhang(self, mark: Entry, name: str, solid: Solid, lift: float) -> None:
        probe = self._prism(mark, False, lift - SKIN, lift)
        if overlap(probe, solid) < WHOLE * probe.volume():
            told = f"mark `{mark.name}` runs out over the edge of `{mark.all('on')[0].ref('thing')}`"
            self.found.append(
                Diagnostic(
                    "mark-runs-out",
                    Severity.WARNING,
                    told,
                    mark.span,
                    others=(Label(self.claims.entries[name].span, "this holds it"),),
                    advice=("move it, make it less high, or say less",),
                )
            )

    def buried(self, parts: Sequence[tuple[str, Solid]]) -> Iterator[Diagnostic]:
        """A warning for each mark that another body or copy lies on.  `parts`: each with its material in
        place.
        """
        if len(parts) < 2 or not self.on:
            return
        from .standing import under_bodies

        boxes = np.array([solid.bounding_box() for _, solid in parts]).reshape(-1, 2, 3)
        for name, some in sorted(self.on.items()):
            for mark in (one for one in some if one.name in self.lifts):
                top = max(0.0, _reach(mark)[1] if mark.has("raised") else 0.0)
                skins = []
                copies = zip(self.lifts[mark.name], (None, *self.moves(mark, name)), strict=True)
                for lift, move in itertools.islice(copies, MOST_ASKED):
                    skin = self._prism(mark, move is not None and move.mirrors, lift + top, lift + top + SKIN)
                    skins.append((name, skin if move is None else moved(skin, move)))
                found = under_bodies(self.claims, mark, skins, parts, boxes)
                if found is not None:
                    yield found

    def solid(self, entry: Entry, mirrored: bool = False, lift: float = 0.0) -> Solid:
        """What a mark adds or takes away, `lift` mm over its flat; Trouble where it can't be written.
        `mirrored`: for a copy of it that will be."""
        low, high = _reach(entry)
        return self._prism(entry, mirrored, lift + low, lift + high)

    def _prism(self, entry: Entry, mirrored: bool, low: float, high: float) -> Solid:
        spot = self.layout.spots[entry.name]
        over = (spot.out < 0) ^ mirrored ^ self.flip
        bottom, top = sorted((spot.base + spot.out * low, spot.base + spot.out * high))
        label = self.marks.of(entry.name, "letters")
        solid = prism(self._region(entry, over, spot.turn, label), bottom, top, label, label)
        solid = solid.translate((spot.at[0], spot.at[1], 0.0))
        frame = self.layout.frames[spot.page]
        return solid if frame == Frame() else place(solid, frame.origin, axes(frame))

    def _region(self, entry: Entry, flip: bool, turn: float, label: int) -> Region:
        from ..outlines.letters import arrow_region, letters_region

        claim = entry.one("high")
        assert claim is not None
        high = claim.number("size")
        if high > HIGHEST:
            raise Trouble(
                "bad-size",
                f"mark `{entry.name}` is {high:g} high; {HIGHEST:g} is the most",
                (entry.name,),
                advice=("marks are texts and arrows on a part: make it less high",),
            )
        if entry.has("arrow"):
            return arrow_region(high, label, flip, turn)
        text = said(entry)
        _writable(entry, text)
        return letters_region(text, high, self.chord, label, flip, turn)


def _body(entry: Entry) -> str:
    claim = entry.one("on")
    return claim.ref("thing").name if claim is not None and claim.ref("thing").part else ""


def _reach(entry: Entry) -> tuple[float, float]:
    """From where to where a mark reaches over its flat, outwards."""
    raised, sunk = entry.one("raised"), entry.one("sunk")
    if sunk is not None:
        return -sunk.number("number"), OVER
    assert raised is not None
    if raised.number("number") <= 0.0:
        raise Trouble(
            "bad-size",
            f"mark `{entry.name}` is raised by nothing",
            (entry.name,),
            advice=("raised 0.6, or sunk 0.4",),
        )
    return 0.0, raised.number("number")


def _writable(entry: Entry, text: str) -> None:
    """Trouble('text-too-long') and Trouble('no-such-letter') for what can't be written."""
    if len(text) > MOST_LETTERS:
        raise Trouble(
            "text-too-long",
            f"mark `{entry.name}` says {len(text)} letters; {MOST_LETTERS} are the most",
            (entry.name,),
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
            f"mark `{entry.name}` says what the typeface has no letter for: {shown}",
            (entry.name,),
            advice=(
                "Latin, Greek and Cyrillic letters, figures and many signs can be written",
                "or draw an `arrow`",
            ),
        )
    if not text.strip():
        raise Trouble(
            "no-such-letter", f"mark `{entry.name}` says nothing", (entry.name,), advice=('says "LID 2"',)
        )


def no_home(entry: Entry) -> Trouble:
    """The answer to a mark that is on no flat of a body."""
    return Trouble(
        "which-body",
        f"mark `{entry.name}` is on no flat or side of a body",
        (entry.name,),
        advice=("on cover.front   or   on cover.top",),
    )
